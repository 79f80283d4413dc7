//! Floating: how one equilibrium and one curve of levers grow with the body, and the whole report on shipped hulls.

use std::hint::black_box;

use divan::Bencher;
use gunnel::catalogue::{hulls, new_plan};
use gunnel::geometry::{Body, Form, Point, Section};
use gunnel::scenarios::SCENARIOS;
use gunnel::storage::load::{self, Format};
use gunnel::study::float::{Float, Load, equilibrium, gz_curve};
use gunnel::study::rig::Rig;
use gunnel::study::weights::Weights;

/// Triangles asked for; a body has at least as many.
const TRIANGLES: [usize; 3] = [500, 2000, 8000];

/// A round-bottomed boat of 3.6 by 0.85 m, cut as fine as asked.
fn boat(triangles: usize) -> Body {
    let points = (triangles as f64 / 16.0).sqrt().ceil() as usize;
    let stations = 2 * points;
    let section = |i: usize| {
        let along = 2.0 * i as f64 / stations as f64 - 1.0;
        let full = (1.0 - along.powi(4)).max(0.02);
        let at = |j: usize| {
            let up = j as f64 / points as f64;
            (425.0 * full * up.powf(0.4), 40.0 * along * along + 300.0 * up * up)
        };
        Section { x_mm: 1800.0 * (1.0 + along), points_mm: (0..=points).map(at).collect() }
    };
    let body = Body::of(&Form { sections: (0..=stations).map(section).collect() }).unwrap();
    assert!(body.triangle_count() >= triangles);
    body
}

/// A load off the middle: it heels and trims.
const LOAD: Load = Load { mass_kg: 170.0, centre: Point::new(1720.0, -12.0, 290.0), water_kg_per_m3: 1000.0 };

#[divan::bench(args = TRIANGLES)]
fn float_equilibrium(bencher: Bencher, triangles: usize) {
    let body = boat(triangles);
    bencher.bench_local(|| equilibrium(black_box(&body), &LOAD).unwrap());
}

#[divan::bench(args = TRIANGLES)]
fn float_gz_curve(bencher: Bencher, triangles: usize) {
    let body = boat(triangles);
    bencher.bench_local(|| gz_curve(black_box(&body), &LOAD).unwrap());
}

/// The whole report: every load case with both curves, wells and leaning.
#[divan::bench(args = hulls().iter().map(|hull| hull.key().as_str()))]
fn float_report_bare(bencher: Bencher, key: &str) {
    let plan = new_plan(key).unwrap();
    let rig = Rig::of(&plan);
    let weights = Weights::of(&plan, &rig);
    bencher.bench_local(|| Float::of(black_box(&plan), &plan.hull.form, &rig, &weights));
}

/// The same of the demo boats, with gear, livewell and battery.
#[divan::bench(args = SCENARIOS.iter().map(|scenario| scenario.file))]
fn float_report_rigged(bencher: Bencher, file: &str) {
    let scenario = SCENARIOS.iter().find(|scenario| scenario.file == file).unwrap();
    let plan = load::plan(scenario.text, file.as_ref(), Format::Ron).unwrap();
    let rig = Rig::of(&plan);
    let weights = Weights::of(&plan, &rig);
    bencher.bench_local(|| Float::of(black_box(&plan), &plan.hull.form, &rig, &weights));
}
