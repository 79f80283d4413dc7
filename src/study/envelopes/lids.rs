//! Lids that have to open: of hatches and of boxes on deck.

use super::super::chosen;
use super::super::rig::{Rig, RigItem};
use super::sector::{self, Layer};
use super::{Envelope, Motion, Range, block, envelope};
use crate::geometry::{Outline, Solid};
use crate::plan::{Feature, FeatureKind, Hinge, Level, Opening, Plan};

/// A twist lid: room for the hand round the opening, mm.
const LID_HAND_MM: f64 = 30.0;

/// A twist lid: room for the hand over it, mm.
pub const LID_COLUMN_MM: f64 = 150.0;

/// The lids of the hull, then those of gear.
pub(super) fn of(plan: &Plan, rig: &Rig) -> Vec<Envelope> {
    let hatches = plan.hull.features.iter().filter_map(|feature| lid(plan, feature));
    hatches.chain(rig.items.iter().filter_map(|item| gear_lid(plan, item))).collect()
}

/// A hatch's lid: a quarter circle about its hinge, or the hand over a twist lid.
fn lid(plan: &Plan, feature: &Feature) -> Option<Envelope> {
    let FeatureKind::Hatch { opening, rim, hinge, .. } = &feature.kind else { return None };
    let at = feature.at_mm;
    let (along, across) = opening.size();
    let (half_x, half_y) = (along / 2.0 + rim.to_mm(), across / 2.0 + rim.to_mm());
    let solids = match hinge {
        Hinge::None => {
            let column = chosen(plan, "lid-blocked.column", LID_COLUMN_MM);
            let outline = match opening {
                Opening::Round(bore) => Outline::Circle { middle: at.spot(), radius: bore.to_mm() / 2.0 + LID_HAND_MM },
                Opening::Rect(..) => Outline::Rect {
                    middle: at.spot(),
                    half_length: along / 2.0 + LID_HAND_MM,
                    half_width: across / 2.0 + LID_HAND_MM,
                    turn: 0.0,
                },
            };
            vec![Solid { outline, low: at.z, high: at.z + column }]
        }
        Hinge::Aft => {
            quarter(2.0 * half_x, |far| ((at.x - half_x, at.x - half_x + far), (at.y - half_y, at.y + half_y)), at.z)
        }
        Hinge::Fore => {
            quarter(2.0 * half_x, |far| ((at.x + half_x - far, at.x + half_x), (at.y - half_y, at.y + half_y)), at.z)
        }
        Hinge::Port => {
            quarter(2.0 * half_y, |far| ((at.x - half_x, at.x + half_x), (at.y + half_y - far, at.y + half_y)), at.z)
        }
        Hinge::Starboard => {
            quarter(2.0 * half_y, |far| ((at.x - half_x, at.x + half_x), (at.y - half_y, at.y - half_y + far)), at.z)
        }
    };
    Some(Envelope { lid: Some(feature.id), ..envelope(Motion::Lid, true, solids) })
}

/// A quarter circle of this radius standing on `z`; `area` says what it covers from above, given how far it reaches.
fn quarter(radius: f64, area: impl Fn(f64) -> (Range, Range), z: f64) -> Vec<Solid> {
    let block_of = |layer: Layer| {
        let (x, y) = area(layer.reach);
        block(x, y, (z + layer.foot, z + layer.top))
    };
    sector::quarter(radius).map(block_of).collect()
}

/// The room a crate's or cooler's own lid needs over it. Inside the hull the hatch's lid is what counts.
fn gear_lid(plan: &Plan, item: &RigItem) -> Option<Envelope> {
    let room = plan.gear.get(item.index)?.spec.lid?.to_mm();
    if item.level != Level::Deck {
        return None;
    }
    let top = item.solids.iter().max_by(|a, b| a.high.total_cmp(&b.high))?;
    let over = Solid { outline: top.outline, low: top.high, high: top.high + room };
    Some(Envelope { owner: Some(item.gear), ..envelope(Motion::Lid, false, vec![over]) })
}
