//! Floating bodies against published figures and closed forms.
//!
//! Formulas of textbooks are exact for some body: a wall-sided box obeys the wall-sided formula until its
//! bilge or deck edge passes the water, a log the sine of the heel. The figures are asked of such a body.
//! Ships are built at 1 : 100 (10 mm a metre) and their tonnes taken as kilograms over a thousand.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Body, Form, Point, Section};
use gunnel::study::float::{Equilibrium, Load, equilibrium, free_surface_loss, righting_arm};

fn check(value: f64, published: f64, tolerance: f64) {
    assert!((value - published).abs() <= tolerance, "{value} is not {published} within {tolerance}");
}

/// Millimetres a metre of a ship.
const SCALE: f64 = 10.0;
/// Kilograms a tonne of a ship: the volume shrinks by a million.
const TONNE: f64 = 1.0e-3;

fn body(sections: &[(f64, Vec<(f64, f64)>)]) -> Body {
    let sections = sections.iter().map(|(x_mm, p)| Section { x_mm: *x_mm, points_mm: p.clone() }).collect();
    Body::of(&Form { sections }).unwrap()
}

/// A body of one section all along.
fn prismatic(length: f64, section: Vec<(f64, f64)>) -> Body {
    body(&[(0.0, section.clone()), (length, section)])
}

fn block(length: f64, beam: f64, depth: f64) -> Body {
    prismatic(length, vec![(0.0, 0.0), (beam / 2.0, 0.0), (beam / 2.0, depth)])
}

/// A round log with its axis at this height, decked flat well over it.
fn log(length: f64, radius: f64) -> Body {
    let arc = |i: i32| {
        let angle = f64::from(i) * std::f64::consts::PI / 1000.0;
        (radius * angle.sin(), radius * (1.0 - angle.cos()))
    };
    prismatic(length, (0..=950).map(arc).collect())
}

fn floated(body: &Body, mass_kg: f64, at: (f64, f64, f64), water: f64) -> Equilibrium {
    equilibrium(body, &Load { mass_kg, centre: at.into(), water_kg_per_m3: water }).unwrap()
}

/// A ship's box in metres, at a draft, with its centre of mass at KG and a distance off the centreline.
fn ship(size: (f64, f64, f64), draft: f64, kg: f64, off: f64, water: f64) -> Equilibrium {
    let (length, beam, depth) = size;
    let body = block(length * SCALE, beam * SCALE, depth * SCALE);
    let mass = length * beam * draft * SCALE.powi(3) * water * 1.0e-9;
    floated(&body, mass, (length * SCALE / 2.0, off * SCALE, kg * SCALE), water)
}

fn km(beam: f64, draft: f64) -> f64 {
    let rest = ship((3.0 * beam, beam, 2.0 * beam), draft, 0.0, 0.0, 1025.0);
    (rest.kb_mm + rest.bm_mm) / SCALE
}

fn lever(size: (f64, f64, f64), draft: f64, kg: f64, heel_deg: f64) -> f64 {
    let (length, beam, depth) = size;
    let body = block(length * SCALE, beam * SCALE, depth * SCALE);
    let mass_kg = length * beam * draft * SCALE.powi(3) * 1000.0 * 1.0e-9;
    let centre = Point::new(length * SCALE / 2.0, 0.0, kg * SCALE);
    righting_arm(&body, &Load { mass_kg, centre, water_kg_per_m3: 1000.0 }, heel_deg).unwrap().gz_mm / SCALE
}

/// Box 65 x 12 x 8 m at 4 m in salt water. Source: Derrett, Ship Stability, page 142.
#[test]
fn a_box_has_the_metacentre_of_the_textbook() {
    let rest = ship((65.0, 12.0, 8.0), 4.0, 4.0, 0.0, 1025.0);
    check(rest.displacement_kg / TONNE, 3198.0, 1.0e-6);
    check(rest.kb_mm / SCALE, 2.0, 1.0e-6);
    check(rest.bm_mm / SCALE, 3.0, 1.0e-6);
    check(rest.gm_mm / SCALE, 1.0, 1.0e-6);
}

/// The same box heeled. Sources: Derrett page 142 (wall-sided formula) and exact cuts of the section.
#[test]
fn a_box_rights_itself_by_the_wall_sided_formula_until_the_deck_goes_under() {
    let at = |heel| lever((65.0, 12.0, 8.0), 4.0, 4.0, heel);
    check(at(0.01) / 0.01_f64.to_radians().sin() * 5.0_f64.to_radians().sin(), 0.087_156, 1.0e-6);
    check(at(5.0), 0.088_156, 1.0e-6);
    check(at(25.0), 0.560_461, 1.0e-6);
    check(at(40.0), 1.133_65, 1.0e-4);
}

