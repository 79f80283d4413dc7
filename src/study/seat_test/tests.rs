//! The refit: by hand, contradictory, and with the seat moved meanwhile.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::*;
use crate::checks::test_body::{handled, place, plan, put, spec};
use crate::geometry::Point;
use crate::plan::{Kind, Often, Reading, Taken};
use crate::study::reach::{Band, Reach};
use crate::units::Length;

/// A grip straight ahead of the starboard shoulder at its height, so many mm beyond the arm of the unfitted body.
fn ahead(plan: &mut Plan, beyond_mm: f64) -> GearId {
    let body = Seated::of(plan);
    let shoulder = body.upright_shoulder(crate::plan::Side::Starboard);
    at(plan, shoulder + Point::new(body.grip + beyond_mm, 0.0, 0.0))
}

/// A grip at this point.
fn at(plan: &mut Plan, point: Point) -> GearId {
    let id = put(plan, Kind::Other, (20.0, 20.0, 20.0), (point.x, point.y));
    let ground = Rig::of(plan).item(id).unwrap().at.z;
    handled(plan, id, Often::Often, (0.0, 0.0, point.z - ground));
    id
}

fn reading(gear: GearId, touched: bool, leaning: bool) -> Taken {
    Taken::seat_test(gear, touched, leaning)
}

fn note(plan: &mut Plan, taken: Taken) {
    plan.readings.push(Reading { date: None, taken, off: false });
}

fn tested(plan: &Plan) -> SeatTest {
    assert_eq!(plan.validate(), Ok(()));
    SeatTest::of(plan, &Rig::of(plan))
}

#[test]
fn without_a_reading_nothing_changes() {
    let mut plan = plan();
    ahead(&mut plan, 30.0);
    let found = tested(&plan);
    assert_eq!((found.refit, found.bands.len()), (Refit::default(), 0));
    assert_eq!(found.body, Seated::of(&plan));
}

#[test]
fn a_touch_beyond_the_arm_lengthens_it() {
    // 40 mm and the margin of 5, of which the prior of 30 leaves 900 / 909 with a touch known to 3 mm: 44.55 mm.
    let mut plan = plan();
    let id = ahead(&mut plan, 40.0);
    note(&mut plan, reading(id, true, false));
    let found = tested(&plan);
    assert!((found.refit.arm_mm - 45.0 * 900.0 / 909.0).abs() < 0.01, "{:?}", found.refit);
    assert_eq!((found.refit.lean_deg, found.refit.twist_deg), (0.0, 0.0));
    assert!(found.tried[0].miss_mm == 0.0 && found.tried[0].before_mm > 0.0, "{:?}", found.tried);
}

#[test]
fn touched_with_a_lean_moves_the_lean_and_the_arm() {
    let mut plan = plan();
    let far = ahead(&mut plan, 430.0);
    assert_eq!(Reach::of(&plan, &Rig::of(&plan), &tested(&plan)).items[0].touch.band, Band::OutOfReach);
    note(&mut plan, reading(far, true, true));
    let found = tested(&plan);
    assert!(found.refit.lean_deg > 0.5 && found.refit.arm_mm > 0.5, "{:?}", found.refit);
    assert_eq!(found.bands, [Change { gear: far, before: Band::OutOfReach, after: Band::AtStretch }]);
    let reach = Reach::of(&plan, &Rig::of(&plan), &found);
    assert_eq!((reach.items[0].touch.band, reach.items[0].tested), (Band::AtStretch, Some(0)));
}

#[test]
fn not_touched_shortens() {
    let mut plan = plan();
    let near = ahead(&mut plan, 150.0);
    note(&mut plan, reading(near, false, true));
    let found = tested(&plan);
    assert!(found.refit.lean_deg < 0.0 && found.refit.arm_mm < 0.0, "{:?}", found.refit);
    // What nobody tried with a lean says nothing of the lean.
    let Taken::SeatTest { leaning, .. } = &mut plan.readings[0].taken else { panic!() };
    *leaning = false;
    let found = tested(&plan);
    assert_eq!((found.refit.lean_deg, found.tried[0].said), (0.0, Said::NotUpright));
}

#[test]
fn behind_the_shoulders_the_twist_is_refit() {
    let mut plan = plan();
    let shoulder = Seated::of(&plan).upright_shoulder(crate::plan::Side::Starboard);
    let behind = at(&mut plan, shoulder + Point::new(-420.0, -60.0, -250.0));
    note(&mut plan, reading(behind, true, false));
    let found = tested(&plan);
    assert!(found.refit.twist_deg > 3.0 && found.refit.arm_mm.abs() < 1.0, "{:?}", found.refit);
    assert!(found.tried[0].fits(), "{:?}", found.tried);
}

