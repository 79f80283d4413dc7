//! The wires of small plans against sums by hand, and nonsense wiring that must not upset anything.

use gunnel::checks;
use gunnel::plan::{Chemistry, Circuit, GearId, Kind, Main, Plan};
use gunnel::study::Study;
use gunnel::study::wiring::length::LengthBy;
use gunnel::study::wiring::run::Run;
use gunnel::study::wiring::{Wiring, conductor};
use gunnel::units::{Current, Length, Temperature};
use proptest::prelude::*;

use crate::test_power::{
    add_electric, battery, circuit, converter, load, main_fuse, motor, name, one_load, place, plan, switch,
};

fn near(found: f64, expected: f64) {
    within(found, expected, 1e-9 * expected.abs().max(1.0));
}

fn within(found: f64, expected: f64, by: f64) {
    assert!((found - expected).abs() <= by, "{found} is not {expected}");
}

fn wiring(plan: &Plan) -> Wiring {
    assert_eq!(plan.validate(), Ok(()));
    Study::of(plan).wiring
}

fn first(plan: &Plan) -> Run {
    wiring(plan).circuits[0].run.clone()
}

fn lithium(plan: &mut Plan, label: &str) -> GearId {
    add_electric(plan, label, Kind::Battery, battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None))
}

/// Battery at 1000 mm, switch unit at 1300, display at 2500, on channel 1.
fn rigged() -> (Plan, [GearId; 3]) {
    let mut plan = plan();
    let source = lithium(&mut plan, "battery");
    let unit = add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, 10.0, 15.0));
    let display = add_electric(&mut plan, "display", Kind::Display, load(12.0, 1.4, 1.8));
    circuit(&mut plan, "sonar", source, &[display]).channel = Some((unit, 1));
    for (gear, x_mm) in [(source, 1000.0), (unit, 1300.0), (display, 2500.0)] {
        place(&mut plan, gear, x_mm);
    }
    (plan, [source, unit, display])
}

#[test]
fn the_straight_way_goes_by_the_switch_unit() {
    let (mut plan, [_, unit, display]) = rigged();
    let way = first(&plan).one_way.expect("both ends aboard");
    assert_eq!(way.by, LengthBy::Straight);
    near(way.mm, 1.1 * (300.0 + 1200.0) + 300.0);
    // Past the display and back.
    place(&mut plan, unit, 3000.0);
    near(first(&plan).one_way.expect("both ends aboard").mm, 1.1 * (2000.0 + 500.0) + 300.0);
    plan.gear_mut(unit).expect("the unit").place = None;
    near(first(&plan).one_way.expect("both ends aboard").mm, 1.1 * 1500.0 + 300.0);
    plan.wiring.circuits[0].length = Some(Length::m(2.5));
    let way = first(&plan).one_way.expect("a tape");
    assert_eq!((way.mm, way.by), (2500.0, LengthBy::Measured));
    plan.wiring.circuits[0].length = None;
    plan.gear_mut(display).expect("the display").place = None;
    assert_eq!(first(&plan).one_way, None);
}

/// Two wires in series and Ohm's law. Two displays of 2 and 3 A (4 and 5 A at most) hang on one main. 5 m of 16 AWG are
/// 0.07379 ohm, 2 m of 10 AWG (5.2615 mm2) 0.00734 ohm: the main takes 5 x 0.00734 = 0.0367 V and 9 x 0.00734 = 0.0661 V
/// of both, the first circuit 2 x 0.07379 = 0.1476 V and 4 x 0.07379 = 0.2952 V by itself.
#[test]
fn the_main_wire_and_a_circuits_are_in_series() {
    let mut plan = plan();
    let source = lithium(&mut plan, "battery");
    for (label, typical, peak) in [("first", 2.0, 4.0), ("second", 3.0, 5.0)] {
        let display = add_electric(&mut plan, label, Kind::Display, load(12.0, typical, peak));
        circuit(&mut plan, label, source, &[display]).length = Some(Length::m(2.5));
    }
    assert_eq!(first(&plan).before, None);
    main_fuse(&mut plan, source).length = Some(Length::m(1.0));
    let run = first(&plan);
    let (before, total) = (run.before.expect("a main"), run.total().expect("a size and a length"));
    within(before.typical, 0.0367, 1e-4);
    within(before.peak, 0.0661, 1e-4);
    within(total.typical, 0.1843, 2e-4);
    within(total.peak, 0.3613, 2e-4);
    within(run.percent(total.peak), 2.822, 2e-3);
}

/// With a main of known drop the circuit begins at the switch unit: the way from the battery is the main's.
#[test]
fn no_piece_of_wire_is_counted_twice() {
    let (mut plan, [source, ..]) = rigged();
    main_fuse(&mut plan, source);
    near(first(&plan).one_way.expect("both ends aboard").mm, 1.1 * 1200.0 + 300.0);
    plan.wiring.mains[0].gauge_awg = None;
    near(first(&plan).one_way.expect("both ends aboard").mm, 1.1 * 1500.0 + 300.0);
}