/// W 6000 t, KB 3, KM 6, KG 5.5 at 25 degrees: a box of draft 6 with BM 3. Source: Derrett page 142.
#[test]
fn a_righting_moment_of_the_textbook() {
    let gz = lever((60.0, 216.0_f64.sqrt(), 14.0), 6.0, 5.5, 25.0);
    check(gz, 0.349_152, 1.0e-5);
    check(gz * 6000.0, 2094.9, 0.1);
}

/// A box 150 x 24 at 5 m of which 20 m amidships is open to the sea. Source: Derrett page 206.
#[test]
fn a_bilged_compartment_sinks_the_rest() {
    let rest = ship((130.0, 24.0, 12.0), 5.0 * 150.0 / 130.0, 5.0, 0.0, 1025.0);
    check(rest.draft_mean_mm / SCALE - 5.0, 0.7692, 1.0e-4);
}

/// Sources: Derrett page 111 (beam 10), Reeds volume on naval architecture, question 55 (beam 7.2).
#[test]
fn the_metacentre_of_a_box_is_lowest_at_a_sixth_root() {
    let draft = 10.0 / 6.0_f64.sqrt();
    check(km(10.0, draft), 4.0825, 1.0e-4);
    assert!(km(10.0, draft - 0.05) > km(10.0, draft) && km(10.0, draft + 0.05) > km(10.0, draft));
    check(km(7.2, 2.0), 3.160, 1.0e-3);
    check(km(7.2, 2.5), 2.978, 1.0e-3);
    check(km(7.2, 3.0), 2.940, 1.0e-3);
    check(km(7.2, 4.0), 3.080, 1.0e-3);
    check(km(7.2, 2.4), 3.0, 1.0e-9);
    check(km(7.2, 3.6), 3.0, 1.0e-9);
}

/// A triangular prism 40 x 12 at the waterplane with KB 3.6 in salt water. Source: merchant navy exercise 8.
#[test]
fn a_prism_floats_as_in_the_exercise() {
    let wide = 6.0 * SCALE / (5.4 * SCALE);
    let prism = prismatic(40.0 * SCALE, vec![(0.0, 0.0), (wide * 9.0 * SCALE, 9.0 * SCALE)]);
    let rest = floated(&prism, 1328.4 * TONNE, (20.0 * SCALE, 0.0, 5.0 * SCALE), 1025.0);
    check(rest.draft_mean_mm / SCALE, 5.4, 1.0e-4);
    check(rest.kb_mm / SCALE, 3.6, 1.0e-4);
    check(rest.bm_mm / SCALE, 4.4444, 1.0e-4);
    check((rest.kb_mm + rest.bm_mm) / SCALE, 8.0444, 1.0e-4);
}