/// 70 mm beyond the arm touched, 20 mm not: neither can be had, and each names the other.
#[test]
fn the_farther_touched_and_the_nearer_not_contradict() {
    let mut plan = plan();
    let (near, far) = (ahead(&mut plan, 20.0), ahead(&mut plan, 70.0));
    note(&mut plan, reading(far, true, false));
    note(&mut plan, reading(near, false, false));
    let found = tested(&plan);
    assert!(found.tried.iter().all(|tried| tried.is_odd(ODD_MM)), "{:?}", found.tried);
    assert_eq!(found.tried.iter().map(|tried| tried.against).collect::<Vec<_>>(), [Some(1), Some(0)]);
    // Switched off, the other is heard alone.
    plan.readings[0].off = true;
    let found = tested(&plan);
    assert_eq!((found.tried.len(), found.tried[0].fits(), found.tried[0].against), (1, true, None));
}

#[test]
fn beyond_the_bounds_the_reading_is_doubted() {
    let mut plan = plan();
    let far = ahead(&mut plan, 600.0);
    note(&mut plan, reading(far, true, false));
    let found = tested(&plan);
    let most = MOST_SPREADS * ARM_SPREAD_MM;
    assert!((found.refit.arm_mm - most).abs() < 1.0, "{:?}", found.refit);
    assert!(found.tried[0].is_odd(ODD_MM) && found.tried[0].against.is_none(), "{:?}", found.tried);
}

#[test]
fn of_two_readings_of_one_place_the_later_counts() {
    let mut plan = plan();
    let id = ahead(&mut plan, 40.0);
    note(&mut plan, reading(id, false, true));
    note(&mut plan, reading(id, true, false));
    let found = tested(&plan);
    assert_eq!((found.tried.len(), found.tried[0].index, found.of_gear(id).map(|t| t.index)), (1, 1, Some(1)));
}

#[test]
fn a_taped_distance_moves_the_eye() {
    // From 500 mm straight ahead of the eye: 30 mm more is 30 mm further aft, of which the prior of 25 with a tape of
    // 10 leaves 625 / 725.
    let mut plan = plan();
    let eye = Seated::of(&plan).eye;
    let id = at(&mut plan, eye + Point::new(500.0, 0.0, 0.0));
    spec(&mut plan, id).handling.as_mut().unwrap().touched = Often::Never;
    let mut taken = reading(id, false, false);
    let Taken::SeatTest { distance, .. } = &mut taken else { panic!() };
    *distance = Some(Length::mm(530.0));
    note(&mut plan, taken);
    let found = tested(&plan);
    assert!((found.refit.eye_aft_mm - 30.0 * 625.0 / 725.0).abs() < 0.05, "{:?}", found.refit);
    assert!(found.refit.eye_up_mm.abs() < 0.5 && found.refit.arm_mm == 0.0, "{:?}", found.refit);
    assert!((found.body.eye.x - (eye.x - found.refit.eye_aft_mm)).abs() < 1e-9);
}

#[test]
fn what_was_noted_stays_when_seat_and_gear_move() {
    let mut plan = plan();
    let id = ahead(&mut plan, 40.0);
    let (seat, control) = (plan.angler.seat.clone(), Rig::of(&plan).item(id).unwrap().control);
    let mut taken = reading(id, true, false);
    let Taken::SeatTest { seat: then, at_mm, .. } = &mut taken else { panic!() };
    (*then, *at_mm) = (Some(seat), control);
    note(&mut plan, taken);
    let before = tested(&plan).refit;
    place(&mut plan, id).x = Length::mm(1000.0);
    plan.angler.seat.back = Length::mm(1425.0);
    let after = tested(&plan).refit;
    assert!((before.arm_mm - after.arm_mm).abs() < 1e-6 && before.arm_mm > 10.0, "{before:?} {after:?}");
}

/// The one notch of 25 mm moves every distance along the boat: a grip in hand by 10 mm is not any more.
#[test]
fn a_notch_of_the_seat_judges_all_anew() {
    let mut plan = plan();
    ahead(&mut plan, -10.0);
    let band = |plan: &Plan| Reach::of(plan, &Rig::of(plan), &tested(plan)).items[0].touch.band;
    assert_eq!(band(&plan), Band::InHand);
    plan.angler.seat.back = Length::mm(1475.0);
    assert_eq!(band(&plan), Band::AtStretch);
}
