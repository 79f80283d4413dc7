//! Livewells, bilge water and the leaning angler, by hand.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::leaning::IN_HAND_KG;
use super::liquid::{Slack, Tank};
use super::tests::{boat, float, hull, near};
use super::*;
use crate::checks::test_body::{GUNWALE, plan, put};
use crate::geometry::{Polygon, Section, Spot, WaterPlane};
use crate::plan::Kind;
use crate::study::body::Seated;
use crate::study::posture;
use crate::units::{Figure, Length, Mass};

fn tank(length: f64, width: f64, height: f64, kg: f64) -> Liquid {
    let outline = Polygon::rect(Spot::new(0.0, -width / 2.0), Spot::new(length, width / 2.0));
    Liquid::new(Body::prism(&outline, 0.0, height).unwrap(), kg, 1000.0).unwrap()
}

/// Where a liquid's centre lies at a heel, from where it lies level: to port and up, mm.
fn shift(liquid: &Liquid, heel_deg: f64) -> (f64, f64) {
    let mut slack = Slack::default();
    Tank::of(liquid).add_to(&mut slack, &WaterPlane::new(heel_deg.to_radians(), 0.0, 0.0), 1000.0);
    let volume = liquid.kg * 1.0e6;
    (slack.moment[1] / volume, slack.moment[2] / volume)
}

/// A box tank cut by hand: while neither lid nor floor meets the surface its section is a trapezium, whose centre
/// moves by `b² t / (12 h)` and rises by half the tangent of that; with the floor coming dry it is a triangle, whose
/// centre lies at a third of its legs.
#[test]
fn a_tank_at_twenty_degrees_is_cut_as_by_hand() {
    let t = 20_f64.to_radians().tan();
    let deep = tank(500.0, 300.0, 320.0, 500.0 * 300.0 * 160.0 * 1.0e-6);
    let moved = 300.0 * 300.0 * t / (12.0 * 160.0);
    let (y, z) = shift(&deep, 20.0);
    near(y, -moved, 1.0e-6);
    near(z, moved * t / 2.0, 1.0e-6);
    let shallow = tank(500.0, 300.0, 320.0, 500.0 * 300.0 * 20.0 * 1.0e-6);
    let width = (2.0 * 300.0 * 20.0 / t).sqrt();
    assert!(width < 300.0);
    let (y, z) = shift(&shallow, 20.0);
    near(y, -(150.0 - width / 3.0), 1.0e-6);
    near(z, width * t / 3.0 - 10.0, 1.0e-6);
    // Brim-full it does not move, and as if frozen when level.
    let (y, z) = shift(&tank(500.0, 300.0, 320.0, 48.0), 20.0);
    near(y.hypot(z), 0.0, 1.0e-6);
    near(shift(&deep, 0.0).0, 0.0, 1.0e-9);
    assert_eq!(Liquid::new(deep.body.clone(), 0.0, 1000.0), None);
    assert_eq!(Liquid::new(deep.body, f64::NAN, 1000.0), None);
}

fn box_body() -> Body {
    let points_mm = vec![(0.0, 0.0), (425.0, 0.0), (425.0, 300.0)];
    let sections = [0.0, 3600.0].map(|x_mm| Section { x_mm, points_mm: points_mm.clone() });
    Body::of(&Form { sections: sections.to_vec() }).unwrap()
}

