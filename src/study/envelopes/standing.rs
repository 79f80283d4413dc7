//! What a person needs who stands up: floor for the feet, room for the body, a step to stay upright.
//!
//! Only where some phase of the day is fished standing: elsewhere the floor is for stowing. Sources of all lengths:
//! common practice, no source.

use super::super::body::{CLOTHING_MM, Seated};
use super::super::chosen;
use super::super::posture::{STANDING, standing_centre};
use super::{Envelope, Motion, block, envelope};
use crate::geometry::{Outline, Solid};
use crate::plan::{Plan, Posture};

/// Length of floor for the feet, mm.
pub const FEET_LONG_MM: f64 = 400.0;

/// Width of floor for the feet, mm: 0.45 m apart and a shoe wide.
pub const FEET_WIDE_MM: f64 = 550.0;

/// A mat or a pad may lie under the feet, mm.
pub const FLAT_MM: f64 = 10.0;

/// A step ahead to stay upright, mm. Assumption: about a shoe.
const STEP_MM: f64 = 300.0;

/// Height of the knee over the floor, as a share of stature: 0.285 (Drillis and Contini).
const KNEE: f64 = 0.285;

/// Feet and body, hard; the step, soft.
pub(super) fn of(plan: &Plan, body: &Seated) -> Vec<Envelope> {
    if !plan.outing.phases.iter().any(|phase| phase.posture == Posture::Standing) {
        return Vec::new();
    }
    let stature = plan.angler.stature.value.to_mm();
    let centre = standing_centre(plan);
    let floor = centre.z - STANDING * stature;
    let (low, knee) = (floor + chosen(plan, "stand-blocked.flat", FLAT_MM), floor + KNEE * stature);
    let half = chosen(plan, "stand-blocked.width", FEET_WIDE_MM) / 2.0;
    let heels = plan.angler.seat.back.to_mm() + plan.hull.seat.depth.to_mm();
    let toes = heels + chosen(plan, "stand-blocked.length", FEET_LONG_MM);
    let feet = block((heels, toes), (-half, half), (low, knee));
    let trunk = Outline::Circle { middle: centre.spot(), radius: body.lengths.half_shoulder + CLOTHING_MM };
    let trunk = Solid { outline: trunk, low: knee, high: floor + stature };
    let step = block((toes, toes + STEP_MM), (-half, half), (low, knee));
    vec![envelope(Motion::Stand, true, vec![feet, trunk]), envelope(Motion::Step, false, vec![step])]
}
