//! Conductors, voltage drop and fuses against published tables and worked examples.

use gunnel::study::wire::ampacity::{bundle_share, engine_space_a, table_a};
use gunnel::study::wire::copper::{DENSITY, Lay, MASS_RESISTIVITY, RESISTIVITY_20, mil_foot, ohm_per_m};
use gunnel::study::wire::drop::{USUAL_K, iso_drop_v, loop_ohm, needed_circular_mils, percent};
use gunnel::study::wire::fuse::{OPEN_MM, SHEATHED_MM, SIZES_A, least_a, next_size, rule_a};
use gunnel::study::wire::gauge::{
    Areas, CIRCULAR_MIL_MM2, area_mm2, circular_mils, diameter_mm, thinnest_allowed, thinnest_of, vehicle_circular_mils,
};
use gunnel::units::Temperature;

const FEET_IN_KM: f64 = 3280.84;

fn near(found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{found} is not {expected}");
}

fn celsius(value: f64) -> Temperature {
    Temperature::celsius(value)
}

/// Solid copper at 20 deg C, ohm for a thousand feet.
fn ohm_per_kft(awg: u8) -> f64 {
    1000.0 * ohm_per_m(awg, celsius(20.0), Lay::Solid) / FEET_IN_KM * 1000.0
}

/// ASTM B258: the two sizes the law is laid through, and 14 and 16 AWG by the law.
#[test]
fn the_law_of_the_gauge() {
    near(diameter_mm(36) / 25.4, 0.0050, 1e-9);
    near(diameter_mm(-3) / 25.4, 0.4600, 1e-9);
    near(diameter_mm(14), 1.6277, 0.0005);
    near(area_mm2(16), 1.3087, 0.0005);
    near(circular_mils(16), 2582.7, 0.5);
}

/// A published training text: one circular mil is 5.06707e-4 mm2.
#[test]
fn the_circular_mil() {
    near(CIRCULAR_MIL_MM2, 5.06707e-4, 1e-9);
}

/// A published copper wire table, ohm for a thousand feet at 20 deg C.
#[test]
fn resistance_by_the_published_table() {
    near(1000.0 * ohm_per_m(10, celsius(20.0), Lay::Solid), 3.2770, 0.00328);
    let table =
        [(18, 6.385), (16, 4.016), (14, 2.525), (12, 1.588), (10, 0.9989), (8, 0.6282), (6, 0.3951), (4, 0.2485)];
    for (awg, ohm) in table {
        near(ohm_per_kft(awg), ohm, 0.001 * ohm);
    }
}

/// NBS Handbook 100: 0.15328 ohm g/m2 and 8.89 g/cm3 make 0.0172418 ohm mm2/m; and in mil-foot units 10.371.
#[test]
fn resistivity_of_copper() {
    near(MASS_RESISTIVITY / DENSITY, 0.017_241_8, 1e-6);
    near(RESISTIVITY_20, MASS_RESISTIVITY / DENSITY, 1e-6);
    near(mil_foot(celsius(20.0)), 10.371, 0.002);
    // Own calculation: the K of practice is that of copper at 29.3 deg C.
    near(mil_foot(celsius(29.3)), USUAL_K, 0.005);
}

/// NEC chapter 9 table 8, 75 deg C, uncoated, ohm for a thousand feet: solid 14 AWG, and the stranded column. The
/// table has three digits and a lay of its own for each size; a flat 2 percent stays within 0.6 percent of it.
#[test]
#[allow(clippy::approx_constant, reason = "14 AWG has 3.14 ohm, which is no circle")]
fn resistance_by_the_electrical_code() {
    let at_75 = |awg: u8, lay| 1.0e6 * ohm_per_m(awg, celsius(75.0), lay) / FEET_IN_KM;
    near(at_75(14, Lay::Solid), 3.071, 0.005);
    let stranded = [(18, 7.95), (16, 4.99), (14, 3.14), (12, 1.98), (10, 1.24), (8, 0.778), (6, 0.491), (4, 0.308)];
    for (awg, ohm) in stranded {
        near(at_75(awg, Lay::Stranded), ohm, 0.006 * ohm);
    }
}

/// A published wiring guide: a pump of 10 A, 11 ft out and 10 ft back, 3 percent of 12 V and of 32 V.
#[test]
fn the_circular_mil_formula() {
    let needed = needed_circular_mils(USUAL_K, 10.0, 21.0, 0.36);
    near(needed, 6270.8, 0.1);
    assert_eq!(thinnest_of(needed, Areas::Law), Some(12));
    assert_eq!(thinnest_of(needed, Areas::Vehicle), Some(10));
    near(needed_circular_mils(USUAL_K, 10.0, 21.0, 0.96), 2351.6, 0.1);
    // Own calculation: 30 A over 4 m there and back, 3 and 10 percent of 12 V.
    let loop_ft = 4.0 / 0.3048;
    near(needed_circular_mils(USUAL_K, 30.0, loop_ft, 0.36), 11_756.0, 5.0);
    near(needed_circular_mils(USUAL_K, 30.0, loop_ft, 1.2), 3_527.0, 5.0);
}

