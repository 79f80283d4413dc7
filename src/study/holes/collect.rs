//! Which holes there are: those the gear's mounts cost, those no gear owns, and which existing hole
//! serves which gear.

use super::HoleState;
use crate::geometry::Point;
use crate::plan::{
    Back, BuildState, Carries, Fate, Gear, GearId, HoleId, Level, Mounting, Penetration, Plan, Purpose, Seal,
};
use crate::study::rig::{HoleRef, Rig, RigItem};

/// How far an existing hole may be from the hole it stands in for, mm. Common practice, no source:
/// a base shifts that little without being noticed.
const SERVES_WITHIN_MM: f64 = 5.0;

/// How much wider an existing hole may be, mm. Common practice, no source: a washer still covers it;
/// a narrower one is opened up.
const SERVES_WIDER_MM: f64 = 1.0;

/// A hole before anything around it is looked at.
pub(super) struct Found {
    pub(super) id: HoleRef,
    pub(super) owner: Option<GearId>,
    pub(super) at: Point,
    pub(super) level: Level,
    pub(super) bore_mm: f64,
    pub(super) carries: Carries,
    pub(super) back: Back,
    pub(super) behind_mm: f64,
    pub(super) seal: Seal,
    pub(super) state: HoleState,
    pub(super) reuses: Option<HoleId>,
}

/// All holes: of gear in the plan's order, then those no gear owns and that serve none.
pub(super) fn all(plan: &Plan, rig: &Rig) -> Vec<Found> {
    let mut found = Vec::new();
    for item in rig.items.iter().filter(|item| item.fit.is_held()) {
        if let Some(gear) = plan.gear.get(item.index) {
            of_gear(gear, item, &mut found);
        }
    }
    for penetration in &plan.penetrations {
        let serves = match penetration.fate {
            Fate::Reused(gear) => serve(penetration, gear, &mut found),
            _ => false,
        };
        if !serves {
            found.push(of_its_own(plan, penetration));
        }
    }
    found
}

fn of_gear(gear: &Gear, item: &RigItem, found: &mut Vec<Found>) {
    let state = if gear.state >= BuildState::Drilled { HoleState::Drilled } else { HoleState::New };
    let mounting = gear.spec.mounting(gear.mount);
    let behind = mounting.and_then(|m| m.behind).map_or(0.0, crate::units::Length::to_mm);
    let body_needs_it = mounting.is_some_and(has_body_hole);
    for (n, hole) in (0_u8..).zip(&item.holes) {
        let needs_depth = hole.carries == Carries::Body || !body_needs_it;
        found.push(Found {
            id: HoleRef::Gear(gear.id, n),
            owner: Some(gear.id),
            at: hole.at,
            level: item.level,
            bore_mm: hole.bore_mm,
            carries: hole.carries,
            back: hole.back,
            behind_mm: if needs_depth { behind } else { 0.0 },
            seal: gear.seal,
            state,
            reuses: None,
        });
    }
}

/// Where a part stands in a hole of its own, that hole needs the depth and its screws do not.
fn has_body_hole(mounting: &Mounting) -> bool {
    mounting.holes.iter().any(|hole| hole.carries == Carries::Body)
}

/// Lets an existing hole stand in for the nearest hole of the gear. False when it serves none.
fn serve(penetration: &Penetration, gear: GearId, found: &mut [Found]) -> bool {
    let (spot, bore) = (penetration.spot(), penetration.bore.to_mm());
    let nearest = found
        .iter_mut()
        .filter(|hole| hole.owner == Some(gear) && hole.reuses.is_none())
        .map(|hole| (hole.at.spot().distance(spot), hole))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match nearest {
        Some((off, hole)) if off <= SERVES_WITHIN_MM && bore <= hole.bore_mm + SERVES_WIDER_MM => {
            hole.state = HoleState::Reused;
            hole.reuses = Some(penetration.id);
            true
        }
        _ => false,
    }
}

fn of_its_own(plan: &Plan, penetration: &Penetration) -> Found {
    let spot = penetration.spot();
    Found {
        id: HoleRef::Own(penetration.id),
        owner: None,
        at: spot.at(plan.hull.surface(spot).unwrap_or_else(|| rim_beside(plan, spot.x))),
        level: Level::Deck,
        bore_mm: penetration.bore.to_mm(),
        carries: match penetration.purpose {
            Purpose::Cable => Carries::Cable,
            Purpose::Fastener => Carries::Fastener,
            Purpose::Fitting => Carries::Body,
        },
        back: Back::Blind,
        behind_mm: 0.0,
        seal: penetration.seal,
        state: match penetration.fate {
            Fate::New => HoleState::New,
            Fate::Plugged(plug) => HoleState::Plugged(plug),
            Fate::Open | Fate::Reused(_) => HoleState::Open,
        },
        reuses: None,
    }
}

/// Height of the gunwale abeam, for a hole beside the hull: it has no height of its own, and its
/// distance to the deck's edge tells the person that it is in the air.
fn rim_beside(plan: &Plan, x: f64) -> f64 {
    let sections = &plan.hull.form.sections;
    let (Some(first), Some(last)) = (sections.first(), sections.last()) else { return 0.0 };
    let within = x.max(first.x_mm).min(last.x_mm);
    plan.hull.form.gunwale(within).map_or(0.0, |(_, z)| z)
}
