//! The form after marked waterlines: by hand on a box, known answers found again, nonsense endured.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::catalogue::new_plan;
use gunnel::checks;
use gunnel::geometry::{Body, Form, Point, Section};
use gunnel::plan::{LimitOverride, Plan, Reading, Taken, Weighed};
use gunnel::study::Study;
use gunnel::study::float::{Load, equilibrium};
use gunnel::study::shape::Shape;
use gunnel::units::{Length, Mass};
use proptest::prelude::*;

use crate::test_power::{name, plan};

/// Fresh water of 15 degrees, which the small plan floats in, kg per m³.
const WATER: f64 = 999.10;

fn mark(plan: &mut Plan, date: &str, load: f64, x: f64, height: f64) {
    let taken = Taken::Waterline { x: Length::mm(x), height: Length::mm(height), load: Mass::kg(load) };
    plan.readings.push(Reading { date: Some(name(date)), taken, off: false });
}

fn set(plan: &mut Plan, limit: &str, value: f64) {
    plan.limits.push(LimitOverride { limit: limit.into(), value, reason: name("to try it") });
}

fn near(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected} within {tolerance}");
}

/// The box of 3600 by 800 and 25 kg with 100 kg aboard: 125 / 999.10 m³ over 2.88 m² of bottom.
const BOX_DEPTH: f64 = 125.0 / WATER * 1.0e9 / (3600.0 * 800.0);

#[test]
fn without_marks_the_form_is_the_plans_own() {
    let mut plan = plan();
    mark(&mut plan, "2031-05-30", 100.0, 600.0, 80.0);
    plan.readings[0].off = true;
    let shape = Shape::of(&plan);
    assert!(std::ptr::eq(shape.form(), &raw const *plan.hull.form));
    assert_eq!((shape.fullness, shape.keel_mm, shape.readings.len()), (1.0, 0.0, 0));
}

/// With the keel alone to move, the box's water follows it one to one. The least of `((15 - k) / 3)² + (k / 10)²` is at
/// `k = 15 * 100 / 109`.
#[test]
fn a_box_marked_15_mm_deeper_by_hand() {
    let mut plan = plan();
    set(&mut plan, "waterline-fit.fullness", 0.0);
    mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH + 15.0);
    mark(&mut plan, "2031-05-30", 100.0, 3000.0, BOX_DEPTH + 15.0);
    plan.readings.truncate(1);
    let level = seat_in_the_middle(plan);
    let shape = Shape::of(&level);
    let keel = 15.0 * 100.0 / 109.0;
    near("keel", shape.keel_mm, keel, 1.0e-5);
    near("before", shape.readings[0].before_mm, BOX_DEPTH, 1.0e-5);
    near("residual", shape.readings[0].residual_mm(), 15.0 - keel, 1.0e-5);
    assert!(!shape.at_bound);
    let Section { points_mm, .. } = &shape.form().sections[0];
    near("bottom", points_mm[1].1, keel, 1.0e-5);
    assert_eq!((points_mm[1].0, points_mm[2]), (400.0, (400.0, 300.0)));
    assert_eq!(level.hull.form.sections[0].points_mm[1], (400.0, 0.0));
}

/// So that a load in the seat leaves the box level: the seated centre comes over the middle.
fn seat_in_the_middle(mut plan: Plan) -> Plan {
    let centre = gunnel::study::posture::seated_centre(&plan).x;
    plan.angler.seat.back = Length::mm(plan.angler.seat.back.to_mm() + 1800.0 - centre);
    plan
}

