//! The checks of sight at their limits, on a box of a boat. Expected values worked out by hand from the angles of
//! right triangles, unless another source stands beside them.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use proptest::prelude::*;

use super::test_body::{findings, handling, place, plan, put, spec};
use super::{Finding, Severity};
use crate::geometry::Point;
use crate::plan::*;
use crate::study::Study;
use crate::study::body::Seated;
use crate::study::sight::{Hider, Seen, arc_minutes};
use crate::units::{Angle, Figure, Length};

/// Where the gear of a screen stands; its control is put wherever a test wants it.
const MOUNT: Point = Point::new(600.0, 0.0, super::test_body::GUNWALE);

/// A screen of 9 inches with its middle at a point from the eye, its glass upright and turned with the mount.
fn screen(plan: &mut Plan, from_eye: Point, turn: f64) -> GearId {
    let eye = Seated::of(plan).eye;
    let id = put(plan, Kind::Display, (30.0, 30.0, 30.0), (MOUNT.x, MOUNT.y));
    let own = eye + from_eye - MOUNT;
    let flat = crate::geometry::turned(own.spot(), -turn);
    spec(plan, id).handling = Some(Handling {
        seen: true,
        gripped: false,
        screen: Some(Length::inches(9.0)),
        tilts: Some(Angle::deg(0.0)),
        ..handling(Often::Never, flat.at(own.z))
    });
    place(plan, id).turn = Angle::deg(turn);
    id
}

fn ahead(deg: f64, distance: f64) -> Point {
    let (sin, cos) = deg.to_radians().sin_cos();
    Point::new(distance * cos, distance * sin, 0.0)
}

fn seen(plan: &Plan, id: GearId) -> Seen {
    Study::of(plan).sight.item(id).unwrap().clone()
}

fn one(plan: &Plan, check: &str) -> Finding {
    let found = findings(plan, check);
    assert_eq!(found.len(), 1, "{check}: {found:#?}");
    assert!(found[0].margin < 0.0);
    found[0].clone()
}

#[test]
fn the_glass_is_seen_up_to_35_degrees_off_its_normal() {
    let at = |deg: f64| {
        let mut plan = plan();
        screen(&mut plan, ahead(deg, 600.0), 0.0);
        plan
    };
    assert!(findings(&at(34.9), "sight-angle").is_empty());
    let found = one(&at(-35.1), "sight-angle");
    assert_eq!((found.severity, found.unit), (Severity::Caution, "deg"));
    assert!((found.value - 35.1).abs() < 1e-6);
    assert!(found.says.contains("35 deg off the straight way out of its glass"), "{}", found.says);
}

#[test]
fn the_head_turns_up_to_60_degrees() {
    let at = |deg: f64| {
        let mut plan = plan();
        screen(&mut plan, ahead(deg, 600.0), deg);
        plan
    };
    assert!(findings(&at(59.9), "sight-angle").is_empty());
    let found = one(&at(60.1), "sight-angle");
    assert!(found.says.contains("stands 60 deg to port of straight ahead"), "{}", found.says);
    assert!(one(&at(-61.0), "sight-angle").says.contains("to starboard"));
}

#[test]
fn a_screen_that_shows_its_back_says_so() {
    let mut plan = plan();
    screen(&mut plan, ahead(0.0, 600.0), 180.0);
    let found = one(&plan, "sight-angle");
    assert!(found.says.ends_with("shows its back") && found.remedy.starts_with("turn its mount"), "{found:?}");
}

#[test]
fn a_bail_tilts_the_glass_to_the_eye() {
    // 45 degrees below the eye: upright 45 off, tilted 30 back 15 off, and 9 degrees tilt bring it just within 36.
    let at = |tilts: Option<f64>| {
        let mut plan = plan();
        let id = screen(&mut plan, Point::new(400.0, 0.0, -400.0), 0.0);
        spec(&mut plan, id).handling.as_mut().unwrap().tilts = tilts.map(Angle::deg);
        (seen(&plan, id).from_seat().unwrap().glass_deg.unwrap(), findings(&plan, "sight-angle").len())
    };
    for (tilts, off, count) in [(Some(0.0), 45.0, 1), (Some(9.9), 35.1, 1), (Some(10.1), 34.9, 0), (None, 15.0, 0)] {
        let (found, findings) = at(tilts);
        assert!((found - off).abs() < 1e-6 && findings == count, "{tilts:?}: {found}, {findings}");
    }
}

#[test]
fn letters_are_read_from_16_minutes_of_arc() {
    // NUREG-0700: 16 minutes at 600 mm are 2.7924 mm.
    let at = |mm: f64| {
        let mut plan = plan();
        let id = screen(&mut plan, ahead(0.0, 600.0), 0.0);
        spec(&mut plan, id).handling.as_mut().unwrap().text = Some(Figure::measured(Length::mm(mm)));
        plan
    };
    assert!(findings(&at(2.793), "text-small").is_empty());
    let found = one(&at(2.0), "text-small");
    // 2 mm at 600: 11.46 minutes; 1.396 times as high is enough, or 600 (1 - 11.46 / 16) = 170.3 mm nearer.
    assert!((found.value - 11.459).abs() < 1e-3, "{}", found.value);
    assert_eq!(found.remedy.split(';').next(), Some("set letters 1.4 times as high, or bring it 171 mm nearer"));
    one(&at(2.792), "text-small");
}

