//! Mass and balance by scales, by hand.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::checks::{self, Finding, Severity};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{Aboard, Kind, Plan, Reading, Taken, Weighed};
use gunnel::study::Study;
use gunnel::study::scales::Scales;
use gunnel::units::{Figure, Length, Mass};

use crate::test_power::{add, name, place, plan};

fn scale(date: &str, of: Weighed, x: f64, kg: f64) -> Reading {
    let taken = Taken::Scale { x: Length::mm(x), mass: Mass::kg(kg), of, planned: None };
    Reading { date: (!date.is_empty()).then(|| name(date)), taken, off: false }
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1.0e-4, "{found} is not {expected}");
}

/// The bare hull by these readings: mass and station.
fn check(readings: &[Reading], expected: Option<(f64, f64)>) {
    let plan = Plan { readings: readings.to_vec(), ..plan() };
    assert_eq!(plan.validate(), Ok(()));
    let found = Scales::of(&plan).bare.map(|weighing| weighing.found);
    assert_eq!(found.is_some(), expected.is_some(), "{found:?}");
    if let Some((found, (kg, x))) = found.zip(expected) {
        near(found.mass.to_kg(), kg);
        near(found.x.to_mm(), x);
    }
}

/// 100 kg at 0.5 m and 80 kg at 3.0 m: (100 * 0.5 + 80 * 3.0) / 180 = 290 / 180 = 1.6111 m. Own arithmetic.
#[test]
fn two_scales_give_mass_and_balance() {
    use Weighed::BareHull;
    let (aft, fore) = (scale("", BareHull, 500.0, 100.0), scale("", BareHull, 3000.0, 80.0));
    check(&[aft.clone(), fore.clone()], Some((180.0, 290_000.0 / 180.0)));
    check(std::slice::from_ref(&aft), None);
    // Twice under one station is one station, with the mean.
    check(&[aft.clone(), scale("", BareHull, 500.0, 102.0)], None);
    check(
        &[aft.clone(), fore.clone(), scale("", BareHull, 500.0, 102.0)],
        Some((181.0, (101.0 * 500.0 + 240_000.0) / 181.0)),
    );
    // Three scales bear the boat together.
    check(&[aft.clone(), fore.clone(), scale("", BareHull, 2000.0, 20.0)], Some((200.0, 1650.0)));
    // What is off, of another kind or of nothing does not count.
    check(&[aft.clone(), Reading { off: true, ..fore.clone() }], None);
    check(&[aft.clone(), scale("", Weighed::Rigged, 3000.0, 80.0)], None);
    check(&[scale("", BareHull, 500.0, 0.0), scale("", BareHull, 3000.0, 0.0)], None);
}

#[test]
fn the_latest_whole_weighing_counts() {
    use Weighed::BareHull;
    let day = |date, aft: f64| [scale(date, BareHull, 500.0, aft), scale(date, BareHull, 3000.0, 80.0)];
    let mut readings: Vec<Reading> = day("2031-06-01", 40.0).into_iter().chain(day("2031-05-30", 100.0)).collect();
    check(&readings, Some((120.0, (20_000.0 + 240_000.0) / 120.0)));
    readings.push(scale("2031-07-01", BareHull, 500.0, 90.0));
    check(&readings, Some((120.0, 260_000.0 / 120.0)));
    readings[0].off = true;
    check(&readings, Some((180.0, 290_000.0 / 180.0)));
    readings.extend(day("", 70.0));
    check(&readings, Some((180.0, 290_000.0 / 180.0)));
}

/// The box's 25 kg at 1800 mm become 30 kg at 1500 mm; height and side stay.
#[test]
fn a_weighed_hull_replaces_its_figures_and_keeps_them() {
    let mut plan = plan();
    plan.readings = vec![scale("", Weighed::BareHull, 500.0, 15.0), scale("", Weighed::BareHull, 2500.0, 15.0)];
    let weights = Study::of(&plan).weights;
    let hull = weights.group("hull").unwrap();
    near(hull.mass.to_kg(), 30.0);
    near(hull.centre.x, 1500.0);
    near(hull.centre.z, 150.0);
    assert_eq!(weights.case("empty hull").unwrap().centre, hull.centre);
    assert_eq!((plan.hull.mass.value, plan.hull.centre_mm.x), (Mass::kg(25.0), 1800.0));
    assert!(weights.group("unaccounted").is_none());
}

/// Hull 25 kg at 1800, crate 9 kg at 400; the scales show 20 kg at 600 and 20 kg at 2400: 40 kg at 1500. Unaccounted
/// are 6 kg with 60 000 - 45 000 - 3600 = 11 400 kg mm, at 1900 mm.
fn weighed() -> (Plan, gunnel::plan::GearId) {
    let mut plan = plan();
    let crate_ = add(&mut plan, "crate", Kind::Storage, Figure::measured(Mass::kg(9.0)), None);
    place(&mut plan, crate_, 400.0);
    plan.readings = vec![scale("", Weighed::Rigged, 600.0, 20.0), scale("", Weighed::Rigged, 2400.0, 20.0)];
    (plan, crate_)
}

