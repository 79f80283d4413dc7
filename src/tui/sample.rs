//! An invented boat with gear in every place, for the tests of the drawing.

use crate::geometry::{Form, Point, Polygon, Section, Spot};
use crate::plan::*;
use crate::units::{Angle, Figure, Length, Mass};

fn name(text: &str) -> Name {
    Name::try_from(text.to_string()).expect("a sound name")
}

fn mm(value: f64) -> Length {
    Length::mm(value)
}

fn tape(value: f64) -> Figure<Length> {
    Figure::catalogue(mm(value))
}

fn form() -> Form {
    // Station, half-breadth, height of the gunwale, height of the keel.
    let rows = [
        (0.0, 190.0, 345.0, 60.0),
        (90.0, 262.0, 340.0, 44.0),
        (250.0, 322.0, 335.0, 28.0),
        (500.0, 376.0, 328.0, 14.0),
        (850.0, 422.0, 322.0, 4.0),
        (1250.0, 449.0, 320.0, 0.0),
        (1700.0, 457.0, 320.0, 0.0),
        (2150.0, 446.0, 324.0, 0.0),
        (2550.0, 414.0, 334.0, 4.0),
        (2900.0, 354.0, 350.0, 14.0),
        (3180.0, 276.0, 368.0, 32.0),
        (3400.0, 190.0, 385.0, 58.0),
        (3550.0, 108.0, 398.0, 96.0),
        (3630.0, 48.0, 405.0, 150.0),
        (3660.0, 8.0, 408.0, 230.0),
    ];
    let section = |&(x_mm, half, rim, keel): &(f64, f64, f64, f64)| Section {
        x_mm,
        points_mm: vec![
            (0.0, keel),
            (half * 0.72, keel + (rim - keel) * 0.12),
            (half * 0.96, keel + (rim - keel) * 0.5),
            (half, rim),
        ],
    };
    Form { sections: rows.iter().map(section).collect() }
}

fn zone(id: u32, title: &str, corners: &[(f64, f64)], height: f64) -> Zone {
    Zone {
        id: ZoneId(id),
        name: name(title),
        outline_mm: Polygon::new(corners.iter().map(|&(x, y)| Spot::new(x, y)).collect()),
        height: tape(height),
        curve: Curve::Flat,
        wall: tape(6.0),
        inside: tape(160.0),
        drilling: if title == "hatch surround" {
            Drilling::Forbidden(name("the seal sits there"))
        } else {
            Drilling::Allowed
        },
        edge: true,
        upright: false,
    }
}

fn zones() -> Vec<Zone> {
    let strip = |side: f64| {
        [
            (560.0, 290.0),
            (560.0, 376.0),
            (1250.0, 436.0),
            (2150.0, 430.0),
            (2640.0, 385.0),
            (2640.0, 300.0),
            (2150.0, 330.0),
            (1250.0, 330.0),
        ]
        .map(|(x, y)| (x, y * side))
    };
    vec![
        zone(
            1,
            "foredeck",
            &[(2660.0, 375.0), (3180.0, 250.0), (3560.0, 80.0), (3560.0, -80.0), (3180.0, -250.0), (2660.0, -375.0)],
            372.0,
        ),
        zone(
            2,
            "tank well",
            &[
                (230.0, 190.0),
                (300.0, 235.0),
                (800.0, 270.0),
                (860.0, 230.0),
                (860.0, -230.0),
                (800.0, -270.0),
                (300.0, -235.0),
                (230.0, -190.0),
            ],
            205.0,
        ),
        zone(3, "rear deck", &[(900.0, 300.0), (1180.0, 300.0), (1180.0, -300.0), (900.0, -300.0)], 300.0),
        zone(4, "seat pan", &[(1200.0, 285.0), (1720.0, 285.0), (1720.0, -285.0), (1200.0, -285.0)], 190.0),
        zone(
            5,
            "footwell",
            &[(1720.0, 285.0), (2500.0, 250.0), (2600.0, 180.0), (2600.0, -180.0), (2500.0, -250.0), (1720.0, -285.0)],
            150.0,
        ),
        zone(6, "gunwale, port", &strip(1.0), 330.0),
        zone(7, "gunwale, starboard", &strip(-1.0), 330.0),
    ]
}

fn feature(id: u32, title: &str, at: (f64, f64, f64), kind: FeatureKind) -> Feature {
    Feature { id: FeatureId(id), name: name(title), at_mm: Point::new(at.0, at.1, at.2), kind, notes: Note::default() }
}

