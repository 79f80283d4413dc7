//! The angler leans out to the gunwale with a weight in hand: how far the boat heels.

use super::{Afloat, Equilibrium, Load, equilibrium};
use crate::geometry::{Body, Point};
use crate::plan::{Plan, Side};
use crate::study::posture;

/// What is held out over the gunwale, kg. Common practice, no source: a good fish, a full bucket.
pub const IN_HAND_KG: f64 = 10.0;

/// The boat while the angler leans out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaning {
    /// To this side.
    pub side: Side,
    /// What is afloat, with the weight in hand.
    pub load: Load,
    /// Where it comes to rest; `None` where it does not come to rest upright.
    pub rest: Option<Equilibrium>,
}

impl Leaning {
    /// The heel to that side, degrees, without sign; `None` where it turns over.
    pub fn heel_deg(&self) -> Option<f64> {
        self.rest.map(|rest| -rest.heel_deg * self.side.sign())
    }
}

/// Leans to both sides and tells of the one that heels further.
pub(super) fn worse_side(plan: &Plan, body: &Body, planned: &Afloat) -> Option<Leaning> {
    planned.rest.ok()?;
    let leans = [Side::Port, Side::Starboard].map(|side| lean(plan, body, planned, side));
    let heel = |lean: &Leaning| lean.heel_deg().unwrap_or(f64::INFINITY);
    leans.into_iter().max_by(|a, b| heel(a).total_cmp(&heel(b)))
}

/// The upper body leans to one side and a hand holds [`IN_HAND_KG`] over the gunwale beside the seat.
fn lean(plan: &Plan, body: &Body, planned: &Afloat, side: Side) -> Leaning {
    let (before, after) = (posture::seated_centre(plan), posture::leaning_centre(plan, side));
    let (half, rim) = plan.hull.form.gunwale(after.x).unwrap_or_default();
    let hand = Point::new(after.x, half * side.sign(), rim);
    let person = plan.angler.mass.value.to_kg();
    let old = planned.load;
    let mass_kg = old.mass_kg + IN_HAND_KG;
    let moment = |now: fn(Point) -> f64| {
        old.mass_kg * now(old.centre) + person * (now(after) - now(before)) + IN_HAND_KG * now(hand)
    };
    let centre = Point::new(moment(|p| p.x) / mass_kg, moment(|p| p.y) / mass_kg, moment(|p| p.z) / mass_kg);
    let load = Load { mass_kg, centre, ..old };
    Leaning { side, load, rest: equilibrium(body, &load).ok() }
}
