//! Edits of circuits and mains: what they change, what they refuse, what they are called.

use gunnel::edit::{Edit, apply};
use gunnel::plan::{Chemistry, Circuit, CircuitId, GearId, Kind, Main, Plan};
use gunnel::units::{Current, Length, Measure, Tape, Temperature};

use crate::test_power::{add_electric, battery, circuit, load, name, plan, switch};

/// Battery 1, switch unit 2, display 3 on circuit 1 "sonar", pump 4 on none.
fn rigged() -> Plan {
    let mut plan = plan();
    let source = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
    let source = add_electric(&mut plan, "battery", Kind::Battery, source);
    add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, 10.0, 15.0));
    let display = add_electric(&mut plan, "display", Kind::Display, load(12.0, 1.0, 2.0));
    add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 1.0, 2.0));
    circuit(&mut plan, "sonar", source, &[display]);
    plan
}

const SOURCE: GearId = GearId(1);
const UNIT: GearId = GearId(2);
const DISPLAY: GearId = GearId(3);
const PUMP: GearId = GearId(4);
const SONAR: CircuitId = CircuitId(1);

fn set(change: impl Fn(&mut Circuit)) -> Edit {
    let mut circuit = rigged().wiring.circuits[0].clone();
    change(&mut circuit);
    Edit::SetCircuit { circuit }
}

/// The edit is called this, is accepted, and gives a plan that passes the door.
fn accepted(edit: Edit, label: &str) -> Plan {
    let before = rigged();
    assert_eq!(edit.label(&before, Measure(Tape::Metric)), label);
    let after = apply(&before, &edit).unwrap_or_else(|why| panic!("{label}: {why}"));
    assert_eq!(after.validate(), Ok(()));
    assert_ne!(after, before);
    after
}

fn refused(edit: Edit, why: &str) {
    assert_eq!(apply(&rigged(), &edit).map(|_| ()).map_err(|refusal| refusal.to_string()), Err(why.to_string()));
}

#[test]
fn a_circuit_is_changed_thing_by_thing() {
    accepted(set(|c| c.fuse = Some(Current::amps(7.5))), "fuse circuit sonar at 7.5 A");
    accepted(set(|c| c.fuse = None), "take the fuse off circuit sonar");
    accepted(set(|c| c.gauge_awg = Some(14)), "wire circuit sonar in 14 AWG");
    accepted(set(|c| c.gauge_awg = None), "leave the wire of circuit sonar open");
    accepted(set(|c| c.channel = Some((UNIT, 2))), "put circuit sonar on channel 2 of switch unit");
    accepted(set(|c| c.name = name("screens")), "rename circuit sonar to screens");
    accepted(set(|c| c.sheathed = true), "set circuit sonar");
    accepted(
        set(|c| {
            c.fuse = None;
            c.length = Some(Length::m(2.0));
        }),
        "set circuit sonar",
    );
}

#[test]
fn a_circuit_is_added_with_what_it_takes_from_others() {
    let id = rigged().wiring.next_circuit_id();
    let circuit = Circuit::new(id, name("all"), SOURCE, vec![DISPLAY, PUMP]);
    let after = accepted(Edit::SetCircuit { circuit: circuit.clone() }, "add circuit all");
    assert_eq!(after.wiring.circuits[0].loads, []);
    assert_eq!(after.wiring.circuits[1], circuit);
    let after = accepted(Edit::StrikeCircuit { circuit: SONAR }, "strike circuit sonar");
    assert_eq!(after.wiring.circuits, []);
}

#[test]
fn a_load_is_put_on_a_circuit_and_taken_off() {
    let after = accepted(Edit::PutOnCircuit { load: PUMP, circuit: Some(SONAR) }, "put pump on circuit sonar");
    assert_eq!(after.wiring.circuits[0].loads, [DISPLAY, PUMP]);
    let after = accepted(Edit::PutOnCircuit { load: DISPLAY, circuit: None }, "take display off its circuit");
    assert_eq!(after.wiring.circuits[0].loads, []);
}

#[test]
fn a_main_is_set_replaced_and_struck() {
    let main = Main { fuse: Some(Current::amps(30.0)), gauge_awg: Some(10), ..Main::new(SOURCE) };
    let with = accepted(Edit::SetMain { main: main.clone() }, "put a main fuse of 30 A on battery");
    let breaker = Main { fuse: Some(Current::amps(40.0)), breaker: true, ..main };
    let edit = Edit::SetMain { main: breaker.clone() };
    assert_eq!(edit.label(&with, Measure(Tape::Metric)), "put a main breaker of 40 A on battery");
    let replaced = apply(&with, &edit).expect("a main that replaces one");
    assert_eq!(replaced.wiring.mains, [breaker]);
    let struck = apply(&replaced, &Edit::StrikeMain { battery: SOURCE }).expect("a main that is there");
    assert_eq!(struck, rigged());
    // Gear takes its main with it.
    let mut free = with;
    free.wiring.circuits.clear();
    let gone = apply(&free, &Edit::Strike { gear: SOURCE }).expect("a battery that nothing hangs on");
    assert_eq!((gone.wiring.mains.len(), gone.validate()), (0, Ok(())));
}

#[test]
fn what_cannot_be_is_refused_with_a_reason() {
    refused(set(|_| ()), "circuit \"sonar\" is so already");
    refused(set(|c| c.battery = PUMP), "pump is not a battery");
    refused(set(|c| c.battery = GearId(99)), "there is no gear 99 in this plan");
    refused(set(|c| c.loads.push(SOURCE)), "battery cannot feed itself");
    refused(set(|c| c.loads.push(GearId(99))), "circuit 1 \"sonar\": gear 99 is not in the plan");
    refused(
        set(|c| c.gauge_awg = Some(15)),
        "circuit 1 \"sonar\", gauge_awg: 15 AWG is not one of 4, 6, 8 and so on to 22",
    );
    refused(
        set(|c| c.gauge_awg = Some(2)),
        "circuit 1 \"sonar\", gauge_awg: 2 AWG is not one of 4, 6, 8 and so on to 22",
    );
    refused(set(|c| c.fuse = Some(Current::amps(-5.0))), "circuit 1 \"sonar\", fuse: -5 A is outside 0.1 to 200 A");
    refused(set(|c| c.length = Some(Length::mm(-1.0))), "circuit 1 \"sonar\", length: -1 mm is outside 0 to 20000 mm");
    refused(
        set(|c| c.fuse_at = Some(Length::m(21.0))),
        "circuit 1 \"sonar\", fuse_at: 21000 mm is outside 0 to 20000 mm",
    );
    let cold = |c: &mut Circuit| c.insulation = Some(Temperature::celsius(20.0));
    refused(set(cold), "circuit 1 \"sonar\", insulation: 20 C is outside 60 to 200 C");
    refused(Edit::StrikeCircuit { circuit: CircuitId(7) }, "there is no circuit 7");
    refused(Edit::PutOnCircuit { load: DISPLAY, circuit: Some(SONAR) }, "display is on circuit \"sonar\" already");
    refused(Edit::PutOnCircuit { load: PUMP, circuit: None }, "pump is on no circuit");
    refused(Edit::PutOnCircuit { load: PUMP, circuit: Some(CircuitId(7)) }, "there is no circuit 7");
    refused(
        Edit::PutOnCircuit { load: SOURCE, circuit: Some(SONAR) },
        "battery draws nothing: a circuit feeds what does",
    );
    refused(Edit::SetMain { main: Main::new(PUMP) }, "pump is not a battery");
    refused(Edit::StrikeMain { battery: SOURCE }, "battery has no main fuse");
}
