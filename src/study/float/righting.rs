//! What rights a heeled boat: the lever of buoyancy about the centre of mass, free to trim.

use super::equilibrium::{Load, NoFloat};
use super::settle::{Free, settle};
use crate::geometry::{Body, WaterPlane};

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
