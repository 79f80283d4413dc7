//! Fitted forms against general libraries: `shape_fit/generate.py` cuts meshes with trimesh and fits with scipy; its
//! output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use gunnel::catalogue::new_plan;
use gunnel::plan::{Plan, Reading, Taken};
use gunnel::study::shape::Shape;
use gunnel::units::{Figure, Length, Mass};
use serde::Deserialize;

#[derive(Deserialize)]
struct Expected {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    hull: String,
    marks: Vec<Mark>,
    fullness: f64,
    keel_mm: f64,
    heights_mm: Vec<f64>,
}

#[derive(Deserialize)]
struct Mark {
    load_kg: f64,
    x_mm: f64,
    height_mm: f64,
}

/// The hull of 30 kg in fresh water of 15 degrees, with its marks.
fn marked(case: &Case) -> Plan {
    let mut plan = new_plan(&case.hull).unwrap();
    Arc::make_mut(&mut plan.hull).mass = Figure::measured(Mass::kg(30.0));
    let mm = Length::mm;
    plan.readings = (case.marks.iter())
        .map(|mark| Taken::Waterline { x: mm(mark.x_mm), height: mm(mark.height_mm), load: Mass::kg(mark.load_kg) })
        .map(|taken| Reading { date: None, taken, off: false })
        .collect();
    plan
}

#[test]
fn forms_are_fitted_as_the_libraries_say() {
    let expected: Expected = serde_json::from_str(include_str!("shape_fit/expected.json")).unwrap();
    for case in expected.cases {
        let shape = Shape::of(&marked(&case));
        let check = |what: &str, found: f64, fitted: f64, tolerance: f64| {
            assert!((found - fitted).abs() <= tolerance, "{}, {what}: {found} is not {fitted}", case.name);
        };
        check("fullness", shape.fullness, case.fullness, 1.0e-4);
        check("keel", shape.keel_mm, case.keel_mm, 0.02);
        assert_eq!(shape.readings.len(), case.heights_mm.len());
        for (reading, height) in shape.readings.iter().zip(&case.heights_mm) {
            check("height", reading.after_mm, *height, 0.01);
        }
        assert_eq!(shape.at_bound, case.name == "beyond belief");
    }
}
