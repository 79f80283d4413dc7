//! Floating bodies against published figures and closed forms.
//!
//! Formulas of textbooks are exact for some body: a wall-sided box obeys the wall-sided formula until its
//! bilge or deck edge passes the water, a log the sine of the heel. The figures are asked of such a body.
//! Ships are built at 1 : 100 (10 mm a metre) and their tonnes taken as kilograms over a thousand.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Body, Form, Point, Section};
use gunnel::study::float::{Equilibrium, Load, equilibrium, free_surface_loss, gz_curve, heel_under, righting_arm};

pub fn check(value: f64, published: f64, tolerance: f64) {
    assert!((value - published).abs() <= tolerance, "{value} is not {published} within {tolerance}");
}

/// Millimetres a metre of a ship.
pub const SCALE: f64 = 10.0;
/// Kilograms a tonne of a ship: the volume shrinks by a million.
pub const TONNE: f64 = 1.0e-3;

pub fn body(sections: &[(f64, Vec<(f64, f64)>)]) -> Body {
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

pub fn floated(body: &Body, mass_kg: f64, at: (f64, f64, f64), water: f64) -> Equilibrium {
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
    check((moved.draft_aft_mm - moved.draft_fore_mm) / SCALE * 100.0, 37.001, 1.0e-3);
}

/// L 120 m at 6.7 m fore and 7.3 m aft, MCTC 250 t m, TPC 10 t, floating about amidships; 220 t are put ashore from 24 m
/// forward. Source: Derrett, example on change of trim (its drafts rounded to 6.37 and 7.19 m).
///
/// The rule takes MCTC and TPC as constant. So they are for a box whose mass hangs deep enough to give it that MCTC,
/// when the cargo lay at the height of the water, where what it takes from the mass it takes from the buoyancy.
#[test]
fn cargo_put_ashore_changes_the_trim() {
    let (length, tpc, mctc) = (120.0, 10.0, 250.0);
    let area = 100.0 * tpc / 1.025;
    let hull = block(length * SCALE, area / length * SCALE, 12.0 * SCALE);
    // Draft, mass and moment by the stern about amidships, t m.
    let afloat = |draft: f64, moment: f64| {
        let mass = area * draft * 1.025;
        let bm_long = length * length / (12.0 * draft);
        let kg = draft / 2.0 + bm_long - 100.0 * length * mctc / mass;
        let at = ((length / 2.0 - moment / mass) * SCALE, 0.0, kg * SCALE);
        let rest = floated(&hull, mass * TONNE, at, 1025.0);
        check(rest.kg_per_cm * SCALE / TONNE / SCALE.powi(3), tpc, 1.0e-3);
        rest
    };
    let laden = afloat(7.0, mctc * 60.0);
    check(laden.draft_fore_mm / SCALE, 6.7, 1.0e-4);
    check(laden.draft_aft_mm / SCALE, 7.3, 1.0e-4);
    let light = afloat(7.0 - 220.0 / (100.0 * tpc), mctc * 60.0 + 220.0 * 24.0);
    check(light.draft_fore_mm / SCALE, 6.3744, 1.0e-4);
    check(light.draft_aft_mm / SCALE, 7.1856, 1.0e-4);
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
    // The published stiffness is that of the box at its mean draft. Trimmed, its centre of buoyancy lies higher by
    // BM_L tan² / 2, which is 0.48 mm here and more than the 0.1 mm of the comparison.
    check(small(mass, (1800.0, 0.0, z), 1000.0).gm_mm / 1000.0, 0.594_41, 1.0e-4);
    let tan = laden.trim_deg.to_radians().tan();
    let rise = SMALL.0.powi(2) / (12.0 * laden.draft_mean_mm) * tan * tan / 2.0;
    check(rise, 0.48, 0.01);
    check((laden.gm_mm - rise) / 1000.0, 0.594_41, 1.0e-4);
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

/// The heel at which a spot of a box 3.6 x 0.85 m passes the water.
fn passes(depth: f64, draft: f64, edge: Point) -> f64 {
    let hull = block(SMALL.0, SMALL.1, depth);
    let mass_kg = SMALL.0 * SMALL.1 * draft * 1.0e-6;
    let load = Load { mass_kg, centre: Point::new(1800.0, 0.0, 350.0), water_kg_per_m3: 1000.0 };
    let height = |heel: f64| righting_arm(&hull, &load, heel).unwrap().plane.height(edge);
    let (mut before, mut after) = (0.0, 60.0);
    let side = height(before) > 0.0;
    assert_ne!(side, height(after) > 0.0, "{edge:?} does not pass the water");
    while after - before > 1.0e-6 {
        let middle = f64::midpoint(before, after);
        if (height(middle) > 0.0) == side { before = middle } else { after = middle }
    }
    after
}

/// The small box of depth 0.30 m. Sources: `atan(2 d / B)` for the bilge, exact as long as the deck is dry. The deck's
/// edge by the section cut by hand: once the bilge is out, a triangle of `D / tan` by D under water, so that
/// `tan = D² / (2 B d)` = 0.9.
///
/// The published 29.574 degrees for the deck's edge are `atan(2 f / B)`, which turns the water about the centreline
/// and so holds only while the bilge is wet: for the same freeboard on a deeper box.
#[test]
fn edges_of_a_box_pass_the_water() {
    let draft = 180.0 / (3.6 * 0.85);
    check(passes(300.0, draft, Point::new(1800.0, 425.0, 0.0)), 7.880, 1.0e-3);
    let freeboard = 300.0 - draft;
    check((2.0 * freeboard / SMALL.1).atan().to_degrees(), 29.574, 1.0e-3);
    check(passes(300.0, draft, Point::new(1800.0, -425.0, 300.0)), 0.9_f64.atan().to_degrees(), 1.0e-3);
    check(passes(600.0, 600.0 - freeboard, Point::new(1800.0, -425.0, 600.0)), 29.574, 1.0e-3);
}

/// The same heels from the search that the curve of levers starts.
#[test]
fn the_deck_edge_is_found_from_the_curve() {
    let under = |depth: f64, draft: f64| {
        let hull = block(SMALL.0, SMALL.1, depth);
        let mass_kg = SMALL.0 * SMALL.1 * draft * 1.0e-6;
        let load = Load { mass_kg, centre: Point::new(1800.0, 0.0, 350.0), water_kg_per_m3: 1000.0 };
        let gunwale = [(0.0, 425.0), (0.0, -425.0), (3600.0, -425.0)].map(|(x, y)| Point::new(x, y, depth));
        heel_under(&hull, &load, &gz_curve(&hull, &load).unwrap(), &gunwale)
    };
    let draft = 180.0 / (3.6 * 0.85);
    check(under(300.0, draft).unwrap(), 0.9_f64.atan().to_degrees(), 1.0e-4);
    check(under(600.0, 300.0 + draft).unwrap(), (2.0 * (300.0 - draft) / SMALL.1).atan().to_degrees(), 1.0e-4);
    assert_eq!(under(1200.0, draft), None, "tan would be 14.4");
}
