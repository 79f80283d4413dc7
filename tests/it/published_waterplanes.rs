//! Waterplanes and curved forms against published figures and closed forms.
//!
//! Simpson's first rule is exact for half-breadths that run as parabolas or cubics through each three stations, and its
//! sum of their cubes for half-breadths whose cubes do. The figures are asked of such a body.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Body, Cutter, Point, WaterPlane};
use gunnel::study::float::Equilibrium;

use crate::published_float::{SCALE, TONNE, body, check, floated};

/// Half-breadths to a power through three stations, from 0 to 1: a parabola, or where that would go under zero a cubic
/// that leans away from it and has the same area.
fn through([y0, y1, y2]: [f64; 3]) -> impl Fn(f64) -> f64 {
    let parabola = move |t: f64| y0 * (1.0 - t) * (1.0 - 2.0 * t) + 4.0 * y1 * t * (1.0 - t) + y2 * t * (2.0 * t - 1.0);
    let under = (0..=100).any(|i| parabola(f64::from(i) / 100.0) < -1.0e-12);
    // Slopes at both ends; the lean has slope 1 at either.
    let (first, last) = (4.0 * y1 - 3.0 * y0 - y2, y0 - 4.0 * y1 + 3.0 * y2);
    let lean = match under {
        true if y0 < y2 => -1.2 * first,
        true => -1.2 * last,
        false => 0.0,
    };
    move |t| parabola(t) + lean * t * (1.0 - t) * (1.0 - 2.0 * t)
}

/// A wall-sided body, level in the sea, whose half-breadths to a power run so through its stations. Stations in m from
/// the bow; the pairs of spacings may differ.
fn simpson(stations: &[(f64, f64)], length: f64, power: i32, parts: i32) -> Equilibrium {
    let mut sections = Vec::new();
    for triple in stations.windows(3).step_by(2) {
        let (x0, x2) = (triple[0].0, triple[2].0);
        let run = through([triple[0].1, triple[1].1, triple[2].1].map(|y| y.powi(power)));
        let first = i32::from(!sections.is_empty());
        for i in first..=parts {
            let t = f64::from(i) / f64::from(parts);
            let cubed = run(t);
            assert!(cubed > -1.0e-9, "a breadth under zero");
            let y = cubed.max(0.0).powf(1.0 / f64::from(power)) * SCALE;
            let x = (length - (x0 + (x2 - x0) * t)) * SCALE;
            sections.push((x, vec![(0.0, 0.0), (y, 0.0), (y, 12.0 * SCALE)]));
        }
    }
    sections.reverse();
    let hull = body(&sections);
    let mass = hull.volume() / 3.0 * 1025.0e-9;
    // Loaded at the centre of its area, so that it lies level.
    let trial = floated(&hull, mass, (length * SCALE / 2.0, 0.0, 0.0), 1025.0);
    floated(&hull, mass, (trial.flotation.x, 0.0, 0.0), 1025.0)
}

fn area(rest: &Equilibrium) -> f64 {
    rest.waterplane_m2 / SCALE.powi(2) * 1.0e6
}

/// Transverse second moment of the waterplane in the scale's m⁴.
fn inertia(rest: &Equilibrium) -> f64 {
    let volume = rest.displacement_kg / 1025.0e-9;
    rest.bm_mm * volume / SCALE.powi(4)
}

/// L 120, half-breadths 0 3.7 5.9 7.6 7.5 4.6 0.1. Sources: Derrett page 74; the transverse inertia is Simpson's sum of
/// their cubes, `2/9 h sum(y³ SM)`.
#[test]
fn a_waterplane_of_seven_stations() {
    let half = [0.0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1];
    let stations: Vec<_> = half.iter().enumerate().map(|(i, y)| (20.0 * i as f64, *y)).collect();
    let rest = simpson(&stations, 120.0, 1, 1000);
    check(area(&rest) * 3.0 / 2.0 / 20.0, 90.5, 1.0e-3);
    check(area(&rest), 1206.667, 1.0e-3);
    check(rest.kg_per_cm * SCALE / TONNE / SCALE.powi(3), 12.368, 1.0e-3);
    check(60.0 - rest.flotation.x / SCALE, 2.3646, 1.0e-3);
    check(inertia(&simpson(&stations, 120.0, 3, 1000)), 16_010.5, 0.1);
}

/// L 80, eleven breadths, half spacing at both ends. Source: Derrett, exercise 10.8.
#[test]
fn a_waterplane_with_half_stations() {
    let breadths = [0.0, 3.05, 7.1, 9.4, 10.2, 10.36, 10.3, 10.0, 8.84, 5.75, 0.0];
    let at = [0.0, 5.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 75.0, 80.0];
    let stations: Vec<_> = at.iter().zip(breadths).map(|(x, breadth)| (*x, breadth / 2.0)).collect();
    let rest = simpson(&stations, 80.0, 1, 1000);
    check(area(&rest), 671.833, 1.0e-3);
    check(40.0 - rest.flotation.x / SCALE, 1.5743, 1.0e-3);
}

