//! The checks of the seat: heel while reaching, contradictory seat tests, the seat off its rails.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::test_body::{findings, handled, plan, put};
use super::{Finding, Severity};
use crate::geometry::Point;
use crate::plan::*;
use crate::study::Study;
use crate::study::body::Seated;
use crate::study::float::Load;
use crate::units::Length;

/// A grip this far beside the starboard shoulder, at its height.
fn beside(plan: &mut Plan, out: f64) -> GearId {
    let at = Seated::of(plan).upright_shoulder(Side::Starboard) + Point::new(0.0, -out, 0.0);
    let id = put(plan, Kind::Other, (20.0, 20.0, 20.0), (at.x, at.y));
    lift(plan, id, Often::Often, at.z);
    id
}

/// Gives gear a grip straight above its mount, at this height over the baseline.
fn lift(plan: &mut Plan, id: GearId, touched: Often, height: f64) {
    let ground = Study::of(plan).rig.item(id).unwrap().at.z;
    handled(plan, id, touched, (0.0, 0.0, height - ground));
}

fn heels(out: f64, limit: Option<f64>) -> Vec<Finding> {
    let mut plan = plan();
    beside(&mut plan, out);
    let reason = Name::new("a narrow boat").unwrap();
    plan.limits.extend(limit.map(|value| LimitOverride { limit: "lean-heels.caution".into(), value, reason }));
    findings(&plan, "lean-heels")
}

#[test]
fn a_lean_heels_the_boat() {
    let arm = Seated::of(&plan()).grip;
    assert_eq!(heels(arm - 1.0, Some(0.0)), vec![], "in hand");
    let found = heels(arm + 150.0, Some(0.0));
    assert_eq!(found[0].severity, Severity::Caution);
    assert!(found[0].says.contains("deg to starboard while thing 1 is reached"), "{}", found[0].says);
    // At its own heel it is quiet, a hair under it speaks.
    let heel = found[0].value;
    assert_eq!(heels(arm + 150.0, Some(heel)), vec![]);
    assert_eq!(heels(arm + 150.0, Some(heel - 1e-6)).len(), 1);
    // Of itself at 5 degrees: this box of a hull is stiff.
    assert_eq!(heels(arm + 150.0, None).len(), usize::from(heel > 5.0));
}

/// The heel from the levers against the equilibrium with the centre shifted by hand: trunk 0.678 of 85 kg at 0.626 of
/// 0.288 of 1756 mm, leant by what the touch says.
#[test]
fn the_heel_is_that_of_the_equilibrium() {
    let mut plan = plan();
    let out = Seated::of(&plan).grip + 150.0;
    let id = beside(&mut plan, out);
    let study = Study::of(&plan);
    let item = study.reach.item(id).unwrap();
    let trunk = 0.678 * 85.0 * 0.626 * 0.288 * 1756.0;
    let (lean, toward) = (item.touch.lean_deg.to_radians(), item.touch.toward_deg.to_radians());
    assert!(lean > 0.05 && toward < -1.0, "{item:?}");
    let planned = study.float.planned().unwrap().load;
    let centre = planned.centre
        + Point::new(
            trunk * lean.sin() * toward.cos() / planned.mass_kg,
            trunk * lean.sin() * toward.sin() / planned.mass_kg,
            -trunk * (1.0 - lean.cos()) / planned.mass_kg,
        );
    let bare = crate::study::float::Bare::of_hull(&plan.hull, &Load { centre, ..planned }).unwrap();
    let heel = item.heel_deg.unwrap();
    assert!(heel > 0.5 && (heel - bare.rest.heel_deg).abs() < 0.1, "{heel} and {}", bare.rest.heel_deg);
}

fn test(gear: GearId, touched: bool, leaning: bool) -> Reading {
    let taken = Taken::seat_test(gear, touched, leaning);
    Reading { date: None, taken, off: false }
}

#[test]
fn contradictory_seat_tests_are_told_once_with_both() {
    let mut plan = plan();
    let arm = Seated::of(&plan).grip;
    let (far, near) = (beside(&mut plan, arm + 70.0), beside(&mut plan, arm + 20.0));
    plan.readings = vec![test(far, true, false), test(near, false, false)];
    let found = findings(&plan, "seat-test-odd");
    assert_eq!(found.len(), 1, "{found:?}");
    assert!(found[0].says.starts_with("reading 1 (thing 1 touched) and reading 2 (thing 2 not touched"), "{found:?}");
    plan.readings[1].off = true;
    assert_eq!(findings(&plan, "seat-test-odd"), vec![]);
}