#[test]
fn letters_that_the_spec_does_not_state_are_a_25th_of_the_glass() {
    let mut plan = plan();
    let id = screen(&mut plan, ahead(0.0, 600.0), 0.0);
    let text = seen(&plan, id).from_seat().unwrap().text_arcmin.unwrap();
    assert!((text - arc_minutes(112.074 / 25.0, 600.0)).abs() < 1e-3, "{text}");
}

/// A wall across the line of sight half way to a screen 600 mm ahead, its top so far over the eye.
fn walled(top: f64, x: f64) -> (Plan, GearId, GearId) {
    let mut plan = plan();
    let eye = Seated::of(&plan).eye;
    let id = screen(&mut plan, ahead(0.0, 600.0), 0.0);
    let wall = put(&mut plan, Kind::Storage, (2.0, 500.0, 100.0), (eye.x + x, 0.0));
    let low = eye.z + top - 100.0;
    let floor = plan.hull.surface((eye.x + x, 0.0).into()).unwrap();
    place(&mut plan, wall).raise = Length::mm(low - floor);
    (plan, id, wall)
}

#[test]
fn what_reaches_the_lowest_line_hides_the_lowest_row() {
    // Half the height of the glass is 56.04 mm; at the wall's far side, 301 of 600 mm ahead, that is 28.11 below.
    let lowest = -56.037 * 301.0 / 600.0;
    assert!(findings(&walled(lowest - 0.1, 300.0).0, "sight-blocked").is_empty());
    let (plan, id, wall) = walled(lowest + 0.1, 300.0);
    let view = seen(&plan, id).views[0].clone();
    assert_eq!((view.hidden_percent, view.hidden[0].by), (20.0, Hider::Gear(wall)));
    let found = one(&plan, "sight-blocked");
    assert!(found.says.ends_with("is hidden by 20 percent behind thing 2"), "{}", found.says);
    assert_eq!(found.severity, Severity::Caution);
}

#[test]
fn a_wall_of_full_height_hides_it_wholly_and_behind_it_nothing() {
    let (plan, ..) = walled(50.0, 300.0);
    let found = one(&plan, "sight-blocked");
    assert!(found.value > 99.0 && found.says.contains("is hidden wholly"), "{}", found.says);
    assert!(findings(&walled(50.0, 602.0).0, "sight-blocked").is_empty());
}

#[test]
fn what_is_seen_without_a_screen_is_one_point() {
    let (mut plan, id, _) = walled(50.0, 300.0);
    spec(&mut plan, id).handling.as_mut().unwrap().screen = None;
    let found = one(&plan, "sight-blocked");
    assert!(found.says.contains(" is hidden behind thing 2"), "{}", found.says);
    assert!(findings(&plan, "sight-angle").is_empty() && findings(&plan, "text-small").is_empty());
}

#[test]
fn knees_hide_what_is_low_behind_them() {
    let mut plan = plan();
    let body = Seated::of(&plan);
    let side = crate::study::sight::knees(&body).next().unwrap().outline.middle();
    let behind = Point::new(side.x + 150.0, side.y, body.seat);
    screen(&mut plan, behind - body.eye, 0.0);
    let found = one(&plan, "sight-blocked");
    assert!(found.says.ends_with("behind the knees") && found.remedy.starts_with("raise the screen"), "{found:?}");
}

#[test]
fn standing_is_judged_where_a_phase_claims_it_and_is_only_a_note() {
    let mut plan = plan();
    screen(&mut plan, Point::new(600.0, 0.0, -300.0), 0.0);
    assert!(findings(&plan, "sight-far").is_empty());
    plan.outing.phases = Outing::default().phases;
    plan.outing.phases[1].posture = Posture::Standing;
    let found = one(&plan, "sight-far");
    assert_eq!(found.severity, Severity::Note);
    assert!(found.says.starts_with("standing, thing 1 is "), "{}", found.says);
}

#[test]
fn the_remedy_says_where_along_the_boat_it_would_pass() {
    // On deck 260 mm ahead of what 9 inches are read from; on straps it may stand anywhere.
    let mut plan = plan();
    let eye = Seated::of(&plan).eye;
    let id = put(&mut plan, Kind::Display, (30.0, 30.0, 30.0), (2900.0, 0.0));
    spec(&mut plan, id).handling = Some(Handling {
        seen: true,
        gripped: false,
        screen: Some(Length::inches(9.0)),
        ..handling(Often::Never, Point::new(0.0, 0.0, 200.0))
    });
    let found = one(&plan, "sight-far");
    let shift: f64 = found.remedy.split("; ").nth(1).unwrap().split(' ').next().unwrap().parse().unwrap();
    assert!(found.remedy.contains("mm aft it is seen well ("), "{}", found.remedy);
    place(&mut plan, id).x = Length::mm(2900.0 - shift);
    assert!(seen(&plan, id).views[0].faults.is_empty(), "{:?}", seen(&plan, id).views[0]);
    // One step of the grid less is not enough.
    place(&mut plan, id).x = Length::mm(2925.0 - shift);
    assert!(!seen(&plan, id).views[0].faults.is_empty());
    assert!(2900.0 - shift > eye.x);
}

