//! The checks of body and motions, each fired at its limit and left quiet just inside it.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::test_body::{GUNWALE, feature, findings, handled, handling, place, plan, put, spec};
use super::{Finding, Severity};
use crate::geometry::Point;
use crate::plan::*;
use crate::study::Study;
use crate::study::body::Seated;
use crate::study::reach::{Band, Touch};
use crate::units::Length;

/// A plan with one piece of gear, and what the check says to it.
fn one(check: &str, size: (f64, f64, f64), at: (f64, f64)) -> Vec<Finding> {
    let mut plan = plan();
    put(&mut plan, Kind::Other, size, at);
    findings(&plan, check)
}

/// The check is quiet for the first height of gear at this spot and speaks for the second.
fn height_limit(check: &str, at: (f64, f64), quiet: f64, speaks: f64, severity: Severity) {
    assert_eq!(one(check, (60.0, 60.0, quiet), at), vec![], "{quiet} mm high");
    let found = one(check, (60.0, 60.0, speaks), at);
    assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [severity], "{speaks} mm high: {found:?}");
}

#[test]
fn stroke_allows_low_hardware() {
    // 50 mm in the middle of the stroke, 80 at its ends, and 2 mm that count as touching.
    height_limit("stroke-blocked", (1900.0, 350.0), 51.0, 55.0, Severity::Stop);
    height_limit("stroke-blocked", (2280.0, -350.0), 81.0, 85.0, Severity::Stop);
    assert_eq!(one("stroke-blocked", (60.0, 60.0, 300.0), (2400.0, 350.0)), vec![], "ahead of the toes");
    assert_eq!(one("stroke-blocked", (60.0, 60.0, 300.0), (1900.0, 269.0)), vec![], "inside");
}

#[test]
fn stroke_says_the_way_out() {
    let found = one("stroke-blocked", (60.0, 60.0, 300.0), (2280.0, 350.0));
    assert!(found[0].says.contains("thing 1") && found[0].says.contains("to port"), "{found:?}");
    // Its inner edge stands at 320; 80 mm inboard takes the outer one to the line at 300. Forward it
    // is 100: the aft edge at 2250 to the end of the stroke at 2350.
    assert!(found[0].remedy.starts_with("move it 80 mm to starboard"), "{}", found[0].remedy);
}

#[test]
fn a_paddle_is_in_the_hands_while_paddling() {
    let mut plan = plan();
    put(&mut plan, Kind::Paddle, (1500.0, 100.0, 100.0), (1900.0, 350.0));
    assert_eq!(findings(&plan, "stroke-blocked"), vec![]);
}

#[test]
fn landing_allows_what_lies_flat_on_its_side_only() {
    height_limit("landing-blocked", (1850.0, 370.0), 21.0, 25.0, Severity::Caution);
    assert_eq!(one("landing-blocked", (60.0, 60.0, 25.0), (1850.0, -370.0)), vec![]);
}

#[test]
fn reentry_allows_what_lies_flat_on_its_side_only() {
    height_limit("reentry-blocked", (1200.0, -370.0), 31.0, 35.0, Severity::Stop);
    assert_eq!(one("reentry-blocked", (60.0, 60.0, 300.0), (1200.0, 370.0)), vec![]);
    let found = one("reentry-blocked", (60.0, 60.0, 35.0), (1200.0, -370.0));
    assert!(found[0].remedy.contains("certified instructor"), "{}", found[0].remedy);
}

#[test]
fn knees_are_soft_and_pedals_hard() {
    let mut plan = plan();
    let body = Seated::of(&plan);
    let id = put(&mut plan, Kind::Display, (40.0, 200.0, 120.0), (body.knee.x + 60.0 + 20.0 + 74.0, 0.0));
    place(&mut plan, id).raise = Length::mm(body.knee.z - 150.0);
    let found = findings(&plan, "pedal-blocked");
    assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Caution], "{found:?}");
    place(&mut plan, id).x = Length::mm(body.knee.x + 60.0 + 20.0 + 75.0 + 19.0);
    assert_eq!(findings(&plan, "pedal-blocked"), vec![], "75 mm ahead of the knees, 1 mm shared");

    place(&mut plan, id).x = Length::mm(2400.0);
    let crank_mm = Point::new(2250.0, 0.0, 400.0);
    let pedals = Pedals { crank_mm, radius: Length::mm(150.0), half_width: Length::mm(180.0) };
    std::sync::Arc::make_mut(&mut plan.hull).pedals = Some(pedals);
    let found = findings(&plan, "pedal-blocked");
    assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Stop], "{found:?}");
    place(&mut plan, id).x = Length::mm(2250.0 + 150.0 + 50.0 + 20.0);
    assert_eq!(findings(&plan, "pedal-blocked"), vec![]);
}

