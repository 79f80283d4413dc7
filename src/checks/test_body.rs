//! A small plan for tests of body, reach and clearance: a box of a hull and gear made of one box.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use super::{CHECKS, Case, Finding, Limits};
use crate::geometry::{Form, Point, Polygon, Section, Spot};
use crate::plan::*;
use crate::study::Study;
use crate::units::{Angle, Figure, Length, Mass, Temperature};

/// Height of the gunwale of the test hull, mm.
pub(crate) const GUNWALE: f64 = 340.0;

/// A hull 3600 long, 800 wide and 340 high; a well 560 wide with its floor at 150 from 1300 to 2700;
/// the seat back at 1500, its surface at 240 or 420; one person of 1756 mm, right-handed, landing to
/// port, climbing back to starboard. No gear.
pub(crate) fn plan() -> Plan {
    let points_mm = vec![(0.0, 0.0), (400.0, 0.0), (400.0, GUNWALE)];
    let section = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
    let length = |mm| Figure::measured(Length::mm(mm));
    let zone = |id, name: &str, x: (f64, f64), half: f64, height: f64, edge| Zone {
        id: ZoneId(id),
        name: Name::new(name).unwrap(),
        outline_mm: Polygon::rect(Spot::new(x.0, -half), Spot::new(x.1, half)),
        height: length(height),
        curve: Curve::Flat,
        wall: length(6.0),
        inside: length(300.0),
        drilling: Drilling::Allowed,
        edge,
        upright: false,
    };
    let hull = Hull {
        class: Key::new("box").unwrap(),
        name: Name::new("box").unwrap(),
        length: length(3600.0),
        beam: length(800.0),
        form: Form { sections: vec![section(0.0), section(3600.0)] }.into(),
        mass: Figure::measured(Mass::kg(30.0)),
        centre_mm: Point::new(1800.0, 0.0, 150.0),
        rating: Figure::measured(Mass::kg(200.0)),
        waterline: length(110.0),
        seat: SeatRails {
            back_aft: Length::mm(1400.0),
            back_fore: Length::mm(1600.0),
            step: Length::mm(25.0),
            low: length(240.0),
            high: Some(length(420.0)),
            width: Length::mm(500.0),
            depth: Length::mm(460.0),
            back_height: Length::mm(480.0),
        },
        pedals: None,
        zones: vec![
            zone(1, "deck", (0.0, 3600.0), 400.0, GUNWALE, false),
            zone(2, "well", (1300.0, 2700.0), 280.0, 150.0, true),
        ],
        features: Vec::new(),
    };
    Plan {
        format: FORMAT,
        name: Name::new("test").unwrap(),
        notes: Note::default(),
        hull: Arc::new(hull),
        angler: Angler {
            mass: Figure::measured(Mass::kg(85.0)),
            stature: length(1756.0),
            measured: MeasuredBody::default(),
            hand: Side::Starboard,
            landing: Side::Port,
            reentry: Side::Starboard,
            seat: Seat { back: Length::mm(1500.0), height: SeatHeight::Low, recline: Angle::deg(10.0) },
        },
        gear: Vec::new(),
        wiring: Wiring::default(),
        outing: Outing {
            name: Name::new("day").unwrap(),
            air: Temperature::celsius(12.0),
            water_temperature: Temperature::celsius(10.0),
            phases: Vec::new(),
            ..Outing::default()
        },
        penetrations: Vec::new(),
        work: Default::default(),
        readings: Vec::new(),
        revisions: Vec::new(),
        threads: Vec::new(),
        limits: Vec::new(),
    }
}

/// Adds gear made of one box `(along x, across, up)` strapped to the deck at a spot; its number.
pub(crate) fn put(plan: &mut Plan, kind: Kind, size: (f64, f64, f64), at: (f64, f64)) -> GearId {
    let id = plan.next_gear_id();
    let spec = Spec {
        key: Key::new("thing").unwrap(),
        name: Name::new("thing").unwrap(),
        kind,
        tag: Tag::new("T").unwrap(),
        bodies: vec![Body { middle_mm: Point::new(0.0, 0.0, size.2 / 2.0), shape: Shape::Box(size.0, size.1, size.2) }],
        mass: Figure::measured(Mass::kg(1.0)),
        electric: None,
        control: None,
        mounts: vec![
            Mounting { how: Mount::Strap, base_mm: (20.0, 20.0), holes: Vec::new(), behind: None, thread: None },
            Mounting { how: Mount::Track, base_mm: (20.0, 20.0), holes: Vec::new(), behind: None, thread: None },
            Mounting { how: Mount::Bolts, base_mm: (80.0, 80.0), holes: Vec::new(), behind: None, thread: None },
        ],
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
    };
    plan.gear.push(Gear {
        id,
        label: Name::new(format!("thing {}", id.0)).unwrap(),
        spec: Arc::new(spec),
        mount: Mount::Strap,
        place: Some(Placement::at(at.0, at.1)),
        seal: Seal::default(),
        state: BuildState::default(),
        pinned: false,
    });
    id
}

/// The gear's spec, to change.
pub(crate) fn spec(plan: &mut Plan, id: GearId) -> &mut Spec {
    Arc::make_mut(&mut plan.gear_mut(id).unwrap().spec)
}

/// The gear's place, to change.
pub(crate) fn place(plan: &mut Plan, id: GearId) -> &mut Placement {
    plan.gear_mut(id).unwrap().place.as_mut().unwrap()
}

/// Makes the gear one that is gripped under way, with its control at this point of the gear frame.
pub(crate) fn handled(plan: &mut Plan, id: GearId, touched: Often, control: (f64, f64, f64)) {
    spec(plan, id).handling = Some(handling(touched, control.into()));
}

/// Gripped at a point of the gear frame, nothing to see.
pub(crate) fn handling(touched: Often, control_mm: Point) -> Handling {
    Handling { touched, seen: false, gripped: true, control_mm, screen: None, text: None, tilts: None }
}

/// Adds a feature to the hull.
pub(crate) fn feature(plan: &mut Plan, kind: FeatureKind, at: (f64, f64, f64)) -> FeatureId {
    let hull = Arc::make_mut(&mut plan.hull);
    let id = FeatureId(hull.features.len() as u32 + 1);
    let name = Name::new(format!("feature {}", id.0)).unwrap();
    hull.features.push(Feature { id, name, at_mm: at.into(), kind, notes: Note::default() });
    id
}

/// What one check finds in a plan.
pub(crate) fn findings(plan: &Plan, check: &str) -> Vec<Finding> {
    assert_eq!(plan.validate(), Ok(()));
    let (study, limits) = (Study::of(plan), Limits::for_plan(plan));
    let row = CHECKS.iter().find(|row| row.id == check).unwrap();
    let mut found = Vec::new();
    (row.run)(&Case { plan, study: &study, limits: &limits }, &mut found);
    assert!(found.iter().all(|finding| finding.check == check), "{found:?}");
    found
}