/// L 80, half-breadths 0.2 4 5 5.2 5 4 0.2. Source: marine engineers' exercise.
#[test]
fn a_waterplane_alike_at_both_ends() {
    let half = [0.2, 4.0, 5.0, 5.2, 5.0, 4.0, 0.2];
    let stations: Vec<_> = half.iter().enumerate().map(|(i, y)| (80.0 / 6.0 * i as f64, *y)).collect();
    check(area(&simpson(&stations, 80.0, 1, 1000)), 650.667, 1.0e-3);
}

/// Transverse inertia of Wigley's waterplane 4 x 0.9 m by Simpson's rule over 11 and 21 stations; exact 0.1110857 m⁴.
/// Source: the rule, by hand.
#[test]
fn wigley_waterplane_by_simpson_falls_short() {
    let by = |count: i32| {
        let at = |i: i32| {
            let s = 2.0 * f64::from(i) / f64::from(count - 1) - 1.0;
            (2.0 * (1.0 + s), 0.45 * (1.0 - s * s))
        };
        inertia(&simpson(&(0..count).map(at).collect::<Vec<_>>(), 4.0, 3, 400))
    };
    check(by(11), 0.110_989, 1.0e-6);
    check(by(21), 0.111_079, 1.0e-6);
}

fn wigley(stations: i32, waterlines: i32) -> Body {
    let at = |i: i32| {
        let s = 2.0 * f64::from(i) / f64::from(stations) - 1.0;
        let mut points: Vec<_> = (0..=waterlines)
            .map(|j| {
                let t = f64::from(j) / f64::from(waterlines) - 1.0;
                (450.0 * (1.0 - s * s) * (1.0 - t * t), 150.0 * (1.0 + t))
            })
            .collect();
        let edge = points[points.len() - 1].0;
        points.push((edge, 300.0));
        (2000.0 * (1.0 + s), points)
    };
    body(&(0..=stations).map(at).collect::<Vec<_>>())
}

/// What three grids, each twice as fine as the one before, tend to: facets fall short by even powers of their size
/// (Richardson).
fn limit(figure: impl Fn(i32) -> f64, coarse: i32) -> f64 {
    let [a, b, c] = [1, 2, 4].map(|finer| figure(coarse * finer));
    let (ab, bc) = (b + (b - a) / 3.0, c + (c - b) / 3.0);
    bc + (bc - ab) / 15.0
}

/// Wigley's form 4 x 0.9 x 0.15 m, afloat at the draft it is drawn for. Source: closed forms by integration of its
/// equation.
#[test]
fn wigley_form_matches_its_closed_forms() {
    let figures = [16, 32, 64].map(|n| {
        let hull = wigley(4 * n, n);
        let volume = Cutter::new(&hull).cut(&WaterPlane::new(0.0, 0.0, 150.0), Point::new(0.0, 0.0, 0.0)).volume;
        let rest = floated(&hull, volume * 1.0e-6, (2000.0, 0.0, 100.0), 1000.0);
        check(rest.draft_mean_mm, 150.0, 1.0e-6);
        let bm_long = rest.gm_long_mm + 100.0 - rest.kb_mm;
        [volume * 1.0e-9, rest.waterplane_m2, rest.kb_mm / 1000.0, rest.bm_mm / 1000.0, bm_long / 1000.0]
    });
    for (i, closed) in [0.24, 2.4, 0.093_75, 0.462_857, 8.0].into_iter().enumerate() {
        check(limit(|n| figures[(n / 2) as usize][i], 1), closed, 1.0e-6);
    }
}

/// Wetted surface of the same form. Source: quadrature of its equation.
#[test]
fn wigley_form_has_its_wetted_surface() {
    let wetted = |n: i32| -> f64 {
        let hull = wigley(4 * n, n);
        let points: Vec<_> = hull.points().collect();
        let area = |corners: &[u32; 3]| {
            let [a, b, c] = corners.map(|i| points[i as usize]);
            if [a, b, c].iter().any(|p| p.z > 150.0 + 1.0e-9) {
                return 0.0;
            }
            let (u, v) = ([b.x - a.x, b.y - a.y, b.z - a.z], [c.x - a.x, c.y - a.y, c.z - a.z]);
            let normal = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
            normal.iter().map(|n| n * n).sum::<f64>().sqrt() / 2.0
        };
        hull.triangles().iter().map(area).sum::<f64>() * 1.0e-6
    };
    check(wetted(128), 2.862_96, 1.0e-4);
    check(limit(wetted, 16), 2.862_96, 1.0e-5);
}
