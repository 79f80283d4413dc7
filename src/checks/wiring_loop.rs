//! Wiring in which current finds no sensible way.

use super::finding::COMMON_PRACTICE;
use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{CircuitId, GearId};

/// Wiring in which current finds no sensible way.
pub const CHECK: Check =
    Check { id: "wiring-loop", title: "the wiring runs in a circle or from no battery", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether anything feeds itself, straight or by way of others (a battery on its own circuit, a switch unit on its own
channel, a converter behind its own output); whether each circuit and each main starts at a battery; whether a load
hangs on two circuits.

Why it matters
It cannot be built as it is written, so every sum about it is wrong. Two circuits that meet in a load join their
batteries and go round their fuses; two batteries joined by accident drive a great current into each other.

Limit and source
Stop for any. Common practice, no source.

What to do
Name the battery as the source of the circuit, hang what a converter feeds behind the converter's circuit, and each
load on one circuit. When unsure ask a competent electrician.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let rings = &case.study.wiring.rings;
    if let Some(first) = rings.fed_by_itself.first() {
        findings.push(ring(case, *first, &rings.fed_by_itself));
    }
    findings.extend(rings.no_battery.iter().filter_map(|circuit| no_battery(case, *circuit)));
    findings.extend(rings.main_of_no_battery.iter().map(|gear| {
        let says = format!("{} has a main fuse and is no battery.", label(case.plan, *gear));
        stop(case, Subject::Gear(*gear), Some(*gear), says, "Give the main to the battery it stands behind.")
    }));
    findings.extend(rings.fed_twice.iter().map(|gear| {
        let says = format!("{} hangs on two circuits: they meet in it.", label(case.plan, *gear));
        stop(case, Subject::Gear(*gear), Some(*gear), says, "Leave it on one of them.")
    }));
}

fn ring(case: &Case<'_>, first: GearId, all: &[GearId]) -> Finding {
    let names: Vec<String> = all.iter().map(|gear| label(case.plan, *gear)).collect();
    let says = match names.as_slice() {
        [one] => format!("{one} is fed by itself."),
        names => format!("{} feed each other in a circle.", list(names)),
    };
    stop(case, Subject::Gear(first), Some(first), says, "Take one of them off the circuit that closes the circle.")
}

fn no_battery(case: &Case<'_>, circuit: CircuitId) -> Option<Finding> {
    let source = case.plan.wiring.circuit(circuit)?.battery;
    let name = Subject::Circuit(circuit).named(case.plan);
    let says = format!("Circuit \"{name}\" starts at {}, which is no battery.", label(case.plan, source));
    Some(stop(case, Subject::Circuit(circuit), Some(source), says, "Name the battery that feeds it."))
}

fn stop(case: &Case<'_>, subject: Subject, place: Option<GearId>, says: String, remedy: &str) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject,
        at: place.and_then(|gear| case.place(gear)),
        value: 1.0,
        limit: 0.0,
        margin: -1.0,
        unit: "count",
        says,
        remedy: format!("{remedy} {SHORT_CIRCUIT}"),
        source: COMMON_PRACTICE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{
        add_electric, battery, circuit, converter, findings, load, main_fuse, plan, switch,
    };
    use crate::plan::{Chemistry, Kind, Plan};

    /// A battery 1, a switch unit 2, a converter 3, a phone 4; a circuit feeds the converter by channel 1.
    fn rigged() -> (Plan, [GearId; 4]) {
        let mut plan = plan();
        let lithium = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
        let source = add_electric(&mut plan, "battery", Kind::Battery, lithium);
        let unit = add_electric(&mut plan, "switch unit", Kind::SwitchUnit, switch(4, 10.0, 15.0));
        let five = add_electric(&mut plan, "converter", Kind::Converter, converter(5.0, 15.0, 0.9));
        let phone = add_electric(&mut plan, "phone", Kind::Phone, load(5.0, 1.0, 2.0));
        circuit(&mut plan, "five volts", source, &[five]).channel = Some((unit, 1));
        (plan, [source, unit, five, phone])
    }

    fn check(plan: &Plan, expected: &[&str]) {
        let found = findings(plan, "wiring-loop");
        assert_eq!(found.iter().map(|f| f.says.as_str()).collect::<Vec<_>>(), expected);
        assert!(found.iter().all(|f| f.severity == Severity::Stop));
    }

    #[test]
    fn a_tree_from_a_battery_is_sound() {
        let (mut plan, [source, ..]) = rigged();
        main_fuse(&mut plan, source);
        check(&plan, &[]);
    }

    #[test]
    fn nothing_feeds_itself() {
        let (mut plan, [source, ..]) = rigged();
        circuit(&mut plan, "own", source, &[source]);
        check(&plan, &["battery is fed by itself."]);
        let (mut plan, [_, unit, ..]) = rigged();
        plan.wiring.circuits[0].loads.push(unit);
        check(&plan, &["switch unit is fed by itself."]);
        let (mut plan, [_, _, five, phone]) = rigged();
        circuit(&mut plan, "behind", phone, &[five]);
        plan.wiring.circuits[0].loads.clear();
        check(
            &plan,
            &[
                "converter and phone feed each other in a circle.",
                "Circuit \"behind\" starts at phone, which is no battery.",
            ],
        );
    }

    #[test]
    fn two_batteries_in_a_circle() {
        let (mut plan, [source, ..]) = rigged();
        let lead = battery(Chemistry::GlassMatLead, 12.0, 35.0, None);
        let second = add_electric(&mut plan, "second battery", Kind::Battery, lead);
        circuit(&mut plan, "there", source, &[second]);
        check(&plan, &[]);
        circuit(&mut plan, "back", second, &[source]);
        check(&plan, &["battery and second battery feed each other in a circle."]);
    }

    #[test]
    fn circuits_and_mains_start_at_batteries_and_end_once() {
        let (mut plan, [source, _, five, phone]) = rigged();
        circuit(&mut plan, "phone", five, &[phone]);
        check(&plan, &["Circuit \"phone\" starts at converter, which is no battery."]);
        plan.wiring.circuits[1].battery = source;
        check(&plan, &[]);
        plan.wiring.circuits[0].loads.push(phone);
        check(&plan, &["phone hangs on two circuits: they meet in it."]);
        plan.wiring.circuits[0].loads.pop();
        main_fuse(&mut plan, five);
        check(&plan, &["converter has a main fuse and is no battery."]);
    }
}
