//! Loads without a fuse, a circuit or a switch.

use super::finding::COMMON_PRACTICE;
use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Circuit, Electric, GearId};
use crate::study::wiring::{CircuitWire, MainWire};

/// Loads without a fuse, a circuit or a switch.
pub const CHECK: Check = Check { id: "channel-free", title: "a load has no fuse, circuit or switch", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether everything placed that draws is on a circuit, whether each circuit in use has a fuse, whether the wire
from a battery to a switch unit has a main fuse or breaker, and whether each circuit can be switched off at a placed
switch unit. Motors need no channel: they have a switch of their own.

Why it matters
The fuse protects the wire. A shorted battery, even a small one, can melt the hull and start a fire within
the reach of a seated person. What has no switch draws until the battery is empty.

Limit and source
Stop for no fuse or no circuit: 33 CFR 183.455 (good practice here; by law it binds only boats with petrol
engines other than outboards). Note for no switch: common practice, no source.

What to do
Put each load on a circuit with a fuse close to the battery, sized for the wire, and a main fuse on the battery that
feeds a switch unit. Disconnect the battery before work. When unsure ask a competent electrician; where local rules ask
for licensed work, follow them.
";

const SOURCE: &str = "33 CFR 183.455, as practice";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let wiring = &case.study.wiring;
    findings.extend(no_circuit(case, &wiring.free));
    let in_use = || wiring.circuits.iter().filter(|wire| wire.in_use);
    let planned = |wire: &CircuitWire| case.plan.wiring.circuit(wire.circuit);
    findings.extend(in_use().filter(|wire| wire.run.fuse_a.is_none()).filter_map(planned).map(|c| no_fuse(case, c)));
    let unfused = wiring.mains.iter().filter(|main| main.run.fuse_a.is_none() && !main.carries.is_empty());
    findings.extend(unfused.map(|main| no_main(case, main)));
    let switched_off_elsewhere = |wire: &&CircuitWire| !wire.motors_only;
    let unswitched = in_use().filter(switched_off_elsewhere).filter_map(planned);
    let unswitched: Vec<&Circuit> = unswitched.filter(|circuit| !is_switched(case, circuit)).collect();
    findings.extend(no_switch(case, &unswitched));
}

fn is_switched(case: &Case<'_>, circuit: &Circuit) -> bool {
    circuit
        .channel
        .and_then(|(unit, _)| case.plan.gear(unit))
        .is_some_and(|unit| unit.is_placed() && matches!(unit.spec.electric, Some(Electric::Switch { .. })))
}

/// One finding for all of them: in a young plan every load is loose, and a line each would bury the rest.
fn no_circuit(case: &Case<'_>, free: &[GearId]) -> Option<Finding> {
    let amps = |gear: &GearId| case.study.power.load(*gear).map_or(0.0, |load| load.peak.to_amps());
    let first = *free.iter().max_by(|a, b| amps(a).total_cmp(&amps(b)))?;
    let names: Vec<String> = free.iter().map(|gear| label(case.plan, *gear)).collect();
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(first),
        at: case.place(first),
        value: names.len() as f64,
        limit: 0.0,
        margin: -(names.len() as f64),
        unit: "count",
        says: format!("Nothing fuses {}: on no circuit.", list(&names)),
        remedy: format!("Put each on a circuit with a fuse. {SHORT_CIRCUIT}"),
        source: SOURCE,
    })
}

fn no_fuse(case: &Case<'_>, circuit: &Circuit) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Circuit(circuit.id),
        at: case.place(circuit.battery),
        value: 1.0,
        limit: 0.0,
        margin: -1.0,
        unit: "count",
        says: format!("Circuit \"{}\" has no fuse.", circuit.name),
        remedy: format!("Put a fuse close to the battery, sized for the wire. {SHORT_CIRCUIT}"),
        source: SOURCE,
    }
}

fn no_main(case: &Case<'_>, main: &MainWire) -> Finding {
    let units: Vec<String> = main.units.iter().map(|unit| label(case.plan, *unit)).collect();
    let to = if units.is_empty() { String::new() } else { format!(" to {}", list(&units)) };
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(main.battery),
        at: case.place(main.battery),
        value: 1.0,
        limit: 0.0,
        margin: -1.0,
        unit: "count",
        says: format!("The wire from {}{to} has no main fuse.", label(case.plan, main.battery)),
        remedy: format!("Put a main fuse or breaker on the battery's terminal, sized for that wire. {SHORT_CIRCUIT}"),
        source: SOURCE,
    }
}

fn no_switch(case: &Case<'_>, circuits: &[&Circuit]) -> Option<Finding> {
    let first = circuits.first()?;
    let names: Vec<String> = circuits.iter().map(|circuit| circuit.name.to_string()).collect();
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: Subject::Circuit(first.id),
        at: case.place(first.battery),
        value: names.len() as f64,
        limit: 0.0,
        margin: -(names.len() as f64),
        unit: "count",
        says: format!("No switch aboard turns off {}.", list(&names)),
        remedy: "Give it a channel of a placed switch unit, or be sure that each load has a switch in hand.".into(),
        source: COMMON_PRACTICE,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, circuit, findings, load, main_fuse, plan, switch};
    use crate::plan::{Chemistry, Kind, Plan};
    use crate::units::Current;

    /// Battery, switch unit and a display, on a circuit or not.
    fn rigged(on_circuit: bool, fuse: Option<f64>, channel: Option<u8>) -> Plan {
        let mut plan = plan();
        let source = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
        let source = add_electric(&mut plan, "battery", Kind::Battery, source);
        let unit = add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, 10.0, 15.0));
        let display = add_electric(&mut plan, "display", Kind::Display, load(12.0, 1.0, 2.0));
        main_fuse(&mut plan, source);
        if on_circuit {
            let circuit = circuit(&mut plan, "sonar", source, &[display]);
            circuit.fuse = fuse.map(Current::amps);
            circuit.channel = channel.map(|channel| (unit, channel));
        }
        plan
    }

    fn check(plan: &Plan, expected: &[Severity]) {
        let found = findings(plan, "channel-free");
        assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), expected, "{found:?}");
    }

    #[test]
    fn stops_without_fuse_and_notes_a_missing_switch() {
        check(&rigged(false, None, None), &[Severity::Stop]);
        check(&rigged(true, None, Some(1)), &[Severity::Stop]);
        check(&rigged(true, Some(5.0), None), &[Severity::Note]);
        check(&rigged(true, Some(5.0), Some(1)), &[]);
    }

    #[test]
    fn stops_where_the_wire_to_a_switch_unit_has_no_main_fuse() {
        let mut plan = rigged(true, Some(5.0), Some(1));
        plan.wiring.mains[0].fuse = None;
        check(&plan, &[Severity::Stop]);
        plan.wiring.mains.clear();
        check(&plan, &[Severity::Stop]);
        // Fuse at the battery, no unit between: the circuit's own fuse does.
        plan.wiring.circuits[0].channel = None;
        check(&plan, &[Severity::Note]);
    }

    #[test]
    fn a_switch_unit_left_ashore_switches_nothing() {
        let mut plan = rigged(true, Some(5.0), Some(1));
        plan.gear[1].place = None;
        check(&plan, &[Severity::Note]);
    }

    #[test]
    fn what_is_ashore_needs_no_fuse() {
        let mut plan = rigged(true, None, None);
        plan.gear[2].place = None;
        check(&plan, &[]);
    }
}
