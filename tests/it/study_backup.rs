//! What is lost with one part, by looking at small plans; that gear of its own never makes it worse.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeSet;
use std::sync::Arc;

use gunnel::checks;
use gunnel::geometry::Point;
use gunnel::plan::*;
use gunnel::study::Study;
use gunnel::study::backup::spares::Sort;
use gunnel::study::backup::{Backup, Need, Part};
use gunnel::units::{Current, Figure, Mass};
use proptest::prelude::*;

use crate::test_power::{add, add_electric, battery, circuit, converter, load, main_fuse, motor, phase, plan, switch};

fn backup(plan: &Plan) -> Backup {
    assert_eq!(plan.validate(), Ok(()));
    Study::of(plan).backup
}

fn lithium(plan: &mut Plan, label: &str, limit: Option<f64>) -> GearId {
    add_electric(plan, label, Kind::Battery, battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, limit))
}

fn spec(plan: &mut Plan, gear: GearId) -> &mut Spec {
    Arc::make_mut(&mut plan.gear_mut(gear).unwrap().spec)
}

fn alone(plan: &mut Plan, label: &str, kind: Kind) -> GearId {
    add(plan, label, kind, Figure::measured(Mass::kg(0.3)), None)
}

fn light(arc: LightArc, own_cells: bool) -> Light {
    Light { own_cells, ..Light::plain(Colour::White, arc, Point::new(0.0, 0.0, 50.0)) }
}

fn pole_light(plan: &mut Plan, label: &str) -> GearId {
    let lamp = add_electric(plan, label, Kind::Light, load(12.0, 0.2, 0.3));
    spec(plan, lamp).light = Some(light(LightArc::AllRound, false));
    lamp
}

fn torch(plan: &mut Plan) -> GearId {
    let torch = alone(plan, "torch", Kind::Safety);
    spec(plan, torch).light = Some(light(LightArc::Deck, true));
    torch
}

fn lost(backup: &Backup, part: Part) -> Vec<GearId> {
    let failure = backup.failures.iter().find(|failure| failure.part == part);
    failure.map_or(Vec::new(), |failure| failure.lost.iter().copied().collect())
}

/// Parts that take a need, as they stand in the report.
fn taking(backup: &Backup, need: Need) -> Vec<Part> {
    backup.taking(need).map(|failure| failure.part).collect()
}

fn amps(amps: f64) -> Current {
    Current::amps(amps)
}

/// A battery with a main fuse and a switch unit on which a pole light and a converter hang, the camera behind it; the
/// motor on a battery of its own; the day has a dark part.
struct Rigged {
    plan: Plan,
    house: GearId,
    drive: GearId,
    unit: GearId,
    lamp: GearId,
    five: GearId,
    camera: GearId,
    motor: GearId,
}

fn rigged() -> Rigged {
    let mut plan = plan();
    plan.outing.phases.push(phase("dusk", 1.0, true));
    let house = lithium(&mut plan, "house", None);
    let drive = lithium(&mut plan, "drive", None);
    let unit = add_electric(&mut plan, "unit", Kind::SwitchUnit, switch(6, 10.0, 30.0));
    let lamp = pole_light(&mut plan, "lamp");
    let five = add_electric(&mut plan, "five volts", Kind::Converter, converter(5.0, 15.0, 0.9));
    let camera = add_electric(&mut plan, "camera", Kind::Camera, load(5.0, 1.0, 1.0));
    let engine = add_electric(&mut plan, "engine", Kind::Motor, motor(&[("1", 10.0)]));
    main_fuse(&mut plan, house);
    circuit(&mut plan, "lights", house, &[lamp]).channel = Some((unit, 1));
    circuit(&mut plan, "five", house, &[five]).channel = Some((unit, 2));
    circuit(&mut plan, "engine", drive, &[engine]);
    Rigged { plan, house, drive, unit, lamp, five, camera, motor: engine }
}

