//! What a line or a net catches on near the landing side, counted.

use super::super::body::Seated;
use super::super::chosen;
use super::super::rig::{Rig, RigItem};
use super::{Gunwale, landing_stretch};
use crate::geometry::{Outline, Point, Solid, Spot};
use crate::plan::{Carries, GearId, Kind, Level, Plan, Side};

/// Exposed points count within this distance of the landing side, mm. Common practice, no source.
pub const WITHIN_MM: f64 = 600.0;

/// A thing a line or a net catches on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Snag {
    /// The gear it belongs to.
    pub gear: GearId,
    /// Where.
    pub at: Point,
}

/// The exposed points near the landing side: knobs, cleats, eyes, holders, plugs and glands, one for each piece, and
/// bolt heads that no body covers.
pub(in super::super) fn snags(plan: &Plan, rig: &Rig, body: &Seated) -> Vec<Snag> {
    let Some(edge) = landing_edge(plan, body) else { return Vec::new() };
    let within = chosen(plan, "snag.within", WITHIN_MM);
    let mut found = Vec::new();
    for item in rig.items.iter().filter(|item| item.level == Level::Deck) {
        if catches(plan, item) && item.solids.iter().any(|solid| solid.outline.gap(&edge) <= within) {
            found.push(Snag { gear: item.gear, at: item.at });
        }
        let heads = item.holes.iter().filter(|hole| hole.carries == Carries::Fastener).map(|hole| hole.at);
        let bare = heads.filter(|at| edge.gap_to_spot(at.spot()) <= within && !is_covered(rig, at.spot()));
        found.extend(bare.map(|at| Snag { gear: item.gear, at }));
    }
    found
}

/// The landing side's stretch of gunwale as a line seen from above.
fn landing_edge(plan: &Plan, body: &Seated) -> Option<Outline> {
    let (aft, fore) = landing_stretch(plan, body);
    let edge = Gunwale::between(plan, aft, fore)?;
    let y = match plan.angler.landing {
        Side::Port => edge.half,
        Side::Starboard => -edge.half,
    };
    let middle = Spot::new(f64::midpoint(edge.x.0, edge.x.1), y);
    Some(Outline::Rect { middle, half_length: (edge.x.1 - edge.x.0) / 2.0, half_width: 0.5, turn: 0.0 })
}

fn catches(plan: &Plan, item: &RigItem) -> bool {
    let kind = plan.gear.get(item.index).map(|gear| gear.spec.kind);
    matches!(
        kind,
        Some(
            Kind::RodHolder
                | Kind::Anchor
                | Kind::Base
                | Kind::Boom
                | Kind::Gland
                | Kind::Hardware
                | Kind::PowerPort
                | Kind::Transducer
        )
    )
}

fn is_covered(rig: &Rig, spot: Spot) -> bool {
    let covers = |solid: &Solid| solid.outline.contains(spot);
    rig.items.iter().any(|item| item.solids.iter().any(covers))
}
