//! The books of a day: who feeds whom, shares of time, motors, converters; and that they add up.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Chemistry, Duty, Electric, GearId, Kind, Plan, Runs};
use gunnel::study::Study;
use gunnel::study::power::{Draws, Power};
use gunnel::units::{Charge, Current, Duration, Figure};
use proptest::prelude::*;

use crate::test_power::{add_electric, battery, circuit, converter, load, motor, name, phase, plan, switch};

fn power(plan: &Plan) -> Power {
    assert_eq!(plan.validate(), Ok(()));
    Study::of(plan).power
}

fn lithium(plan: &mut Plan, label: &str) -> GearId {
    add_electric(plan, label, Kind::Battery, battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None))
}

fn charge(power: &Power, gear: GearId) -> f64 {
    power.load(gear).unwrap().charge.to_amp_hours()
}

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} is not {expected}");
}

/// A lamp of 1 A: a tenth of the day, all of the dark, standby 0.1 A.
fn lamp() -> Electric {
    match load(12.0, 1.0, 1.5) {
        Electric::Load { volts, typical, peak, stops_below, .. } => Electric::Load {
            volts,
            typical,
            peak,
            stops_below,
            standby: Figure::measured(Current::amps(0.1)),
            runs: Runs { day: 0.1, dark: 1.0 },
        },
        other => other,
    }
}

#[test]
fn a_load_runs_by_light_unless_the_phase_says_otherwise() {
    let mut plan = plan();
    lithium(&mut plan, "battery");
    let gear = add_electric(&mut plan, "lamp", Kind::Light, lamp());
    plan.outing.phases = vec![phase("before dawn", 2.0, true), phase("day", 10.0, false)];
    let usual = power(&plan);
    near(charge(&usual, gear), 2.0 + 1.0 + 0.9);
    near(usual.load(gear).unwrap().hours.to_hours(), 3.0);
    near(usual.phases[0].mean.to_amps(), 1.0);
    plan.outing.phases[0].duties.push(Duty { gear, share: 0.5 });
    near(charge(&power(&plan), gear), 1.0 + 0.1 + 1.0 + 0.9);
}

#[test]
fn a_converters_wire_carries_what_is_behind_it() {
    let mut plan = plan();
    let source = lithium(&mut plan, "battery");
    let idle = Figure::measured(Current::amps(0.02));
    let usb = match converter(5.0, 15.0, 0.8) {
        Electric::Converter { volts, power, efficiency, .. } => Electric::Converter { volts, power, efficiency, idle },
        other => other,
    };
    let usb = add_electric(&mut plan, "converter", Kind::Converter, usb);
    let phone = add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.024, 2.048));
    circuit(&mut plan, "usb", source, &[usb]);
    let power = power(&plan);
    let entry = power.load(phone).unwrap();
    assert_eq!(
        (entry.converter, entry.circuit, entry.battery),
        (Some(usb), Some(plan.wiring.circuits[0].id), Some(source))
    );
    near(entry.typical.to_amps(), 0.5);
    near(power.circuits[0].peak.to_amps(), 1.0 + 0.02);
    near(power.circuits[0].charge.to_amp_hours(), 5.0 + 0.2);
    assert_eq!(power.load(usb).unwrap().draws, Draws::Converter);
}

#[test]
fn a_switch_unit_draws_all_day_from_the_battery_it_switches() {
    let mut plan = plan();
    lithium(&mut plan, "other battery");
    let source = lithium(&mut plan, "battery");
    let unit = match switch(4, 10.0, 20.0) {
        Electric::Switch { channels, each, total, .. } => {
            Electric::Switch { channels, each, total, idle: Figure::measured(Current::amps(0.03)) }
        }
        other => other,
    };
    let unit = add_electric(&mut plan, "switch unit", Kind::SwitchUnit, unit);
    let pump = add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 1.0, 1.0));
    circuit(&mut plan, "pump", source, &[pump]).channel = Some((unit, 1));
    let power = power(&plan);
    near(charge(&power, unit), 0.3);
    near(power.battery(source).unwrap().drawn.to_amp_hours(), 10.3);
    near(power.circuits[0].peak.to_amps(), 1.0);
}

#[test]
fn a_motor_runs_by_the_phases_setting() {
    let mut plan = plan();
    lithium(&mut plan, "battery");
    let drive = add_electric(&mut plan, "motor", Kind::Motor, motor(&[("1", 4.0), ("5", 30.0)]));
    plan.outing.phases = vec![phase("out", 1.0, false), phase("fish", 6.0, false), phase("home", 2.0, false)];
    plan.outing.phases[0].motor = Some(name("5"));
    plan.outing.phases[2].motor = Some(name("1"));
    plan.outing.phases[2].duties.push(Duty { gear: drive, share: 0.5 });
    let day = power(&plan);
    let entry = day.load(drive).unwrap();
    near(entry.charge.to_amp_hours(), 30.0 + 4.0);
    near(entry.hours.to_hours(), 2.0);
    near(entry.typical.to_amps(), 17.0);
    near(entry.peak.to_amps(), 30.0);
    assert!(day.phases.iter().all(|phase| !phase.motor_unknown));
    plan.outing.phases[0].motor = Some(name("7"));
    let unknown = power(&plan);
    assert!(unknown.phases[0].motor_unknown);
    near(charge(&unknown, drive), 4.0);
}