/// 5 m of 16 AWG (1.3087 mm2) there and back: 0.017241 ohm mm2/m at 20 deg C, 2 percent for the lay, 45 deg C, are
/// 0.07379 ohm.
#[test]
fn drop_in_volts_and_percent() {
    let (mut plan, _) = rigged();
    plan.wiring.circuits[0].length = Some(Length::m(2.5));
    let run = first(&plan);
    let lost = run.lost.expect("a size and a length");
    within(lost.loop_ohm, 0.07379, 2e-5);
    within(lost.typical_v, 0.1033, 1e-4);
    within(lost.typical_percent, 0.807, 1e-3);
    within(lost.peak_v, 0.1328, 1e-4);
    within(lost.peak_percent, 1.0376, 1e-3);
    assert_eq!((run.allowed_percent, run.permitted_a, run.smallest_awg), (3.0, Some(25.0), Some(16)));
    // 1.25 x 1.4 A is less than the peak of 1.8 A, which has to pass.
    near(run.least_fuse_a, 1.8);
    assert_eq!((run.standard_fuse_a, run.greatest_fuse_a, run.rule_fuse_a), (Some(2.0), Some(25.0), Some(37.5)));
    plan.wiring.circuits[0].gauge_awg = None;
    let run = first(&plan);
    assert_eq!((run.lost, run.permitted_a, run.smallest_awg), (None, None, Some(16)));
}

#[test]
fn copper_is_warmer_than_the_air_and_never_cool() {
    let at = |air| conductor(Temperature::celsius(air)).to_celsius();
    assert_eq!((at(-10.0), at(10.0), at(11.0), at(25.0)), (30.0, 30.0, 31.0, 45.0));
}

#[test]
fn what_hangs_behind_a_converter_is_a_lead_of_its_own() {
    let mut plan = plan();
    let source = lithium(&mut plan, "battery");
    let five = add_electric(&mut plan, "converter", Kind::Converter, converter(5.0, 15.0, 0.9));
    let light = add_electric(&mut plan, "light", Kind::Light, load(5.0, 1.8, 2.304));
    circuit(&mut plan, "five volts", source, &[five, light]);
    plan.wiring.circuits[0].gauge_awg = Some(16);
    for (gear, x_mm) in [(source, 1000.0), (five, 1200.0), (light, 3000.0)] {
        place(&mut plan, gear, x_mm);
    }
    let run = first(&plan);
    // 2.304 A at 5 V are 1 A at 12.8 V and 90 percent.
    near(run.amps.peak, 1.0);
    near(run.one_way.map_or(0.0, |way| way.mm), 1.1 * 200.0 + 300.0);
    assert_eq!(run.allowed_percent, 10.0);
    // A light straight on the wire makes it the strict class.
    let lamp = add_electric(&mut plan, "lamp", Kind::Light, load(12.0, 0.1, 0.1));
    plan.wiring.circuits[0].loads.push(lamp);
    assert_eq!(first(&plan).allowed_percent, 3.0);
}

#[test]
fn a_motor_runs_at_its_greatest_setting_for_hours() {
    let mut plan = plan();
    let source = lithium(&mut plan, "battery");
    let drive = add_electric(&mut plan, "motor", Kind::Motor, motor(&[("1", 8.0), ("5", 40.0)]));
    circuit(&mut plan, "motor", source, &[drive]).gauge_awg = Some(6);
    let study = wiring(&plan);
    let run = &study.circuits[0].run;
    assert_eq!((run.amps.typical, run.amps.steady, run.amps.peak), (0.0, 40.0, 40.0));
    assert_eq!((run.least_fuse_a, run.standard_fuse_a, run.allowed_percent), (50.0, Some(50.0), 10.0));
    assert!(study.circuits[0].motors_only && study.mains.is_empty());
}

#[test]
fn the_main_carries_all_but_the_motor_and_runs_to_the_unit() {
    let (mut plan, [source, unit, _]) = rigged();
    let pump = add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 2.0, 3.0));
    circuit(&mut plan, "pump", source, &[pump]).channel = Some((unit, 2));
    let drive = add_electric(&mut plan, "motor", Kind::Motor, motor(&[("5", 40.0)]));
    circuit(&mut plan, "motor", source, &[drive]);
    let unstated = wiring(&plan);
    let main = unstated.main(source).expect("a switch unit needs one");
    assert_eq!((main.stated, main.run.fuse_a, main.units.as_slice()), (false, None, [unit].as_slice()));
    near(main.run.amps.peak, 4.8);
    near(main.run.amps.typical, 3.4);
    near(main.run.one_way.map_or(0.0, |way| way.mm), 1.1 * 300.0 + 300.0);
    main_fuse(&mut plan, source).fuse = Some(Current::amps(25.0));
    let stated = wiring(&plan);
    let protects: Vec<bool> = stated.circuits.iter().map(|wire| wire.main_protects).collect();
    // 16 AWG bears a main of 25 A; the motor does not hang on it.
    assert_eq!((stated.mains[0].stated, protects.as_slice()), (true, [true, true, false].as_slice()));
    assert_eq!(stated.mains[0].run.allowed_percent, 3.0);
    // Alone on its battery the motor hangs on the main.
    plan.wiring.circuits.truncate(0);
    circuit(&mut plan, "motor", source, &[drive]);
    near(wiring(&plan).mains[0].run.amps.peak, 40.0);
}

