//! The formulas of holes and fasteners against published and hand-computed values.

use gunnel::plan::{Seal, Thread};
use gunnel::study::fastening::drills::{RIVET_DRILLS, ThreadDrills, gland_for, metric_tap_drill, rivet_drill};
use gunnel::study::fastening::{
    ALUMINIUM_PER_KELVIN, Apart, LLDPE_PER_KELVIN, minimum_edge, minimum_spacing, movement_against_aluminium,
    sagitta_gap, seal_fault, thermal_movement,
};

fn check(value: f64, published: f64, tolerance: f64) {
    assert!((value - published).abs() <= tolerance, "{value} is not {published} within {tolerance}");
}

/// The bare metal rule: diameters only, no floor and no ceiling for plastic.
fn metal(diameters: f64) -> Apart {
    Apart { diameters, least_mm: 0.0, cutout_mm: f64::INFINITY }
}

/// Sheet maker's worked example: 96 in of high-density polyethylene over 30 degrees Fahrenheit at
/// 0.00011 in per in and degree grow 0.3168 in.
#[test]
fn sheet_of_polyethylene_grows_as_its_maker_says() {
    check(thermal_movement(96.0, 30.0, 1.1e-4), 0.3168, 1e-4);
}

/// By hand: 3600 mm x 30 K x 180e-6 per K.
#[test]
fn a_hull_grows_by_two_centimetres() {
    check(thermal_movement(3600.0, 30.0, LLDPE_PER_KELVIN), 19.44, 0.01);
}

/// By hand: 300 mm x 30 K x (180 - 23.6)e-6 per K = 1.408 mm, half of it at each end.
#[test]
fn an_aluminium_rail_on_the_hull() {
    let movement = movement_against_aluminium(300.0, 30.0);
    check(movement, 1.408, 0.001);
    check(movement / 2.0, 0.704, 0.001);
    assert_eq!(movement_against_aluminium(300.0, 0.0), 0.0);
    check(LLDPE_PER_KELVIN / ALUMINIUM_PER_KELVIN, 7.6, 0.1);
}

/// Rivet maker's table: 3/16 in wants a number 11 drill, 0.1910 in. AC 43.13-1B: edge 2 D, pitch 3 D.
#[test]
fn a_three_sixteenths_rivet() {
    let body = 25.4 * 3.0 / 16.0;
    check(rivet_drill(body).unwrap_or_default(), 4.851, 0.001);
    check(minimum_edge(body, metal(2.0)), 9.525, 0.001);
    check(minimum_spacing(body, body, metal(3.0)), 14.288, 0.001);
    assert_eq!(rivet_drill(7.0), None);
    assert!(RIVET_DRILLS.iter().all(|(body, drill)| drill > body && drill - body < 0.15));
}

/// ISO 273: clearance holes for metric bolts, fine, medium and coarse series. Tap drill: diameter
/// less pitch.
#[test]
fn metric_clearance_and_tap_drills() {
    for (thread, clearance, pitch) in [
        (Thread::M4, [4.3, 4.5, 4.8], 0.7),
        (Thread::M5, [5.3, 5.5, 5.8], 0.8),
        (Thread::M6, [6.4, 6.6, 7.0], 1.0),
        (Thread::M8, [8.4, 9.0, 10.0], 1.25),
    ] {
        let Some(row) = ThreadDrills::of(thread) else { panic!("no row for {}", thread.word()) };
        assert_eq!([row.close_mm, row.normal_mm, row.loose_mm], clearance, "{}", thread.word());
        // The table rounds to a drill that is sold.
        check(row.tap_mm, metric_tap_drill(row.diameter_mm, pitch), 0.051);
    }
    assert_eq!(metric_tap_drill(6.0, 1.0), 5.0);
}

/// ASME B18.2.8: normal fit by its inch drill, number 2 (0.221 in) for number 10 and 9/32 in for a
/// quarter inch; read to 0.1 mm. Tap drills number 25 (0.1495 in) and number 7 (0.201 in).
#[test]
fn inch_clearance_and_tap_drills() {
    for (thread, normal_in, tap_in) in [(Thread::No10, 0.221, 0.1495), (Thread::Quarter20, 9.0 / 32.0, 0.201)] {
        let Some(row) = ThreadDrills::of(thread) else { panic!("no row for {}", thread.word()) };
        check(row.normal_mm, normal_in * 25.4, 0.1);
        check(row.tap_mm, tap_in * 25.4, 0.001);
    }
}

/// Gland tables: M12 in a hole of 12.5 mm closes on 3 to 6 mm.
#[test]
fn the_smallest_gland() {
    let found: Vec<_> = [2.9, 3.0, 6.0].map(|cable| gland_for(cable).map(|gland| (gland.name, gland.hole_mm))).into();
    assert_eq!(found, [None, Some(("M12", 12.5)), Some(("M12", 12.5))]);
}

/// By hand, chord of a circle: 62 mm across a radius of 300 mm leaves 1.6 mm; a track of 400 mm
/// wants a radius of 10 m to stay within 2 mm.
#[test]
fn the_gap_under_a_base() {
    check(sagitta_gap(62.0, 300.0), 1.6, 0.01);
    check(sagitta_gap(400.0, 10_000.0), 2.0, 1e-9);
    // Against the exact chord: R - sqrt(R^2 - (w/2)^2).
    let exact = 300.0 - (300.0_f64 * 300.0 - 31.0 * 31.0).sqrt();
    check(sagitta_gap(62.0, 300.0), exact, 0.01);
}

/// Trade practice: the clamped gasket holds, silicone and epoxy do not.
#[test]
fn what_holds_on_polyethylene() {
    assert_eq!(seal_fault(Seal::Gasket), None);
    for seal in [Seal::Silicone, Seal::Polysulfide, Seal::Polyurethane, Seal::Epoxy, Seal::None] {
        assert!(seal_fault(seal).is_some(), "{}", seal.word());
    }
}
