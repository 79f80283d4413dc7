//! Wells: recesses of the deck that scuppers open to the water, so that the hull has no buoyancy there.
//!
//! A well is a zone in which a scupper lies as topmost zone. Its room is an upright prism from the zone's height up
//! to the deck, over what of the zone no later zone covers; slanting walls count as part of the hull. A zone without
//! a scupper stays closed. Water runs in and out as fast as the boat moves.
//!
//! What stands in a well is no load: with the well's room taken off the body, the displacement stays the boat's own
//! mass, and lost buoyancy, waterplane and stiffness are those of the method of lost buoyancy in any textbook on
//! bilged compartments.

use std::collections::BTreeSet;

use crate::geometry::{Body, BodyError, Form, Polygon, Recess, Spot, Strip, strips};
use crate::plan::{FeatureKind, Hull, Zone, ZoneId};

/// A zone that scuppers drain.
pub(super) struct Well<'a> {
    pub(super) zone: &'a Zone,
    /// Its room inside the hull; empty where it has none.
    pub(super) room: Vec<Recess>,
}

/// The hull's wells, in the order of its zones.
pub(super) fn of<'a>(hull: &'a Hull, form: &Form) -> Vec<Well<'a>> {
    let scuppers = hull.features.iter().filter(|feature| matches!(feature.kind, FeatureKind::Scupper { .. }));
    let drained: BTreeSet<ZoneId> = scuppers.filter_map(|f| Some(hull.zone_at(f.at_mm.spot())?.id)).collect();
    let numbered = hull.zones.iter().enumerate();
    let wells = numbered.filter(|(_, zone)| drained.contains(&zone.id)).take(MOST_WELLS);
    wells.map(|(i, zone)| Well { zone, room: room(zone, &hull.zones[i + 1..], form) }).collect()
}

/// What floats: the form without the room of its wells.
pub(super) fn body(form: &Form, wells: &[Well<'_>]) -> Result<Body, BodyError> {
    let room: Vec<Recess> = wells.iter().flat_map(|well| well.room.iter().copied()).collect();
    Body::of(form)?.without(&room)
}

/// A boat has two or three. Beyond this the plan is nonsense, and wells count as closed.
const MOST_WELLS: usize = 24;
/// So many zones on top of a well are looked at.
const MOST_ON_TOP: usize = 8;

/// The room over a zone, out to the hull's skin less the zone's own wall.
fn room(zone: &Zone, later: &[Zone], form: &Form) -> Vec<Recess> {
    let floor = zone.height.value.to_mm();
    let outline = &zone.outline_mm;
    let (low, high) = outline.bounds();
    let covers = |other: &&Zone| {
        let (least, most) = other.outline_mm.bounds();
        least.x < high.x && most.x > low.x && least.y < high.y && most.y > low.y
    };
    let on_top: Vec<&Polygon> = later.iter().filter(covers).take(MOST_ON_TOP).map(|other| &other.outline_mm).collect();
    let inside = clearance(form, floor, zone.wall.value.to_mm());
    let stations: Vec<f64> = form.sections.iter().map(|section| section.x_mm).collect();
    let recess = |strip: Strip| {
        let deck = |x: f64| form.gunwale(x).map_or(floor, |(_, z)| z.max(floor));
        let top = strip.x.map(deck);
        (top[0] > floor || top[1] > floor).then_some(Recess { strip, floor, top })
    };
    strips(&[outline, &inside], &on_top, &stations).into_iter().filter_map(recess).collect()
}

/// What lies inside the hull all the way from a height up to the gunwale, less the thickness of a wall. Between
/// sections of which one has no such room there is none.
fn clearance(form: &Form, height: f64, wall: f64) -> Polygon {
    let free = |section: &crate::geometry::Section| (section.room_over(height) - wall).max(0.0);
    let mut edge: Vec<Spot> = Vec::new();
    for pair in form.sections.windows(2) {
        let (aft, fore) = (free(&pair[0]), free(&pair[1]));
        if aft > 0.0 && fore > 0.0 {
            edge.extend([Spot::new(pair[0].x_mm, aft), Spot::new(pair[1].x_mm, fore)]);
        } else {
            edge.extend([Spot::new(pair[0].x_mm, 0.0), Spot::new(pair[1].x_mm, 0.0)]);
        }
    }
    edge.dedup();
    let other: Vec<Spot> = edge.iter().rev().map(|spot| spot.mirrored()).collect();
    Polygon::new(edge.into_iter().chain(other).collect())
}
