//! What rights a heeled boat: the lever of buoyancy about the centre of mass, free to trim.

use super::equilibrium::{Load, NoFloat};
use super::settle::{Free, settle};
use crate::geometry::{Body, Point, WaterPlane};

/// The righting lever at one heel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RightingArm {
    /// Heel, degrees, positive to starboard.
    pub heel_deg: f64,
    /// Lever, mm; positive turns the boat back from starboard to port.
    pub gz_mm: f64,
    /// The trim the boat takes there, degrees, positive bow down.
    pub trim_deg: f64,
    /// The water's surface there.
    pub plane: WaterPlane,
}

/// The righting lever when held at a heel in degrees, free to sink and trim.
pub fn righting_arm(body: &Body, load: &Load, heel_deg: f64) -> Result<RightingArm, NoFloat> {
    held(body, load, heel_deg, 0.0)
}

/// The curve of righting levers from 0 to 60 degrees of heel to starboard, every 5 degrees. It ends early
/// where the boat finds no trim.
pub fn gz_curve(body: &Body, load: &Load) -> Result<Vec<RightingArm>, NoFloat> {
    let mut curve: Vec<RightingArm> = vec![righting_arm(body, load, 0.0)?];
    for step in 1..=12 {
        let trim = curve.last().map_or(0.0, |arm| arm.trim_deg);
        match held(body, load, 5.0 * f64::from(step), trim) {
            Ok(arm) => curve.push(arm),
            Err(_) => break,
        }
    }
    Ok(curve)
}

/// The heel to starboard, from upright, at which the first of some spots goes under, degrees; the boat is held at each
/// heel and free to sink and trim. `None` where all of them stay out of the water as far as `curve` goes.
pub fn heel_under(body: &Body, load: &Load, curve: &[RightingArm], spots: &[Point]) -> Option<f64> {
    let lowest = |arm: &RightingArm| spots.iter().map(|at| arm.plane.height(*at)).fold(f64::INFINITY, f64::min);
    let first = curve.iter().position(|arm| lowest(arm) <= 0.0)?;
    let mut wet = (curve[first].heel_deg, lowest(&curve[first]));
    let Some(before) = first.checked_sub(1).map(|before| &curve[before]) else { return Some(wet.0) };
    let mut dry = (before.heel_deg, lowest(before));
    // The straight guess between the two, as the heights weigh them; the end that stays put twice weighs half.
    let mut last_was_wet = None;
    for _ in 0..MOST_GUESSES {
        let heel = dry.0 + (wet.0 - dry.0) * dry.1 / (dry.1 - wet.1);
        let Ok(arm) = held(body, load, heel, before.trim_deg) else { break };
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

fn held(body: &Body, load: &Load, heel_deg: f64, trim_deg: f64) -> Result<RightingArm, NoFloat> {
    let rest = settle(body, load, heel_deg.to_radians(), trim_deg.to_radians(), Free::Trim)?;
    let port = rest.plane.port;
    let across = port[0] * rest.cut.moment[0] + port[1] * rest.cut.moment[1] + port[2] * rest.cut.moment[2];
    let gz_mm = -across / rest.cut.volume;
    Ok(RightingArm { heel_deg, gz_mm, trim_deg: rest.trim.to_degrees(), plane: rest.plane })
}