/// Own arithmetic: a box whose bottom is `f` of the beam and lies at `k` floats 125 kg where
/// `f d + (1 - f) d² / (2 (300 - k))` is the box's depth, `d` over the bottom. The least of the three squares, found by
/// scipy's minimize on this formula: f 0.98638, k 13.254, 1.193 mm left. Fuller it cannot get than the beam: then the
/// keel does it alone, as by hand above.
#[test]
fn a_box_gets_leaner_but_no_wider_than_its_beam() {
    let check = |off: f64, fullness: f64, keel: f64, left: f64| {
        let mut plan = seat_in_the_middle(plan());
        mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH + off);
        let shape = Shape::of(&plan);
        near("fullness", shape.fullness, fullness, 1.0e-4);
        near("keel", shape.keel_mm, keel, 5.0e-3);
        near("residual", shape.readings[0].residual_mm(), left, 1.0e-3);
    };
    check(15.0, 0.986_382, 13.2538, 1.1930);
    check(-15.0, 1.0, -15.0 * 100.0 / 109.0, -15.0 * 9.0 / 109.0);
}

/// Two marks of one date and load are two readings of one height: twice the weight, `k = 15 * 200 / 209`.
#[test]
fn marks_of_one_day_count_each() {
    let mut plan = plan();
    set(&mut plan, "waterline-fit.fullness", 0.0);
    // The box trims by the bow, 20 mm over 2400; its mean depth is what counts.
    mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH + 15.0 - 10.0);
    mark(&mut plan, "2031-05-30", 100.0, 3000.0, BOX_DEPTH + 15.0 + 10.0);
    let shape = Shape::of(&plan);
    near("keel", shape.keel_mm, 15.0 * 200.0 / 209.0, 1.0e-4);
    near("before", shape.readings[1].before_mm, BOX_DEPTH + 10.0, 1.0e-4);
}

/// A single mark is taken at the trim of the load in its seat, here by the stern.
#[test]
fn a_single_mark_is_taken_at_the_trim_of_the_seated_load() {
    let mut plan = plan();
    mark(&mut plan, "2031-05-30", 100.0, 3000.0, BOX_DEPTH);
    let body = Body::of(&plan.hull.form).unwrap();
    let (hull, sitter) = (plan.hull.centre_mm, gunnel::study::posture::seated_centre(&plan));
    let mean = |hull: f64, sitter: f64| (25.0 * hull + 100.0 * sitter) / 125.0;
    let centre = Point::new(mean(hull.x, sitter.x), 0.0, mean(hull.z, sitter.z));
    let rest = equilibrium(&body, &Load { mass_kg: 125.0, centre, water_kg_per_m3: WATER }).unwrap();
    assert!(rest.trim_deg < -0.1);
    near("before", Shape::of(&plan).readings[0].before_mm, rest.plane.draft(3000.0), 1.0e-4);
}

/// The bend as written in the rules, apart from the program's.
fn bend(form: &Form, fullness: f64, keel: f64) -> Form {
    let bend = |section: &Section| {
        let beam = section.points_mm.iter().map(|p| p.0).fold(0.0, f64::max);
        let top = section.points_mm.iter().filter(|p| p.0 == beam).map(|p| p.1).fold(0.0, f64::max);
        let low = section.points_mm.iter().map(|p| p.1).fold(f64::MAX, f64::min);
        let at = |(y, z): (f64, f64)| {
            let weight = if z < top { (top - z) / (top - low) } else { 0.0 };
            (beam.min(y * (1.0 + (fullness - 1.0) * weight)), z + keel * weight)
        };
        Section { x_mm: section.x_mm, points_mm: section.points_mm.iter().map(|p| at(*p)).collect() }
    };
    Form { sections: form.sections.iter().map(bend).collect() }
}

/// A hull bent by known figures is floated with several loads and marked where it floats; with next to nothing
/// believed beforehand the figures come back.
#[test]
fn known_figures_are_found_again() {
    for (fullness, keel) in [(0.96, 7.0), (1.05, -9.0), (0.9, -4.0), (1.02, 12.0)] {
        let mut plan = new_plan("angler-11").unwrap();
        set(&mut plan, "waterline-fit.fullness", 20.0);
        set(&mut plan, "waterline-fit.keel", 100.0);
        set(&mut plan, "waterline-fit.mark", 0.1);
        let body = Body::of(&bend(&plan.hull.form, fullness, keel)).unwrap();
        for (load, x) in [(0.0, 1600.0), (60.0, 1650.0), (120.0, 1500.0), (170.0, 1700.0)] {
            let mass_kg = plan.hull.mass.value.to_kg() + load;
            let rest = equilibrium(&body, &Load { mass_kg, centre: Point::new(x, 0.0, 200.0), water_kg_per_m3: WATER });
            for x in [500.0, 1700.0, 2800.0] {
                mark(&mut plan, "2031-05-30", load, x, rest.unwrap().plane.draft(x));
            }
        }
        let shape = Shape::of(&plan);
        near("fullness", shape.fullness, fullness, 2.0e-4);
        near("keel", shape.keel_mm, keel, 0.05);
        assert!(shape.readings.iter().all(|reading| reading.residual_mm().abs() < 0.05));
        assert_eq!(shape.form().sections.len(), plan.hull.form.sections.len());
    }
}

