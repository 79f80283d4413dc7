//! The drill sheet from outside: every new hole once, two distances that find it again, a blind fastener where no hand
//! gets.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

use gunnel::geometry::{Point, Polygon, Spot};
use gunnel::plan::{
    Back, Fate, FeatureId, FeatureKind, Hinge, HoleId, Opening, Penetration, Plan, Purpose, Seal, Side, Zone,
};
use gunnel::scenarios::SCENARIOS;
use gunnel::sheets::{SheetForm, drill_sheet};
use gunnel::storage::load::{self, Format};
use gunnel::study::Study;
use gunnel::study::drilling::{Datum, Mark, Walk, Way};
use gunnel::study::holes::HoleState;
use gunnel::units::{Figure, Length, Measure};

use crate::boats;
use crate::home::{Home, code, json, transcript, units_are_named};
use crate::test_power;

fn plans() -> Vec<Plan> {
    let demos = SCENARIOS.iter().map(|demo| load::plan(demo.text, Path::new(demo.file), Format::Ron).unwrap());
    let mut featureless = boats::rich();
    Arc::make_mut(&mut featureless.hull).features.clear();
    demos.chain([boats::rich(), featureless]).collect()
}

#[test]
fn every_new_hole_is_on_the_walk_once_and_no_other() {
    let mut seen = 0;
    for plan in plans() {
        let study = Study::of(&plan);
        let walk = Walk::of(&plan, &study);
        let new: BTreeSet<_> =
            study.holes.holes.iter().filter(|hole| hole.state == HoleState::New).map(|hole| hole.id).collect();
        let stops: BTreeSet<_> = walk.stops.iter().map(|stop| stop.hole.id).collect();
        assert_eq!(stops, new);
        assert_eq!((walk.stops.len(), walk.old.len()), (new.len(), study.holes.holes.len() - new.len()));
        seen += new.len();
        let csv = drill_sheet(&plan, &study, Measure::default()).written(SheetForm::Csv);
        let mut reader = csv::Reader::from_reader(csv.as_bytes());
        let states: Vec<String> = reader.records().map(|row| row.unwrap()[4].to_string()).collect();
        assert_eq!(states.iter().filter(|state| *state == "new").count(), new.len());
        assert_eq!(states.len(), study.holes.holes.len());
    }
    assert!(seen > 20, "{seen} holes");
}

/// Up the port side with the stern first, back down starboard: no step of the walk goes the other way.
#[test]
fn the_walk_goes_once_round() {
    for plan in plans() {
        let study = Study::of(&plan);
        for pair in Walk::of(&plan, &study).stops.windows(2) {
            let (one, next) = (pair[0].hole.at, pair[1].hole.at);
            let onward = match (one.y >= 0.0, next.y >= 0.0) {
                (true, true) => one.x <= next.x,
                (true, false) => true,
                (false, true) => false,
                (false, false) => one.x >= next.x,
            };
            assert!(onward, "{one:?} then {next:?}");
        }
    }
}

/// The tape's line or arc, from the hull's own figures: `x = c`, `y = c`, or a circle about a point.
enum Curve {
    X(f64),
    Y(f64),
    Circle(Spot, f64),
}

fn curve(plan: &Plan, datum: &Datum, hole: Point) -> Curve {
    let feature = |id: FeatureId| plan.feature(id).unwrap();
    let form = &plan.hull.form;
    match datum.from {
        Mark::Stern => Curve::X(form.sections[0].x_mm + datum.mm),
        Mark::Gunwale(side) => {
            let (half, _) = form.gunwale(hole.x).unwrap();
            Curve::Y(match side {
                Side::Port => half - datum.mm,
                Side::Starboard => datum.mm - half,
            })
        }
        Mark::Seam(id) => {
            let y = feature(id).at_mm.y;
            Curve::Y(if hole.y > y { y + datum.mm } else { y - datum.mm })
        }
        Mark::Scupper(id) => Curve::Circle(feature(id).at_mm.spot(), datum.mm),
        Mark::Insert(id, n) => {
            let FeatureKind::Inserts { offsets_mm, .. } = &feature(id).kind else { panic!("{id} has no inserts") };
            let middle = feature(id).at_mm;
            Curve::Circle(Spot::new(middle.x + offsets_mm[n].x, middle.y + offsets_mm[n].y), datum.mm)
        }
        Mark::Hatch(id, side) => {
            let middle = feature(id).at_mm.spot();
            let FeatureKind::Hatch { opening, .. } = feature(id).kind else { panic!("{id} is no hatch") };
            match (opening, side) {
                (Opening::Round(bore), _) => Curve::Circle(middle, bore.to_mm() / 2.0 + datum.mm),
                (Opening::Rect(length, _), Some(Hinge::Fore)) => Curve::X(middle.x + length.to_mm() / 2.0 + datum.mm),
                (Opening::Rect(length, _), Some(Hinge::Aft)) => Curve::X(middle.x - length.to_mm() / 2.0 - datum.mm),
                (Opening::Rect(_, width), Some(Hinge::Port)) => Curve::Y(middle.y + width.to_mm() / 2.0 + datum.mm),
                (Opening::Rect(_, width), _) => Curve::Y(middle.y - width.to_mm() / 2.0 - datum.mm),
            }
        }
    }
}