/// A wall-sided body whose half-breadths run as parabolas through each three stations: Simpson's first rule
/// is exact for its waterplane. Stations in m from the bow; the pairs of spacings may differ.
fn parabolic(stations: &[(f64, f64)], length: f64) -> Equilibrium {
    const PARTS: i32 = 400;
    let mut sections = Vec::new();
    for triple in stations.windows(3).step_by(2) {
        let [(x0, y0), (_, y1), (x2, y2)] = [triple[0], triple[1], triple[2]];
        let first = i32::from(!sections.is_empty());
        for i in first..=PARTS {
            let t = f64::from(i) / f64::from(PARTS);
            let y = y0 * (1.0 - t) * (1.0 - 2.0 * t) + 4.0 * y1 * t * (1.0 - t) + y2 * t * (2.0 * t - 1.0);
            let (x, y) = ((length - (x0 + (x2 - x0) * t)) * SCALE, y.max(0.0) * SCALE);
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

/// L 120, half-breadths 0 3.7 5.9 7.6 7.5 4.6 0.1. Source: Derrett page 74.
#[test]
fn a_waterplane_of_seven_stations() {
    let half = [0.0, 3.7, 5.9, 7.6, 7.5, 4.6, 0.1];
    let stations: Vec<_> = half.iter().enumerate().map(|(i, y)| (20.0 * i as f64, *y)).collect();
    let rest = parabolic(&stations, 120.0);
    check(rest.waterplane_m2 / SCALE.powi(2) * 1.0e6, 1206.667, 0.02);
    check(rest.kg_per_cm * SCALE / TONNE / SCALE.powi(3), 12.368, 1.0e-3);
    check(60.0 - rest.flotation.x / SCALE, 2.3646, 2.0e-3);
}

/// L 80, eleven breadths, half spacing at both ends. Source: Derrett, exercise 10.8.
#[test]
fn a_waterplane_with_half_stations() {
    let breadths = [0.0, 3.05, 7.1, 9.4, 10.2, 10.36, 10.3, 10.0, 8.84, 5.75, 0.0];
    let at = [0.0, 5.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0, 75.0, 80.0];
    let stations: Vec<_> = at.iter().zip(breadths).map(|(x, breadth)| (*x, breadth / 2.0)).collect();
    let rest = parabolic(&stations, 80.0);
    check(rest.waterplane_m2 / SCALE.powi(2) * 1.0e6, 671.833, 0.02);
    check(40.0 - rest.flotation.x / SCALE, 1.5743, 2.0e-3);
}

/// L 80, half-breadths 0.2 4 5 5.2 5 4 0.2. Source: marine engineers' exercise.
#[test]
fn a_waterplane_alike_at_both_ends() {
    let half = [0.2, 4.0, 5.0, 5.2, 5.0, 4.0, 0.2];
    let stations: Vec<_> = half.iter().enumerate().map(|(i, y)| (80.0 / 6.0 * i as f64, *y)).collect();
    check(parabolic(&stations, 80.0).waterplane_m2 / SCALE.powi(2) * 1.0e6, 650.667, 0.02);
}

/// List of a log whose centre of mass lies `gm` under its axis, by a moment over the mass, m.
fn list_of_a_log(gm: f64, lever: f64) -> f64 {
    let (length, radius) = (100.0 * SCALE, 8.0 * SCALE);
    let hull = log(length, radius);
    let mass = hull.volume() * 0.5 * 1000.0e-9;
    floated(&hull, mass, (length / 2.0, -lever * SCALE, radius - gm * SCALE), 1000.0).heel_deg
}

/// `tan(list) = w d / (W GM)`. Source: merchant navy exercises on list, examples 11 to 14.
#[test]
fn a_log_lists_by_the_tangent() {
    check(list_of_a_log(0.3, 100.0 / 5000.0), 3.8141, 1.0e-3);
    check(list_of_a_log(2.0, 1200.0 / 8000.0), 4.2892, 1.0e-3);
    check(list_of_a_log(0.6, 1000.0 / 10_000.0), 9.4623, 1.0e-3);
    check(list_of_a_log(0.4, 15.0 * 4.2045 / 4515.0), 2.0, 1.0e-3);
}

/// A box of BM 3 or 4.2 m with no metacentric height, or less than none. Sources: `tan³ = 2 w d / (W BM)` and
/// `tan² = -2 GM / BM`, Derrett and Barrass (from memory); exact for a box until an edge passes the water.
#[test]
fn a_box_without_stiffness_lolls() {
    let draft = 6.0;
    let beam = |bm: f64| (12.0 * draft * bm).sqrt();
    let off = -2.0 * 12.0 / 12_250.0;
    let listed = ship((100.0, beam(4.2), 14.0), draft, draft / 2.0 + 4.2, off, 1025.0);
    check(listed.heel_deg, 5.5808, 1.0e-3);
    let nudged = ship((100.0, beam(3.0), 14.0), draft, draft / 2.0 + 3.1, -1.0e-9, 1025.0);
    check(nudged.heel_deg, 14.4775, 1.0e-3);
    let upright = ship((100.0, beam(3.0), 14.0), draft, draft / 2.0 + 3.1, 0.0, 1025.0);
    check(upright.gm_mm / SCALE, -0.1, 1.0e-6);
}

/// Two tanks 40 x 30 ft of specific gravity 0.86 in a ship of 9000 long tons. Source: stability course, page on
/// free surface. With 35 cubic feet of sea a ton the densities only enter by their ratio.
#[test]
fn slack_tanks_take_their_share() {
    let tank = |length: f64, width: f64, liquid: f64, sea: f64, volume: f64| {
        free_surface_loss(length, width, liquid, volume * sea * 1.0e-9)
    };
    check(2.0 * tank(40.0, 30.0, 0.86, 1.025, 9000.0 * 35.0), 0.479_44, 1.0e-4);
    // A well 0.6 by 0.4 m in a boat of 180 kg, and the same parted down the middle: closed form.
    check(free_surface_loss(600.0, 400.0, 1000.0, 180.0) / 1000.0, 0.017_778, 1.0e-6);
    check(2.0 * free_surface_loss(600.0, 200.0, 1000.0, 180.0) / 1000.0, 0.004_444, 1.0e-6);
}

/// A box 86 x 18.2 m that goes from dock water to the sea. Source: exercise on change of draft by density.
#[test]
fn dock_water_lets_a_box_sink_deeper() {
    let size = (86.0, 18.2, 9.0);
    let rest = ship(size, 3.6, 2.0, 0.0, 1025.0);
    check(rest.displacement_kg / TONNE, 5775.588, 1.0e-3);
    let hull = block(size.0 * SCALE, size.1 * SCALE, size.2 * SCALE);
    let at = (size.0 * SCALE / 2.0, 0.0, 2.0 * SCALE);
    check(floated(&hull, 5775.588 * TONNE, at, 1012.0).draft_mean_mm / SCALE, 3.6462, 1.0e-3);
    check(floated(&hull, 6075.6 * TONNE, at, 1012.0).draft_mean_mm / SCALE, 3.8356, 1.0e-3);
    let deep = ship(size, 5.62, 2.0, 0.0, 1025.0);
    check(deep.displacement_kg / TONNE - 6075.6, 2940.7, 0.1);
}

/// A box 90 x 10 x 6 m at 3 m with KG at B. Source: Derrett chapter 15 (from memory), BM taken for GM.
#[test]
fn a_weight_moved_aft_trims_a_box() {
    let rest = ship((90.0, 10.0, 6.0), 3.0, 1.5, 0.0, 1025.0);
    check(rest.gm_long_mm / SCALE, 225.0, 1.0e-6);
    check(rest.moment_to_trim_1cm_kgm / TONNE, 69.1875, 1.0e-3);
    let hull = block(90.0 * SCALE, 10.0 * SCALE, 6.0 * SCALE);
    let aft = (45.0 - 64.0 * 40.0 / 2767.5) * SCALE;
    let moved = floated(&hull, 2767.5 * TONNE, (aft, 0.0, 1.5 * SCALE), 1025.0);
    check((moved.draft_aft_mm - moved.draft_fore_mm) / SCALE * 100.0, 37.001, 2.0e-3);
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

/// Wigley's form 4 x 0.9 x 0.15 m. Source: closed forms by integration of its equation.
///
/// Straight facets fall short by the square of their size, so two grids are taken and the shortfall
/// extrapolated away (Richardson).
#[test]
fn wigley_form_matches_its_closed_forms() {
    let figures = |n: i32| {
        let hull = wigley(4 * n, n);
        // Afloat at the water for which it was drawn, whatever that grid's volume there.
        let mut water = 1000.0;
        let mut rest = floated(&hull, 240.0, (2000.0, 0.0, 100.0), water);
        for _ in 0..60 {
            water *= 1.0 + (rest.draft_mean_mm - 150.0) * rest.waterplane_m2 / 240.0;
            rest = floated(&hull, 240.0, (2000.0, 0.0, 100.0), water);
        }
        check(rest.draft_mean_mm, 150.0, 1.0e-6);
        let volume = 240.0 / water;
        [volume, rest.waterplane_m2, rest.kb_mm, rest.bm_mm, rest.gm_long_mm + 100.0 - rest.kb_mm]
    };
    let (coarse, fine) = (figures(16), figures(32));
    let better: Vec<f64> = fine.iter().zip(coarse).map(|(fine, coarse)| fine + (fine - coarse) / 3.0).collect();
    check(better[0], 0.24, 1.0e-6);
    check(better[1], 2.4, 1.0e-5);
    check(better[2], 93.75, 1.0e-3);
    check(better[3], 462.857, 3.0e-3);
    check(better[4], 8000.0, 3.0e-2);
}

/// The small box 3.6 x 0.85 m of 180 kg, KG 0.35, in fresh water.
const SMALL: (f64, f64) = (3600.0, 850.0);

fn small(mass: f64, at: (f64, f64, f64), water: f64) -> Equilibrium {
    floated(&block(SMALL.0, SMALL.1, 300.0), mass, at, water)
}

/// Source: closed forms of a box.
#[test]
fn the_small_box_floats_by_the_closed_forms() {
    let rest = small(180.0, (1800.0, 0.0, 350.0), 1000.0);
    check(rest.draft_mean_mm / 1000.0, 0.058_823_5, 1.0e-5);
    check(rest.gm_mm / 1000.0, 0.702_953, 1.0e-5);
    check(rest.gm_long_mm / 1000.0, 18.0394, 1.0e-4);
    check(rest.kg_per_cm, 30.6, 1.0e-5);
    check(rest.moment_to_trim_1cm_kgm, 9.0197, 1.0e-4);
    let sea = small(180.0, (1800.0, 0.0, 350.0), 1025.0);
    check(rest.draft_mean_mm - sea.draft_mean_mm, 1.4347, 1.0e-3);
}

/// Source: `tan = w d / (W GM)` for the small one, the section cut exactly for the large one.
#[test]
fn a_weight_to_starboard_lists_the_small_box() {
    let listed = |moment: f64| small(180.0, (1800.0, -moment / 180.0, 350.0), 1000.0).heel_deg;
    check(listed(6.0 * 300.0), 0.8149, 5.0e-4);
    check(listed(75.0 * 150.0), 5.0522, 5.0e-4);
    check(listed(-75.0 * 150.0), -5.0522, 5.0e-4);
}

/// Source: moment over displacement times longitudinal metacentric height.
#[test]
fn a_weight_moved_forward_trims_the_small_box() {
    let rest = small(180.0, (1800.0 + 8.0 * 1200.0 / 180.0, 0.0, 350.0), 1000.0);
    check(rest.draft_fore_mm - rest.draft_aft_mm, 10.643, 0.005);
    check(rest.trim_deg, 0.169_39, 1.0e-4);
    let (mass, z) = (205.0, (180.0 * 350.0 + 25.0 * 250.0) / 205.0);
    let laden = small(mass, (1800.0 - 25.0 * 1000.0 / mass, 0.0, z), 1000.0);
    check(laden.draft_aft_mm / 1000.0, 0.080_87, 1.0e-4);
    check(laden.draft_fore_mm / 1000.0, 0.053_11, 1.0e-4);
    // The published stiffness is that of the box laid level; trimmed it is half a millimetre more.
    check(small(mass, (1800.0, 0.0, z), 1000.0).gm_mm / 1000.0, 0.594_41, 1.0e-4);
}

/// Source: the section cut exactly; the wall-sided formula gives 0.125, 0.191 and 0.264 m at 10, 15 and 20.
#[test]
fn the_small_box_rights_itself_less_than_the_formula_says() {
    let hull = block(SMALL.0, SMALL.1, 300.0);
    let load = Load { mass_kg: 180.0, centre: Point::new(1800.0, 0.0, 350.0), water_kg_per_m3: 1000.0 };
    for (heel, gz) in [(5.0, 0.061_61), (10.0, 0.118_24), (15.0, 0.137_36), (20.0, 0.137_23), (30.0, 0.112_97)] {
        check(righting_arm(&hull, &load, heel).unwrap().gz_mm / 1000.0, gz, 1.0e-5);
    }
}

/// The heel at which the bilge comes out and the deck's edge goes under. Source: `atan(2 d / B)`, `atan(2 f / B)`,
/// each for a box whose other edge has not passed the water yet.
#[test]
fn edges_of_a_box_pass_the_water() {
    let passes = |depth: f64, draft: f64, edge: Point, degrees: f64| {
        let hull = block(SMALL.0, SMALL.1, depth);
        let mass_kg = SMALL.0 * SMALL.1 * draft * 1.0e-6;
        let load = Load { mass_kg, centre: Point::new(1800.0, 0.0, 350.0), water_kg_per_m3: 1000.0 };
        let height = |heel: f64| righting_arm(&hull, &load, heel).unwrap().plane.height(edge);
        assert!(height(degrees - 1.0e-3) * height(degrees + 1.0e-3) < 0.0, "{edge:?} at {degrees}");
    };
    let draft = 180.0 / (3.6 * 0.85);
    passes(300.0, draft, Point::new(1800.0, 425.0, 0.0), 7.880);
    let freeboard = 300.0 - draft;
    passes(600.0, 600.0 - freeboard, Point::new(1800.0, -425.0, 600.0), 29.574);
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
    check(wetted(32), 2.862_96, 1.0e-3);
    check(wetted(32) + (wetted(32) - wetted(16)) / 3.0, 2.862_96, 1.0e-4);
}
