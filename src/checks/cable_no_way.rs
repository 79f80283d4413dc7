//! A cable with no way through the boat.

use super::cable_words::{planned, the_cable};
use super::words::label;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::study::cables::words::named;
use crate::study::cables::{CableRun, NoWay};

/// A cable with no way through the boat.
pub const CHECK: Check = Check { id: "cable-no-way", title: "a cable has no way through the boat", doc: DOC, run };

const DOC: &str = "\
What it checks
Every planned cable whose ends are both aboard: whether a way leads from one to the other, on deck, through openings
in the skin and through the hull's inside, round foam blocks and tubes, by the openings it must pass in their order.

Why it matters
A cable that cannot get there is found out with the last hole drilled, and the hole that is wanted then is a new one.

Limit and source
Stop. Common practice, no source.

What to do
Add an opening at the end that cannot be reached, or take an opening off the list that this cable must pass.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    findings.extend(planned(case).filter_map(|(id, run)| {
        let (says, remedy) = words(case, run)?;
        Some(Finding {
            check: CHECK.id,
            severity: Severity::Stop,
            subject: Subject::Cable(id),
            at: case.place(run.from).or(case.place(run.to)),
            value: 1.0,
            limit: 0.0,
            margin: -1.0,
            unit: "count",
            says,
            remedy,
            source: COMMON_PRACTICE,
        })
    }));
}

fn words(case: &Case<'_>, run: &CableRun) -> Option<(String, String)> {
    let (plan, cable) = (case.plan, the_cable(case.plan, run));
    match run.way.as_ref().err()? {
        NoWay::Ashore(_) => None,
        NoWay::SameEnd(gear) => Some((
            format!("A cable runs from {} to itself.", label(plan, *gear)),
            "Name the gear at its other end.".into(),
        )),
        NoWay::NoOpening(via) => Some((
            format!("{cable} must pass {}, which is no opening now.", named(plan, *via)),
            "Open it, or lead the cable through another opening.".into(),
        )),
        NoWay::Closed => Some((
            format!("{cable} has no way: nothing leads from one end to the other."),
            format!("Add an entry for cables near {} or {}.", label(plan, run.from), label(plan, run.to)),
        )),
        NoWay::Order => Some((
            format!("{cable} cannot pass the openings it is led through in this order."),
            "Take one off its list, or name the opening by which it comes out again.".into(),
        )),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{block, cable, hatch, hull, inside, on_deck, port};
    use crate::checks::test_power::findings;
    use crate::plan::{Kind, Signal, Via};

    #[test]
    fn a_closed_hull_is_stopped_and_one_opening_is_enough() {
        let mut plan = hull();
        let battery = inside(&mut plan, "battery", Kind::Battery, (500.0, 0.0));
        let pump = on_deck(&mut plan, "pump", Kind::Pump, (1500.0, 0.0));
        cable(&mut plan, (battery, pump), Signal::Power, &[]);
        let found = findings(&plan, CHECK.id);
        assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Stop]);
        assert!(found[0].says.starts_with("The supply from battery to pump has no way"), "{}", found[0].says);
        hatch(&mut plan, (1000.0, 0.0));
        assert_eq!(findings(&plan, CHECK.id), []);
        block(&mut plan, (750.0, 0.0), (50.0, 800.0));
        assert_eq!(findings(&plan, CHECK.id).len(), 1, "a wall of foam from side to side");
    }

    #[test]
    fn what_is_ashore_is_not_led_yet() {
        let mut plan = hull();
        let ends = [500.0, 1500.0].map(|x| inside(&mut plan, "box", Kind::Other, (x, 0.0)));
        cable(&mut plan, (ends[0], ends[1]), Signal::Power, &[]);
        plan.gear_mut(ends[1]).expect("gear").place = None;
        assert_eq!(findings(&plan, CHECK.id), []);
    }

    #[test]
    fn openings_that_lead_nowhere_are_named() {
        let mut plan = hull();
        let ends = [500.0, 1500.0].map(|x| inside(&mut plan, "box", Kind::Other, (x, 0.0)));
        let way_out = port(&mut plan, "port", (1000.0, 300.0), 22.0);
        cable(&mut plan, (ends[0], ends[1]), Signal::Power, &[Via::Feature(way_out)]);
        let found = findings(&plan, CHECK.id);
        assert!(found[0].says.contains("cannot pass the openings"), "{}", found[0].says);
        // A second opening lets it in again.
        port(&mut plan, "second port", (1200.0, 300.0), 22.0);
        assert_eq!(findings(&plan, CHECK.id), []);
    }
}
