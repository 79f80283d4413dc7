//! Gear against what is not gear: the seat, the person, and for gear inside the hull its skin, its
//! deck and its foam.

use super::body::{CLOTHING_MM, Seated};
use super::chosen;
use super::clearance::{TOLERANCE_MM, stays_aboard};
use super::envelopes::block;
use super::rig::{Rig, RigItem};
use super::space::Space;
use crate::geometry::{Contact, Point, Solid, Spot};
use crate::plan::{FeatureId, FeatureKind, GearId, Level, Plan};

/// A base on a bottom that rises by less than this under it still beds on pads, mm. Common practice,
/// no source.
pub const PADS_MM: f64 = 25.0;

/// Thickness of a frame seat's surface and back, mm. Assumption.
const SEAT_THICK_MM: f64 = 40.0;

/// Depth of the trunk with a life jacket, mm: abdominal depth, sitting, of the 95th percentile man
/// (320 mm, ANSUR II).
const TRUNK_DEEP_MM: f64 = 320.0;

/// Height of the thigh over the seat, mm: thigh clearance of the 95th percentile man (207 mm, ANSUR II).
const THIGH_HIGH_MM: f64 = 207.0;

/// Gear that runs into something that is not gear.
#[derive(Clone, Debug, PartialEq)]
pub struct HullContact {
    /// The gear.
    pub gear: GearId,
    /// What it runs into.
    pub part: HullPart,
    /// By how much, mm.
    pub depth_mm: f64,
    /// Where.
    pub at: Point,
    /// The shortest shift along the boat or across it that clears it; `None` when height is the matter.
    pub way_out: Option<Spot>,
}

/// What gear can run into besides gear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum HullPart {
    /// A block of flotation foam.
    Foam(FeatureId),
    /// The deck, from below.
    Deck,
    /// The bottom or a side, from inside.
    Skin,
    /// The seat.
    Seat,
    /// The seated person.
    Person,
}

impl HullPart {
    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Foam(_) => "foam block",
            Self::Deck => "deck",
            Self::Skin => "skin of the hull",
            Self::Seat => "seat",
            Self::Person => "seated person",
        }
    }
}

/// Tries all placed gear.
pub(super) fn against_hull(plan: &Plan, rig: &Rig, spaces: &[Space], body: &Seated) -> Vec<HullContact> {
    let parts = parts(plan, body);
    let tolerance = chosen(plan, "overlap.tolerance", TOLERANCE_MM);
    let pads = chosen(plan, "overlap.pads", PADS_MM);
    let mut found = Vec::new();
    for (item, space) in rig.items.iter().zip(spaces) {
        for (part, solid) in &parts {
            // Foam matters inside the hull, seat and person on deck; the skin between them keeps the rest apart.
            if matches!(part, HullPart::Foam(_)) != (item.level == Level::Inside) {
                continue;
            }
            if let Some(Contact { depth, at }) = space.stands_in(solid, tolerance) {
                let way_out = space.way_out(solid, tolerance, stays_aboard(plan, item));
                found.push(HullContact { gear: item.gear, part: *part, depth_mm: depth, at, way_out });
            }
        }
        if item.level == Level::Inside {
            found.extend(under_deck(plan, item, tolerance));
            found.extend(on_bottom(plan, item, pads));
        }
    }
    found
}

fn parts(plan: &Plan, body: &Seated) -> Vec<(HullPart, Space)> {
    let rails = &plan.hull.seat;
    let back = plan.angler.seat.back.to_mm();
    let half = rails.width.to_mm() / 2.0;
    let front = back + rails.depth.to_mm();
    let seat = [
        block((back, front), (-half, half), (body.seat - SEAT_THICK_MM, body.seat)),
        block((back - SEAT_THICK_MM, back), (-half, half), (body.seat, body.seat + rails.back_height.to_mm())),
    ];
    let shoulder = body.lengths.half_shoulder + CLOTHING_MM;
    let chest = back + TRUNK_DEEP_MM;
    let person = [
        block((back, chest), (-shoulder, shoulder), (body.seat, body.head_top.z)),
        block(
            (chest, body.knee.x.max(chest + 1.0)),
            (-half, half),
            (body.seat, body.seat + THIGH_HIGH_MM + CLOTHING_MM),
        ),
    ];
    let foam = plan.hull.features.iter().filter_map(|feature| match &feature.kind {
        FeatureKind::Foam { length, width, height } => {
            let around = |middle: f64, extent: f64| (middle - extent / 2.0, middle + extent / 2.0);
            let at = feature.at_mm;
            let solid = block(around(at.x, length.to_mm()), around(at.y, width.to_mm()), around(at.z, height.to_mm()));
            Some((HullPart::Foam(feature.id), Space::of(&[solid])))
        }
        _ => None,
    });
    [(HullPart::Seat, Space::of(&seat)), (HullPart::Person, Space::of(&person))].into_iter().chain(foam).collect()
}

/// Gear inside that is too tall for the deck over it.
fn under_deck(plan: &Plan, item: &RigItem, tolerance: f64) -> Option<HullContact> {
    let too_tall = |(spot, solid): (Spot, &Solid)| {
        let zone = plan.hull.zone_at(spot);
        let wall = zone.map_or(0.0, |zone| zone.wall.value.to_mm());
        let under = plan.hull.surface(spot)? - wall;
        Some((solid.high - under, spot.at(under)))
    };
    worst(item, too_tall).filter(|(depth, _)| *depth > tolerance).map(|(depth_mm, at)| HullContact {
        gear: item.gear,
        part: HullPart::Deck,
        depth_mm,
        at,
        way_out: None,
    })
}

/// Gear inside whose corners stick through the bottom or a side.
fn on_bottom(plan: &Plan, item: &RigItem, pads: f64) -> Option<HullContact> {
    let through = |(spot, solid): (Spot, &Solid)| {
        // Beyond the gunwale there is nothing to stand on: it sticks out by its whole height.
        let skin = plan.hull.form.bottom(spot).unwrap_or(solid.high);
        Some((skin.min(solid.high) - solid.low, spot.at(skin)))
    };
    worst(item, through).filter(|(depth, _)| *depth > pads).map(|(depth_mm, at)| HullContact {
        gear: item.gear,
        part: HullPart::Skin,
        depth_mm,
        at,
        way_out: None,
    })
}

/// The worst value of a test over the corners and middles of an item's solids.
fn worst(item: &RigItem, test: impl Fn((Spot, &Solid)) -> Option<(f64, Point)>) -> Option<(f64, Point)> {
    item.solids
        .iter()
        .flat_map(|solid| {
            let corners = solid.outline.polygon().corners;
            corners.into_iter().chain([solid.outline.middle()]).map(move |spot| (spot, solid))
        })
        .filter_map(test)
        .max_by(|a, b| a.0.total_cmp(&b.0))
}
