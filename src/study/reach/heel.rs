//! How far the boat heels while the person leans to reach something.
//!
//! Assumed: hips and legs stay where they are; head, arms and trunk lean rigid from upright, as the posture of the
//! reach has them; what the arm weighs stays with the trunk. The boat rests where its righting lever, less what the
//! shift of the centre takes off it, comes to nothing: with the shift `dy` to port and `dz` up of the whole boat's
//! centre, `GZ(h) + dy cos h - dz sin h = 0`. Levers are taken straight between those of the curve, every 5 degrees;
//! a lean forward trims the boat and is left out. Agrees with the equilibrium itself within a tenth of a degree.

use super::Touch;
use crate::plan::Plan;
use crate::study::float::Float;
use crate::study::posture;

/// The heel at rest while a point is reached, degrees, positive to starboard: the lean's and what the boat has as it
/// is. Where no lever rights it, the end of the curve. `None` where the boat does not float.
pub(super) fn while_reaching(plan: &Plan, float: &Float, touch: &Touch) -> Option<f64> {
    let planned = float.planned()?;
    let total = planned.load.mass_kg;
    if touch.lean_deg <= 0.0 || total <= 0.0 {
        return None;
    }
    let shift = posture::lean_shift(plan, touch.lean_deg, touch.toward_deg);
    let share = plan.angler.mass.value.to_kg() / total;
    let (dy, dz) = (shift.y * share, shift.z * share);
    let left = |heel_deg: f64, gz_mm: f64| {
        let (sin, cos) = heel_deg.to_radians().sin_cos();
        gz_mm + dy * cos - dz * sin
    };
    // From the far port end of the curves to the far starboard end.
    let port = planned.gz_port.iter().rev();
    let levers: Vec<(f64, f64)> =
        port.chain(planned.gz.iter().skip(1)).map(|arm| (arm.heel_deg, left(arm.heel_deg, arm.gz_mm))).collect();
    let rests = |pair: &[(f64, f64)]| pair[0].1 <= 0.0 && pair[1].1 > 0.0;
    let crossing = |pair: &[(f64, f64)]| {
        let [(from, below), (to, above)] = [pair[0], pair[1]];
        from + (to - from) * below / (below - above)
    };
    let found = levers.windows(2).filter(|pair| rests(pair)).map(crossing);
    let overturned = if dy > 0.0 { levers.first() } else { levers.last() }.map(|end| end.0);
    found.min_by(|a, b| a.abs().total_cmp(&b.abs())).or(overturned)
}
