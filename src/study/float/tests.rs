//! The whole report by hand, on a box of a boat.
//!
//! The box is 3600 long, 800 wide and 340 high; its well reaches from 1300 to 2700, 280 to each side, floor at 150.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use super::*;
use crate::checks::test_body::{GUNWALE, plan};
use crate::geometry::{Polygon, Spot};
use crate::plan::{
    Fate, Feature, FeatureId, FeatureKind, Hull, Name, Note, Penetration, Posture, Purpose, Seal, SeatHeight, ZoneId,
};
use crate::units::{Figure, Length, Mass};

const LENGTH: f64 = 3600.0;
const BEAM: f64 = 800.0;

pub(super) fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance}");
}

pub(super) fn hull(plan: &mut Plan) -> &mut Hull {
    Arc::make_mut(&mut plan.hull)
}

/// The box, in all so heavy and with its centre of mass there; the angler weighs nothing.
pub(super) fn boat(mass_kg: f64, centre: (f64, f64, f64)) -> Plan {
    let mut plan = plan();
    plan.angler.mass = Figure::measured(Mass::kg(0.0));
    hull(&mut plan).mass = Figure::measured(Mass::kg(mass_kg));
    hull(&mut plan).centre_mm = centre.into();
    plan
}

pub(super) fn float(plan: &Plan) -> Float {
    let rig = Rig::of(plan);
    Float::of(plan, &plan.hull.form, &rig, &Weights::of(plan, &rig))
}

fn rest(plan: &Plan) -> Equilibrium {
    *float(plan).rest().unwrap()
}

/// How deep the box floats level, mm.
fn draft(mass_kg: f64) -> f64 {
    // The test plan's lake is at 10 degrees: 999.97 - 0.87 x 6 / 11 by the table.
    mass_kg / (999.495_455e-9 * LENGTH * BEAM)
}

fn scupper(x: f64, y: f64) -> Feature {
    let kind = FeatureKind::Scupper { top: Length::mm(38.0), bottom: Length::mm(32.0), wall: Length::mm(5.0) };
    let name = Name::new("scupper").unwrap();
    Feature { id: FeatureId((x + y) as u32), name, at_mm: Point::new(x, y, 150.0), kind, notes: Note::default() }
}

fn open_well(mut plan: Plan) -> Plan {
    hull(&mut plan).features.extend([scupper(2000.0, 100.0), scupper(2000.0, -100.0)]);
    plan
}

#[test]
fn a_level_box_floats_by_its_area() {
    let plan = boat(300.0, (1800.0, 0.0, 200.0));
    let float = float(&plan);
    let (planned, d) = (float.planned().unwrap(), draft(300.0));
    let rest = planned.rest.unwrap();
    near(rest.draft_mean_mm, d, 1.0e-4);
    near(rest.displacement_kg, 300.0, 1.0e-6);
    near(rest.heel_deg.hypot(rest.trim_deg), 0.0, 1.0e-9);
    near(rest.gm_mm, d / 2.0 + BEAM * BEAM / (12.0 * d) - 200.0, 1.0e-3);
    near(planned.gm_mm().unwrap(), rest.gm_mm, 0.0);
    near(planned.least_freeboard().unwrap().height_mm, GUNWALE - d, 1.0e-4);
    assert_eq!(planned.freeboard.len(), 4);
}

