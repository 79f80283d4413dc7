//! Masses by group and load case, by hand on a box of a boat.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use gunnel::geometry::Point;
use gunnel::plan::{Chemistry, Duty, GearId, Kind, Mount, Plan};
use gunnel::study::Study;
use gunnel::study::weights::{LoadCase, Weights};
use gunnel::units::{Figure, Mass};

use crate::test_power::{add, battery, load, mount, place, plan};

fn weights(plan: &Plan) -> Weights {
    assert_eq!(plan.validate(), Ok(()));
    Study::of(plan).weights
}

fn case(plan: &Plan, name: &str) -> LoadCase {
    weights(plan).case(name).unwrap().clone()
}

fn kg(mass: f64) -> Figure<Mass> {
    Figure::measured(Mass::kg(mass))
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-6, "{found} is not {expected}");
}

/// Hull 25, angler 80, bolted box 2, strapped crate 9, battery 6, a livewell of 3 that holds 1.5.
fn laden() -> (Plan, GearId) {
    let mut plan = plan();
    add(&mut plan, "box", Kind::Other, kg(2.0), None);
    let crate_ = add(&mut plan, "crate", Kind::Storage, kg(9.0), None);
    mount(&mut plan, crate_, Mount::Strap);
    let source = battery(Chemistry::GlassMatLead, 12.0, 20.0, None);
    add(&mut plan, "battery", Kind::Battery, kg(6.0), Some(source));
    let livewell = add(&mut plan, "livewell", Kind::Livewell, kg(3.0), Some(load(12.0, 1.0, 1.0)));
    mount(&mut plan, livewell, Mount::Strap);
    let ashore = add(&mut plan, "cart", Kind::Cart, kg(4.0), None);
    plan.gear_mut(ashore).unwrap().place = None;
    (plan, livewell)
}

#[test]
fn groups_are_the_planned_load_and_what_is_ashore_does_not_count() {
    let weights = weights(&laden().0);
    let groups: Vec<(&str, f64)> = weights.groups.iter().map(|g| (g.name, g.mass.to_kg())).collect();
    let [hull, angler, gear, battery, water] = groups[..] else { panic!("{groups:?}") };
    assert_eq!((hull, angler, gear, battery), (("hull", 25.0), ("angler", 80.0), ("gear", 14.0), ("battery", 6.0)));
    // 200 x 100 x 100 mm, three quarters full.
    assert_eq!(water.0, "water aboard");
    near(water.1, 1.5);
    assert_eq!(weights.cases[0].name, "as planned");
    near(weights.cases[0].mass.to_kg(), 126.5);
    near(weights.load.to_kg(), 101.5);
    near(weights.load_percent, 101.5 / 4.0);
}

#[test]
fn each_case_leaves_out_what_it_says() {
    let (mut plan, livewell) = laden();
    let check = |plan: &Plan, name, mass| near(case(plan, name).mass.to_kg(), mass);
    check(&plan, "empty hull", 25.0);
    check(&plan, "angler only", 105.0);
    check(&plan, "battery out", 120.5);
    check(&plan, "livewell full", 126.5);
    check(&plan, "motor up", 126.5);
    check(&plan, "standing", 126.5);
    check(&plan, "transport", 27.0);
    // A livewell whose pump does not run that day is carried empty.
    plan.outing.phases[0].duties.push(Duty { gear: livewell, share: 0.0 });
    check(&plan, "as planned", 125.0);
    check(&plan, "livewell full", 126.5);
}

#[test]
fn the_centre_is_where_the_moments_say() {
    let mut plan = plan();
    let crate_ = add(&mut plan, "crate", Kind::Storage, kg(25.0), None);
    place(&mut plan, crate_, 300.0);
    plan.angler.mass = kg(40.0);
    let hull = Arc::make_mut(&mut plan.hull);
    hull.centre_mm = Point::new(1700.0, 10.0, 140.0);
    let found = case(&plan, "as planned").centre;
    let sitter = weights(&plan).group("angler").unwrap().centre;
    near(found.x, (25.0 * 1700.0 + 40.0 * sitter.x + 25.0 * 300.0) / 90.0);
    near(found.y, 25.0 * 10.0 / 90.0);
    near(found.z, (25.0 * 140.0 + 40.0 * sitter.z + 25.0 * 350.0) / 90.0);
}

/// Segment model of posture.rs, worked by hand for 1756 mm and 10 deg: 84.4 mm before and 211.4 mm over
/// the hip; standing 0.55 of the stature over the floor (common practice, no source).
#[test]
fn the_angler_sits_and_stands() {
    let plan = plan();
    let seated = weights(&plan).group("angler").unwrap().centre;
    assert!((seated.x - (1500.0 + 100.0 + 84.4)).abs() < 0.1, "{seated:?}");
    assert!((seated.z - (200.0 + 90.0 + 211.4)).abs() < 0.1, "{seated:?}");
    let mut high = plan.clone();
    high.angler.seat.height = gunnel::plan::SeatHeight::High;
    near(weights(&high).group("angler").unwrap().centre.z - seated.z, 120.0);
    let (sat, stood) = (case(&plan, "as planned").centre.z, case(&plan, "standing").centre.z);
    near(stood - sat, 80.0 / 105.0 * (0.55 * 1756.0 - seated.z));
}

#[test]
fn a_stowed_motor_swings_inboard() {
    let mut plan = plan();
    let motor = add(&mut plan, "motor", Kind::Motor, kg(10.0), None);
    place(&mut plan, motor, 100.0);
    let spec = Arc::make_mut(&mut plan.gear_mut(motor).unwrap().spec);
    spec.bodies[0].middle_mm = Point::new(0.0, 0.0, -500.0);
    let (down, up) = (case(&plan, "as planned").centre, case(&plan, "motor up").centre);
    near(up.x - down.x, 10.0 / 115.0 * 500.0);
    near(up.z - down.z, 10.0 / 115.0 * 500.0);
}
