//! What rights a heeled boat: the lever of buoyancy about the centre of mass, free to trim.

use super::equilibrium::{Equilibrium, Load, NoFloat, Vessel};
use super::settle::{Free, Search, Start};
use crate::geometry::{Body, Point, WaterPlane};

/// The righting lever at one heel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RightingArm {
    /// Heel, degrees, positive to starboard.
    pub heel_deg: f64,
    /// Lever, mm; positive turns the boat from starboard to port.
    pub gz_mm: f64,
    /// The trim the boat takes there, degrees, positive bow down.
    pub trim_deg: f64,
    /// The water's surface there.
    pub plane: WaterPlane,
}

/// Degrees of heel between two levers of a curve.
pub const STEP_DEG: f64 = 5.0;
/// How many steps a curve has: to 60 degrees.
const STEPS: u32 = 12;

/// The righting lever when held at a heel in degrees, free to sink and trim.
pub fn righting_arm(body: &Body, load: &Load, heel_deg: f64) -> Result<RightingArm, NoFloat> {
    Vessel::from(body).righting_arm(load, heel_deg)
}

/// The curve of righting levers from 0 to 60 degrees of heel to starboard, every 5 degrees. It ends early
/// where the boat finds no trim.
pub fn gz_curve(body: &Body, load: &Load) -> Result<Vec<RightingArm>, NoFloat> {
    let mut levers = Levers::new(Vessel::from(body), load)?;
    let upright = levers.held(0.0, None)?;
    Ok(levers.to(STARBOARD, &[upright]))
}

/// The heel to starboard, from upright, at which the first of some spots goes under, degrees; the boat is held at each
/// heel and free to sink and trim. `None` where all of them stay out of the water as far as `curve` goes.
pub fn heel_under(body: &Body, load: &Load, curve: &[RightingArm], spots: &[Point]) -> Option<f64> {
    let lowest = |arm: &RightingArm| spots.iter().map(|at| arm.plane.height(*at)).fold(f64::INFINITY, f64::min);
    let first = curve.iter().position(|arm| lowest(arm) <= 0.0)?;
    let Some(before) = first.checked_sub(1) else { return Some(curve[first].heel_deg) };
    let mut levers = Levers::new(Vessel::from(body), load).ok()?;
    let held = |heel: f64, beside: &RightingArm| levers.beside(heel, beside);
    Some(crossing([&curve[before], &curve[first]], lowest, held, AT_THE_WATER_MM))
}

/// The heel between two levers at which a height over the water comes to zero, degrees: over the water at the first
/// lever, not over it at the second. `held` holds the boat at a heel, starting from a lever nearby.
///
/// False position; the end that stays put twice weighs half. It ends where the height is less than `near_mm`.
pub(super) fn crossing(
    [dry, wet]: [&RightingArm; 2],
    height: impl Fn(&RightingArm) -> f64,
    mut held: impl FnMut(f64, &RightingArm) -> Option<RightingArm>,
    near_mm: f64,
) -> f64 {
    let (beside, mut dry, mut wet) = (dry, (dry.heel_deg, height(dry)), (wet.heel_deg, height(wet)));
    let mut last_was_wet = None;
    for _ in 0..MOST_GUESSES {
        let heel = dry.0 + (wet.0 - dry.0) * dry.1 / (dry.1 - wet.1);
        let Some(arm) = held(heel, beside) else { break };
        let height = height(&arm);
        if height.abs() < near_mm {
            return heel;
        }
        let is_wet = height < 0.0;
        let (moved, other) = if is_wet { (&mut wet, &mut dry) } else { (&mut dry, &mut wet) };
        *moved = (heel, height);
        if last_was_wet.replace(is_wet) == Some(is_wet) {
            other.1 /= 2.0;
        }
    }
    wet.0
}

/// A spot nearer to the water than this lies in it, mm.
const AT_THE_WATER_MM: f64 = 1.0e-5;
/// A search takes five guesses or so.
const MOST_GUESSES: usize = 100;