#[test]
fn a_hinged_lid_sweeps_a_quarter_circle() {
    let mut plan = plan();
    let opening = Opening::Rect(Length::mm(260.0), Length::mm(200.0));
    let kind = FeatureKind::Hatch { opening, rim: Length::mm(20.0), hinge: Hinge::Fore, reach: Length::mm(400.0) };
    feature(&mut plan, kind, (3000.0, 0.0, GUNWALE));
    let id = put(&mut plan, Kind::Other, (40.0, 40.0, 400.0), (2829.0, 0.0));
    // The lid is 300 long, from 2850 to the hinge at 3150.
    assert_eq!(findings(&plan, "lid-blocked"), vec![], "just aft of the lid");
    place(&mut plan, id).x = Length::mm(2835.0);
    let found = findings(&plan, "lid-blocked");
    assert!(found[0].severity == Severity::Stop && found[0].says.contains("feature 1"), "{found:?}");
    place(&mut plan, id).raise = Length::mm(300.0);
    assert_eq!(findings(&plan, "lid-blocked"), vec![], "higher than the lid is long");
}

#[test]
fn a_twist_lid_takes_a_hand() {
    let hatch = |at: (f64, f64), raise: f64| {
        let mut plan = plan();
        let opening = Opening::Round(Length::mm(150.0));
        let kind = FeatureKind::Hatch { opening, rim: Length::mm(20.0), hinge: Hinge::None, reach: Length::mm(400.0) };
        feature(&mut plan, kind, (3000.0, 0.0, GUNWALE));
        let id = put(&mut plan, Kind::Other, (40.0, 40.0, 60.0), at);
        place(&mut plan, id).raise = Length::mm(raise);
        findings(&plan, "lid-blocked").len()
    };
    // Radius 75 and 30 for the hand; the gear's near edge is 20 before its middle.
    assert_eq!((hatch((3124.0, 0.0), 0.0), hatch((3120.0, 0.0), 0.0)), (0, 1));
    assert_eq!((hatch((3000.0, 0.0), 149.0), hatch((3000.0, 0.0), 145.0)), (0, 1));
}

#[test]
fn a_crate_lid_is_a_caution() {
    let mut plan = plan();
    let under = put(&mut plan, Kind::Storage, (300.0, 300.0, 200.0), (600.0, 0.0));
    let over = put(&mut plan, Kind::Other, (60.0, 60.0, 60.0), (600.0, 0.0));
    spec(&mut plan, under).lid = Some(Length::mm(250.0));
    place(&mut plan, over).raise = Length::mm(460.0);
    assert_eq!(findings(&plan, "lid-blocked"), vec![]);
    place(&mut plan, over).raise = Length::mm(440.0);
    let found = findings(&plan, "lid-blocked");
    assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Caution], "{found:?}");
}

#[test]
fn the_seat_back_needs_its_recline() {
    // Top of the back: 480 high, 10 deg, and 50 for the frame: 135 aft of 1500.
    let aft = 480.0 * 10_f64.to_radians().tan() + 50.0;
    let at = |x: f64| one("recline-blocked", (200.0, 300.0, 370.0), (x, 0.0));
    assert_eq!(at(1500.0 - aft - 100.0 + 1.0), vec![]);
    let found = at(1500.0 - aft - 100.0 + 5.0);
    assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Stop], "{found:?}");
    assert!(found[0].remedy.starts_with("move it 5 mm aft"), "{}", found[0].remedy);
}

#[test]
fn gear_in_one_place_overlaps() {
    let two = |x: f64| {
        let mut plan = plan();
        put(&mut plan, Kind::Other, (100.0, 100.0, 50.0), (600.0, 0.0));
        put(&mut plan, Kind::Other, (100.0, 100.0, 50.0), (x, 0.0));
        findings(&plan, "overlap")
    };
    assert_eq!(two(700.0), vec![], "side by side");
    assert_eq!(two(698.5), vec![], "within the tolerance");
    let found = two(690.0);
    assert_eq!((found.len(), found[0].value, found[0].margin), (1, 10.0, -10.0));
    assert!(found[0].remedy.contains("10 mm aft"), "{}", found[0].remedy);
}