#[test]
fn each_part_takes_what_hangs_on_it() {
    let Rigged { plan, house, drive, unit, lamp, five, camera, motor } = rigged();
    let found = backup(&plan);
    let fuse = |circuit| Part::Fuse(CircuitId(circuit), amps(10.0));
    for (part, expected) in [
        (Part::Battery(house), vec![lamp, camera]),
        (Part::Battery(drive), vec![motor]),
        (Part::MainFuse(house, amps(30.0)), vec![lamp, camera]),
        (Part::SwitchUnit(unit), vec![lamp, camera]),
        (fuse(1), vec![lamp]),
        (fuse(2), vec![camera]),
        (fuse(3), vec![motor]),
        (Part::Converter(five), vec![camera]),
    ] {
        assert_eq!(lost(&found, part), expected, "{part:?}");
    }
    assert_eq!(found.failures.len(), 8, "{:#?}", found.failures);
    assert_eq!(taking(&found, Need::Lights), [Part::MainFuse(house, amps(30.0)), Part::SwitchUnit(unit), fuse(1)]);
    assert_eq!(taking(&found, Need::Drive), [fuse(3)]);
}

#[test]
fn a_breaker_and_a_missing_fuse_are_no_parts() {
    let Rigged { mut plan, house, .. } = rigged();
    plan.wiring.mains[0].breaker = true;
    plan.wiring.circuits[0].fuse = None;
    let found = backup(&plan);
    assert_eq!(lost(&found, Part::MainFuse(house, amps(30.0))), []);
    assert!(!found.failures.iter().any(|failure| matches!(failure.part, Part::Fuse(CircuitId(1), _))));
}

#[test]
fn what_is_switched_from_afar_goes_with_the_cells_or_the_phone() {
    let Rigged { mut plan, unit, lamp, camera, motor, .. } = rigged();
    for (control, part) in [
        (None, None),
        (Some(Control::Buttons), None),
        (Some(Control::Remote), Some(Part::Remote(unit))),
        (Some(Control::Phone), Some(Part::Phone(None))),
    ] {
        spec(&mut plan, unit).control = control;
        let found = backup(&plan);
        let others =
            |failure: &&gunnel::study::backup::Failure| matches!(failure.part, Part::Remote(_) | Part::Phone(_));
        assert_eq!(found.failures.iter().find(others).map(|failure| failure.part), part, "{control:?}");
        assert_eq!(part.map(|part| lost(&found, part)), part.map(|_| vec![lamp, camera]), "{control:?}");
    }
    let phone = add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.0, 1.0));
    spec(&mut plan, motor).control = Some(Control::Phone);
    let found = backup(&plan);
    let mut all = vec![lamp, camera, motor, phone];
    all.sort_unstable();
    assert_eq!(lost(&found, Part::Phone(Some(phone))), all);
}

/// A fuse before a switch unit takes what the unit feeds; wiring in a ring comes to an end.
#[test]
fn a_fuse_takes_what_is_behind_a_unit_it_feeds() {
    let Rigged { mut plan, house, unit, lamp, camera, .. } = rigged();
    let feeder = circuit(&mut plan, "feeder", house, &[unit]).id;
    assert_eq!(lost(&backup(&plan), Part::Fuse(feeder, amps(10.0))), [lamp, camera]);
    plan.wiring.circuits.last_mut().unwrap().channel = Some((unit, 3));
    assert_eq!(lost(&backup(&plan), Part::Fuse(feeder, amps(10.0))), [lamp, camera]);
}

/// The phone's charging is no loss: it has cells of its own, and calls.
#[test]
fn what_has_cells_of_its_own_goes_on() {
    let mut plan = plan();
    let source = lithium(&mut plan, "battery", None);
    let radio = add_electric(&mut plan, "radio", Kind::Radio, load(12.0, 1.0, 5.0));
    circuit(&mut plan, "radio", source, &[radio]);
    assert_eq!(taking(&backup(&plan), Need::Call).len(), 2);
    let phone = add_electric(&mut plan, "phone", Kind::Phone, load(12.0, 1.0, 1.0));
    circuit(&mut plan, "phone", source, &[phone]);
    let found = backup(&plan);
    assert_eq!(lost(&found, Part::Battery(source)), [radio]);
    assert_eq!(taking(&found, Need::Call), []);
}