/// Area under a curve from its first heel to a last one in degrees, mm radians, straight between points.
pub fn gz_area(curve: &[RightingArm], to_deg: f64) -> f64 {
    let piece = |pair: &[RightingArm]| {
        let (from, to) = (pair[0], pair[1]);
        let end = to.heel_deg.min(to_deg);
        let width = end - from.heel_deg;
        let last = from.gz_mm + (to.gz_mm - from.gz_mm) * width / (to.heel_deg - from.heel_deg);
        (width > 0.0).then(|| width.to_radians() * f64::midpoint(from.gz_mm, last))
    };
    curve.windows(2).filter_map(piece).sum()
}

impl Vessel<'_> {
    /// The righting lever when held at a heel in degrees, free to sink and trim.
    pub fn righting_arm(self, load: &Load, heel_deg: f64) -> Result<RightingArm, NoFloat> {
        Levers::new(self, load)?.held(heel_deg, None)
    }

    /// Both curves of righting levers from upright to 60 degrees, every 5 degrees, to starboard and to port; heels to
    /// port are negative, and so are levers that right the boat from there. A curve ends early where the boat finds
    /// no trim.
    pub fn gz_curves(self, load: &Load) -> Result<[Vec<RightingArm>; 2], NoFloat> {
        Levers::new(self, load)?.curves(None)
    }
}

const STARBOARD: f64 = 1.0;

/// Where a search begins: trim in degrees, height of the water over the load's centre in mm.
type Hint = (f64, f64);

/// Holds one boat at one heel after another.
pub(super) struct Levers<'a> {
    search: Search<'a>,
    load: Load,
}

impl<'a> Levers<'a> {
    pub(super) fn new(vessel: Vessel<'a>, load: &Load) -> Result<Self, NoFloat> {
        Ok(Self { search: vessel.search(load)?, load: *load })
    }

    /// Both curves; where the boat rests is a hint.
    pub(super) fn curves(&mut self, rest: Option<&Equilibrium>) -> Result<[Vec<RightingArm>; 2], NoFloat> {
        let hint = rest.map(|rest| (rest.trim_deg, -rest.height(self.load.centre)));
        let upright = self.held(0.0, hint)?;
        let starboard = self.to(STARBOARD, &[upright]);
        let mut before: Vec<RightingArm> = starboard.iter().take(3).copied().collect();
        before.reverse();
        let port = self.to(-STARBOARD, &before);
        Ok([starboard, port])
    }

    /// The lever at a heel near that of another one.
    pub(super) fn beside(&mut self, heel_deg: f64, other: &RightingArm) -> Option<RightingArm> {
        let hint = self.hint(other);
        self.held(heel_deg, Some(hint)).ok()
    }

    fn hint(&self, arm: &RightingArm) -> Hint {
        (arm.trim_deg, -arm.plane.height(self.load.centre))
    }

    /// The curve to one side. The last of `before` is the upright one; those before it have been heeled the other
    /// way, step by step. Each search starts where the last three found the boat to be heading.
    fn to(&mut self, sign: f64, before: &[RightingArm]) -> Vec<RightingArm> {
        let mut found = before.to_vec();
        for step in 1..=STEPS {
            let seen: Vec<Hint> = found.iter().rev().take(3).map(|arm| self.hint(arm)).collect();
            let ahead = match *seen.as_slice() {
                [c, b, a] => (3.0 * (c.0 - b.0) + a.0, 3.0 * (c.1 - b.1) + a.1),
                [b, a] => (2.0 * b.0 - a.0, 2.0 * b.1 - a.1),
                _ => seen.first().copied().unwrap_or_default(),
            };
            match self.held(sign * STEP_DEG * f64::from(step), Some(ahead)) {
                Ok(arm) => found.push(arm),
                Err(_) => break,
            }
        }
        found.split_off(before.len().saturating_sub(1))
    }

    fn held(&mut self, heel_deg: f64, hint: Option<Hint>) -> Result<RightingArm, NoFloat> {
        let (trim, above) = hint.unzip();
        let start = Start { heel: heel_deg.to_radians(), trim: trim.unwrap_or(0.0_f64).to_radians(), above };
        let rest = self.search.settle(start, Free::Trim)?;
        let (port, moment) = (rest.plane.port, rest.moment());
        let across = port[0] * moment[0] + port[1] * moment[1] + port[2] * moment[2];
        let gz_mm = -across / rest.cut.volume;
        Ok(RightingArm { heel_deg, gz_mm, trim_deg: rest.trim.to_degrees(), plane: rest.plane })
    }
}