/// Touched 90 mm beyond the arm the fit ends at its bound of 90 mm; 15 more are let pass.
#[test]
fn a_touch_that_no_body_explains() {
    let check = |beyond: f64, speaks: bool| {
        let mut plan = plan();
        let arm = Seated::of(&plan).grip;
        let far = beside(&mut plan, arm + beyond);
        plan.readings = vec![test(far, true, false)];
        let found = findings(&plan, "seat-test-odd");
        assert_eq!(found.len(), usize::from(speaks), "{beyond}: {found:?}");
    };
    check(104.0, false);
    check(106.0, true);
}

#[test]
fn an_eye_that_is_elsewhere() {
    let check = |off: f64, speaks: bool| {
        let mut plan = plan();
        let eye = Seated::of(&plan).eye + Point::new(600.0, 0.0, 0.0);
        let id = put(&mut plan, Kind::Display, (20.0, 20.0, 20.0), (eye.x, 0.0));
        lift(&mut plan, id, Often::Never, eye.z);
        let mut reading = test(id, false, false);
        let Taken::SeatTest { distance, .. } = &mut reading.taken else { panic!() };
        *distance = Some(Length::mm(600.0 + off));
        plan.readings = vec![reading];
        assert_eq!(findings(&plan, "seat-test-odd").len(), usize::from(speaks), "{off}");
    };
    // The eye follows by at most 75 mm: beyond that what is left counts.
    check(124.0, false);
    check(126.0, true);
}

#[test]
fn knees_that_met_what_the_plan_has_clear() {
    let mut plan = plan();
    let id = beside(&mut plan, 300.0);
    let mut reading = test(id, true, false);
    let Taken::SeatTest { knees, .. } = &mut reading.taken else { panic!() };
    *knees = Some(true);
    plan.readings = vec![reading];
    assert_eq!(findings(&plan, "seat-test-odd"), vec![]);
    let Taken::SeatTest { knees, .. } = &mut plan.readings[0].taken else { panic!() };
    *knees = Some(false);
    assert!(findings(&plan, "seat-test-odd")[0].says.contains("in the way of the knees"));
}

#[test]
fn a_seat_outside_the_hull() {
    let check = |back: f64, speaks: bool| {
        let mut plan = plan();
        plan.angler.seat.back = Length::mm(back);
        assert_eq!(findings(&plan, "seat-off").len(), usize::from(speaks), "{back}");
    };
    check(1400.0, false);
    check(1600.4, false);
    check(1601.0, true);
    check(7900.0, true);
    check(-400.0, true);
}

/// A person of no height and one of three metres do not pass the door.
#[test]
fn nobody_is_so_small_or_so_tall() {
    for stature in [0.0, 3000.0] {
        let mut plan = plan();
        plan.angler.stature.value = Length::mm(stature);
        let faults = plan.validate().unwrap_err();
        assert!(faults[0].to_string().contains("stature"), "{faults:?}");
        // And the study holds still even so.
        let study = Study::of(&plan);
        assert!(study.reach.body.grip.is_finite());
    }
}

#[test]
fn the_remedy_says_where_it_would_pass() {
    let mut plan = plan();
    let body = Seated::of(&plan);
    // 10 mm beyond the arm, straight ahead: a notch of 25 mm brings it in hand.
    let at = body.upright_shoulder(Side::Starboard) + Point::new(body.grip + 10.0, 0.0, 0.0);
    let id = put(&mut plan, Kind::Other, (20.0, 20.0, 20.0), (at.x, at.y));
    lift(&mut plan, id, Often::Often, at.z);
    let found = findings(&plan, "reach-over");
    // From 50 mm behind the shoulder line at 1600 to the arm's 677.8 ahead of it, inward to 5 mm.
    let words = "; in hand from 1550 to 2275 mm from the stern, or the seat one notch forward";
    assert!(found[0].remedy.ends_with(words), "{}", found[0].remedy);
    plan.angler.seat.back = Length::mm(1525.0);
    assert_eq!(findings(&plan, "reach-over"), vec![]);
}