/// Where a line and another curve cross, by Pythagoras.
fn crossings(one: &Curve, other: &Curve) -> Vec<Spot> {
    match (one, other) {
        (Curve::X(x), Curve::Y(y)) | (Curve::Y(y), Curve::X(x)) => vec![Spot::new(*x, *y)],
        (Curve::X(x), Curve::Circle(middle, r)) | (Curve::Circle(middle, r), Curve::X(x)) => {
            let off = (r * r - (x - middle.x).powi(2)).max(0.0).sqrt();
            vec![Spot::new(*x, middle.y + off), Spot::new(*x, middle.y - off)]
        }
        (Curve::Y(y), Curve::Circle(middle, r)) | (Curve::Circle(middle, r), Curve::Y(y)) => {
            let off = (r * r - (y - middle.y).powi(2)).max(0.0).sqrt();
            vec![Spot::new(middle.x + off, *y), Spot::new(middle.x - off, *y)]
        }
        _ => panic!("two distances the same way fix no spot"),
    }
}

/// Each pair of distances, laid off from the hull's features, meets at the hole and, on the side that the words name,
/// nowhere else.
#[test]
fn two_distances_find_the_hole_again() {
    let (mut marks, mut straight) = (BTreeSet::new(), 0);
    for plan in plans() {
        let study = Study::of(&plan);
        for stop in Walk::of(&plan, &study).stops {
            let Some(pair) = stop.datums else {
                assert!(plan.hull.form.bottom(stop.hole.at.spot()).is_none());
                continue;
            };
            assert!(!stop.hole.upright, "no scenario drills a wall");
            let spot = stop.hole.at.spot();
            let [one, other] = pair.map(|datum| curve(&plan, &datum, stop.hole.at));
            let found = crossings(&one, &other);
            let near: Vec<&Spot> = found.iter().filter(|at| at.distance(spot) < 0.5).collect();
            assert!(!near.is_empty(), "{:?} finds {found:?}, not {spot:?}", stop.datums);
            if let Some(arc) = pair.iter().find(|datum| datum.way == Way::Straight) {
                straight += 1;
                let quarter = |at: &Spot| ((at.x - arc.origin.x) >= 0.0, (at.y - arc.origin.y) >= 0.0);
                let same = found.iter().filter(|at| quarter(at) == quarter(&spot)).count();
                assert!(same <= 1 || found[0].distance(found[1]) < 1.0, "{found:?} both lie there");
            }
            marks.extend(pair.map(|datum| format!("{:?}", datum.way)));
        }
    }
    assert!(straight > 0 && marks.contains("Along") && marks.contains("Across"), "{marks:?}");
}

/// By hand on the 11 ft angler: a screw at 1459 forward, 312 to port. The seam runs at 393: 81 mm. Insert 2 beside the
/// seat is at 1560, 355: 101 aft and 43 to starboard of it are 109.8 mm straight.
#[test]
fn the_nearest_two_that_cross_well_are_taken() {
    let demo = SCENARIOS.iter().find(|demo| demo.file == "seat-test.ron").unwrap();
    let plan = load::plan(demo.text, Path::new(demo.file), Format::Ron).unwrap();
    let study = Study::of(&plan);
    let walk = Walk::of(&plan, &study);
    let screw = walk.stops.iter().find(|stop| (stop.hole.at.x - 1459.0).abs() < 0.1).unwrap();
    let [insert, seam] = screw.datums.unwrap();
    assert_eq!((insert.from, insert.way), (Mark::Insert(FeatureId(5), 1), Way::Straight));
    assert!((insert.mm - 109.8).abs() < 0.05, "{insert:?}");
    assert_eq!((seam.from, seam.way, seam.mm), (Mark::Seam(FeatureId(33)), Way::Across, 81.0));
}