/// Own calculations by `V = I R_loop`, solid copper at 20 deg C.
#[test]
fn drop_there_and_back() {
    let drop = |amps: f64, one_way_mm, awg| amps * loop_ohm(one_way_mm, awg, celsius(20.0), Lay::Solid);
    // A sounder of 1.5 A, 2.5 m off on 16 AWG.
    near(drop(1.5, 2500.0, 16), 0.0988, 0.0002);
    near(percent(drop(1.5, 2500.0, 16), 12.0), 0.823, 0.005);
    // A motor of 30 A, 2 m off on 8 AWG, at 12 and 24 V, and the watts that heat the wire.
    near(drop(30.0, 2000.0, 8), 0.2473, 0.0005);
    near(percent(drop(30.0, 2000.0, 8), 12.0), 2.061, 0.005);
    near(30.0 * drop(30.0, 2000.0, 8), 7.419, 0.02);
    near(percent(drop(30.0, 2000.0, 8), 24.0), 1.030, 0.005);
}

/// A supplier's page on the ISO formula: 1.6 A through 22 m of 1.5 mm2 there and back prints 0.38 V.
#[test]
fn the_iso_formula() {
    near(iso_drop_v(1.6, 22.0, 1.5), 0.385, 0.001);
    // Its resistivity is under copper's at 20 and at 75 deg C by 5 and 22 percent (own calculation).
    let at = |temperature| 1.0 - 0.0164 / (0.017_241 * (1.0 + 0.00393 * (temperature - 20.0)));
    near(at(20.0), 0.049, 0.001);
    near(at(75.0), 0.218, 0.001);
    near(iso_drop_v(1.6, 22.0, 1.5) / (1.6 * RESISTIVITY_20 * 22.0 / 1.5), 1.0 - at(20.0), 1e-9);
}

/// 33 CFR 183.425 Table 5.
#[test]
fn what_a_wire_may_carry() {
    for (insulation, amps) in [(60.0, 20.0), (75.0, 20.0), (80.0, 25.0), (90.0, 30.0), (105.0, 35.0)] {
        assert_eq!(table_a(14, celsius(insulation)), Some(amps), "{insulation} deg C");
    }
    let at_105: Vec<Option<f64>> =
        [18, 16, 14, 12, 10, 8, 6, 4].iter().map(|awg| table_a(*awg, celsius(105.0))).collect();
    assert_eq!(at_105, [20.0, 25.0, 35.0, 45.0, 60.0, 80.0, 120.0, 160.0].map(Some));
    assert_eq!(table_a(20, celsius(105.0)), None, "the table begins at 18");
}

/// A maker's table of the same for the space of an engine: 0.85 of the 105 deg C column.
#[test]
fn less_in_the_space_of_an_engine() {
    let at_105: Vec<Option<f64>> =
        [18, 16, 14, 12, 10, 8, 6, 4].iter().map(|awg| engine_space_a(*awg, celsius(105.0))).collect();
    assert_eq!(at_105, [17.0, 21.0, 30.0, 38.0, 51.0, 68.0, 102.0, 136.0].map(Some));
}

/// Note 2 of Table 5, from memory.
#[test]
fn less_in_a_bundle() {
    let shares = [2, 3, 4, 6, 7, 24, 25].map(bundle_share);
    assert_eq!(shares, [1.0, 0.70, 0.60, 0.60, 0.50, 0.50, 0.40]);
}

/// 33 CFR 183.455(c)(1): at most 150 percent of Table 5 below 50 V; a maker's guide: at least 125 percent of the load;
/// a supplier's list of blade fuses.
#[test]
fn fuses() {
    assert_eq!(rule_a(16, celsius(105.0)), Some(37.5));
    assert_eq!(rule_a(20, celsius(105.0)), None);
    near(least_a(4.2), 5.25, 1e-12);
    assert_eq!(next_size(least_a(4.2)), Some(7.5));
    let regular = [1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0];
    assert!(SIZES_A.starts_with(&regular));
}

/// 33 CFR 183.425(d), (e) and 183.455(b): 18 AWG in a sheath, 16 singly; a fuse within 7 in, or 40 in sheathed.
#[test]
fn thinnest_wire_and_place_of_the_fuse() {
    assert_eq!((thinnest_allowed(false), thinnest_allowed(true)), (16, 18));
    near(OPEN_MM, 7.0 * 25.4, 1e-9);
    near(SHEATHED_MM, 40.0 * 25.4, 1e-9);
}

/// A published chart for 3 percent of 12 V: loop feet and amperes, and the size it prints. It follows the areas of
/// vehicle cable in 25 of 27 cells; in two (10 ft, 20 and 50 A) it prints one size less than its own rule gives.
#[test]
fn the_three_percent_chart() {
    let amps = [5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0];
    let rows = [
        (10.0, [18, 14, 12, 12, 10, 10, 8, 8, 6]),
        (15.0, [16, 12, 10, 10, 8, 8, 6, 6, 4]),
        (20.0, [14, 10, 10, 8, 6, 6, 6, 4, 4]),
    ];
    let mut differs = Vec::new();
    for (loop_ft, sizes) in rows {
        for (amps, size) in amps.into_iter().zip(sizes) {
            let ours = thinnest_of(needed_circular_mils(USUAL_K, amps, loop_ft, 0.36), Areas::Vehicle);
            if ours != Some(size) {
                differs.push((loop_ft, amps, size, ours));
            }
        }
    }
    assert_eq!(differs, [(10.0, 20.0, 12, Some(10)), (10.0, 50.0, 8, Some(6))]);
    assert_eq!(vehicle_circular_mils(12), Some(5833.0));
}