/// Balance of a box that trims or heels alone without an edge passing the water: with `t` the tangent,
/// `offset = t GM + t³ size² / (24 d)`. From the centre of a trapezium.
#[test]
fn a_box_trims_and_heels_by_its_trapezium() {
    let balance = |t: f64, size: f64, d: f64, z: f64| {
        t * (d / 2.0 + size * size / (12.0 * d) - z) + t.powi(3) * size * size / (24.0 * d)
    };
    let trimmed = rest(&boat(350.0, (1860.0, 0.0, 220.0)));
    assert!(trimmed.trim_deg > 0.2);
    near(balance(trimmed.trim_deg.to_radians().tan(), LENGTH, draft(350.0), 220.0), 60.0, 1.0e-3);
    let trim = (trimmed.draft_fore_mm - trimmed.draft_aft_mm) / LENGTH;
    near(trim, trimmed.trim_deg.to_radians().tan(), 1.0e-9);
    let heeled = rest(&boat(350.0, (1800.0, -25.0, 220.0)));
    assert!(heeled.heel_deg > 3.0);
    near(balance(heeled.heel_deg.to_radians().tan(), BEAM, draft(350.0), 220.0), 25.0, 1.0e-3);
}

#[test]
fn the_angler_is_aboard_as_planned_but_not_in_the_empty_hull() {
    let plan = plan();
    let float = float(&plan);
    let names: Vec<_> = float.cases.as_ref().unwrap().iter().map(|case| case.name).collect();
    assert_eq!(
        names,
        ["as planned", "empty hull", "angler only", "battery out", "livewell full", "motor up", "standing"]
    );
    near(float.rest().unwrap().draft_mean_mm, draft(115.0), 0.3);
    near(float.case("empty hull").unwrap().rest.unwrap().draft_mean_mm, draft(30.0), 1.0e-4);
    // Nothing is aboard that these cases would take off.
    let planned = float.planned().unwrap();
    let same = Afloat { name: "motor up", ..planned.clone() };
    assert_eq!(float.case("motor up"), Some(&same));
    assert!(float.case("standing").unwrap().gm_mm() < planned.gm_mm());
}

#[test]
fn a_dry_well_changes_nothing_at_rest() {
    let closed = boat(300.0, (1850.0, 5.0, 200.0));
    let open = open_well(closed.clone());
    let (dry, plain) = (float(&open), float(&closed));
    for at in [Point::new(0.0, 400.0, GUNWALE), Point::new(LENGTH, -400.0, 0.0)] {
        near(dry.rest().unwrap().height(at), plain.rest().unwrap().height(at), 1.0e-9);
    }
    assert!(plain.levels.floors.is_empty());
    let [floor] = dry.levels.floors.as_slice() else { panic!("{:?}", dry.levels.floors) };
    assert_eq!((floor.zone, floor.standing_l), (ZoneId(2), 0.0));
    // The lowest corner is the one forward to port; the water there by trim and heel.
    let lowest = Point::new(2700.0, 280.0, 150.0);
    assert_eq!((floor.at, floor.height_mm), (lowest, dry.rest().unwrap().height(lowest)));
    near(floor.height_mm, 150.0 - draft(300.0) - 900.0 * 0.003 - 280.0 * 0.013, 3.0);
    // Heeled far, it takes water and rights less.
    let lever = |float: &Float| float.planned().unwrap().gz[6].gz_mm;
    assert!(lever(&dry) < lever(&plain) - 3.0, "{} {}", lever(&dry), lever(&plain));
    let scuppers: Vec<_> = dry.levels.scuppers.iter().map(|scupper| scupper.height_mm).collect();
    assert_eq!(scuppers, [100.0, -100.0].map(|y| dry.levels.height(Point::new(2000.0, y, 150.0))));
}