#[test]
fn what_carries_does_not_overlap() {
    let mut plan = plan();
    let base = put(&mut plan, Kind::Base, (60.0, 60.0, 60.0), (600.0, 0.0));
    let display = put(&mut plan, Kind::Display, (100.0, 200.0, 120.0), (600.0, 0.0));
    let found = findings(&plan, "overlap");
    assert!(found[0].remedy.contains("or raise thing 2 60 mm to stand on thing 1"), "{found:?}");
    place(&mut plan, display).raise = Length::mm(30.0);
    assert_eq!(findings(&plan, "overlap"), vec![], "the ball sinks into its socket");
    place(&mut plan, display).x = Length::mm(650.0);
    assert_eq!(findings(&plan, "overlap").len(), 1, "beside the base it is not carried");
    plan.gear.retain(|gear| gear.id == base);
    let track = put(&mut plan, Kind::Track, (300.0, 30.0, 12.0), (600.0, 0.0));
    spec(&mut plan, track).track = Some(Length::mm(280.0));
    assert_eq!(findings(&plan, "overlap").len(), 1, "strapped beside the slot");
    plan.gear_mut(base).unwrap().mount = Mount::Track;
    assert_eq!(findings(&plan, "overlap"), vec![], "held by the slot");
}

#[test]
fn a_box_holds_what_lies_in_it() {
    let mut plan = plan();
    let crate_ = put(&mut plan, Kind::Storage, (300.0, 300.0, 250.0), (600.0, 0.0));
    put(&mut plan, Kind::Other, (200.0, 100.0, 50.0), (600.0, 0.0));
    assert_eq!(findings(&plan, "overlap").len(), 1);
    spec(&mut plan, crate_).lid = Some(Length::mm(200.0));
    assert_eq!(findings(&plan, "overlap"), vec![]);
}

#[test]
fn the_seat_and_the_person_take_room() {
    assert_eq!(one("overlap", (100.0, 100.0, 48.0), (1700.0, 0.0)), vec![], "stowed under the seat");
    let found = one("overlap", (100.0, 100.0, 60.0), (1700.0, 0.0));
    assert!(found[0].says.contains("in the seat"), "{found:?}");
}

#[test]
fn inside_gear_meets_deck_skin_and_foam() {
    let inside = |size: (f64, f64, f64), at: (f64, f64), foam: bool| {
        let mut plan = plan();
        if foam {
            let block = |mm| Length::mm(mm);
            let kind = FeatureKind::Foam { length: block(200.0), width: block(100.0), height: block(200.0) };
            feature(&mut plan, kind, (800.0, 0.0, 100.0));
        }
        let id = put(&mut plan, Kind::Battery, size, at);
        place(&mut plan, id).level = Level::Inside;
        findings(&plan, "overlap").into_iter().map(|f| f.says).collect::<Vec<_>>()
    };
    // Deck at 340, skin of 6 above and below.
    assert_eq!(inside((100.0, 100.0, 329.0), (600.0, 0.0), false), Vec::<String>::new());
    assert!(inside((100.0, 100.0, 331.0), (600.0, 0.0), false)[0].contains("too tall"));
    assert!(inside((100.0, 100.0, 100.0), (600.0, 345.0), false).is_empty());
    assert!(inside((100.0, 100.0, 100.0), (600.0, 360.0), false)[0].contains("through the skin"));
    assert!(inside((100.0, 100.0, 100.0), (649.0, 0.0), true).is_empty());
    assert!(inside((100.0, 100.0, 100.0), (655.0, 0.0), true)[0].contains("feature 1"));
}

#[test]
fn mounts_need_their_feature_and_their_edge() {
    let mut plan = plan();
    let id = put(&mut plan, Kind::Other, (80.0, 80.0, 40.0), (600.0, 0.0));
    assert_eq!(findings(&plan, "zone-wrong"), vec![]);
    plan.gear_mut(id).unwrap().mount = Mount::Track;
    assert!(findings(&plan, "zone-wrong")[0].says.contains("no track"), "no slot anywhere");
    plan.gear_mut(id).unwrap().mount = Mount::Bolts;
    // A base of 80 in the well, whose forward edge is at 2700.
    for (x, speaks) in [(2664.0, false), (2670.0, true)] {
        place(&mut plan, id).x = Length::mm(x);
        let found = findings(&plan, "zone-wrong");
        assert_eq!(found.iter().any(|f| f.says.contains("edge of well")), speaks, "{found:?}");
    }
}

#[test]
fn gear_beside_the_hull() {
    assert_eq!(one("off-hull", (60.0, 60.0, 40.0), (600.0, 399.0)), vec![]);
    let found = one("off-hull", (60.0, 60.0, 40.0), (600.0, 430.0));
    assert_eq!((found.len(), found[0].value), (1, 30.0));
    assert_eq!(one("zone-wrong", (60.0, 60.0, 40.0), (600.0, 430.0)), vec![], "said once");
}