/// Another battery stands in at exactly three quarters of the voltage and at exactly the current that is asked.
#[test]
fn another_battery_stands_in_if_it_can() {
    for (volts, limit, stands_in) in
        [(12.0, Some(5.0), true), (11.9, Some(5.0), false), (12.0, Some(4.9), false), (12.0, None, true)]
    {
        let mut plan = plan();
        let first =
            add_electric(&mut plan, "first", Kind::Battery, battery(Chemistry::LithiumIronPhosphate, 16.0, 50.0, None));
        let pump = add_electric(&mut plan, "pump", Kind::Pump, load(16.0, 2.0, 5.0));
        circuit(&mut plan, "pump", first, &[pump]).fuse = None;
        assert_eq!(taking(&backup(&plan), Need::Pump), [Part::Battery(first)]);
        let lead = battery(Chemistry::GlassMatLead, volts, 20.0, limit);
        let second = add_electric(&mut plan, "second", Kind::Battery, lead);
        let found = backup(&plan);
        assert_eq!(found.failures[0].other_battery, stands_in.then_some(second), "{volts} {limit:?}");
        assert_eq!(taking(&found, Need::Pump).is_empty(), stands_in, "{volts} {limit:?}");
    }
}

#[test]
fn light_is_needed_in_the_dark_and_a_motor_without_legs_or_paddle() {
    let Rigged { plan: rig, .. } = rigged();
    let needs = |plan: &Plan| backup(plan).needs.iter().map(|served| served.need).collect::<Vec<_>>();
    assert_eq!(needs(&rig), [Need::Lights, Need::Drive]);
    let mut plan = rig.clone();
    plan.outing.phases.pop();
    assert_eq!(needs(&plan), [Need::Drive]);
    let mut plan = rig.clone();
    Arc::make_mut(&mut plan.hull).pedals = Some(Pedals {
        crank_mm: Point::new(2000.0, 0.0, 250.0),
        radius: gunnel::units::Length::mm(110.0),
        half_width: gunnel::units::Length::mm(150.0),
    });
    assert_eq!(needs(&plan), [Need::Lights]);
    let mut plan = rig.clone();
    torch(&mut plan);
    alone(&mut plan, "paddle", Kind::Paddle);
    let found = backup(&plan);
    assert!(found.failures.iter().all(|failure| failure.needs.is_empty()), "{:#?}", found.failures);
    let mut plan = rig;
    let paddle = alone(&mut plan, "paddle", Kind::Paddle);
    plan.gear_mut(paddle).unwrap().place = None;
    assert_eq!(taking(&backup(&plan), Need::Drive).len(), 1, "a paddle ashore moves nothing");
}

/// A second light on a fuse of its own is lost with what both hang on, no longer with either fuse.
#[test]
fn a_second_light_takes_the_weight_off_the_fuse() {
    let Rigged { mut plan, house, unit, .. } = rigged();
    let second = pole_light(&mut plan, "second");
    circuit(&mut plan, "second", house, &[second]).channel = Some((unit, 4));
    assert_eq!(taking(&backup(&plan), Need::Lights), [Part::MainFuse(house, amps(30.0)), Part::SwitchUnit(unit)]);
}

/// Three fuses of 10 A and a main of 30 A; a lamp; a motor; a torch and a remote with cells.
#[test]
fn the_spares_are_what_is_fitted_two_of_a_sort() {
    let Rigged { mut plan, unit, lamp, motor, .. } = rigged();
    let torch = torch(&mut plan);
    spec(&mut plan, unit).control = Some(Control::Remote);
    let spares = |plan: &Plan| {
        let found = backup(plan).spares;
        found.into_iter().map(|spare| (spare.sort, spare.fitted, spare.count, spare.gear)).collect::<Vec<_>>()
    };
    let mut expected = vec![
        (Sort::Fuse(amps(10.0)), 3, 2, vec![]),
        (Sort::Fuse(amps(30.0)), 1, 1, vec![]),
        (Sort::Cells, 2, 2, vec![unit, torch]),
        (Sort::Bulb, 1, 1, vec![lamp]),
        (Sort::ShearPin, 1, 1, vec![motor]),
    ];
    assert_eq!(spares(&plan), expected);
    plan.limits.push(LimitOverride { limit: "spares.each".into(), value: 3.0, reason: Name::new("far out").unwrap() });
    expected[0].2 = 3;
    assert_eq!(spares(&plan), expected);
}

#[test]
fn what_cannot_be_switched_has_no_control() {
    let Rigged { mut plan, unit, house, .. } = rigged();
    spec(&mut plan, unit).control = Some(Control::Remote);
    assert_eq!(plan.validate(), Ok(()));
    spec(&mut plan, house).control = Some(Control::Phone);
    let faults = plan.validate().unwrap_err();
    assert_eq!(faults.len(), 1, "{faults:?}");
    assert!(faults[0].field.ends_with("\"house\", control"), "{faults:?}");
}