/// By lost buoyancy: `L B d - l b (d - f)` of volume, `(L B³ - l b³) / 12` of waterplane inertia.
#[test]
fn a_flooded_well_takes_its_buoyancy_and_its_waterplane() {
    let (volume, well) = (500.0 / 999.495_455e-9, 1400.0 * 560.0);
    let d = (volume - well * 150.0) / (LENGTH * BEAM - well);
    let (outer, inner) = (LENGTH * BEAM * d, well * (d - 150.0));
    // The well's middle is at 2000: the load sits where the rest of the box has its middle.
    let x = (outer * 1800.0 - inner * 2000.0) / volume;
    let float = float(&open_well(boat(500.0, (x, 0.0, 180.0))));
    let rest = float.rest().unwrap();
    near(rest.draft_mean_mm, d, 1.0e-3);
    near(rest.trim_deg, 0.0, 1.0e-6);
    near(rest.displacement_kg, 500.0, 1.0e-6);
    let kb = (outer * d / 2.0 - inner * f64::midpoint(d, 150.0)) / volume;
    let bm = (LENGTH * BEAM.powi(3) - 1400.0 * 560.0_f64.powi(3)) / 12.0 / volume;
    near(rest.gm_mm, kb + bm - 180.0, 1.0e-2);
    near(rest.waterplane_m2, (LENGTH * BEAM - well) * 1.0e-6, 1.0e-9);
    // At 5 degrees the whole floor is still wet and no edge of the box has passed the water: the box is a trapezium
    // less a smaller one.
    let (sin, cos) = 5_f64.to_radians().sin_cos();
    let t = sin / cos;
    let rise = (LENGTH * BEAM.powi(3) - 1400.0 * 560.0_f64.powi(3)) * t * t / 24.0 / volume;
    near(float.planned().unwrap().gz[1].gz_mm, bm * t * cos + (kb + rise - 180.0) * sin, 0.01);
    let floor = float.levels.floors[0];
    near(floor.height_mm, 150.0 - d, 1.0e-3);
    near(floor.standing_l, inner / 1.0e6, 1.0e-3);
    assert!(d > 170.0);
}

#[test]
fn only_what_lies_open_in_the_well_is_lost() {
    let standing = |change: fn(&mut Hull)| {
        let mut plan = open_well(boat(520.0, (1800.0, 0.0, 180.0)));
        change(hull(&mut plan));
        let float = float(&plan);
        let plane = float.levels.rest;
        let wet = |x: f64, y: f64, low: f64| (-plane.height(Point::new(x, y, low))).max(0.0) / plane.up[2];
        (float.levels.floors[0].standing_l, wet(2000.0, 0.0, 150.0), float)
    };
    let (whole, deep, _) = standing(|_| {});
    near(whole, 1400.0 * 560.0 * deep / 1.0e6, 0.01);
    // A pan without a drain lies over the aft half.
    let (half, ..) = standing(|hull| {
        let mut pan = hull.zones[1].clone();
        pan.id = ZoneId(3);
        pan.outline_mm = Polygon::rect(Spot::new(1200.0, -300.0), Spot::new(1900.0, 300.0));
        hull.zones.push(pan);
    });
    assert!(half > 0.4 * whole && half < 0.65 * whole, "{half} of {whole}");
    // An outline wider than the hull ends at its skin, 6 mm inside.
    let (wide, deep, float) = standing(|hull| {
        hull.zones[1].outline_mm = Polygon::rect(Spot::new(1300.0, -900.0), Spot::new(2700.0, 900.0));
    });
    near(wide, 1400.0 * 788.0 * deep / 1.0e6, 0.01);
    near(float.rest().unwrap().displacement_kg, 520.0, 1.0e-3);
    // A floor under the bottom, or over the deck, is no well.
    for height in [-20.0, 400.0] {
        let mut plan = open_well(boat(300.0, (1800.0, 0.0, 180.0)));
        hull(&mut plan).zones[1].height = Figure::measured(Length::mm(height));
        near(rest(&plan).draft_mean_mm, draft(300.0), 1.0e-4);
    }
}

