//! What holds for every hull and load: buoyancy equals weight, moments balance, port mirrors starboard.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Body, BodyError, Form, Point, Polygon, Recess, Section, Spot, Strip};
use gunnel::study::float::{Attitude, Liquid, Load, NoFloat, Vessel, equilibrium, equilibrium_from, gz_curve};
use proptest::prelude::*;

/// A boat of 3 to 9 sections, each with 2 to 7 points: fine or full, flared or not, with rocker.
fn forms() -> impl Strategy<Value = Form> {
    let section = (0.0..1.0_f64, 0.3..1.0_f64, 0.05..1.0_f64, 2_usize..8);
    (prop::collection::vec(section, 3..10), 2000.0..5000.0_f64, 250.0..500.0_f64, 200.0..450.0_f64).prop_map(
        |(sections, length, half, depth)| {
            let count = sections.len() - 1;
            let build = |(i, (rise, full, bulge, points)): (usize, (f64, f64, f64, usize))| {
                let s = i as f64 / count as f64;
                let end = (2.0 * s - 1.0).powi(4);
                let (keel, breadth) = (rise * 60.0 * (0.2 + end), half * full * (1.0 - 0.9 * end));
                let at = |j: usize| {
                    let t = j as f64 / (points - 1) as f64;
                    (breadth * t.powf(bulge), keel + (depth - keel) * t * t)
                };
                Section { x_mm: s * length, points_mm: (0..points).map(at).collect() }
            };
            Form { sections: sections.into_iter().enumerate().map(build).collect() }
        },
    )
}

/// A share of what the body carries, set down near its middle, low enough to sit.
fn loads() -> impl Strategy<Value = (f64, f64, f64, f64, f64)> {
    (0.02..0.9_f64, -0.08..0.08_f64, -60.0..60.0_f64, 50.0..450.0_f64, prop::sample::select(vec![997.0, 1025.0]))
}

fn load(body: &Body, (share, along, off, z, water): (f64, f64, f64, f64, f64)) -> Load {
    let (aft, fore) = body.ends();
    let x = f64::midpoint(aft, fore) + along * (fore - aft);
    Load { mass_kg: share * body.volume() * water * 1.0e-9, centre: Point::new(x, off, z), water_kg_per_m3: water }
}

/// A well in the middle of a hull, open to the water: so wide, its floor so high, as shares.
fn well(form: &Form, wide: f64, high: f64) -> Vec<Recess> {
    let count = form.sections.len();
    let middle = &form.sections[count / 3..count - count / 3];
    let (keel, deck) = middle
        .iter()
        .fold((f64::MIN, f64::MAX), |(keel, deck), section| (keel.max(section.keel()), deck.min(section.gunwale().1)));
    let floor = keel + high * (deck - keel);
    let part = |pair: &[Section]| {
        let half = wide * pair[0].room_over(floor).min(pair[1].room_over(floor));
        let strip = Strip { x: [pair[0].x_mm, pair[1].x_mm], starboard: [-half; 2], port: [half; 2] };
        Recess { strip, floor, top: [pair[0].gunwale().1, pair[1].gunwale().1] }
    };
    middle.windows(2).map(part).collect()
}

/// Water in a tank round the middle of the body: length and width, depth of tank, how full.
fn water(body: &Body, (length, width, depth, full): (f64, f64, f64, f64)) -> Option<Liquid> {
    let (aft, fore) = body.ends();
    let x = f64::midpoint(aft, fore);
    let outline = Polygon::rect(Spot::new(x - length / 2.0, -width / 2.0), Spot::new(x + length / 2.0, width / 2.0));
    Liquid::new(Body::prism(&outline, 60.0, 60.0 + depth).unwrap(), length * width * depth * full * 1.0e-6, 1000.0)
}

