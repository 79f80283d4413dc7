//! A small plan to try the checks of holes on: a box hull, one flat deck, one piece of gear or hole.
//!
//! Deck from x 0 to 3000 mm, 400 mm to each side, 300 mm over the baseline. The hull is so heavy and its
//! centre so far forward of the angler's that the bare boat floats level and draws [`DRAFT`]. The seat
//! slides over x 200 to 700 mm.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use super::{Case, Check, Finding, Limits, Severity};
use crate::geometry::{Form, Point, Polygon, Section, Spot};
use crate::plan::*;
use crate::study::{Study, posture};
use crate::units::{Angle, Figure, Length, Mass};

pub(super) const DECK: f64 = 300.0;
pub(super) const DRAFT: f64 = 100.0;
pub(super) const HALF_BEAM: f64 = 400.0;
pub(super) const WALL: f64 = 6.0;
pub(super) const INSIDE: f64 = 250.0;
pub(super) const SEAT_FORE: f64 = 700.0;

/// Runs one check on a plan and says how heavy its findings must be, heaviest first.
pub(super) fn fires(plan: &Plan, check: Check, expected: &[Severity]) -> Vec<Finding> {
    assert!(plan.validate().is_ok(), "{:?}", plan.validate());
    let (study, limits) = (Study::of(plan), Limits::for_plan(plan));
    let mut found = Vec::new();
    (check.run)(&Case { plan, study: &study, limits: &limits }, &mut found);
    found.sort_by(Finding::by_weight);
    let severities: Vec<Severity> = found.iter().map(|f| f.severity).collect();
    assert_eq!(severities, expected, "{}: {found:#?}", check.id);
    for finding in &found {
        assert_eq!(finding.check, check.id);
        assert!(finding.at.is_some() && finding.value.is_finite() && finding.limit.is_finite(), "{finding:?}");
    }
    found
}

pub(super) fn name(text: &str) -> Name {
    Name::new(text).unwrap()
}

/// Fresh water at 15 degrees, kg per m³, displaced by 3.0 x 0.8 m of the box to its draft.
const AFLOAT_KG: f64 = 999.1 * 3.0 * 0.8 * DRAFT / 1000.0;
const ANGLER_KG: f64 = 85.0;

/// The bare boat and its angler, level in the water.
pub(super) fn bare() -> Plan {
    let mut plan = unbalanced();
    let angler_x = posture::seated_centre(&plan).x;
    let hull_kg = AFLOAT_KG - ANGLER_KG;
    let hull = Arc::make_mut(&mut plan.hull);
    hull.mass = Figure::measured(Mass::kg(hull_kg));
    hull.centre_mm.x = 1500.0 + (1500.0 - angler_x) * ANGLER_KG / hull_kg;
    plan
}

fn unbalanced() -> Plan {
    let mm = Length::mm;
    let figure = |value| Figure::measured(mm(value));
    let section = |x_mm| Section { x_mm, points_mm: vec![(0.0, 0.0), (HALF_BEAM, 0.0), (HALF_BEAM, DECK)] };
    let deck = zone(1, "deck", (0.0, -HALF_BEAM), (3000.0, HALF_BEAM));
    Plan {
        format: FORMAT,
        name: name("box"),
        notes: Note::default(),
        hull: Arc::new(Hull {
            class: Key::new("box").unwrap(),
            name: name("box"),
            length: figure(3000.0),
            beam: figure(2.0 * HALF_BEAM),
            form: Form { sections: vec![section(0.0), section(3000.0)] }.into(),
            mass: Figure::measured(Mass::kg(30.0)),
            centre_mm: Point::new(1400.0, 0.0, 150.0),
            rating: Figure::measured(Mass::kg(180.0)),
            waterline: figure(150.0),
            seat: SeatRails {
                back_aft: mm(200.0),
                back_fore: mm(300.0),
                step: mm(25.0),
                low: figure(350.0),
                high: None,
                width: mm(440.0),
                depth: mm(400.0),
                back_height: mm(400.0),
            },
            pedals: None,
            zones: vec![deck],
            features: Vec::new(),
        }),
        angler: Angler {
            mass: Figure::measured(Mass::kg(ANGLER_KG)),
            stature: figure(1780.0),
            measured: MeasuredBody::default(),
            hand: Side::Starboard,
            landing: Side::Port,
            reentry: Side::Port,
            seat: Seat { back: mm(250.0), height: SeatHeight::Low, recline: Angle::deg(10.0) },
        },
        gear: Vec::new(),
        wiring: Wiring::default(),
        outing: Outing::default(),
        penetrations: Vec::new(),
        work: Default::default(),
        readings: Vec::new(),
        revisions: Vec::new(),
        threads: Vec::new(),
        limits: Vec::new(),
    }
}

fn zone(id: u32, called: &str, low: (f64, f64), high: (f64, f64)) -> Zone {
    Zone {
        id: ZoneId(id),
        name: name(called),
        outline_mm: Polygon::rect(low.into(), high.into()),
        height: Figure::measured(Length::mm(DECK)),
        curve: Curve::Flat,
        wall: Figure::measured(Length::mm(WALL)),
        inside: Figure::measured(Length::mm(INSIDE)),
        drilling: Drilling::Allowed,
        edge: true,
        upright: false,
    }
}