/// Slack water 600 by 400 mm in the small box of 180 kg takes 17.778 mm, two halves 4.444. Source: `i rho / m`.
#[test]
fn slack_water_takes_its_share_of_gm_and_of_every_lever() {
    let body = box_body();
    let load = Load { mass_kg: 180.0, centre: Point::new(1800.0, 0.0, 350.0), water_kg_per_m3: 1000.0 };
    let part = |y: f64, width: f64| {
        let outline = Polygon::rect(Spot::new(1500.0, y - width / 2.0), Spot::new(2100.0, y + width / 2.0));
        Liquid::new(Body::prism(&outline, 150.0, 350.0).unwrap(), 0.6 * width * 0.1, 1000.0).unwrap()
    };
    let (whole, halves) = ([part(0.0, 400.0)], [part(-100.0, 200.0), part(100.0, 200.0)]);
    let frozen = Vessel::from(&body);
    let loss = |liquids: &[Liquid]| {
        let rest = Vessel { body: &body, liquids }.rest(&load).unwrap();
        near(rest.gm_mm, frozen.rest(&load).unwrap().gm_mm, 1.0e-6);
        rest.free_surface_mm
    };
    near(loss(&whole), 17.7778, 1.0e-3);
    near(loss(&halves), 4.4444, 1.0e-3);
    near(loss(&[]), 0.0, 0.0);
    // A tank without room to run is a load like any other.
    let full = [tank(600.0, 400.0, 100.0, 24.0)];
    near(loss(&full), 0.0, 1.0e-9);
    let levers = [&[][..], &full[..]].map(|liquids| Vessel { body: &body, liquids }.righting_arm(&load, 20.0).unwrap());
    near(levers[0].gz_mm, levers[1].gz_mm, 1.0e-2);
    // At 20 degrees the centre of mass moves as the tank's trapezium does: 24 kg of the 180.
    let (sin, cos) = 20_f64.to_radians().sin_cos();
    let (t, h) = (sin / cos, 100.0);
    let (y, z) = (-400.0 * 400.0 * t / (12.0 * h), 400.0 * 400.0 * t * t / (24.0 * h));
    let less = 24.0 / 180.0 * (-y * cos + z * sin);
    let levers =
        [&[][..], &whole[..]].map(|liquids| Vessel { body: &body, liquids }.righting_arm(&load, 20.0).unwrap());
    near(levers[0].gz_mm - levers[1].gz_mm, less, 0.01);
}

/// A load off the middle heels the boat with slack water further, and its moments balance about where the water is.
#[test]
fn a_listed_boat_balances_with_its_water_where_it_runs() {
    let body = box_body();
    let outline = Polygon::rect(Spot::new(1200.0, -300.0), Spot::new(2400.0, 300.0));
    let liquids = [Liquid::new(Body::prism(&outline, 10.0, 200.0).unwrap(), 12.0, 1000.0).unwrap()];
    let load = Load { mass_kg: 180.0, centre: Point::new(1790.0, 6.0, 250.0), water_kg_per_m3: 1000.0 };
    let (wet, frozen) =
        (Vessel { body: &body, liquids: &liquids }.rest(&load).unwrap(), equilibrium(&body, &load).unwrap());
    assert!(wet.heel_deg < frozen.heel_deg - 0.05 && frozen.centre == load.centre);
    assert!(wet.centre.y > load.centre.y + 1.0);
    let apart = wet.buoyancy - wet.centre;
    for axis in [wet.plane.fore, wet.plane.port] {
        near(axis[0] * apart.x + axis[1] * apart.y + axis[2] * apart.z, 0.0, 1.0e-3);
    }
    near(wet.displacement_kg, 180.0, 1.0e-4);
}

/// The livewell's 20 litres stand 500 by 300 mm; the water is its own load and no more.
#[test]
fn a_livewell_takes_its_share() {
    let mut plan = boat(180.0, (1800.0, 0.0, 150.0));
    let dry = float(&plan).planned().unwrap().gm_mm().unwrap();
    let id = put(&mut plan, Kind::Livewell, (500.0, 300.0, 20.0e6 / (0.75 * 500.0 * 300.0)), (1800.0, 0.0));
    let wet = float(&plan);
    let planned = wet.planned().unwrap();
    near(planned.load.mass_kg, 180.0 + 1.0 + 20.0, 1.0e-9);
    near(planned.free_surface_mm, free_surface_loss(500.0, 300.0, 1000.0, 201.0), 1.0e-3);
    near(planned.gm_mm().unwrap(), planned.rest.unwrap().gm_mm - planned.free_surface_mm, 0.0);
    assert!(planned.gm_mm().unwrap() < dry - planned.free_surface_mm);
    near(wet.case("empty hull").unwrap().free_surface_mm, 0.0, 0.0);
    // Turned by a quarter it is wider than long.
    plan.gear.iter_mut().find(|gear| gear.id == id).unwrap().place.as_mut().unwrap().turn =
        crate::units::Angle::deg(90.0);
    let turned = float(&plan).planned().unwrap().free_surface_mm;
    near(turned, free_surface_loss(300.0, 500.0, 1000.0, 201.0), 1.0e-3);
}

