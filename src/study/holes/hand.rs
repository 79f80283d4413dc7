//! Whether a hand gets to the back of a hole and holds a nut there, and what does where none does.

use super::access::{HAND_MM, middle_of};
use super::{Access, Hole};
use crate::plan::{FeatureId, FeatureKind, Kind, Plan};
use crate::study::chosen;
use crate::study::fastening::drills::blind_fastener;
use crate::study::rig::Rig;
use crate::units::Length;

/// How far a hand gets inside from the rim of an opening, mm. Common practice, no source.
pub const FURTHEST_MM: f64 = 600.0;

/// How near to the middle of an opening the wrist still bends, mm. Common practice, no source.
pub const NEAREST_MM: f64 = 200.0;

/// Mass up to which a blind fastener is trusted, kg. Common practice, no source.
const BLIND_UP_TO_KG: f64 = 1.5;

/// How a hand gets to the back of a hole. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Hand {
    /// The hull has no opening for a hand.
    NoOpening,
    /// The way from the nearest opening's rim is longer than a hand reaches.
    TooFar {
        /// The opening.
        through: Access,
        /// The way.
        way_mm: f64,
        /// How far a hand reaches there.
        reach_mm: f64,
    },
    /// It is so near to the opening's middle that the wrist does not bend.
    TooNear {
        /// The opening.
        through: Access,
        /// Distance to its middle.
        middle_mm: f64,
        /// What the wrist wants.
        least_mm: f64,
    },
    /// Foam lies in the way.
    PastFoam {
        /// The opening.
        through: Access,
        /// The block.
        foam: FeatureId,
    },
    /// It gets there.
    Reaches {
        /// The opening.
        through: Access,
        /// The way.
        way_mm: f64,
    },
}

impl Hand {
    /// Judges the way to the back of a hole by the plan's limits.
    pub fn of(plan: &Plan, rig: &Rig, hole: &Hole) -> Self {
        let wide_enough = chosen(plan, "hole-blind.hand", HAND_MM);
        let usable = hole.access.filter(|(access, _)| clear_width(plan, *access) >= wide_enough);
        let Some((through, way_mm)) = usable else { return Self::NoOpening };
        let reach_mm = reach_inside(plan, through).min(chosen(plan, "hole-blind.furthest", FURTHEST_MM));
        if way_mm > reach_mm {
            return Self::TooFar { through, way_mm, reach_mm };
        }
        let least_mm = chosen(plan, "hole-blind.nearest", NEAREST_MM);
        let middle_mm = middle_of(through, plan, rig).map_or(f64::INFINITY, |middle| middle.distance(hole.at));
        if middle_mm < least_mm {
            return Self::TooNear { through, middle_mm, least_mm };
        }
        match hole.access_past {
            Some(foam) => Self::PastFoam { through, foam },
            None => Self::Reaches { through, way_mm },
        }
    }

    /// Whether a nut can be held there, if need be with a trick.
    pub fn holds_a_nut(self) -> bool {
        !matches!(self, Self::NoOpening | Self::TooFar { .. })
    }
}

/// What does without a hand behind the skin: the fastener and the hole it wants, mm. `None` where nothing blind is
/// strong enough: under a motor, an anchor, a rod holder, anything heavy.
pub fn without_hand(plan: &Plan, hole: &Hole) -> Option<(&'static str, f64)> {
    let gear = hole.owner.and_then(|id| plan.gear(id));
    let loaded = gear.is_some_and(|gear| {
        matches!(gear.spec.kind, Kind::Motor | Kind::Anchor | Kind::RodHolder)
            || gear.spec.mass.value.to_kg() > BLIND_UP_TO_KG
    });
    if loaded { None } else { blind_fastener(hole.bore_mm) }
}

/// The narrow side of an opening, mm.
fn clear_width(plan: &Plan, access: Access) -> f64 {
    match access {
        Access::Feature(id) => match plan.feature(id).map(|feature| &feature.kind) {
            Some(FeatureKind::Hatch { opening, .. }) => {
                let (length, width) = opening.size();
                length.min(width)
            }
            _ => 0.0,
        },
        Access::Gear(id) => plan.gear(id).and_then(|gear| gear.spec.access).map_or(0.0, Length::to_mm),
    }
}

/// How far a hatch says that a hand reaches inside, mm.
fn reach_inside(plan: &Plan, access: Access) -> f64 {
    let Access::Feature(id) = access else { return f64::INFINITY };
    match plan.feature(id).map(|feature| &feature.kind) {
        Some(FeatureKind::Hatch { reach, .. }) => reach.to_mm(),
        _ => f64::INFINITY,
    }
}