#[test]
fn readings_that_contradict_each_other_leave_a_residual_and_a_caution() {
    let mut plan = new_plan("angler-11").unwrap();
    for (date, height) in [("2031-05-30", 130.0), ("2031-06-01", 95.0)] {
        mark(&mut plan, date, 100.0, 600.0, height);
        mark(&mut plan, date, 100.0, 2800.0, height);
    }
    let study = Study::of(&plan);
    let residuals: Vec<f64> = study.shape.readings.iter().map(|reading| reading.residual_mm()).collect();
    assert!(residuals[0] > 10.0 && residuals[2] < -10.0, "{residuals:?}");
    let findings = checks::run(&plan, &study);
    let found = findings.iter().find(|finding| finding.check == "waterline-fit").unwrap();
    assert_eq!(found.severity, checks::Severity::Caution);
    assert!(found.remedy.contains("contradict"), "{found:?}");
}

/// What the check says of the box marked this much deeper than it floats.
fn waterline_fit(off: f64, believed: f64, marks: f64) -> checks::Finding {
    let mut plan = seat_in_the_middle(plan());
    for (limit, value) in [("fullness", believed), ("keel", believed), ("mark", marks)] {
        set(&mut plan, &format!("waterline-fit.{limit}"), value);
    }
    mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH + off);
    let found = checks::run(&plan, &Study::of(&plan));
    found.into_iter().find(|finding| finding.check == "waterline-fit").unwrap()
}

#[test]
fn the_check_warns_past_its_limit_and_at_the_bounds() {
    use checks::Severity::{Caution, Note};
    // With nothing believed to be off, all of it remains.
    for (off, severity) in [(9.9, Note), (-9.9, Note), (10.1, Caution), (-10.1, Caution)] {
        let found = waterline_fit(off, 0.0, 3.0);
        assert_eq!((found.severity, found.limit), (severity, 10.0), "{off}");
        near("value", found.value, off.abs(), 1.0e-5);
    }
    // A mark believed to 0.1 mm takes the keel as far as it goes, three times 1 mm, and the fullness, three times 1
    // percent: about 1.2 mm on this box. 7.8 mm remain.
    let found = waterline_fit(12.0, 1.0, 0.1);
    assert!(found.severity == Caution && (found.value - 7.8).abs() < 0.05, "{found:?}");
    assert!(found.says.contains("; 8 mm remain, and no more is believed."), "{found:?}");
}

#[test]
fn the_check_says_what_the_readings_changed() {
    let mut plan = seat_in_the_middle(plan());
    mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH + 15.0);
    let says = |plan: &Plan| {
        let found = checks::run(plan, &Study::of(plan));
        found.into_iter().find(|finding| finding.check == "waterline-fit").map(|finding| finding.says)
    };
    assert_eq!(
        says(&plan).unwrap(),
        "The marked waterline is 15 mm deeper than the hull floats as measured: the bottom is taken 1.4 % leaner and \
         13 mm higher; 1 mm remains."
    );
    plan.readings[0].off = true;
    assert_eq!(says(&plan), None);
    plan.readings.clear();
    mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH);
    mark(&mut plan, "2031-05-30", 100.0, 700.0, BOX_DEPTH);
    assert_eq!(
        says(&plan).unwrap(),
        "The marked waterlines are where the hull floats as measured: the form stays; 0 mm remain."
    );
}