#[test]
fn loads_without_a_circuit_leave_the_motors_battery_alone() {
    let mut plan = plan();
    let first = lithium(&mut plan, "motor battery");
    let second = lithium(&mut plan, "house battery");
    let drive = add_electric(&mut plan, "motor", Kind::Motor, motor(&[("1", 4.0)]));
    let pump = add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 1.0, 1.0));
    circuit(&mut plan, "motor", first, &[drive]);
    let wired = power(&plan);
    assert_eq!((wired.load(pump).unwrap().battery, wired.load(drive).unwrap().battery), (Some(second), Some(first)));
    plan.gear_mut(second).unwrap().place = None;
    assert_eq!(power(&plan).load(pump).unwrap().battery, Some(first));
}

#[test]
fn a_circuit_whose_battery_is_ashore_feeds_nothing() {
    let mut plan = plan();
    let ashore = lithium(&mut plan, "battery");
    lithium(&mut plan, "other battery");
    let pump = add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 1.0, 1.0));
    circuit(&mut plan, "pump", ashore, &[pump]);
    plan.gear_mut(ashore).unwrap().place = None;
    let power = power(&plan);
    assert_eq!(power.load(pump).unwrap().battery, None);
    near(power.total.to_amp_hours(), 10.0);
    assert!(power.weakest().is_none());
}

#[test]
fn the_hour_it_is_empty_follows_the_phases() {
    let mut plan = plan();
    lithium(&mut plan, "battery");
    let pump = add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 10.0, 10.0));
    plan.outing.phases = vec![phase("quiet", 4.0, false), phase("busy", 6.0, false)];
    plan.outing.phases[0].duties.push(Duty { gear: pump, share: 0.0 });
    let battery = power(&plan).batteries[0].clone();
    // 42.5 Ah to use, nothing taken for four hours, then 10 A.
    near(battery.empty_after.unwrap().to_hours(), 8.25);
    near(battery.lasts.unwrap().to_hours(), 42.5 / 6.0);
}

#[test]
fn a_light_with_cells_of_its_own_asks_nothing() {
    let mut plan = plan();
    let gear = add_electric(&mut plan, "lamp", Kind::Light, lamp());
    let spec = std::sync::Arc::make_mut(&mut plan.gear_mut(gear).unwrap().spec);
    let (white, centre) = (gunnel::plan::Colour::White, gunnel::geometry::Point::new(0.0, 0.0, 100.0));
    let light = gunnel::plan::Light::plain(white, gunnel::plan::LightArc::AllRound, centre);
    spec.light = Some(gunnel::plan::Light { own_cells: true, ..light });
    assert_eq!(power(&plan).loads, []);
}

proptest! {
    /// Whatever is aboard: loads, phases and batteries (with what nothing feeds) give one total.
    #[test]
    fn the_books_add_up(
        loads in proptest::collection::vec((0.0_f64..5.0, 0.0_f64..1.0, any::<bool>(), 0_usize..3), 0..12),
        hours in proptest::collection::vec((0.0_f64..12.0, any::<bool>()), 0..5),
        sources in 0_usize..3,
    ) {
        let mut plan = plan();
        plan.outing.phases = hours.iter().map(|(hours, dark)| phase("part", *hours, *dark)).collect();
        let ids: Vec<GearId> = (0..sources).map(|_| lithium(&mut plan, "battery")).collect();
        add_electric(&mut plan, "converter", Kind::Converter, converter(5.0, 15.0, 0.9));
        for (amps, share, usb, on) in loads {
            let gear = add_electric(&mut plan, "load", Kind::Other, load(if usb { 5.0 } else { 12.0 }, amps, amps));
            if let Some(first) = plan.outing.phases.first_mut() {
                first.duties.push(Duty { gear, share });
            }
            if let Some(source) = ids.get(on) {
                circuit(&mut plan, "some", *source, &[gear]);
            }
        }
        let power = power(&plan);
        let total = power.total.to_amp_hours();
        let by_load: Charge = power.loads.iter().map(|l| l.charge).sum();
        let by_phase: Charge = power.phases.iter().map(|p| p.charge).sum();
        let by_battery: Charge = power.batteries.iter().map(|b| b.drawn).sum();
        let unfed: Charge = power.loads.iter().filter(|l| l.battery.is_none()).map(|l| l.charge).sum();
        for sum in [by_load, by_phase, by_battery + unfed] {
            prop_assert!((sum.to_amp_hours() - total).abs() < 1e-9, "{} is not {}", sum.to_amp_hours(), total);
        }
        prop_assert_eq!(power.hours, plan.outing.phases.iter().map(|p| p.hours).sum::<Duration>());
    }
}