#[test]
fn what_a_weighed_rig_has_beyond_the_figures_is_carried_where_the_rig_is() {
    let (plan, _) = weighed();
    let weights = Study::of(&plan).weights;
    let unaccounted = weights.group("unaccounted").unwrap();
    near(unaccounted.mass.to_kg(), 6.0);
    near(unaccounted.centre.x, 1900.0);
    // Side and height are those of what is known.
    near(unaccounted.centre.z, (25.0 * 150.0 + 9.0 * 350.0) / 34.0);
    near(weights.load.to_kg(), 80.0 + 9.0 + 6.0);
    let angler = weights.group("angler").unwrap().centre.x;
    for name in ["as planned", "battery out", "livewell full", "motor up"] {
        let case = weights.case(name).unwrap();
        near(case.mass.to_kg(), 120.0);
        near(case.centre.x, (40.0 * 1500.0 + 80.0 * angler) / 120.0);
    }
    near(weights.case("standing").unwrap().mass.to_kg(), 120.0);
    near(weights.case("empty hull").unwrap().mass.to_kg(), 25.0);
    near(weights.case("angler only").unwrap().mass.to_kg(), 105.0);
    near(weights.case("transport").unwrap().mass.to_kg(), 34.0);
}

/// Less than the figures is carried as well, as a mass below zero.
#[test]
fn a_rig_lighter_than_its_figures() {
    let (mut plan, _) = weighed();
    plan.readings[1] = scale("", Weighed::Rigged, 2400.0, 10.0);
    let weights = Study::of(&plan).weights;
    near(weights.group("unaccounted").unwrap().mass.to_kg(), -4.0);
    near(weights.case("as planned").unwrap().mass.to_kg(), 110.0);
    assert_eq!(weights.known, Some(Aboard { mass: Mass::kg(34.0), x: Length::mm((45_000.0 + 3600.0) / 34.0) }));
}

/// Once noted, gear that moves or goes ashore after the weighing moves the boat: 9 kg by 1000 mm.
#[test]
fn gear_moved_after_the_weighing_moves_the_balance() {
    let (mut plan, crate_) = weighed();
    for reading in std::mem::take(&mut plan.readings) {
        plan = apply(&plan, &Edit::AddReading { reading }).unwrap();
    }
    let Taken::Scale { planned, .. } = plan.readings[0].taken else { panic!("{:?}", plan.readings) };
    assert_eq!(planned, Some(Aboard { mass: Mass::kg(9.0), x: Length::mm(400.0) }));
    let as_planned = |plan: &Plan| Study::of(plan).weights.case("as planned").unwrap().clone();
    let before = as_planned(&plan);
    near(before.mass.to_kg(), 120.0);
    place(&mut plan, crate_, 1400.0);
    near(as_planned(&plan).centre.x - before.centre.x, 9.0 * 1000.0 / 120.0);
    plan = apply(&plan, &Edit::PutAshore { gear: crate_ }).unwrap();
    near(as_planned(&plan).mass.to_kg(), 111.0);
}

fn scale_fit(plan: &Plan) -> Vec<Finding> {
    checks::run(plan, &Study::of(plan)).into_iter().filter(|finding| finding.check == "scale-fit").collect()
}

/// The box's figures: 25 kg at 1800 mm.
#[test]
fn scales_speak_and_warn_past_each_limit() {
    let check = |aft: f64, fore: f64, severity, unit: &str| {
        let mut plan = plan();
        plan.readings = vec![scale("", Weighed::BareHull, 0.0, aft), scale("", Weighed::BareHull, 3600.0, fore)];
        let found = scale_fit(&plan);
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].severity, found[0].unit), (severity, unit), "{:?}", found[0]);
    };
    check(12.5, 12.5, Severity::Note, "percent");
    check(13.7, 13.7, Severity::Note, "percent");
    check(13.8, 13.8, Severity::Caution, "percent");
    check(11.2, 11.2, Severity::Caution, "percent");
    // 13.2 - 11.8 = 1.4 of 25 kg over 1800 mm: 100.8 mm aft.
    check(13.15, 11.85, Severity::Note, "mm");
    check(13.2, 11.8, Severity::Caution, "mm");
    assert!(scale_fit(&plan()).is_empty());
}

#[test]
fn the_words_of_a_weighing() {
    let (plan, _) = weighed();
    let found = &scale_fit(&plan)[0];
    assert_eq!(
        found.says,
        "The scales put the rigged boat at 40.0 kg, balanced 1500 mm from the stern; its figures say 34.0 kg at 1429 \
         mm: 18 % heavier, 71 mm further forward."
    );
}
