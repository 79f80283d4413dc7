//! Where the eyes are in each posture of the day.

use super::super::body::Seated;
use super::super::posture;
use crate::geometry::Point;
use crate::plan::{Plan, Posture, SeatHeight};

/// How far the edge of a hat's brim stands over level, seen from the eye with the head held level, degrees: an edge
/// 100 mm ahead of the eye and 45 mm over it. Assumption.
pub const BRIM_UP_DEG: f64 = 24.0;

/// Height of the eye over the floor, standing, as a share of stature: 0.936 (Winter, from memory).
const EYE_STANDING: f64 = 0.936;

/// Where the eyes are in one posture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// How the person sits or stands.
    pub posture: Posture,
    /// Middle between the eyes, boat frame, mm.
    pub at: Point,
}

/// The eyes as the seat is set, then in every other posture that a phase of the day claims. Leaning turns back to
/// the seat to read.
pub(super) fn eyes(plan: &Plan, body: &Seated) -> Vec<Eye> {
    let set = as_set(plan);
    let claimed = |posture: &Posture| plan.outing.phases.iter().any(|phase| phase.posture == *posture);
    let others = [Posture::SeatedLow, Posture::SeatedHigh, Posture::Standing].into_iter();
    let others = others.filter(|posture| *posture != set && claimed(posture));
    // A seat without a high setting has no other eye for it.
    let others = others.filter(|posture| *posture != Posture::SeatedHigh || plan.hull.seat.high.is_some());
    [set].into_iter().chain(others).map(|posture| Eye { posture, at: eye(plan, body, posture) }).collect()
}

/// The eyes of the plan's angler in a posture, boat frame, mm.
pub fn eye(plan: &Plan, body: &Seated, posture: Posture) -> Point {
    let rails = &plan.hull.seat;
    let (low, high) = (rails.low.value.to_mm(), rails.high.map_or(rails.low, |high| high).value.to_mm());
    match posture {
        Posture::Leaning => body.eye,
        Posture::SeatedLow => Point { z: body.eye.z + low - body.seat, ..body.eye },
        Posture::SeatedHigh => Point { z: body.eye.z + high - body.seat, ..body.eye },
        Posture::Standing => {
            let centre = posture::standing_centre(plan);
            let over_centre = (EYE_STANDING - posture::STANDING) * plan.angler.stature.value.to_mm();
            Point { z: centre.z + over_centre, ..centre }
        }
    }
}

/// The posture that the seat is set for.
fn as_set(plan: &Plan) -> Posture {
    match (plan.angler.seat.height, plan.hull.seat.high) {
        (SeatHeight::High, Some(_)) => Posture::SeatedHigh,
        _ => Posture::SeatedLow,
    }
}