/// Held at 15 degrees a box of draft 150 turns about the middle of its waterline: no edge passes the water.
#[test]
fn the_water_is_told_for_the_side_that_heels_down() {
    let plan = boat(150.0 / draft(1.0), (1800.0, 0.0, 180.0));
    let levels = float(&plan).levels;
    let (sin, cos) = 15_f64.to_radians().sin_cos();
    for y in [-400.0_f64, 400.0] {
        let at = Point::new(1800.0, y, GUNWALE);
        near(levels.height_heeled(at), (GUNWALE - 150.0) * cos - 400.0 * sin, 0.01);
        near(levels.height(at), GUNWALE - 150.0, 1.0e-3);
    }
    assert!(!levels.stated);
    let sunk = float(&boat(5000.0, (1800.0, 0.0, 180.0))).levels;
    assert!(sunk.stated);
    near(sunk.height(Point::new(1800.0, 0.0, GUNWALE)), GUNWALE - 110.0, 1.0e-9);
    near(sunk.height_heeled(Point::new(1800.0, 400.0, GUNWALE)), (GUNWALE - 110.0) * cos - 400.0 * sin, 1.0e-9);
}

#[test]
fn stiffness_by_posture_is_that_of_the_posture_floated() {
    let mut plan = boat(200.0, (1800.0, 0.0, 120.0));
    plan.angler.mass = Figure::measured(Mass::kg(90.0));
    let told = float(&plan).stiffness;
    let told = |posture: Posture| told.iter().find(|stiff| stiff.posture == posture).unwrap().gm_mm;
    plan.angler.seat.height = SeatHeight::High;
    near(float(&plan).planned().unwrap().gm_mm().unwrap(), told(Posture::SeatedHigh), 0.05);
    assert!(told(Posture::SeatedLow) - told(Posture::SeatedHigh) > 50.0);
    plan.angler.seat.height = SeatHeight::Low;
    // Standing moves the person forward too: the trim changes the waterplane a little.
    near(float(&plan).case("standing").unwrap().gm_mm().unwrap(), told(Posture::Standing), 3.0);
}

/// The deck edge of a box goes under at `atan(2 f / B)` while the bilge is still in. Source: closed form.
#[test]
fn a_box_floods_over_its_gunwale() {
    let flooding = |y: f64| {
        let plan = boat(220.0 / draft(1.0), (1800.0, y, 180.0));
        float(&plan).planned().unwrap().flooding.unwrap()
    };
    let angle = (2.0 * (GUNWALE - 220.0) / BEAM).atan().to_degrees();
    for y in [-20.0, 20.0] {
        near(flooding(y).heel_deg.abs(), angle, 0.01);
        assert_eq!(flooding(y).inlet, Inlet::Gunwale);
    }
    near(flooding(0.0).heel_deg.abs(), angle, 0.01);
}

#[test]
fn an_open_hole_floods_to_its_own_side() {
    let mut plan = boat(150.0 / draft(1.0), (1800.0, 0.0, 180.0));
    let hole = |y: f64| Penetration {
        id: crate::plan::HoleId(7),
        name: Name::new("old fitting").unwrap(),
        x: Length::mm(2000.0),
        y: Length::mm(y),
        bore: Length::mm(20.0),
        purpose: Purpose::Cable,
        fate: Fate::Open,
        seal: Seal::default(),
        left: None,
    };
    for y in [250.0, -250.0] {
        // In the well, whose floor is at 150: the water is level with it.
        plan.penetrations = vec![hole(y)];
        let flooding = float(&plan).planned().unwrap().flooding.unwrap();
        assert_eq!(flooding.inlet, Inlet::Hole(crate::plan::HoleId(7)));
        near(flooding.heel_deg, 0.0, 0.01);
        // With 30 mm less water it goes under at atan(30 / 250), on its own side.
        let mut light = boat(120.0 / draft(1.0), (1800.0, 0.0, 180.0));
        light.penetrations = vec![hole(y)];
        let flooding = float(&light).planned().unwrap().flooding.unwrap();
        near(flooding.heel_deg, -y.signum() * (30.0_f64 / 250.0).atan().to_degrees(), 0.01);
    }
    // A boat that rests with an inlet under water is flooded as it lies.
    let heeled = boat(300.0 / draft(1.0), (1800.0, 40.0, 100.0));
    let float = float(&heeled);
    let planned = float.planned().unwrap();
    let rest = planned.rest.unwrap();
    assert!(rest.height(Point::new(1800.0, 400.0, GUNWALE)) < 0.0);
    assert!(planned.flooding.unwrap().heel_deg.abs() <= rest.heel_deg.abs());
}