#[test]
fn a_load_that_does_not_float_is_not_used_and_is_said() {
    let mut plan = plan();
    mark(&mut plan, "2031-05-30", 950.0, 600.0, 200.0);
    let study = Study::of(&plan);
    assert_eq!((study.shape.unused.as_slice(), study.shape.readings.len()), (&[0][..], 0));
    assert_eq!(*study.shape.form(), *plan.hull.form);
    let findings = checks::run(&plan, &study);
    assert!(findings.iter().any(|f| f.check == "waterline-fit" && f.says.contains("950.0 kg is not used")));
}

/// A weighed hull floats its marks: 10 kg more than the figures sink the box by 3.475 mm.
#[test]
fn the_mass_under_the_marks_is_the_weighed_one() {
    let mut plan = seat_in_the_middle(plan());
    mark(&mut plan, "2031-05-30", 100.0, 600.0, BOX_DEPTH);
    for x in [600.0, 3000.0] {
        let taken = Taken::Scale { x: Length::mm(x), mass: Mass::kg(17.5), of: Weighed::BareHull, planned: None };
        plan.readings.push(Reading { date: None, taken, off: false });
    }
    let sunk = 10.0 / WATER * 1.0e9 / (3600.0 * 800.0);
    near("before", Shape::of(&plan).readings[0].before_mm, BOX_DEPTH + sunk, 1.0e-5);
}

fn readings() -> impl Strategy<Value = Vec<Reading>> {
    let date = prop::sample::select(vec![None, Some("2031-05-30"), Some("2031-06-01")]);
    let waterline = (date, -500.0..8000.0_f64, -200.0..2000.0_f64, prop::sample::select(vec![0.0, 40.0, 90.0, 1000.0]));
    let near = (0.0..3300.0_f64, 60.0..140.0_f64).prop_map(|(x, height)| (None, x, height, 90.0));
    let reading = prop_oneof![waterline, near].prop_map(|(date, x, height, load)| Reading {
        date: date.map(name),
        taken: Taken::Waterline { x: Length::mm(x), height: Length::mm(height), load: Mass::kg(load) },
        off: false,
    });
    prop::collection::vec(reading, 1..6)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, ..ProptestConfig::default() })]

    /// Whatever is read and believed: finite figures within what is believed, never further off than before, and
    /// beam and gunwale as they were.
    #[test]
    fn no_readings_break_the_form(
        readings in readings(),
        believed in prop::collection::vec(prop::sample::select(vec![-1.0, 0.0, 0.5, 5.0, 1.0e9]), 4),
    ) {
        let mut plan = new_plan("compact-9").unwrap();
        for (limit, value) in ["fullness", "keel", "mark", "apart"].iter().zip(believed) {
            set(&mut plan, &format!("waterline-fit.{limit}"), value);
        }
        plan.readings = readings;
        let shape = Shape::of(&plan);
        prop_assert!((shape.fullness - 1.0).abs() <= 0.6 + 1.0e-9 && shape.keel_mm.abs() <= 300.0 + 1.0e-9);
        let squares = |of: fn(&gunnel::study::shape::Fitted) -> f64| shape.readings.iter().map(|r| of(r).powi(2)).sum::<f64>();
        prop_assert!(squares(|r| r.residual_mm()) <= squares(|r| r.before_residual_mm()) + 1.0e-6);
        prop_assert!(Body::of(shape.form()).is_ok());
        for (bent, tape) in shape.form().sections.iter().zip(&plan.hull.form.sections) {
            prop_assert_eq!(bent.gunwale(), tape.gunwale());
            let beam = |section: &Section| section.points_mm.iter().map(|p| p.0).fold(0.0, f64::max);
            prop_assert_eq!(beam(bent), beam(tape));
        }
        let study = Study::of(&plan);
        for finding in checks::run(&plan, &study) {
            prop_assert!(finding.value.is_finite() && finding.margin.is_finite(), "{:?}", finding);
        }
    }
}