/// A boat with a screen on deck and a thing beside the line of sight.
fn beside(x: f64, y: f64, turn: f64, thing: (f64, f64, f64)) -> Plan {
    let mut plan = plan();
    let id = put(&mut plan, Kind::Display, (60.0, 300.0, 200.0), (x, y));
    spec(&mut plan, id).handling = Some(Handling {
        seen: true,
        gripped: false,
        screen: Some(Length::inches(9.0)),
        ..handling(Often::Never, Point::new(-30.0, 40.0, 150.0))
    });
    place(&mut plan, id).turn = Angle::deg(turn);
    let other = put(&mut plan, Kind::RodHolder, (60.0, 60.0, thing.2), (thing.0, thing.1));
    place(&mut plan, other).turn = Angle::deg(turn);
    plan
}

proptest! {
    #[test]
    fn the_mirrored_boat_mirrors_the_view(
        x in 1900_f64..2600.0, y in -300_f64..300.0, turn in 0_f64..360.0,
        ahead in 1700_f64..2400.0, aside in -300_f64..300.0, high in 50_f64..600.0,
    ) {
        let plan = beside(x, y, turn, (ahead, aside, high));
        let mut other = plan.clone();
        for gear in &mut other.gear {
            *gear = gear.mirrored().unwrap_or_else(|| gear.clone());
        }
        let (one, two) = (Study::of(&plan).sight.items[0].clone(), Study::of(&other).sight.items[0].clone());
        let (a, b) = (&one.views[0], &two.views[0]);
        prop_assert!((a.look.turn_deg + b.look.turn_deg).abs() < 1e-6);
        prop_assert!((a.look.distance_mm - b.look.distance_mm).abs() < 1e-6);
        prop_assert!((a.look.down_deg - b.look.down_deg).abs() < 1e-6);
        prop_assert!((a.glass_deg.unwrap() - b.glass_deg.unwrap()).abs() < 1e-6);
        prop_assert!((a.text_arcmin.unwrap() - b.text_arcmin.unwrap()).abs() < 1e-6);
        // A line that only just touches may fall to either side of it by rounding.
        prop_assert!((a.hidden_percent - b.hidden_percent).abs() < 100.0 / 45.0 + 1e-6, "{a:?} {b:?}");
        let mirrors = |view: &crate::study::sight::View| view.mirrored.map(|m| m.up_deg);
        let (here, there) = (mirrors(a), mirrors(b));
        prop_assert_eq!(here.is_some(), there.is_some());
        prop_assert!((here.unwrap_or(0.0) - there.unwrap_or(0.0)).abs() < 1e-6);
    }

    #[test]
    fn straight_nearer_never_makes_letters_smaller(
        x in 300_f64..1500.0, y in -600_f64..600.0, z in -600_f64..200.0, share in 0.05_f64..1.0,
    ) {
        let text = |scale: f64| {
            let mut plan = plan();
            let id = screen(&mut plan, Point::new(x * scale, y * scale, z * scale), 0.0);
            seen(&plan, id).views[0].text_arcmin.unwrap()
        };
        prop_assert!(text(share) >= text(1.0) - 1e-9);
    }

    #[test]
    fn what_stands_behind_a_screen_never_hides_it(
        distance in 400_f64..1000.0, behind in 60_f64..600.0, aside in -400_f64..400.0, low in -700_f64..100.0,
    ) {
        let mut plan = plan();
        let eye = Seated::of(&plan).eye;
        let id = screen(&mut plan, ahead(0.0, distance), 0.0);
        let wall = put(&mut plan, Kind::Storage, (60.0, 500.0, 600.0), (eye.x + distance + behind, aside));
        let floor = plan.hull.surface((eye.x + distance + behind, aside).into()).unwrap_or(0.0);
        place(&mut plan, wall).raise = Length::mm(eye.z + low - floor);
        prop_assert_eq!(seen(&plan, id).views[0].hidden_percent, 0.0);
    }
}

#[test]
fn nonsense_is_no_trouble() {
    for (inches, tilts) in [(0.0, 0.0), (f64::NAN, f64::NAN), (1e9, -5.0)] {
        let mut plan = plan();
        let id = screen(&mut plan, ahead(0.0, 600.0), f64::NAN);
        let handling = spec(&mut plan, id).handling.as_mut().unwrap();
        (handling.screen, handling.tilts) = (Some(Length::inches(inches)), Some(Angle::deg(tilts)));
        plan.angler.stature = Figure::guess(Length::mm(0.0));
        let study = Study::of(&plan);
        assert!(super::run(&plan, &study).iter().all(|finding| !finding.says.contains("NaN")), "{inches}");
    }
}
