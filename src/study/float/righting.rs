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
    let upright = levers.upright(None)?;
    Ok(levers.to(STARBOARD, &[upright]))
}

/// The heel to starboard, from upright, at which the first of some spots goes under, degrees; the boat is held at each
/// heel and free to sink and trim. `None` where all of them stay out of the water as far as `curve` goes.
pub fn heel_under(body: &Body, load: &Load, curve: &[RightingArm], spots: &[Point]) -> Option<f64> {
    let lowest = |arm: &RightingArm| spots.iter().map(|at| arm.plane.height(*at)).fold(f64::INFINITY, f64::min);
    let first = curve.iter().position(|arm| lowest(arm) <= 0.0)?;
    let mut levers = Levers::new(Vessel::from(body), load).ok()?;
    let mut wet = (curve[first].heel_deg, lowest(&curve[first]));
    let Some(before) = first.checked_sub(1).map(|before| &curve[before]) else { return Some(wet.0) };
    let mut dry = (before.heel_deg, lowest(before));
    // The straight guess between the two, as the heights weigh them; the end that stays put twice weighs half.
    let mut last_was_wet = None;
    for _ in 0..MOST_GUESSES {
        let heel = dry.0 + (wet.0 - dry.0) * dry.1 / (dry.1 - wet.1);
        let Ok(arm) = levers.held(heel, before.trim_deg, None) else { break };
        let height = lowest(&arm);
        if height.abs() < AT_THE_WATER_MM {
            return Some(heel);
        }
        let is_wet = height < 0.0;
        let (moved, other) = if is_wet { (&mut wet, &mut dry) } else { (&mut dry, &mut wet) };
        *moved = (heel, height);
        if last_was_wet.replace(is_wet) == Some(is_wet) {
            other.1 /= 2.0;
        }
    }
    Some(wet.0)
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
        Levers::new(self, load)?.held(heel_deg, 0.0, None)
    }

    /// Both curves of righting levers from upright to 60 degrees, every 5 degrees, to starboard and to port; heels to
    /// port are negative, and so are levers that right the boat from there. A curve ends early where the boat finds
    /// no trim. Where the boat rests is only a hint.
    pub fn gz_curves(self, load: &Load, rest: Option<&Equilibrium>) -> Result<[Vec<RightingArm>; 2], NoFloat> {
        let mut levers = Levers::new(self, load)?;
        let upright = levers.upright(rest)?;
        let starboard = levers.to(STARBOARD, &[upright]);
        let mut before: Vec<RightingArm> = starboard.iter().take(3).copied().collect();
        before.reverse();
        let port = levers.to(-STARBOARD, &before);
        Ok([starboard, port])
    }
}

const STARBOARD: f64 = 1.0;

/// Holds one boat at one heel after another.
struct Levers<'a> {
    search: Search<'a>,
    load: Load,
}

impl<'a> Levers<'a> {
    fn new(vessel: Vessel<'a>, load: &Load) -> Result<Self, NoFloat> {
        Ok(Self { search: vessel.search(load)?, load: *load })
    }

    fn upright(&mut self, rest: Option<&Equilibrium>) -> Result<RightingArm, NoFloat> {
        let above = rest.map(|rest| -rest.height(self.load.centre));
        self.held(0.0, rest.map_or(0.0, |rest| rest.trim_deg), above)
    }

    /// The curve to one side. The last of `before` is the upright one; those before it have been heeled the other
    /// way, step by step. Each search starts where the last three found the boat to be heading.
    fn to(&mut self, sign: f64, before: &[RightingArm]) -> Vec<RightingArm> {
        let mut found = before.to_vec();
        for step in 1..=STEPS {
            let ahead = |figure: &dyn Fn(&RightingArm) -> f64| match found.as_slice() {
                [.., a, b, c] => 3.0 * (figure(c) - figure(b)) + figure(a),
                [a, b] => 2.0 * figure(b) - figure(a),
                [a] => figure(a),
                [] => 0.0,
            };
            let (trim, above) = (ahead(&|arm| arm.trim_deg), ahead(&|arm| -arm.plane.height(self.load.centre)));
            match self.held(sign * STEP_DEG * f64::from(step), trim, Some(above)) {
                Ok(arm) => found.push(arm),
                Err(_) => break,
            }
        }
        found.split_off(before.len().saturating_sub(1))
    }

    fn held(&mut self, heel_deg: f64, trim_deg: f64, above: Option<f64>) -> Result<RightingArm, NoFloat> {
        let start = Start { heel: heel_deg.to_radians(), trim: trim_deg.to_radians(), above };
        let rest = self.search.settle(start, Free::Trim)?;
        let (port, moment) = (rest.plane.port, rest.moment());
        let across = port[0] * moment[0] + port[1] * moment[1] + port[2] * moment[2];
        let gz_mm = -across / rest.cut.volume;
        Ok(RightingArm { heel_deg, gz_mm, trim_deg: rest.trim.to_degrees(), plane: rest.plane })
    }
}