/// By hand on a trough 300 high: on an upright wall at height 180 the hole is 120 below the gunwale and 1000 forward of
/// the stern.
#[test]
fn on_a_wall_it_is_measured_down_from_the_edge() {
    let mut plan = test_power::plan();
    let wall = boats::rich().hull.zones[0].clone();
    let wall = Zone {
        outline_mm: Polygon::rect((900.0, 380.0).into(), (1100.0, 400.0).into()),
        height: Figure::measured(Length::mm(180.0)),
        upright: true,
        ..wall
    };
    Arc::make_mut(&mut plan.hull).zones = vec![wall];
    plan.penetrations.push(Penetration {
        id: HoleId(1),
        name: boats::name("cable entry"),
        x: Length::mm(1000.0),
        y: Length::mm(390.0),
        bore: Length::mm(16.5),
        purpose: Purpose::Cable,
        fate: Fate::New,
        seal: Seal::Gasket,
        left: None,
    });
    let study = Study::of(&plan);
    let [along, down] = Walk::of(&plan, &study).stops[0].datums.unwrap();
    assert_eq!((along.from, along.way, along.mm), (Mark::Stern, Way::Along, 1000.0));
    assert_eq!((down.from, down.way, down.mm), (Mark::Gunwale(Side::Port), Way::Down, 120.0));
    let text = drill_sheet(&plan, &study, Measure::default()).written(SheetForm::Text);
    assert!(text.contains("120 mm below the port gunwale"), "{text}");
}

/// A hull without a hatch: no hand gets inside, so no hole gets a nut, and each says why.
#[test]
fn where_no_hand_gets_the_fastener_is_blind_and_says_why() {
    let mut plan = boats::rich();
    Arc::make_mut(&mut plan.hull).features.retain(|feature| !matches!(feature.kind, FeatureKind::Hatch { .. }));
    let study = Study::of(&plan);
    let walk = Walk::of(&plan, &study);
    let nuts: Vec<_> = walk.stops.iter().filter(|stop| stop.hole.back == Back::Nut).collect();
    assert!(!nuts.is_empty());
    for stop in &nuts {
        assert!(stop.fastening.instead_of_nut.is_some(), "{:?}", stop.fastening);
        assert!(stop.fastening.holds == stop.fastening.words.contains("rubber expanding nut"), "{:?}", stop.fastening);
        assert!(!stop.fastening.holds || stop.final_mm > stop.hole.bore_mm, "an expanding nut wants a wider hole");
    }
    let text = drill_sheet(&plan, &study, Measure::default()).written(SheetForm::Text);
    let says = text.matches(": blind, as the hull has no opening for a hand").count();
    assert_eq!(says, nuts.len());
}

/// Each hole of a mirrored pair names the other.
#[test]
fn pairs_name_each_other() {
    for plan in plans() {
        let study = Study::of(&plan);
        let walk = Walk::of(&plan, &study);
        for stop in &walk.stops {
            let Some(other) = stop.mirror else { continue };
            let other = walk.stops.iter().find(|stop| stop.hole.id == other).unwrap();
            assert_eq!(other.mirror, Some(stop.hole.id));
            assert!((other.hole.at.y + stop.hole.at.y).abs() <= 1.0);
        }
    }
}

#[test]
fn the_drill_sheet_reads_as_a_page_and_as_a_table() {
    let home = Home::new();
    let demo = SCENARIOS.iter().find(|demo| demo.file == "ready-for-review.ron").unwrap();
    home.file("rig.ron", demo.text);
    for form in ["text", "csv"] {
        let told = transcript(&home, &["sheet", "drill", "rig.ron", "--format", form]);
        insta::assert_snapshot!(format!("sheet_drill_{form}"), told);
    }
    let asked = home.run(&["sheet", "drill", "rig.ron", "--format", "json"]);
    assert_eq!(code(&asked), 0);
    let document = json(&asked);
    units_are_named("", &document);
    let rows = document["sections"][0]["rows"].as_array().unwrap();
    assert!(rows.iter().all(|row| row["done"] == false && row["final_mm"].is_number() && row["no"].is_number()));
}