/// The boat with one hole that no gear owns.
pub(super) fn with_hole(x: f64, y: f64, bore: f64, fate: Fate) -> Plan {
    let mut plan = bare();
    add_hole(&mut plan, x, y, bore, fate);
    plan
}

pub(super) fn add_hole(plan: &mut Plan, x: f64, y: f64, bore: f64, fate: Fate) {
    let id = plan.next_hole_id();
    plan.penetrations.push(Penetration {
        id,
        name: name(&format!("old hole {}", id.0)),
        x: Length::mm(x),
        y: Length::mm(y),
        bore: Length::mm(bore),
        purpose: Purpose::Fastener,
        fate,
        seal: Seal::Gasket,
        left: None,
    });
}

/// The boat with one piece of gear.
pub(super) fn with_gear(gear: Gear) -> Plan {
    let mut plan = bare();
    add_gear(&mut plan, gear);
    plan
}

pub(super) fn add_gear(plan: &mut Plan, gear: Gear) {
    let id = plan.next_gear_id();
    plan.gear.push(Gear { id, ..gear });
}

pub(super) fn add_feature(plan: &mut Plan, at_mm: Point, kind: FeatureKind) {
    let features = &mut Arc::make_mut(&mut plan.hull).features;
    let id = FeatureId(features.len() as u32 + 1);
    features.push(Feature { id, name: name("the feature"), at_mm, kind, notes: Note::default() });
}

pub(super) fn add_zone(plan: &mut Plan, low: (f64, f64), high: (f64, f64), change: impl Fn(&mut Zone)) {
    let zones = &mut Arc::make_mut(&mut plan.hull).zones;
    let mut added = zone(zones.len() as u32 + 1, "another zone", low, high);
    change(&mut added);
    zones.push(added);
}

pub(super) fn change_zone(plan: &mut Plan, index: usize, change: impl Fn(&mut Zone)) {
    change(&mut Arc::make_mut(&mut plan.hull).zones[index]);
}

pub(super) fn change_deck(plan: &mut Plan, change: impl Fn(&mut Zone)) {
    change_zone(plan, 0, change);
}

/// Lays the deck so high over the water of the bare boat, mm. The box reaches as high as before: nothing
/// of its floating changes, also where the deck is under water.
pub(super) fn set_deck(plan: &mut Plan, over_water: f64) {
    change_deck(plan, |deck| deck.height = Figure::measured(Length::mm(DRAFT + over_water)));
}

/// Sets the hull's weight so high and so far out that the boat turns over.
pub(super) fn turn_over(plan: &mut Plan) {
    Arc::make_mut(&mut plan.hull).centre_mm = Point::new(1500.0, 390.0, 1500.0);
}

/// A riveted plate, base 60 by 40 mm, with holes of 5 mm at its middle and 20 mm forward.
pub(super) fn plate(x: f64, y: f64) -> Gear {
    let holes = vec![hole(0.0, 5.0, Carries::Fastener, Back::Blind), hole(20.0, 5.0, Carries::Fastener, Back::Blind)];
    gear(x, y, vec![mounting(Mount::Rivets, holes)])
}

/// The plate, which a track takes as well.
pub(super) fn plate_or_track(x: f64, y: f64) -> Gear {
    let mut plate = plate(x, y);
    Arc::make_mut(&mut plate.spec).mounts.push(mounting(Mount::Track, Vec::new()));
    plate
}

/// A part held by one bolt of 5.5 mm that needs a nut.
pub(super) fn bolted(x: f64, y: f64) -> Gear {
    gear(x, y, vec![mounting(Mount::Bolts, vec![hole(0.0, 5.5, Carries::Fastener, Back::Nut)])])
}

/// A socket flush in a hole of 28.5 mm, so deep behind the skin.
pub(super) fn socket(x: f64, y: f64, behind: f64) -> Gear {
    let flush = mounting(Mount::Flush, vec![hole(0.0, 28.5, Carries::Body, Back::Blind)]);
    gear(x, y, vec![Mounting { behind: Some(Length::mm(behind)), ..flush }])
}

fn hole(x: f64, bore: f64, carries: Carries, back: Back) -> HoleSpec {
    HoleSpec { at_mm: Spot::new(x, 0.0), bore: Length::mm(bore), carries, back }
}

fn mounting(how: Mount, holes: Vec<HoleSpec>) -> Mounting {
    Mounting { how, base_mm: (60.0, 40.0), holes, behind: None, thread: None }
}

fn gear(x: f64, y: f64, mounts: Vec<Mounting>) -> Gear {
    Gear {
        id: GearId(1),
        label: name("plate"),
        mount: mounts[0].how,
        spec: Arc::new(Spec {
            key: Key::new("plate").unwrap(),
            name: name("plate"),
            kind: Kind::Base,
            tag: Tag::new("PL").unwrap(),
            bodies: vec![Body { middle_mm: Point::new(0.0, 0.0, 10.0), shape: Shape::Box(60.0, 40.0, 20.0) }],
            mass: Figure::measured(Mass::kg(0.3)),
            electric: None,
            control: None,
            mounts,
            cables: Vec::new(),
            handling: None,
            light: None,
            beam: None,
            keep_away: Vec::new(),
            magnetic: None,
            price: None,
            track: None,
            metal_span: None,
            lid: None,
            access: None,
            notes: Note::default(),
        }),
        place: Some(Placement::at(x, y)),
        seal: Seal::Gasket,
        state: BuildState::Planned,
        pinned: false,
    }
}