fn near(found: f64, expected: f64, tolerance: f64) -> Result<(), TestCaseError> {
    prop_assert!((found - expected).abs() <= tolerance, "{} is not {} within {}", found, expected, tolerance);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn buoyancy_equals_weight_and_moments_balance(form in forms(), figures in loads()) {
        let body = Body::of(&form).unwrap();
        let load = load(&body, figures);
        match equilibrium(&body, &load) {
            Ok(rest) => {
                near(rest.displacement_kg / load.mass_kg, 1.0, 1.0e-6)?;
                let (b, g) = (rest.buoyancy, load.centre);
                let apart = [b.x - g.x, b.y - g.y, b.z - g.z];
                let along = |axis: [f64; 3]| axis.iter().zip(apart).map(|(a, d)| a * d).sum::<f64>();
                near(along(rest.plane.fore), 0.0, 0.01)?;
                near(along(rest.plane.port), 0.0, 0.01)?;
                prop_assert!(rest.waterplane_m2 > 0.0 && rest.gm_long_mm.is_finite());
                // Off the centreline a boat only rests where it is stable.
                prop_assert!(g.y.abs() < 0.5 || rest.gm_mm > -0.1, "gm {}", rest.gm_mm);
            }
            Err(why) => prop_assert_eq!(why, NoFloat::TurnsOver),
        }
    }

    #[test]
    fn a_mirrored_load_mirrors_the_heel(form in forms(), figures in loads()) {
        let body = Body::of(&form).unwrap();
        let port = load(&body, figures);
        let starboard = Load { centre: Point::new(port.centre.x, -port.centre.y, port.centre.z), ..port };
        match (equilibrium(&body, &port), equilibrium(&body, &starboard)) {
            (Ok(port), Ok(starboard)) => {
                near(port.heel_deg, -starboard.heel_deg, 1.0e-3)?;
                near(port.trim_deg, starboard.trim_deg, 1.0e-3)?;
                near(port.draft_mean_mm, starboard.draft_mean_mm, 0.01)?;
            }
            (port, starboard) => prop_assert_eq!(port, starboard),
        }
    }

    /// Whatever the start, the search ends, and in balance.
    #[test]
    fn every_start_comes_to_rest(form in forms(), figures in loads(), heel in -86.0..86.0_f64, trim in -79.0..79.0_f64) {
        let body = Body::of(&form).unwrap();
        let load = load(&body, figures);
        let upright = equilibrium(&body, &load);
        match equilibrium_from(&body, &load, Attitude { heel_deg: heel, trim_deg: trim }) {
            Ok(rest) => {
                near(rest.displacement_kg / load.mass_kg, 1.0, 1.0e-6)?;
                // Held at that heel a light, lean hull may settle on another trim: the moments are asked, not the lever.
                let apart = rest.buoyancy - load.centre;
                for axis in [rest.plane.fore, rest.plane.port] {
                    near(axis[0] * apart.x + axis[1] * apart.y + axis[2] * apart.z, 0.0, 0.02)?;
                }
            }
            Err(why) => prop_assert_eq!(Err(why), upright),
        }
    }

    /// The same with a well open to the water and water in a tank, whatever the start: it balances about where the
    /// water lies, and mirrored it lies the other way.
    #[test]
    fn wells_and_liquids_balance(
        form in forms(),
        figures in loads(),
        (wide, high) in (0.05..0.95_f64, 0.0..0.9_f64),
        tank in (50.0..900.0_f64, 50.0..500.0_f64, 10.0..300.0_f64, 0.001..1.2_f64),
        (heel, trim) in (-60.0..60.0_f64, -10.0..10.0_f64),
    ) {
        let hull = Body::of(&form).unwrap();
        let body = hull.clone().without(&well(&form, wide, high)).unwrap();
        prop_assert!(body.volume() > 0.0 && body.volume() <= hull.volume());
        let liquids: Vec<Liquid> = water(&body, tank).into_iter().collect();
        let vessel = Vessel { body: &body, liquids: &liquids };
        let load = load(&body, figures);
        let mut rests = Vec::new();
        for (y, heel_deg) in [(load.centre.y, heel), (-load.centre.y, -heel)] {
            let load = Load { centre: Point::new(load.centre.x, y, load.centre.z), ..load };
            let rest = vessel.rest_from(&load, Attitude { heel_deg, trim_deg: trim });
            if let Ok(rest) = rest {
                near(rest.displacement_kg / load.mass_kg, 1.0, 1.0e-6)?;
                let apart = rest.buoyancy - rest.centre;
                for axis in [rest.plane.fore, rest.plane.port] {
                    near(axis[0] * apart.x + axis[1] * apart.y + axis[2] * apart.z, 0.0, 0.02)?;
                }
            }
            rests.push(rest.map(|rest| (rest.heel_deg, rest.trim_deg)));
        }
        match (&rests[0], &rests[1]) {
            (Ok(one), Ok(other)) => {
                near(one.0, -other.0, 0.05)?;
                near(one.1, other.1, 0.05)?;
            }
            (one, other) => prop_assert_eq!(one, other),
        }
    }

    /// A load far outside the hull, or no load at all, gets an answer in words.
    #[test]
    fn nonsense_is_answered(
        form in forms(),
        mass in prop::num::f64::ANY,
        at in (prop::num::f64::ANY, -1.0e5..1.0e5_f64, prop::num::f64::ANY),
        water in prop::sample::select(vec![0.0, -1.0, 1000.0, f64::NAN, f64::INFINITY]),
    ) {
        let body = Body::of(&form).unwrap();
        for (mass_kg, water_kg_per_m3) in [(mass, 1000.0), (80.0, water), (80.0, 1000.0)] {
            let load = Load { mass_kg, centre: at.into(), water_kg_per_m3 };
            if let Ok(rest) = equilibrium(&body, &load) {
                prop_assert!(rest.heel_deg.is_finite() && rest.draft_fore_mm.is_finite() && rest.gm_mm.is_finite());
            }
            if let Ok(curve) = gz_curve(&body, &load) {
                prop_assert!(curve.iter().all(|arm| arm.gz_mm.is_finite()));
            }
        }
    }

    /// Sections of any numbers make a sound body or are refused; nothing panics.
    #[test]
    fn any_sections_make_a_body_or_an_error(
        sections in prop::collection::vec((prop::num::f64::ANY, prop::collection::vec((-50.0..500.0_f64, -50.0..500.0_f64), 0..6)), 0..5),
        tidy in any::<bool>(),
    ) {
        let place = |(i, (x, points_mm)): (usize, (f64, Vec<(f64, f64)>))| {
            Section { x_mm: if tidy { 100.0 * i as f64 } else { x }, points_mm }
        };
        let form = Form { sections: sections.into_iter().enumerate().map(place).collect() };
        match Body::of(&form) {
            Ok(body) => prop_assert!(body.volume() > 0.0 && body.volume().is_finite()),
            Err(why) => prop_assert!(why != BodyError::Open, "{}", why),
        }
    }
}

#[test]
fn what_sinks_it_is_told_with_the_most_it_carries() {
    let points_mm = vec![(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)];
    let at = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
    let body = Body::of(&Form { sections: vec![at(0.0), at(3000.0)] }).unwrap();
    let load = Load { mass_kg: 721.0, centre: Point::new(1500.0, 0.0, 100.0), water_kg_per_m3: 1000.0 };
    let Err(NoFloat::TooHeavy { most_kg }) = equilibrium(&body, &load) else { panic!("it floats") };
    assert!((most_kg - 720.0).abs() < 1.0e-6);
    let high = Load { mass_kg: 200.0, centre: Point::new(1500.0, 5.0, 5000.0), ..load };
    assert_eq!(equilibrium(&body, &high), Err(NoFloat::TurnsOver));
    let outside = Load { mass_kg: 200.0, centre: Point::new(90_000.0, 5.0, 100.0), ..load };
    assert_eq!(equilibrium(&body, &outside), Err(NoFloat::TurnsOver));
}
