//! The smallest boats through which cables can be led: the box of a hull with ports, hatches, blocks, tubes and wells.
//!
//! Unit tests and the test program share it, so it speaks of the library by its outside name.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(dead_code, missing_docs, reason = "each test program uses a part of it")]

use std::sync::Arc;

use gunnel::geometry::{Point, Polygon, Spot};
use gunnel::plan::*;
use gunnel::study::Study;
use gunnel::study::cables::{CableRef, CableRun};
use gunnel::units::*;

use super::test_power::{add, name, plan};

/// Height of the box's deck, mm.
pub const DECK_MM: f64 = 300.0;

/// The box: 3600 long, 800 wide, 300 high, its deck flat.
pub fn hull() -> Plan {
    plan()
}

fn feature(plan: &mut Plan, called: &str, at_mm: Point, kind: FeatureKind) -> FeatureId {
    let features = &mut Arc::make_mut(&mut plan.hull).features;
    let id = FeatureId(features.len() as u32 + 1);
    features.push(Feature { id, name: name(called), at_mm, kind, notes: Note::default() });
    id
}

/// A foam block from bottom to deck: its middle, its length and width.
pub fn block(plan: &mut Plan, (x, y): (f64, f64), (length, width): (f64, f64)) -> FeatureId {
    let [length, width, height] = [length, width, DECK_MM].map(Length::mm);
    feature(plan, "block", Point::new(x, y, DECK_MM / 2.0), FeatureKind::Foam { length, width, height })
}

/// An entry for cables in the deck.
pub fn port(plan: &mut Plan, called: &str, (x, y): (f64, f64), bore: f64) -> FeatureId {
    feature(plan, called, Point::new(x, y, DECK_MM), FeatureKind::WirePort { bore: Length::mm(bore) })
}

/// A hatch of 200 by 150 mm.
pub fn hatch(plan: &mut Plan, (x, y): (f64, f64)) -> FeatureId {
    let kind = FeatureKind::Hatch {
        opening: Opening::Rect(Length::mm(200.0), Length::mm(150.0)),
        rim: Length::mm(20.0),
        hinge: Hinge::Fore,
        reach: Length::mm(500.0),
    };
    feature(plan, "hatch", Point::new(x, y, DECK_MM), kind)
}

/// A tube from deck to bottom.
pub fn scupper(plan: &mut Plan, (x, y): (f64, f64), bore: f64) -> FeatureId {
    let [top, bottom, wall] = [bore, bore, 5.0].map(Length::mm);
    feature(plan, "scupper", Point::new(x, y, DECK_MM), FeatureKind::Scupper { top, bottom, wall })
}

/// A part of the deck at a height of its own, between two corners.
pub fn zone(plan: &mut Plan, called: &str, low: (f64, f64), high: (f64, f64), height: f64) -> ZoneId {
    let zones = &mut Arc::make_mut(&mut plan.hull).zones;
    let id = ZoneId(zones.len() as u32 + 1);
    zones.push(Zone {
        id,
        name: name(called),
        outline_mm: Polygon::rect(Spot::from(low), Spot::from(high)),
        height: Figure::measured(Length::mm(height)),
        curve: Curve::Flat,
        wall: Figure::measured(Length::mm(6.0)),
        inside: Figure::measured(Length::mm(height - 12.0)),
        drilling: Drilling::Allowed,
        edge: true,
        upright: false,
    });
    id
}

/// Gear on deck.
pub fn on_deck(plan: &mut Plan, called: &str, kind: Kind, (x, y): (f64, f64)) -> GearId {
    put(plan, called, kind, Placement::at(x, y))
}

/// Gear inside, on the bottom: 6 mm over the baseline.
pub fn inside(plan: &mut Plan, called: &str, kind: Kind, (x, y): (f64, f64)) -> GearId {
    put(plan, called, kind, Placement { level: Level::Inside, ..Placement::at(x, y) })
}

pub fn put(plan: &mut Plan, called: &str, kind: Kind, place: Placement) -> GearId {
    let id = add(plan, called, kind, Figure::measured(Mass::kg(0.5)), None);
    plan.gear_mut(id).unwrap().place = Some(place);
    id
}

/// Lets a cable come with gear: plug, cable and length, mm.
pub fn tail(plan: &mut Plan, gear: GearId, signal: Signal, (plug, cable, length): (f64, f64, f64)) {
    let [plug, cable, length] = [plug, cable, length].map(Length::mm);
    let spec = Arc::make_mut(&mut plan.gear_mut(gear).unwrap().spec);
    spec.cables.push(CableTail { name: name("tail"), signal, plug, cable, length });
}

/// Plans a cable.
pub fn cable(plan: &mut Plan, (from, to): (GearId, GearId), signal: Signal, via: &[Via]) -> CableId {
    let id = CableId(plan.wiring.cables.len() as u32 + 1);
    plan.wiring.cables.push(Cable { id, from, to, signal, via: via.to_vec(), length: None });
    id
}

/// What came of a planned cable.
pub fn run(plan: &Plan, id: CableId) -> CableRun {
    assert_eq!(plan.validate(), Ok(()));
    Study::of(plan).cables.run(CableRef::Planned(id)).unwrap().clone()
}

/// Length of its way, mm.
pub fn length(plan: &Plan, id: CableId) -> f64 {
    run(plan, id).way.unwrap().length_mm
}