fn features() -> Vec<Feature> {
    let scupper = || FeatureKind::Scupper { top: mm(38.0), bottom: mm(32.0), wall: mm(5.0) };
    let bolts =
        || FeatureKind::Handle { thread: Thread::M6, bolts_mm: vec![Spot::new(-70.0, 0.0), Spot::new(70.0, 0.0)] };
    vec![
        feature(1, "track, port", (2240.0, 372.0, 330.0), FeatureKind::Track { length: mm(520.0), free: mm(480.0) }),
        feature(
            2,
            "track, starboard",
            (2240.0, -372.0, 330.0),
            FeatureKind::Track { length: mm(520.0), free: mm(480.0) },
        ),
        feature(3, "scupper, tank well port", (420.0, 150.0, 205.0), scupper()),
        feature(4, "scupper, tank well starboard", (420.0, -150.0, 205.0), scupper()),
        feature(5, "scupper, footwell port", (2380.0, 165.0, 150.0), scupper()),
        feature(6, "scupper, footwell starboard", (2380.0, -165.0, 150.0), scupper()),
        feature(
            7,
            "bow hatch",
            (2990.0, 0.0, 375.0),
            FeatureKind::Hatch {
                opening: Opening::Rect(mm(400.0), mm(300.0)),
                rim: mm(25.0),
                hinge: Hinge::Aft,
                reach: mm(550.0),
            },
        ),
        feature(
            8,
            "day hatch",
            (1040.0, 0.0, 302.0),
            FeatureKind::Hatch {
                opening: Opening::Round(mm(150.0)),
                rim: mm(20.0),
                hinge: Hinge::None,
                reach: mm(500.0),
            },
        ),
        feature(9, "wire port", (2600.0, 250.0, 340.0), FeatureKind::WirePort { bore: mm(30.0) }),
        feature(10, "handle, port", (1560.0, 415.0, 330.0), bolts()),
        feature(11, "handle, starboard", (1560.0, -415.0, 330.0), bolts()),
        feature(12, "handle, bow", (3500.0, 0.0, 395.0), bolts()),
        feature(
            13,
            "handle, stern",
            (90.0, 0.0, 340.0),
            FeatureKind::Handle { thread: Thread::M6, bolts_mm: vec![Spot::new(0.0, -70.0), Spot::new(0.0, 70.0)] },
        ),
        feature(
            14,
            "inserts, gunwale aft port",
            (760.0, 345.0, 330.0),
            FeatureKind::Inserts {
                thread: Thread::M6,
                offsets_mm: vec![Spot::new(-40.0, 0.0), Spot::new(40.0, 0.0)],
                depth: mm(15.0),
            },
        ),
        feature(
            15,
            "foam, bow",
            (2900.0, 0.0, 120.0),
            FeatureKind::Foam { length: mm(700.0), width: mm(160.0), height: mm(180.0) },
        ),
        feature(
            16,
            "foam, aft",
            (700.0, 0.0, 100.0),
            FeatureKind::Foam { length: mm(700.0), width: mm(140.0), height: mm(160.0) },
        ),
        feature(
            17,
            "seat rail, port",
            (1460.0, 235.0, 200.0),
            FeatureKind::SeatRail { length: mm(560.0), width: mm(25.0) },
        ),
        feature(
            18,
            "seat rail, starboard",
            (1460.0, -235.0, 200.0),
            FeatureKind::SeatRail { length: mm(560.0), width: mm(25.0) },
        ),
        feature(19, "drain plug", (30.0, 80.0, 250.0), FeatureKind::DrainPlug { bore: mm(20.0) }),
        feature(20, "rod tube, port", (950.0, 365.0, 330.0), FeatureKind::RodTube { bore: mm(45.0) }),
        feature(21, "rod tube, starboard", (950.0, -365.0, 330.0), FeatureKind::RodTube { bore: mm(45.0) }),
    ]
}

/// The bare hull.
pub fn hull() -> Hull {
    Hull {
        class: Key::try_from("sample".to_string()).expect("a sound key"),
        name: name("sample hull"),
        length: tape(3660.0),
        beam: tape(914.0),
        form: form().into(),
        mass: Figure::catalogue(Mass::kg(45.0)),
        centre_mm: Point::new(1750.0, 0.0, 180.0),
        rating: Figure::catalogue(Mass::kg(225.0)),
        waterline: tape(115.0),
        seat: SeatRails {
            back_aft: mm(1180.0),
            back_fore: mm(1420.0),
            step: mm(20.0),
            low: tape(300.0),
            high: Some(tape(460.0)),
            width: mm(430.0),
            depth: mm(400.0),
            back_height: mm(400.0),
        },
        pedals: None,
        zones: zones(),
        features: features(),
    }
}

struct Place {
    x: f64,
    y: f64,
    turn: f64,
    level: Level,
}

const fn at(x: f64, y: f64) -> Place {
    Place { x, y, turn: 0.0, level: Level::Deck }
}