#[test]
fn what_is_on_no_circuit_is_free() {
    let (mut plan, [source, unit, _]) = rigged();
    let pump = add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 2.0, 3.0));
    assert_eq!(wiring(&plan).free, [pump]);
    circuit(&mut plan, "pump", source, &[pump]).channel = Some((unit, 2));
    assert_eq!(wiring(&plan).free, []);
}

/// The story of the seat test: 1.8 A through 3.1 m of 20 AWG at 30 deg C.
/// 6.2 m x 0.033310 ohm/m x 1.02 x 1.0393 x 1.8 A = 0.3941 V, 3.08 percent of 12.8 V; 18 AWG 1.94 percent.
#[test]
fn the_hand_sum_of_a_display_on_thin_wire() {
    let mut plan = one_load(Kind::Display, 1.8);
    plan.outing.air = Temperature::celsius(6.0);
    let circuit = &mut plan.wiring.circuits[0];
    (circuit.gauge_awg, circuit.length, circuit.sheathed) = (Some(20), Some(Length::mm(3100.0)), true);
    let run = first(&plan);
    let lost = run.lost.expect("a size and a length");
    assert!((lost.peak_v - 0.3941).abs() < 5e-5 && (lost.peak_percent - 3.079).abs() < 5e-4, "{lost:?}");
    assert_eq!(run.smallest_awg, Some(18));
}

proptest! {
    /// Any wiring that passes the door, however mad: no panic, no number that is none, and every check runs.
    #[test]
    fn nonsense_wiring_is_only_found_fault_with(
        circuits in proptest::collection::vec((0_u32..8, proptest::collection::vec(0_u32..8, 0..5), any::<bool>(),
            0_u32..8, any::<u8>(), 0_u8..12, 0.0_f64..30_000.0), 0..12),
        mains in proptest::collection::btree_set(0_u32..8, 0..8),
        ashore in 0_u32..8,
    ) {
        let mut plan = plan();
        lithium(&mut plan, "battery");
        lithium(&mut plan, "second battery");
        add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, 10.0, 15.0));
        add_electric(&mut plan, "converter", Kind::Converter, converter(5.0, 15.0, 0.9));
        add_electric(&mut plan, "motor", Kind::Motor, motor(&[("1", 8.0), ("5", 40.0)]));
        add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.0, 2.0));
        add_electric(&mut plan, "light", Kind::Light, load(12.0, 0.2, 0.3));
        add_electric(&mut plan, "nothing", Kind::Other, load(12.0, 0.0, 0.0));
        let id = |n: u32| GearId(n + 1);
        if let Some(gear) = plan.gear_mut(id(ashore)) {
            gear.place = None;
        }
        for (from, loads, switched, unit, channel, half_gauge, mm) in circuits {
            let number = plan.wiring.next_circuit_id();
            let loads = loads.into_iter().map(id).collect();
            plan.wiring.circuits.push(Circuit {
                fuse: (mm > 100.0).then(|| Current::amps(mm / 200.0)),
                gauge_awg: (half_gauge >= 2).then_some(half_gauge * 2),
                fuse_at: (mm < 9000.0).then(|| Length::mm(mm)),
                length: (mm < 20_000.0 && !switched).then(|| Length::mm(mm)),
                channel: switched.then_some((id(unit), channel)),
                sheathed: switched,
                ..Circuit::new(number, name("some"), id(from), loads)
            });
        }
        plan.wiring.mains = mains.into_iter().map(|n| Main { gauge_awg: Some(12), ..Main::new(id(n)) }).collect();
        prop_assert_eq!(plan.validate(), Ok(()));
        let study = Study::of(&plan);
        let runs = study.wiring.circuits.iter().map(|wire| &wire.run).chain(study.wiring.mains.iter().map(|m| &m.run));
        for run in runs {
            let lost = run.lost.map_or(0.0, |lost| lost.peak_percent + lost.typical_v);
            let way = run.one_way.map_or(0.0, |way| way.mm);
            let numbers = [lost, way, run.amps.peak, run.least_fuse_a, run.nominal_v, run.standard_fuse_a.unwrap_or(0.0)];
            prop_assert!(numbers.iter().all(|number| number.is_finite() && *number >= 0.0), "{:?}", run);
        }
        let findings = checks::run(&plan, &study);
        prop_assert!(findings.iter().all(|f| f.margin.is_finite() && !f.says.is_empty() && !f.remedy.is_empty()));
    }
}
