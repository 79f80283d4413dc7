//! A cable that comes with gear and is too short.

use super::cable_words::{Over, mm, noun, planned, the_cable};
use super::words::{label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::cables::CableRun;
use crate::study::cables::ends::is_supply;
use crate::study::wiring::length::{ENDS_MM, SLACK_SHARE};

/// A cable that comes with gear and is too short.
pub const CHECK: Check = Check { id: "cable-short", title: "a supplied cable is too short", doc: DOC, run };

const DOC: &str = "\
What it checks
The length that every planned cable needs against what comes with the gear. It needs 1.1 times its way, which the study
finds through the boat, and 300 mm for both ends; or what was measured. Of supplies one note for the plan, of the
others a line each.

Why it matters
A sonar or network cable cannot be cut and joined: its plug is moulded on and its cores are screened. It needs the
maker's extension, which has two plugs more to pass and to keep dry.

Limit and source
Stop when it is shorter than needed. Supplies are lengthened with wire as a matter of course: a note. The share for
slack and ends is common practice, no source.

What to do
Buy the maker's extension of the next length, lead the cable a shorter way, or move one of its ends. Lengthen a supply
with a sealed crimp, in wire of its circuit's size, off the bilge. Coil what is left over in a figure of eight, away
from motor leads.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let spare = case.limits.get("cable-short.spare");
    let short = |run: &CableRun| run.surplus_mm.is_some_and(|surplus| surplus < spare);
    for (id, run) in planned(case).filter(|(_, run)| short(run) && !is_supply(run.signal)) {
        findings.extend(stop(case, run).map(|over| over.finding(CHECK.id, Subject::Cable(id))));
    }
    let supplies: Vec<_> = planned(case).filter(|(_, run)| short(run) && is_supply(run.signal)).collect();
    findings.extend(note(case, &supplies));
}

fn stop(case: &Case<'_>, run: &CableRun) -> Option<Over> {
    let (tail, needed) = (run.tail?, run.needed_mm?);
    let lacks = needed - tail.length_mm;
    Some(Over {
        severity: Severity::Stop,
        at: case.place(tail.gear),
        value: tail.length_mm,
        limit: needed,
        says: format!(
            "{} needs {} and {} come with {}.",
            the_cable(case.plan, run),
            mm(needed),
            mm(tail.length_mm),
            label(case.plan, tail.gear)
        ),
        remedy: format!("Take the maker's extension of {} or more, or a shorter way.", mm(lacks)),
    })
}

fn note(case: &Case<'_>, supplies: &[(crate::plan::CableId, &CableRun)]) -> Option<Finding> {
    let (id, worst) = supplies.iter().min_by(|a, b| lack(a.1).total_cmp(&lack(b.1)))?;
    let names: Vec<String> = supplies.iter().filter_map(|(_, run)| Some(label(case.plan, run.tail?.gear))).collect();
    let (needed, tail) = (worst.needed_mm?, worst.tail?);
    let over = Over {
        severity: Severity::Note,
        at: worst.joint.or(case.place(tail.gear)),
        value: tail.length_mm,
        limit: needed,
        says: format!(
            "The {} of {} must be lengthened, that of {} by {}.",
            if names.len() == 1 { noun(worst.signal) } else { "supplies" },
            list(&names),
            label(case.plan, tail.gear),
            mm(needed - tail.length_mm)
        ),
        remedy: "Join wire of the circuit's size with sealed crimps, off the bilge.".into(),
    };
    Some(over.finding(CHECK.id, Subject::Cable(*id)))
}

fn lack(run: &CableRun) -> f64 {
    run.surplus_mm.unwrap_or(0.0)
}

/// What a way of this length needs, mm: for the text of other checks.
pub(super) fn needed_mm(way_mm: f64) -> f64 {
    SLACK_SHARE * way_mm + ENDS_MM
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{cable, hull, inside, tail};
    use crate::checks::test_power::findings;
    use crate::plan::{Kind, Signal};

    /// Two boxes inside, 1000 mm apart: a cable needs 1.1 x 1000 + 300 = 1400 mm.
    fn check(signal: Signal, supplied: f64, expected: &[Severity]) {
        let mut plan = hull();
        let display = inside(&mut plan, "display", Kind::Display, (500.0, 0.0));
        let head = inside(&mut plan, "head", Kind::Transducer, (1500.0, 0.0));
        tail(&mut plan, head, signal, (20.0, 8.0, supplied));
        cable(&mut plan, (head, display), signal, &[]);
        let severities: Vec<Severity> = findings(&plan, CHECK.id).iter().map(|f| f.severity).collect();
        assert_eq!(severities, expected, "{supplied}");
    }

    #[test]
    fn stops_where_the_cable_does_not_reach() {
        check(Signal::Sonar, 1400.1, &[]);
        check(Signal::Sonar, 1399.9, &[Severity::Stop]);
        check(Signal::Data, 1399.9, &[Severity::Stop]);
    }

    #[test]
    fn a_supply_is_lengthened() {
        check(Signal::Power, 1400.1, &[]);
        check(Signal::Power, 1399.9, &[Severity::Note]);
    }
}
