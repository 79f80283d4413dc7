//! The angler leans out to the gunwale with a weight in hand: how far the boat heels.
//!
//! Assumed: the person sits as the seat is set and keeps the hips still on the centreline; the trunk, rigid as in
//! [`crate::study::body`], leans straight sideways no further than it has to for the straight arm of that side to
//! reach the gunwale beside the shoulder, and no further than the lean the plan allows. On a narrow boat that is no
//! lean at all. The weight hangs where the hand is; the arm's own mass stays with the trunk.

use super::{Equilibrium, Load, Vessel};
use crate::geometry::{Form, Point};
use crate::plan::{Plan, Side};
use crate::study::body::Seated;
use crate::study::{chosen, posture};

/// What is held out over the gunwale where the plan does not say otherwise (`righting-short.in-hand`), kg. Common
/// practice, no source: a good fish, a full bucket.
pub const IN_HAND_KG: f64 = 10.0;

/// The boat while the angler leans out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leaning {
    /// To this side.
    pub side: Side,
    /// How far the trunk leans, degrees from upright.
    pub lean_deg: f64,
    /// Where the hand is, mm in the boat frame.
    pub hand: Point,
    /// Whether the hand gets to the gunwale.
    pub holds: bool,
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
pub(super) fn worse_side(plan: &Plan, form: &Form, vessel: Vessel, planned: &Load) -> Leaning {
    let [port, starboard] = [Side::Port, Side::Starboard].map(|side| lean(plan, form, vessel, planned, side));
    let heel = |lean: &Leaning| lean.heel_deg().unwrap_or(f64::INFINITY);
    if heel(&port) > heel(&starboard) { port } else { starboard }
}

fn lean(plan: &Plan, form: &Form, vessel: Vessel, planned: &Load, side: Side) -> Leaning {
    let Grip { lean_deg, hand, holds } = Grip::of(&Seated::of(plan), side, |x| beside(form, side, x));
    let (before, after) = (posture::seated_centre(plan), posture::leaning_centre(plan, side, lean_deg));
    let person = plan.angler.mass.value.to_kg();
    let in_hand_kg = chosen(plan, "righting-short.in-hand", IN_HAND_KG).max(0.0);
    let mass_kg = planned.mass_kg + in_hand_kg;
    let moment = |now: fn(Point) -> f64| {
        planned.mass_kg * now(planned.centre) + person * (now(after) - now(before)) + in_hand_kg * now(hand)
    };
    let centre = Point::new(moment(|p| p.x) / mass_kg, moment(|p| p.y) / mass_kg, moment(|p| p.z) / mass_kg);
    let load = Load { mass_kg, centre, ..*planned };
    Leaning { side, lean_deg, hand, holds, load, rest: vessel.rest(&load).ok() }
}

/// The gunwale on one side, at a station or the hull's nearest one.
fn beside(form: &Form, side: Side, x: f64) -> Point {
    let ends = form.sections.first().zip(form.sections.last());
    let x = ends.map_or(x, |(aft, fore)| x.max(aft.x_mm).min(fore.x_mm));
    let (half, z) = form.gunwale(x).unwrap_or_default();
    Point::new(x, half * side.sign(), z)
}

/// How one hand comes to hold the gunwale.
struct Grip {
    lean_deg: f64,
    hand: Point,
    holds: bool,
}

impl Grip {
    /// With `v` hip to shoulder and `q` hip to gunwale, both seen from ahead and counted from upright toward that
    /// side, a lean `l` leaves `|q|² + |v|² - 2 |q||v| cos(q^v - l)` of squared distance; the least `l` that makes it
    /// the square of what the arm spans across has a closed form.
    fn of(body: &Seated, side: Side, rim: impl Fn(f64) -> Point) -> Self {
        let [port, starboard] = body.shoulders;
        let shoulder = if side == Side::Port { port } else { starboard };
        let rim = rim(shoulder.x);
        let across = |p: Point| (side.sign() * (p.y - body.hip.y), p.z - body.hip.z);
        let ((qy, qz), (vy, vz)) = (across(rim), across(shoulder));
        let (q, v) = (qy.hypot(qz), vy.hypot(vz));
        let apart = qy.atan2(qz) - vy.atan2(vz);
        let span = body.grip * body.grip - (rim.x - shoulder.x).powi(2);
        let reach = (q * q + v * v - span) / (2.0 * q * v).max(f64::MIN_POSITIVE);
        // Out of the arm's reach whatever the lean, the one that gets nearest.
        let least = apart - reach.clamp(-1.0, 1.0).acos();
        let lean = least.max(0.0).min(body.lean_limit_deg.to_radians().max(0.0));
        let (sin, cos) = lean.sin_cos();
        let leant =
            Point::new(shoulder.x, body.hip.y + side.sign() * (vy * cos + vz * sin), body.hip.z - vy * sin + vz * cos);
        let gap = leant.distance(rim);
        let share = (body.grip / gap.max(f64::MIN_POSITIVE)).min(1.0);
        let out = rim - leant;
        let hand = leant + Point::new(out.x * share, out.y * share, out.z * share);
        Self { lean_deg: lean.to_degrees(), hand, holds: gap <= body.grip + 1.0e-6 }
    }
}