#[test]
fn a_battery_must_come_out() {
    let says = |opening: Option<Opening>| {
        let mut plan = plan();
        if let Some(opening) = opening {
            let kind =
                FeatureKind::Hatch { opening, rim: Length::mm(20.0), hinge: Hinge::None, reach: Length::mm(1.0) };
            feature(&mut plan, kind, (3000.0, 0.0, GUNWALE));
        }
        let id = put(&mut plan, Kind::Battery, (300.0, 120.0, 160.0), (600.0, 0.0));
        place(&mut plan, id).level = Level::Inside;
        findings(&plan, "battery-stuck").len()
    };
    let mm = Length::mm;
    // Smallest sides 120 and 160, corner to corner 200, each with 10 to spare.
    assert_eq!((says(Some(Opening::Round(mm(210.0)))), says(Some(Opening::Round(mm(209.0))))), (0, 1));
    assert_eq!(
        (says(Some(Opening::Rect(mm(170.0), mm(130.0)))), says(Some(Opening::Rect(mm(400.0), mm(129.0))))),
        (0, 1)
    );
    assert_eq!(says(None), 1);
}

#[test]
fn an_inspection_port_lets_a_small_battery_out() {
    let mut plan = plan();
    let battery = put(&mut plan, Kind::Battery, (150.0, 60.0, 80.0), (600.0, 0.0));
    place(&mut plan, battery).level = Level::Inside;
    let port = put(&mut plan, Kind::InspectionPort, (150.0, 150.0, 20.0), (900.0, 0.0));
    spec(&mut plan, port).access = Some(Length::mm(100.0));
    assert_eq!(findings(&plan, "battery-stuck").len(), 1);
    spec(&mut plan, port).access = Some(Length::mm(110.0));
    assert_eq!(findings(&plan, "battery-stuck"), vec![]);
}

#[test]
fn reach_is_free_then_a_lean_then_a_stop() {
    let mut plan = plan();
    let body = Seated::of(&plan);
    let shoulder = body.upright_shoulder(Side::Port);
    let id = put(&mut plan, Kind::Other, (60.0, 60.0, 40.0), (600.0, 0.0));
    let mut at = |ahead: f64, touched: Often| {
        handled(&mut plan, id, touched, (shoulder.x + ahead - 600.0, shoulder.y, shoulder.z - GUNWALE));
        findings(&plan, "reach-over").iter().map(|f| f.severity).collect::<Vec<_>>()
    };
    assert_eq!(at(body.grip - 1.0, Often::Often), []);
    assert_eq!(at(body.grip + 1.0, Often::Often), [Severity::Caution]);
    assert_eq!(at(body.grip + 1.0, Often::Seldom), [Severity::Note]);
    assert_eq!(at(body.grip + 600.0, Often::Often), [Severity::Stop]);
    assert_eq!(at(body.grip + 600.0, Often::Seldom), [Severity::Caution]);
    assert_eq!(at(body.grip + 600.0, Often::Never), []);
}

#[test]
fn a_plan_may_lean_further_with_a_reason() {
    let mut plan = plan();
    let shoulder = Seated::of(&plan).upright_shoulder(Side::Port);
    let id = put(&mut plan, Kind::Other, (60.0, 60.0, 40.0), (600.0, 0.0));
    handled(&mut plan, id, Often::Often, (shoulder.x + 1050.0 - 600.0, shoulder.y, shoulder.z - 200.0 - GUNWALE));
    assert_eq!(findings(&plan, "reach-over")[0].severity, Severity::Stop);
    let reason = Name::new("tried in the boat").unwrap();
    plan.limits.push(LimitOverride { limit: "reach-over.lean".into(), value: 45.0, reason });
    assert_eq!(findings(&plan, "reach-over")[0].severity, Severity::Caution);
}

#[test]
fn screens_are_read_from_as_far_as_their_size() {
    let at = |inches: f64, distance: f64| {
        let mut plan = plan();
        let eye = Seated::of(&plan).eye;
        let id = put(&mut plan, Kind::Display, (30.0, 200.0, 130.0), (600.0, 0.0));
        let control_mm = Point::new(eye.x + distance - 600.0, 0.0, eye.z - GUNWALE);
        let screen = Some(Length::inches(inches));
        spec(&mut plan, id).handling =
            Some(Handling { seen: true, gripped: false, screen, ..handling(Often::Never, control_mm) });
        findings(&plan, "sight-far").len()
    };
    for (inches, limit) in
        [(5.0, 700.0), (7.0, 700.0), (8.0, 775.0), (9.0, 850.0), (10.0, 850.0), (12.0, 1000.0), (16.0, 1000.0)]
    {
        assert_eq!((at(inches, limit - 1.0), at(inches, limit + 1.0)), (0, 1), "{inches} inches");
    }
}

#[test]
fn nothing_aboard_finds_nothing() {
    let study = Study::of(&plan());
    assert_eq!(super::run(&plan(), &study).iter().filter(|f| f.subject.gear().is_some()).count(), 0);
    assert_eq!(study.reach.count(Band::OutOfReach), 0);
    let far: Touch = crate::study::reach::touch(&study.reach.body, Point::new(9000.0, 0.0, 0.0), true);
    assert_eq!(far.band, Band::OutOfReach);
}
