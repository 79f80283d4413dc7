//! What the checks of wires share: circuits and mains as one list, and what they are called.

use super::words::{label, list};
use super::{Case, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::Plan;
use crate::study::wiring::run::Run;

/// A wire that something aboard draws through.
pub(super) struct CircuitOrMain<'a> {
    pub(super) subject: Subject,
    /// The place of its battery.
    pub(super) at: Option<Point>,
    /// Whether the battery's main fuse protects it as well.
    pub(super) main_protects: bool,
    pub(super) run: &'a Run,
}

impl CircuitOrMain<'_> {
    /// `Circuit "sonar"`, `The main of battery`.
    pub(super) fn name(&self, plan: &Plan) -> String {
        match self.subject {
            Subject::Gear(battery) => format!("The main of {}", label(plan, battery)),
            circuit => format!("Circuit \"{}\"", circuit.named(plan)),
        }
    }
}

/// Every circuit in use, then every main that the plan has.
pub(super) fn runs<'a>(case: &Case<'a>) -> impl Iterator<Item = CircuitOrMain<'a>> {
    let (case, wiring) = (*case, &case.study.wiring);
    let circuits = wiring.circuits.iter().filter(|wire| wire.in_use).map(move |wire| CircuitOrMain {
        subject: Subject::Circuit(wire.circuit),
        at: case.plan.wiring.circuit(wire.circuit).and_then(|circuit| case.place(circuit.battery)),
        main_protects: wire.main_protects,
        run: &wire.run,
    });
    let mains = wiring.mains.iter().filter(|main| main.stated && main.run.amps.peak > 0.0);
    circuits.chain(mains.map(move |main| CircuitOrMain {
        subject: Subject::Gear(main.battery),
        at: case.place(main.battery),
        main_protects: false,
        run: &main.run,
    }))
}

/// One note for all wires of which something is not known or not as practice has it: a line each would bury the rest.
pub(super) fn one_note(
    case: &Case<'_>,
    check: &'static str,
    wires: &[CircuitOrMain<'_>],
    words: impl Fn(&str) -> (String, String),
    source: &'static str,
) -> Option<Finding> {
    let first = wires.first()?;
    let names: Vec<String> = wires.iter().map(|wire| wire.subject.named(case.plan)).collect();
    let (says, remedy) = words(&list(&names));
    Some(Finding {
        check,
        severity: Severity::Note,
        subject: first.subject,
        at: first.at,
        value: names.len() as f64,
        limit: 0.0,
        margin: -(names.len() as f64),
        unit: "count",
        says,
        remedy,
        source,
    })
}
