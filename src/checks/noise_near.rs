//! A sonar cable beside a motor lead.

use super::cable_words::{Over, mm, planned, the_cable};
use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};

/// A sonar cable beside a motor lead.
pub const CHECK: Check = Check { id: "noise-near", title: "a sonar cable runs beside a motor lead", doc: DOC, run };

const DOC: &str = "\
What it checks
How much of each planned sonar cable's way runs nearer than 300 mm to a motor lead's, planned or needed by a circuit.

Why it matters
The pulses of a motor's control get into the sonar: bars across the screen, false depths, a display that starts anew.

Limit and source
Note over 0.3 m, caution over 1 m. Common practice, no source. A crossing at a right angle counts 0.6 m and does no
harm.

What to do
Lead the sonar cable along one side of the boat and motor leads along the other; cross them at right angles. Never tie
them together, and keep coiled cable away from both.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let (note, caution) = (case.limits.get("noise-near.note"), case.limits.get("noise-near.caution"));
    for (id, run) in planned(case) {
        let Some((lead, beside)) = run.beside.filter(|(_, beside)| *beside > note) else { continue };
        let (severity, limit) = if beside > caution { (Severity::Caution, caution) } else { (Severity::Note, note) };
        let motor = case.study.cables.run(lead).map_or_else(String::new, |lead| label(case.plan, lead.to));
        let over = Over {
            severity,
            at: run.way.as_ref().ok().map(|way| way.at(way.length_mm / 2.0)),
            value: beside,
            limit,
            says: format!("{} runs {} beside the lead to {motor}.", the_cable(case.plan, run), mm(beside)),
            remedy: "Lead them along different sides of the boat, and cross them at right angles.".into(),
        };
        findings.push(over.finding(CHECK.id, Subject::Cable(id)));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{cable, hull, inside};
    use crate::checks::test_power::findings;
    use crate::plan::{Kind, Signal};

    /// A sonar cable of this length, 299 or 301 mm beside a motor lead that is longer at both ends.
    fn check(length: f64, apart: f64, expected: &[Severity]) {
        let mut plan = hull();
        let boxes = [(500.0, 0.0), (500.0 + length, 0.0), (200.0, apart), (3300.0, apart)];
        let [head, display, battery, motor] = boxes.map(|at| inside(&mut plan, "box", Kind::Other, at));
        cable(&mut plan, (head, display), Signal::Sonar, &[]);
        cable(&mut plan, (battery, motor), Signal::MotorPower, &[]);
        let severities: Vec<Severity> = findings(&plan, CHECK.id).iter().map(|f| f.severity).collect();
        assert_eq!(severities, expected, "{length} {apart}");
    }

    #[test]
    fn counts_what_runs_close() {
        check(299.0, 299.0, &[]);
        check(301.0, 299.0, &[Severity::Note]);
        check(999.0, 299.0, &[Severity::Note]);
        check(1001.0, 299.0, &[Severity::Caution]);
        check(2000.0, 301.0, &[]);
    }
}
