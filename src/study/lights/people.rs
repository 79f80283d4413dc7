//! The person as bodies that hide a light: seated as the seat is set, seated high, standing.
//!
//! Head and neck are posts, the trunk and the legs blocks. Widths: the head 180 mm with a cap, common practice, no
//! source; shoulders by the body model with clothing; depth with a life jacket as in the reach of gear
//! (abdominal depth of the 95th percentile man, ANSUR II). Height of chin under crown 0.130 of stature, shoulder
//! 0.818 of it (Drillis and Contini 1966, as drawn in Winter).

use super::super::body::{CAP_MM, CLOTHING_MM, SOLE_MM, Seated};
use super::super::envelopes::block;
use super::super::posture::{STANDING, standing_centre};
use crate::geometry::{Outline, Point, Solid};
use crate::plan::{Plan, Posture, SeatHeight};

/// Width of a head with a cap, mm.
pub const HEAD_MM: f64 = 180.0;
/// Width of a neck, mm. From memory, an assumption.
const NECK_MM: f64 = 120.0;
/// Half the depth of the trunk with a life jacket, mm.
const HALF_DEEP_MM: f64 = 160.0;
const CHIN: f64 = 0.130;
const SHOULDER: f64 = 0.818;

/// How the person is in the dark.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stance {
    /// Seated as the seat is set.
    Seated,
    /// Seated high.
    SeatedHigh,
    /// Standing.
    Standing,
}

impl Stance {
    /// The stance of a phase's posture.
    pub fn of(posture: Posture) -> Self {
        match posture {
            Posture::SeatedLow | Posture::Leaning => Self::Seated,
            Posture::SeatedHigh => Self::SeatedHigh,
            Posture::Standing => Self::Standing,
        }
    }

    /// `seated`, `seated high`, `standing`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Seated => "seated",
            Self::SeatedHigh => "seated high",
            Self::Standing => "standing",
        }
    }

    /// `the standing angler`.
    pub fn angler(self) -> &'static str {
        match self {
            Self::Seated => "the seated angler",
            Self::SeatedHigh => "the angler seated high",
            Self::Standing => "the standing angler",
        }
    }
}

/// The bodies of the person in a stance.
#[derive(Clone, Debug)]
pub struct Person {
    /// Top of the head with a cap, mm in the boat frame.
    pub crown: Point,
    /// Head, neck, trunk, legs.
    pub solids: Vec<Solid>,
}

impl Person {
    /// The plan's angler.
    pub fn of(plan: &Plan, body: &Seated, stance: Stance) -> Self {
        match stance {
            Stance::Seated => Self::seated(plan, body, 0.0),
            Stance::SeatedHigh => Self::seated(plan, body, lift(plan, body)),
            Stance::Standing => Self::standing(plan, body),
        }
    }

    fn seated(plan: &Plan, body: &Seated, lift: f64) -> Self {
        let crown = Point::new(body.head_top.x, 0.0, body.head_top.z + lift);
        let shoulder = body.shoulders[0].z + lift;
        let half = body.lengths.half_shoulder + CLOTHING_MM;
        let seat = body.seat + lift;
        let back = f64::midpoint(body.shoulders[0].x, body.hip.x);
        let trunk = block((back - HALF_DEEP_MM, back + HALF_DEEP_MM), (-half, half), (seat, shoulder));
        let (hip, foot) = (body.hip.x, body.foot.x.max(body.hip.x + 1.0));
        let legs = block((hip, foot), (-half, half), (body.seat.min(body.foot.z), body.knees_high() + lift));
        Self { crown, solids: with_head(plan, crown, shoulder, [trunk, legs]) }
    }

    fn standing(plan: &Plan, body: &Seated) -> Self {
        let stature = plan.angler.stature.value.to_mm();
        let centre = standing_centre(plan);
        let floor = centre.z - STANDING * stature;
        let at = |height: f64| floor + SOLE_MM + height;
        let crown = Point::new(centre.x, 0.0, at(stature) + CAP_MM);
        let half = body.lengths.half_shoulder + CLOTHING_MM;
        let deep = (centre.x - HALF_DEEP_MM, centre.x + HALF_DEEP_MM);
        let (hip, shoulder) = (at(stature * (SHOULDER - 0.288)), at(stature * SHOULDER));
        let (trunk, legs) = (block(deep, (-half, half), (hip, shoulder)), block(deep, (-half, half), (floor, hip)));
        Self { crown, solids: with_head(plan, crown, shoulder, [trunk, legs]) }
    }
}

/// By how much the high seat lifts the person over the seat as it is set.
fn lift(plan: &Plan, body: &Seated) -> f64 {
    match (&plan.hull.seat.high, plan.angler.seat.height) {
        (Some(high), SeatHeight::Low) => high.value.to_mm() - body.seat,
        _ => 0.0,
    }
}

fn with_head(plan: &Plan, crown: Point, shoulder: f64, rest: [Solid; 2]) -> Vec<Solid> {
    let chin = crown.z - CAP_MM - CHIN * plan.angler.stature.value.to_mm();
    let post = |width: f64, low: f64, high: f64| Solid {
        outline: Outline::Circle { middle: crown.spot(), radius: width / 2.0 },
        low,
        high,
    };
    let mut solids = vec![post(HEAD_MM, chin, crown.z), post(NECK_MM, shoulder.min(chin), chin)];
    solids.extend(rest);
    solids
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_body::plan;

    #[test]
    fn heads_are_where_the_body_model_has_them() {
        let plan = plan();
        let body = Seated::of(&plan);
        let seated = Person::of(&plan, &body, Stance::Seated);
        assert_eq!(seated.crown, body.head_top);
        assert_eq!(seated.solids[0].high, body.head_top.z);
        // The high seat is 180 over the low one.
        let high = Person::of(&plan, &body, Stance::SeatedHigh);
        assert_eq!(high.crown.z - seated.crown.z, 180.0);
        // By hand: floor of the well 150, sole 25, stature 1756, cap 25.
        let standing = Person::of(&plan, &body, Stance::Standing);
        assert!((standing.crown.z - 1956.0).abs() < 1e-9, "{:?}", standing.crown);
        for person in [seated, high, standing] {
            assert!(person.solids.iter().all(|solid| solid.high > solid.low), "{person:?}");
        }
    }
}