/// How many kinds of gear the property below puts on the wiring.
const KINDS: [Kind; 5] = [Kind::Light, Kind::Motor, Kind::Pump, Kind::Radio, Kind::Display];

/// What serves a need by itself, or stands in for a battery.
fn add_independent(plan: &mut Plan, which: usize) -> GearId {
    match which {
        0 => torch(plan),
        1 => alone(plan, "paddle", Kind::Paddle),
        2 => alone(plan, "hand pump", Kind::Pump),
        3 => alone(plan, "handheld", Kind::Radio),
        _ => lithium(plan, "spare battery", None),
    }
}

/// One load of a random plan: kind, battery, whether switched by the unit, fuse or none, how it is controlled.
fn any_load() -> impl Strategy<Value = (usize, usize, bool, bool, u8)> {
    (0..KINDS.len(), 0..2usize, any::<bool>(), any::<bool>(), 0..3u8)
}

fn random(loads: &[(usize, usize, bool, bool, u8)], control: u8) -> Plan {
    let mut plan = plan();
    plan.outing.phases.push(phase("dusk", 1.0, true));
    let batteries = [lithium(&mut plan, "one", Some(30.0)), lithium(&mut plan, "two", Some(5.0))];
    let unit = add_electric(&mut plan, "unit", Kind::SwitchUnit, switch(6, 10.0, 30.0));
    let controls = [None, Some(Control::Remote), Some(Control::Phone)];
    spec(&mut plan, unit).control = controls[usize::from(control)];
    main_fuse(&mut plan, batteries[0]);
    for (kind, battery, switched, fused, control) in loads {
        let gear = match KINDS[*kind] {
            Kind::Light => pole_light(&mut plan, "lamp"),
            Kind::Motor => add_electric(&mut plan, "motor", Kind::Motor, motor(&[("1", 10.0)])),
            kind => add_electric(&mut plan, "load", kind, load(12.0, 1.0, 2.0)),
        };
        spec(&mut plan, gear).control = controls[usize::from(*control)];
        let wire = circuit(&mut plan, "load", batteries[*battery], &[gear]);
        wire.channel = switched.then_some((unit, 1));
        wire.fuse = fused.then_some(amps(10.0));
    }
    plan
}

proptest! {
    #[test]
    fn gear_of_its_own_never_makes_it_worse(
        loads in proptest::collection::vec(any_load(), 1..8), control in 0..3u8, which in 0..5usize,
    ) {
        let mut plan = random(&loads, control);
        let speaks = |plan: &Plan| {
            let found = checks::run(plan, &Study::of(plan));
            found.iter().filter(|finding| finding.check == "single-control").count()
        };
        let (before, spoke) = (backup(&plan), speaks(&plan));
        add_independent(&mut plan, which);
        let after = backup(&plan);
        prop_assert!(speaks(&plan) <= spoke);
        for need in Need::ALL {
            let (before, after) = (taking(&before, need), taking(&after, need));
            prop_assert!(after.iter().all(|part| before.contains(part)), "{need:?}: {after:?}, was {before:?}");
        }
        // What serves the need itself settles it for good.
        let settled = [Some(Need::Lights), Some(Need::Drive), Some(Need::Pump), Some(Need::Call), None][which];
        prop_assert!(settled.is_none_or(|need| taking(&after, need).is_empty()));
    }

    #[test]
    fn a_battery_takes_all_that_its_fuses_take(
        loads in proptest::collection::vec(any_load(), 1..8), control in 0..3u8,
    ) {
        let plan = random(&loads, control);
        let found = backup(&plan);
        let of_battery = |battery| lost(&found, Part::Battery(battery)).into_iter().collect::<BTreeSet<_>>();
        for failure in &found.failures {
            let battery = match failure.part {
                Part::MainFuse(battery, _) => battery,
                Part::Fuse(circuit, _) => plan.wiring.circuit(circuit).unwrap().battery,
                _ => continue,
            };
            prop_assert!(failure.lost.is_subset(&of_battery(battery)), "{failure:?}");
        }
    }
}