#[test]
fn bilge_water_weighs_and_runs() {
    let mut plan = boat(180.0, (1800.0, 0.0, 150.0));
    let dry = float(&plan);
    plan.outing.bilge = Some(Mass::kg(60.0));
    let weights = Weights::of(&plan, &Rig::of(&plan));
    let aboard = weights.group("water aboard").unwrap();
    // Inside a skin of 6 mm it stands 60e6 / (3588 x 788) deep.
    near(aboard.mass.to_kg(), 60.0, 0.0);
    near(aboard.centre.distance(Point::new(1800.0, 0.0, 6.0 + 60.0e6 / (3588.0 * 788.0) / 2.0)), 0.0, 1.0e-3);
    let wet = float(&plan);
    let planned = wet.planned().unwrap();
    near(planned.load.mass_kg, 240.0, 1.0e-9);
    near(planned.free_surface_mm, free_surface_loss(3588.0, 788.0, 1000.0, 240.0), 1.0e-2);
    // Water from side to side of a box takes nearly all that its waterplane gives.
    assert!(planned.gm_mm().unwrap() < 0.6 * dry.planned().unwrap().gm_mm().unwrap());
    assert_eq!(wet.case("empty hull"), dry.case("empty hull"));
}

/// The box is 800 wide: the hand gets to its gunwale from an upright trunk, so only the weight heels it.
#[test]
fn on_a_narrow_boat_the_trunk_stays_upright() {
    let mut plan = plan();
    hull(&mut plan).centre_mm = Point::new(1700.0, 4.0, 150.0);
    let float = float(&plan);
    let (leaning, planned) = (float.leaning.unwrap(), float.planned().unwrap());
    let body = Seated::of(&plan);
    let gap = (400.0 - body.lengths.half_shoulder).hypot(body.shoulders[0].z - GUNWALE);
    assert!(gap < body.grip);
    // To port, where the hull's own mass lies.
    assert_eq!((leaning.side, leaning.lean_deg, leaning.holds), (Side::Port, 0.0, true));
    assert_eq!(leaning.hand, Point::new(body.shoulders[0].x, 400.0, GUNWALE));
    near(leaning.load.mass_kg, planned.load.mass_kg + IN_HAND_KG, 1.0e-9);
    let moment = planned.load.mass_kg * planned.load.centre.y + IN_HAND_KG * 400.0;
    near(leaning.load.centre.y * leaning.load.mass_kg, moment, 1.0e-6);
    assert!(leaning.heel_deg().unwrap() > 2.0 && leaning.rest.unwrap().heel_deg < 0.0);
}

/// On a boat 1800 wide the trunk leans until the shoulder is as far from the gunwale as the arm is long, and no
/// further than the plan allows.
#[test]
fn on_a_wide_boat_the_trunk_leans_as_far_as_it_has_to() {
    let wide = |half: f64| {
        let mut plan = plan();
        let mut form = Form::clone(&plan.hull.form);
        for section in &mut form.sections {
            section.points_mm = vec![(0.0, 0.0), (half, 0.0), (half, GUNWALE)];
        }
        hull(&mut plan).form = form.into();
        plan.angler.seat.recline = crate::units::Angle::deg(0.0);
        plan.angler.measured.arm_to_grip = Some(Length::mm(600.0));
        plan.angler.mass = Figure::measured(Mass::kg(90.0));
        plan
    };
    let plan = wide(800.0);
    let (leaning, body) = (float(&plan).leaning.unwrap(), Seated::of(&plan));
    let lean = leaning.lean_deg.to_radians();
    let (half, trunk) = (body.lengths.half_shoulder, body.lengths.trunk);
    let out = half * lean.cos() + trunk * lean.sin();
    let up = body.hip.z + trunk * lean.cos() - half * lean.sin();
    near((800.0 - out).hypot(GUNWALE - up), 600.0, 1.0e-6);
    assert!(leaning.lean_deg > 5.0 && leaning.lean_deg < 25.0 && leaning.holds, "{leaning:?}");
    // The mass goes with the trunk: 0.678 of it at 0.626 of the trunk.
    let moved = 0.678 * 0.626 * 0.288 * 1756.0 * lean.sin();
    near(leaning.load.centre.y.abs() * leaning.load.mass_kg, 90.0 * moved + 10.0 * 800.0, 1.0e-3);
    let centre = posture::leaning_centre(&plan, leaning.side, leaning.lean_deg);
    near(centre.y.abs(), moved, 1.0e-9);
    let far = float(&wide(1400.0)).leaning.unwrap();
    near(far.lean_deg, 25.0, 1.0e-9);
    assert!(!far.holds && far.hand.y.abs() < 1400.0);
}