#[test]
fn both_curves_start_upright_and_mirror_for_a_load_in_the_middle() {
    let float = float(&boat(250.0, (1900.0, 0.0, 200.0)));
    let planned = float.planned().unwrap();
    assert_eq!((planned.gz.len(), planned.gz_port.len()), (13, 13));
    for (starboard, port) in planned.gz.iter().zip(&planned.gz_port) {
        assert_eq!(starboard.heel_deg, -port.heel_deg);
        near(starboard.gz_mm, -port.gz_mm, 0.01);
        near(starboard.trim_deg, port.trim_deg, 1.0e-3);
    }
    let greatest = [Side::Port, Side::Starboard].map(|side| planned.greatest_lever_to(side).unwrap().gz_mm);
    near(greatest[0], -greatest[1], 0.01);
    assert!(greatest[1] > 0.0 && planned.greatest_lever() == planned.greatest_lever_to(Side::Starboard));
}

/// Density from the table of ITTC 7.5-02-01-03; the draft is the inverse of it.
#[test]
fn salt_and_warmth_change_the_draft() {
    let mut plan = boat(300.0, (1800.0, 0.0, 200.0));
    let mut check = |water: Water, celsius: f64, kg_per_m3: f64| {
        (plan.outing.water, plan.outing.water_temperature) = (water, Temperature::celsius(celsius));
        near(float(&plan).water_kg_per_m3, kg_per_m3, 1.0e-9);
        near(rest(&plan).draft_mean_mm, 300.0e9 / (kg_per_m3 * LENGTH * BEAM), 1.0e-4);
    };
    check(Water::Fresh, 15.0, 999.10);
    check(Water::Fresh, 20.0, 998.21);
    check(Water::Fresh, 25.0, f64::midpoint(998.21, 995.65));
    check(Water::Fresh, -2.0, 999.97);
    check(Water::Fresh, 40.0, 995.65);
    check(Water::Salt, 15.0, 1025.0);
    check(Water::Salt, 30.0, 1025.0 - 999.10 + 995.65);
}

#[test]
fn nonsense_floats_nowhere_and_says_why() {
    let check = |plan: &Plan, why: NoFloat| {
        let float = float(plan);
        let planned = float.planned().unwrap();
        assert_eq!(planned.rest, Err(why));
        assert!(planned.gz.is_empty() && planned.gz_port.is_empty() && planned.freeboard.is_empty());
        assert_eq!((planned.flooding, planned.gm_mm(), float.leaning), (None, None, None));
        assert!(float.stiffness.is_empty() && float.levels.stated);
    };
    check(&boat(0.0, (1800.0, 0.0, 100.0)), NoFloat::Nonsense);
    check(&boat(100.0, (1800.0, f64::NAN, 100.0)), NoFloat::Nonsense);
    check(&boat(100.0, (1800.0, 3000.0, 100.0)), NoFloat::TurnsOver);
    check(&boat(100.0, (90_000.0, 0.0, 100.0)), NoFloat::TurnsOver);
    let rho = water_density(Water::Fresh, Temperature::celsius(10.0));
    check(&boat(5000.0, (1800.0, 0.0, 100.0)), NoFloat::TooHeavy { most_kg: LENGTH * BEAM * GUNWALE * rho * 1.0e-9 });
    let mut flat = plan();
    let only = vec![flat.hull.form.sections[0].clone()];
    hull(&mut flat).form = Form { sections: only }.into();
    let float = float(&flat);
    assert_eq!((float.cases.err(), float.leaning), (Some(BodyError::OneSection), None));
    assert!(float.levels.stated);
}