fn gear(id: u32, title: &str, tag: &str, kind: Kind, bodies: Vec<Body>, place: Place) -> Gear {
    Gear {
        id: GearId(id),
        label: name(title),
        spec: Spec {
            key: Key::try_from(title.replace(", ", "-").replace(' ', "-")).expect("a sound key"),
            name: name(title),
            kind,
            tag: Tag::try_from(tag.to_string()).expect("a sound tag"),
            bodies,
            mass: Figure::catalogue(Mass::kg(1.0)),
            electric: None,
            control: None,
            mounts: vec![Mounting {
                how: Mount::Bolts,
                base_mm: (60.0, 60.0),
                holes: Vec::new(),
                behind: None,
                thread: None,
            }],
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
        }
        .into(),
        mount: Mount::Bolts,
        place: Some(Placement { turn: Angle::deg(place.turn), level: place.level, ..Placement::at(place.x, place.y) }),
        seal: Seal::default(),
        state: BuildState::Planned,
        pinned: false,
    }
}

fn block(x: f64, y: f64, z: f64) -> Vec<Body> {
    vec![Body { middle_mm: Point::new(0.0, 0.0, z / 2.0), shape: Shape::Box(x, y, z) }]
}

fn post(diameter: f64, height: f64) -> Vec<Body> {
    vec![Body { middle_mm: Point::new(0.0, 0.0, height / 2.0), shape: Shape::Post(diameter, height) }]
}

fn bar(diameter: f64, length: f64) -> Vec<Body> {
    vec![Body { middle_mm: Point::new(0.0, 0.0, diameter / 2.0), shape: Shape::Bar(diameter, length) }]
}

fn all_gear() -> Vec<Gear> {
    let inside = |x, y| Place { level: Level::Inside, ..at(x, y) };
    vec![
        gear(1, "9-inch display", "D9", Kind::Display, block(80.0, 250.0, 160.0), at(2240.0, 330.0)),
        gear(2, "battery 50 ah", "B50", Kind::Battery, block(200.0, 165.0, 170.0), inside(2700.0, 0.0)),
        gear(3, "crate", "CR", Kind::Storage, block(330.0, 330.0, 280.0), at(560.0, 0.0)),
        gear(4, "rod holder, port", "RH", Kind::RodHolder, post(60.0, 260.0), at(640.0, 340.0)),
        gear(5, "rod holder, starboard", "RH", Kind::RodHolder, post(60.0, 260.0), at(640.0, -340.0)),
        gear(6, "pole light", "PL", Kind::Light, post(40.0, 1200.0), at(170.0, -140.0)),
        gear(7, "switch unit", "SW", Kind::SwitchUnit, block(120.0, 80.0, 60.0), inside(2960.0, 60.0)),
        gear(
            8,
            "transducer",
            "TR",
            Kind::Transducer,
            block(220.0, 70.0, 40.0),
            Place { level: Level::Under, ..at(1850.0, 0.0) },
        ),
        gear(9, "cooler", "CO", Kind::Cooler, block(260.0, 300.0, 260.0), Place { turn: 20.0, ..at(3280.0, 0.0) }),
        gear(10, "paddle", "PD", Kind::Paddle, bar(30.0, 2200.0), at(1700.0, -440.0)),
        gear(11, "camera boom", "BM", Kind::Boom, post(40.0, 900.0), at(2450.0, -370.0)),
        gear(
            12,
            "stern motor",
            "MT",
            Kind::Motor,
            vec![
                Body { middle_mm: Point::new(-60.0, 0.0, 60.0), shape: Shape::Box(160.0, 150.0, 200.0) },
                Body { middle_mm: Point::new(-140.0, 0.0, -260.0), shape: Shape::Bar(90.0, 320.0) },
            ],
            at(60.0, 0.0),
        ),
        gear(13, "phone", "PH", Kind::Phone, block(20.0, 80.0, 160.0), at(2080.0, -372.0)),
        gear(14, "power port", "PP", Kind::PowerPort, post(45.0, 20.0), at(1980.0, 390.0)),
    ]
}

/// The hull with its person and gear.
pub fn plan() -> Plan {
    let side_hole = |id, x, y, fate| Penetration {
        id: HoleId(id),
        name: name("hole"),
        x: mm(x),
        y: mm(y),
        bore: mm(16.0),
        purpose: Purpose::Cable,
        fate,
        seal: Seal::default(),
        left: None,
    };
    Plan {
        format: FORMAT,
        name: name("sample"),
        notes: Note::default(),
        hull: hull().into(),
        angler: Angler {
            mass: Figure::measured(Mass::kg(84.0)),
            stature: Figure::measured(mm(1780.0)),
            measured: MeasuredBody::default(),
            hand: Side::Starboard,
            landing: Side::Port,
            reentry: Side::Starboard,
            seat: Seat { back: mm(1300.0), height: SeatHeight::Low, recline: Angle::deg(10.0) },
        },
        gear: all_gear(),
        wiring: Wiring::default(),
        outing: Outing::default(),
        penetrations: vec![
            side_hole(1, 2730.0, -230.0, Fate::New),
            side_hole(2, 1100.0, 380.0, Fate::Open),
            side_hole(3, 1170.0, 380.0, Fate::Plugged(Plug::RubberPlug)),
        ],
        work: Default::default(),
        readings: Vec::new(),
        revisions: Vec::new(),
        threads: Vec::new(),
        limits: Vec::new(),
    }
}
