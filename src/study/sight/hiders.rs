//! What can stand between the eye and a screen: gear, and the person's own knees.

use super::eyes::Eye;
use crate::geometry::{Outline, Point, Solid, Spot};
use crate::plan::{GearId, Level, Posture};
use crate::study::body::{CLOTHING_MM, KNEE_FLESH_MM, Seated};
use crate::study::rig::Rig;
use crate::study::shadow;

/// A knee's distance from the middle as a share of stature: half the pelvis' breadth (Drillis and Contini), knees
/// straight ahead of the hips.
const KNEE_ASIDE: f64 = 0.0955;

/// The thigh as a share of stature (Drillis and Contini).
const THIGH: f64 = 0.245;

/// What hides something.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Hider {
    /// A piece of gear.
    Gear(GearId),
    /// The person's own knees.
    Knees,
}

/// How much one thing hides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hidden {
    /// What hides it.
    pub by: Hider,
    /// How much of it, percent.
    pub percent: f64,
}

/// All that can hide something.
pub(super) struct Hiders(shadow::Bodies<Hider>);

impl Hiders {
    pub(super) fn of(rig: &Rig, body: &Seated) -> Self {
        let over_deck = rig.items.iter().filter(|item| item.level != Level::Inside);
        let gear = over_deck.flat_map(|item| item.solids.iter().map(|solid| (Hider::Gear(item.gear), *solid)));
        Self(shadow::Bodies::of(gear.chain(knees(body).map(|solid| (Hider::Knees, solid)))))
    }

    /// What hides how much of a net of points from an eye, most first, and all of it together in percent. The gear
    /// that is looked at does not hide itself, nor do knees over which one stands.
    pub(super) fn hide(&self, eye: Eye, points: &[Point], own: GearId) -> (Vec<Hidden>, f64) {
        let shadows = self.0.hide(eye.at, points, |of| match of {
            Hider::Gear(id) => id != own,
            Hider::Knees => eye.posture != Posture::Standing,
        });
        let shares = shadows.shares().into_iter().map(|(by, percent)| Hidden { by, percent });
        (shares.collect(), shadows.together())
    }
}

/// Both knees as upright posts from the seat's height to their top.
pub fn knees(body: &Seated) -> impl Iterator<Item = Solid> + use<> {
    let radius = KNEE_FLESH_MM + CLOTHING_MM;
    let aside = KNEE_ASIDE * body.lengths.thigh / THIGH;
    let (x, high) = (body.knee.x, body.knees_high());
    let low = body.seat.min(high);
    let post = move |side: f64| {
        let outline = Outline::Circle { middle: Spot::new(x, side * aside), radius };
        Solid { outline, low, high }
    };
    [1.0, -1.0].into_iter().map(post)
}
