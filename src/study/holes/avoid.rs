//! Which new holes need not be drilled: another mount of the same gear fits there or close by, or an
//! opening that exists already would serve.

use super::{Avoid, Hole, HoleState};
use crate::geometry::{Spot, turned};
use crate::plan::{Carries, FeatureKind, Gear, GearId, HoleId, Mount, Placement, Plan};
use crate::study::fit::{POINT_CAPTURE_MM, fit};
use crate::study::rig::HoleRef;
use crate::units::Length;

/// How far something may be that would serve instead, mm. Common practice, no source: gear moves
/// that little without changing what it is for. The check has its own limit of the same size.
pub const AVOID_WITHIN_MM: f64 = 80.0;

/// How much wider than needed an open hole may be, mm.
const WIDER_MM: f64 = 1.0;

/// Marks the new holes that could be saved.
pub(super) fn find(plan: &Plan, holes: &mut [Hole]) {
    let open: Vec<(HoleId, Spot, f64)> = holes
        .iter()
        .filter_map(|hole| match (hole.state, hole.id) {
            (HoleState::Open, HoleRef::Own(id)) => Some((id, hole.at.spot(), hole.bore_mm)),
            _ => None,
        })
        .collect();
    let mut asked: Option<(GearId, Option<Avoid>)> = None;
    for hole in holes.iter_mut().filter(|hole| hole.state == HoleState::New) {
        let by_mount = hole.owner.and_then(|owner| match asked {
            // Holes of one gear stand together in the list: ask once for all of them.
            Some((gear, answer)) if gear == owner => answer,
            _ => {
                let answer = plan.gear(owner).and_then(|gear| another_mount(plan, gear));
                asked = Some((owner, answer));
                answer
            }
        });
        hole.avoid = by_mount.or_else(|| open_hole(hole, &open)).or_else(|| wire_port(plan, hole));
    }
}

fn open_hole(hole: &Hole, open: &[(HoleId, Spot, f64)]) -> Option<Avoid> {
    // A narrow old hole is opened up and a wide one does not hold; a cable is content with a wide one.
    let serves = |bore: f64| match hole.carries {
        Carries::Cable => bore >= hole.bore_mm - WIDER_MM,
        Carries::Fastener | Carries::Body => bore <= hole.bore_mm + WIDER_MM,
    };
    open.iter()
        .filter(|(_, _, bore)| serves(*bore))
        .map(|(id, spot, _)| (spot.distance(hole.at.spot()), *id))
        .filter(|(away, _)| *away <= AVOID_WITHIN_MM)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(away, id)| Avoid::Hole(id, away))
}

fn wire_port(plan: &Plan, hole: &Hole) -> Option<Avoid> {
    if hole.carries != Carries::Cable {
        return None;
    }
    let ports = plan.hull.features.iter().filter_map(|feature| match feature.kind {
        FeatureKind::WirePort { bore } if bore.to_mm() >= hole.bore_mm - WIDER_MM => {
            Some((feature.at_mm.spot().distance(hole.at.spot()), feature.id))
        }
        _ => None,
    });
    ports
        .filter(|(away, _)| *away <= AVOID_WITHIN_MM)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(away, id)| Avoid::WirePort(id, away))
}

/// A mount of the same gear that costs no hole and is held here or close by; the nearest one.
fn another_mount(plan: &Plan, gear: &Gear) -> Option<Avoid> {
    let place = gear.place?;
    let without_holes = [Mount::Track, Mount::Inserts, Mount::Existing, Mount::Scupper]
        .into_iter()
        .filter(|how| *how != gear.mount && gear.spec.mounting(*how).is_some_and(|m| m.holes.is_empty()));
    let here = place.spot();
    let mut best: Option<(f64, Mount)> = None;
    for how in without_holes {
        // A wide base may meet a thread at its corner, with its middle further off than a move goes.
        let (length, width) = gear.spec.mounting(how).map_or((0.0, 0.0), |m| m.base_mm);
        let horizon = AVOID_WITHIN_MM.max(length.hypot(width) / 2.0 + POINT_CAPTURE_MM);
        let near: Vec<Spot> =
            offers(plan, gear, how, here).into_iter().filter(|spot| spot.distance(here) <= horizon).collect();
        if near.is_empty() {
            continue;
        }
        let tried = Gear { mount: how, ..gear.clone() };
        for spot in std::iter::once(here).chain(near) {
            let away = spot.distance(here);
            if away > AVOID_WITHIN_MM || best.is_some_and(|(nearest, _)| nearest <= away) {
                continue;
            }
            if fit(plan, &tried, &moved(&place, spot)).is_held() {
                best = Some((away, how));
            }
        }
    }
    best.map(|(away, how)| Avoid::Mount(how, away))
}

/// The nearest spot that each track, insert, bolt or scupper offers.
fn offers(plan: &Plan, gear: &Gear, how: Mount, spot: Spot) -> Vec<Spot> {
    let base = gear.spec.mounting(how).map_or(0.0, |m| m.base_mm.0);
    let on_slot = |off: Spot, slot: f64| {
        let half = (slot - base).max(0.0) / 2.0;
        Spot::new(off.x.clamp(-half, half), 0.0)
    };
    let mut spots = Vec::new();
    for feature in &plan.hull.features {
        let middle = feature.at_mm.spot();
        match (&feature.kind, how) {
            (FeatureKind::Track { free, .. }, Mount::Track) => {
                spots.push(middle + on_slot(spot - middle, free.to_mm()));
            }
            (FeatureKind::Inserts { offsets_mm: points, .. }, Mount::Inserts)
            | (FeatureKind::Handle { bolts_mm: points, .. }, Mount::Existing) => {
                spots.extend(points.iter().map(|offset| middle + *offset));
            }
            (FeatureKind::Scupper { .. } | FeatureKind::TransducerRecess { .. }, Mount::Scupper) => spots.push(middle),
            _ => {}
        }
    }
    for rail in plan.gear.iter().filter(|other| how == Mount::Track && other.id != gear.id) {
        if let (Some(slot), Some(at)) = (rail.spec.track, rail.place) {
            let turn = at.turn.to_deg();
            spots.push(at.spot() + turned(on_slot(turned(spot - at.spot(), -turn), slot.to_mm()), turn));
        }
    }
    spots
}

fn moved(place: &Placement, spot: Spot) -> Placement {
    Placement { x: Length::mm(spot.x), y: Length::mm(spot.y), ..*place }
}
