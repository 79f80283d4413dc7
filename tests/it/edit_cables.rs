//! Edits of cables: what they change, what they refuse, what they are called.

use gunnel::edit::{Edit, apply};
use gunnel::plan::{Cable, CableId, FeatureId, GearId, Kind, Plan, Signal, Via};
use gunnel::units::{Length, Measure, Tape};

use crate::test_cables::{cable, hull, inside, on_deck, port};

/// Pump 1 inside, switch 2 and lamp 3 on deck, a port, a cable from pump to switch.
fn boat() -> Plan {
    let mut plan = hull();
    let pump = inside(&mut plan, "pump", Kind::Pump, (500.0, 0.0));
    let switch = on_deck(&mut plan, "switch", Kind::SwitchUnit, (1500.0, 0.0));
    on_deck(&mut plan, "lamp", Kind::Light, (2500.0, 0.0));
    port(&mut plan, "port", (1000.0, 0.0), 22.0);
    cable(&mut plan, (pump, switch), Signal::Power, &[]);
    plan
}

fn between(from: u32, to: u32) -> Edit {
    let (from, to) = (GearId(from), GearId(to));
    Edit::AddCable { cable: Cable { id: CableId(0), from, to, signal: Signal::Power, via: Vec::new(), length: None } }
}

fn lead(via: &[Via], length: Option<f64>) -> Edit {
    Edit::SetCable { cable: CableId(1), via: via.to_vec(), length: length.map(Length::mm) }
}

fn accepted(edit: &Edit, label: &str) -> Plan {
    assert_eq!(edit.label(&boat(), Measure(Tape::Metric)), label);
    let after = apply(&boat(), edit).unwrap_or_else(|why| panic!("{label}: {why}"));
    assert_eq!(after.validate(), Ok(()));
    after
}

fn refused(edit: &Edit, why: &str) {
    assert_eq!(apply(&boat(), edit).map(|_| ()).map_err(|refusal| refusal.to_string()), Err(why.to_string()));
}

#[test]
fn cables_are_planned_led_measured_and_struck() {
    let after = accepted(&between(2, 3), "plan the cable from switch to lamp");
    assert_eq!(after.wiring.cables[1].id, CableId(2));
    let after = accepted(&lead(&[Via::Feature(FeatureId(1))], None), "lead the cable from pump to switch");
    assert_eq!(after.wiring.cables[0].via, [Via::Feature(FeatureId(1))]);
    accepted(&lead(&[], Some(1500.0)), "measure the cable from pump to switch: 1500 mm");
    let after = accepted(&Edit::StrikeCable { cable: CableId(1) }, "strike the cable from pump to switch");
    assert_eq!(after.wiring.cables, []);
}

#[test]
fn what_cannot_be_is_refused_with_a_reason() {
    refused(&between(1, 1), "a cable from pump to itself leads nowhere");
    refused(&between(2, 1), "such a cable between switch and pump is planned already");
    refused(&between(1, 9), "there is no gear 9 in this plan");
    refused(&lead(&[], None), "this cable is led so already");
    refused(&lead(&[Via::Gear(GearId(9))], None), "cable 1: it passes gear 9, which is not in the plan");
    refused(&lead(&[], Some(-1.0)), "cable 1, length: -1 mm is outside 0 to 20000 mm");
    refused(&Edit::StrikeCable { cable: CableId(7) }, "there is no cable 7");
}

#[test]
fn a_fitting_that_is_struck_is_passed_no_more() {
    let mut plan = boat();
    plan.wiring.cables[0].via = vec![Via::Gear(GearId(3))];
    let after = apply(&plan, &Edit::Strike { gear: GearId(3) }).expect("gear that may go");
    assert_eq!((after.wiring.cables[0].via.len(), after.validate()), (0, Ok(())));
}

#[test]
fn a_number_used_twice_does_not_pass_the_door() {
    let mut plan = boat();
    let twice = plan.wiring.cables[0].clone();
    plan.wiring.cables.push(twice);
    assert!(plan.validate().is_err());
}
