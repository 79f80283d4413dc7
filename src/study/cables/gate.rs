//! What leads from one room to another, and where the ends of cables are.

use super::room::{Room, Rooms};
use super::{NoWay, Passed};
use crate::geometry::Point;
use crate::plan::{Carries, Fate, FeatureKind, GearId, Kind, Level, Opening, Plan, Purpose, Via};
use crate::study::rig::Rig;

/// A way from one room to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Gate {
    /// What a step of a way says of it.
    pub what: Passed,
    /// The rooms it joins, and its mouth in each.
    pub mouths: [(Room, Point); 2],
    /// What passes it, mm; of an oblong opening the narrow side.
    pub bore_mm: f64,
    /// Whether a lid closes on what lies in it.
    pub lid: bool,
}

/// An end of a cable.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct End {
    /// The gear.
    pub gear: GearId,
    /// Where the gear is fixed.
    pub at: Point,
    /// The room its cable comes out in.
    pub room: Room,
    /// Where it does: below raised gear on the deck.
    pub foot: Point,
    /// The hole of its own through which its cable goes, mm.
    pub bore_mm: Option<f64>,
}

/// Everything that leads from room to room, in the plan's order: features, holes, gear.
pub(super) fn gates(plan: &Plan, rig: &Rig, rooms: &Rooms<'_>) -> Vec<Gate> {
    let features = plan.hull.features.iter().filter_map(|feature| {
        let at = feature.at_mm;
        let through_hull = || plan.hull.form.bottom(at.spot()).map(|z| at.spot().at(z));
        let (into, bore_mm, lid) = match feature.kind {
            FeatureKind::WirePort { bore } => ((Room::Inside, at), bore.to_mm(), false),
            FeatureKind::Hatch { opening, .. } => ((Room::Inside, at), narrow(opening), true),
            FeatureKind::Scupper { top, bottom, .. } => {
                ((Room::Under, through_hull()?), top.to_mm().min(bottom.to_mm()), false)
            }
            FeatureKind::DriveWell { length, width } => {
                ((Room::Under, through_hull()?), length.to_mm().min(width.to_mm()), false)
            }
            _ => return None,
        };
        let what = Passed::Opening(Via::Feature(feature.id));
        Some(Gate { what, mouths: [(Room::Deck, at), into], bore_mm, lid })
    });
    let holes = plan.penetrations.iter().filter_map(|hole| {
        let open = hole.purpose == Purpose::Cable && matches!(hole.fate, Fate::New | Fate::Open);
        let at = hole.spot().at(rooms.surface(hole.spot()).filter(|_| open)?);
        let what = Passed::Opening(Via::Hole(hole.id));
        Some(Gate { what, mouths: [(Room::Deck, at), (Room::Inside, at)], bore_mm: hole.bore.to_mm(), lid: false })
    });
    let fittings = rig.items.iter().filter(|item| item.level == Level::Deck).filter_map(|item| {
        let spec = &plan.gear.get(item.index)?.spec;
        let passes = matches!(spec.kind, Kind::Gland | Kind::InspectionPort);
        let bore_mm = spec.access.filter(|_| passes)?.to_mm();
        let what = Passed::Opening(Via::Gear(item.gear));
        let lid = spec.kind == Kind::InspectionPort;
        Some(Gate { what, mouths: [(Room::Deck, item.at), (Room::Inside, item.at)], bore_mm, lid })
    });
    features.chain(holes).chain(fittings).collect()
}

fn narrow(opening: Opening) -> f64 {
    let (length, width) = opening.size();
    length.min(width)
}

/// The ways up the side of the hull abeam of a cable's end under it: to port and to starboard.
pub(super) fn up_the_side(plan: &Plan, end: &End) -> Vec<Gate> {
    let Some((half, z)) = plan.hull.form.gunwale(end.foot.x).filter(|_| end.room == Room::Under) else {
        return Vec::new();
    };
    let edge = |y: f64| Gate {
        what: Passed::Edge,
        mouths: [(Room::Deck, Point::new(end.foot.x, y, z)), (Room::Under, end.foot)],
        bore_mm: f64::INFINITY,
        lid: false,
    };
    vec![edge(half), edge(-half)]
}

/// The end of a cable at this gear.
///
/// # Errors
/// [`NoWay::Ashore`] when it is not aboard.
pub(super) fn end(rig: &Rig, rooms: &Rooms<'_>, gear: GearId) -> Result<End, NoWay> {
    let item = rig.item(gear).ok_or(NoWay::Ashore(gear))?;
    let own = |carries: Carries| item.holes.iter().find(|hole| hole.carries == carries).map(|hole| hole.bore_mm);
    let surface = rooms.surface(item.at.spot()).unwrap_or(item.at.z);
    let on_deck = item.at.spot().at(item.at.z.min(surface));
    let sunk = own(Carries::Body).or(own(Carries::Cable)).is_some();
    let (room, foot) = match item.level {
        Level::Deck if sunk => (Room::Inside, on_deck),
        Level::Deck => (Room::Deck, on_deck),
        Level::Inside => (Room::Inside, item.at),
        Level::Under if sunk => (Room::Inside, item.at),
        Level::Under => (Room::Under, item.at),
    };
    Ok(End { gear, at: item.at, room, foot, bore_mm: own(Carries::Cable) })
}

impl Gate {
    /// The opening, if it is one.
    pub fn opening(&self) -> Option<Via> {
        match self.what {
            Passed::Opening(via) => Some(via),
            _ => None,
        }
    }

    /// Whether it leads under the hull.
    pub fn is_under(&self) -> bool {
        self.mouths[1].0 == Room::Under
    }

    /// Length through it: of an opening nothing, of a tube its length; up the side the way along the skin, never less.
    pub fn through_mm(&self) -> f64 {
        let (up, down) = (self.mouths[0].1, self.mouths[1].1);
        match self.what {
            Passed::Edge => (up.y - down.y).abs() + (up.z - down.z).abs(),
            _ => up.distance(down),
        }
    }
}
