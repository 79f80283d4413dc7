//! A plug larger than an opening on its way; more cables than an opening takes.

use super::cable_short::needed_mm;
use super::cable_words::{Over, mm, planned, the_cable};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::Via;
use crate::study::cables::bundle::Bundle;
use crate::study::cables::words::named;
use crate::study::cables::{CableRun, Stuck, Way};

/// A plug larger than an opening on its way.
pub const CHECK: Check = Check { id: "plug-stuck", title: "a plug does not pass an opening", doc: DOC, run };

const DOC: &str = "\
What it checks
The plug of the cable that comes with gear, its collar included, against the bore of every opening between that gear and
the cable's other end; of an oblong opening the narrow side counts. And how much of an opening its cables fill together.

Why it matters
A moulded plug that is three millimetres too wide is found out after the hole is drilled and the cable is half through.
Opening a hole up later leaves less to seal on.

Limit and source
Stop when the plug is wider than the bore. A note when the cables fill more than 60 percent of it: the last plug does
not pass beside the others. Common practice, no source.

What to do
Lead it the way round that is named, through wider openings, or open the hole up to the plug's size before the fitting
goes on. A seal with a split insert closes on a thin cable after its plug has passed; a plain gland does not. Cutting
a sonar plug off ends its warranty. Pass the largest plug first.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for (id, run) in planned(case) {
        let stuck = run.stuck.first().map(|stuck| over(case, run, stuck).finding(CHECK.id, Subject::Cable(id)));
        findings.extend(stuck);
    }
    findings.extend(case.study.cables.bundles.iter().filter_map(|bundle| full(case, bundle)));
}

fn over(case: &Case<'_>, run: &CableRun, stuck: &Stuck) -> Over {
    let plug = mm(stuck.plug_mm);
    Over {
        severity: Severity::Stop,
        at: Some(stuck.at),
        value: stuck.plug_mm,
        limit: stuck.bore_mm,
        says: format!(
            "{} has a plug of {plug}, and {} is {} wide.",
            the_cable(case.plan, run),
            named(case.plan, stuck.opening),
            mm(stuck.bore_mm)
        ),
        remedy: match &run.round {
            Some(way) => format!("Lead it {}: {} of cable.", by(case, way), mm(needed_mm(way.length_mm))),
            None => format!("No way round: it takes a bore of {plug}, or a seal with a split insert of that size."),
        },
    }
}

/// `by day hatch and cable entry, bow`, `over the deck`.
fn by(case: &Case<'_>, way: &Way) -> String {
    let names: Vec<String> = way.openings().map(|via| named(case.plan, via)).collect();
    if names.is_empty() { "over the deck".into() } else { format!("by {}", names.join(", then ")) }
}

fn full(case: &Case<'_>, bundle: &Bundle) -> Option<Finding> {
    let limit = case.limits.get("plug-stuck.fill");
    let filled = bundle.fill_percent;
    (filled > limit && bundle.cables.len() > 1).then(|| Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: match bundle.opening {
            Via::Feature(id) => Subject::Feature(id),
            Via::Hole(id) => Subject::Hole(crate::study::rig::HoleRef::Own(id)),
            Via::Gear(id) => Subject::Gear(id),
        },
        at: Some(bundle.at),
        value: filled,
        limit,
        margin: limit - filled,
        unit: "percent",
        says: format!(
            "{} cables fill {filled:.0} percent of {}.",
            bundle.cables.len(),
            named(case.plan, bundle.opening)
        ),
        remedy: "Pass the largest plug first, or lead some of them through another opening.".into(),
        source: COMMON_PRACTICE,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{cable, hull, inside, on_deck, port, tail};
    use crate::checks::test_power::findings;
    use crate::plan::{Kind, Plan, Signal};

    /// A head on deck and a display inside, with a port of 22 mm at x 1000 between them.
    fn boat(plug: f64) -> Plan {
        let mut plan = hull();
        let head = on_deck(&mut plan, "head", Kind::Transducer, (500.0, 0.0));
        let display = inside(&mut plan, "display", Kind::Display, (1500.0, 0.0));
        tail(&mut plan, head, Signal::Sonar, (plug, 8.0, 6000.0));
        let narrow = port(&mut plan, "narrow port", (1000.0, 0.0), 22.0);
        cable(&mut plan, (head, display), Signal::Sonar, &[Via::Feature(narrow)]);
        plan
    }

    #[test]
    fn stops_a_plug_wider_than_the_bore() {
        assert_eq!(findings(&boat(22.0), CHECK.id), []);
        let found = findings(&boat(22.1), CHECK.id);
        assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Stop]);
        assert!(found[0].remedy.starts_with("No way round: it takes a bore of 22"), "{}", found[0].remedy);
    }

    #[test]
    fn names_the_way_round_and_its_length() {
        let mut plan = boat(25.0);
        port(&mut plan, "wide port", (1000.0, 200.0), 25.0);
        let found = findings(&plan, CHECK.id);
        // On deck 538.5 mm, inside from (1000, 200, 300) to (1500, 0, 6) 613.5 mm: 1.1 x 1152.0 + 300 = 1567.
        assert_eq!(found[0].remedy, "Lead it by wide port: 1567 mm of cable.");
    }

    #[test]
    fn notes_an_opening_that_is_full() {
        let mut plan = boat(10.0);
        let ends = plan.wiring.cables[0].clone();
        // Cables of 8 mm in 22 mm: 13.2 percent each.
        for n in 2..=4 {
            plan.wiring.cables.push(crate::plan::Cable { id: crate::plan::CableId(n), ..ends.clone() });
        }
        assert_eq!(findings(&plan, CHECK.id), []);
        plan.wiring.cables.push(crate::plan::Cable { id: crate::plan::CableId(5), ..ends });
        let found = findings(&plan, CHECK.id);
        assert_eq!(found.iter().map(|f| f.severity).collect::<Vec<_>>(), [Severity::Note]);
        assert!((found[0].value - 5.0 * 100.0 * (8.0_f64 / 22.0).powi(2)).abs() < 1e-9);
    }
}
