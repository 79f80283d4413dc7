//! A fuse that does not protect its wire, or opens under its load.

use super::wire_words::{CircuitOrMain, runs};
use super::words::SHORT_CIRCUIT;
use super::{Case, Check, Finding, Severity};
use crate::study::wire::ampacity::thinnest_for;
use crate::units::{Current, amount};

/// A fuse that does not protect its wire, or opens under its load.
pub const CHECK: Check = Check { id: "fuse-wrong", title: "a fuse is over its wire or under its load", doc: DOC, run };

const DOC: &str = "\
What it checks
The fuse of each circuit, and the main fuse or breaker of each battery, against what its wire may carry and what its
loads take: at least 125 % of what runs for hours (a motor at its greatest setting), and no less than the peak.

Why it matters
The fuse protects the wire, not the device. Over the wire it lets the wire burn first: a shorted battery, even a
small one, melts a hull. Under the load it opens when everything is on, often in the dark.

Limit and source
Stop over what 33 CFR 183.425 Table 5 lets the wire carry. 183.455(c) bears up to 150 % of that below 50 V; the
stricter 100 % is practice, and the limit can be set. Caution under 125 % of the steady load: a maker's guide. By
law the rules bind only boats with petrol engines other than outboards.

What to do
Fit the standard size it names; where none lies between load and wire, take thicker wire. When a maker names a fuse
for a device, that one counts if the wire bears it. Rated fuse holders and breakers only; where local rules ask for
licensed work, follow them.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    findings.extend(runs(case).filter_map(|wire| over(case, &wire).or_else(|| under(case, &wire))));
}

fn over(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> Option<Finding> {
    let run = wire.run;
    let (fuse, greatest, awg) = (run.fuse_a?, run.greatest_fuse_a?, run.gauge_awg?);
    (fuse > greatest).then(|| {
        let thicker = thinnest_for(fuse, run.insulation).map(|awg| format!("wire of {awg} AWG"));
        let smaller = run.standard_fuse_a.map(|fuse| format!("a fuse of {}", amps(fuse)));
        let says = format!("{} has a fuse of {} on {awg} AWG, ", wire.name(case.plan), amps(fuse));
        Finding {
            severity: Severity::Stop,
            value: fuse,
            limit: greatest,
            margin: greatest - fuse,
            says: format!("{says}which bears {}: the wire burns before the fuse opens.", amps(greatest)),
            remedy: fit([smaller, thicker]),
            source: "33 CFR 183.425 Table 5 and 183.455, as practice",
            ..blank(wire)
        }
    })
}

fn under(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> Option<Finding> {
    let run = wire.run;
    let fuse = run.fuse_a?;
    (fuse < run.least_fuse_a - 1.0e-9).then(|| {
        let larger = run.standard_fuse_a.map(|fuse| format!("a fuse of {}", amps(fuse)));
        let thicker =
            run.smallest_awg.filter(|_| larger.is_none()).map(|awg| format!("wire of {awg} AWG and its fuse"));
        Finding {
            severity: Severity::Caution,
            value: fuse,
            limit: run.least_fuse_a,
            margin: fuse - run.least_fuse_a,
            says: format!(
                "{} has a fuse of {} for {} steady and {} at most, and wants {} or more.",
                wire.name(case.plan),
                amps(fuse),
                amps(run.amps.steady),
                amps(run.amps.peak),
                amps(run.least_fuse_a)
            ),
            remedy: fit([larger, thicker]),
            source: "a maker's guide: fuse at least 125 percent of the steady load",
            ..blank(wire)
        }
    })
}

fn blank(wire: &CircuitOrMain<'_>) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: wire.subject,
        at: wire.at,
        value: 0.0,
        limit: 0.0,
        margin: 0.0,
        unit: "A",
        says: String::new(),
        remedy: String::new(),
        source: "",
    }
}

fn amps(value: f64) -> String {
    amount(Current::amps(value), 1)
}

fn fit(ways: [Option<String>; 2]) -> String {
    let ways: Vec<String> = ways.into_iter().flatten().collect();
    let what = if ways.is_empty() { "fewer loads: no wire here is thick enough".into() } else { ways.join(", or ") };
    format!("Fit {what}: the fuse protects the wire. {SHORT_CIRCUIT}")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{findings, main_fuse, name, one_load};
    use crate::plan::{Kind, LimitOverride};

    /// A load that draws the same all the time, behind this fuse and 16 AWG.
    fn check(amps: f64, fuse: f64, expected: Option<(Severity, f64)>) {
        let mut plan = one_load(Kind::Phone, amps);
        plan.wiring.circuits[0].fuse = Some(Current::amps(fuse));
        let found = findings(&plan, "fuse-wrong");
        assert_eq!(found.first().map(|f| (f.severity, f.limit)), expected, "{fuse} A for {amps} A: {found:?}");
    }

    /// 16 AWG bears 25 A; 4 A want 5 A or more.
    #[test]
    fn speaks_over_the_wire_and_under_the_load() {
        check(4.0, 25.0, None);
        check(4.0, 25.5, Some((Severity::Stop, 25.0)));
        check(4.0, 5.0, None);
        check(4.0, 4.9, Some((Severity::Caution, 5.0)));
    }

    #[test]
    fn names_a_fuse_that_fits_or_the_wire_for_it() {
        let mut plan = one_load(Kind::Phone, 4.2);
        plan.wiring.circuits[0].fuse = Some(Current::amps(40.0));
        let found = findings(&plan, "fuse-wrong");
        assert!(found[0].remedy.starts_with("Fit a fuse of 7.5 A, or wire of 12 AWG:"), "{found:?}");
        // 22 A want 27.5 A, and 16 AWG bears no fuse of 30 A.
        let mut plan = one_load(Kind::Phone, 22.0);
        plan.wiring.circuits[0].fuse = Some(Current::amps(25.0));
        let found = findings(&plan, "fuse-wrong");
        assert!(found[0].remedy.starts_with("Fit wire of 14 AWG and its fuse:"), "{found:?}");
    }

    #[test]
    fn the_rule_of_half_more_can_be_chosen() {
        let mut plan = one_load(Kind::Phone, 4.0);
        plan.wiring.circuits[0].fuse = Some(Current::amps(37.5));
        assert_eq!(findings(&plan, "fuse-wrong").len(), 1);
        let reason = name("the rule as it stands");
        plan.limits.push(LimitOverride { limit: "fuse-wrong.over".into(), value: 150.0, reason });
        assert_eq!(findings(&plan, "fuse-wrong"), []);
    }

    #[test]
    fn the_main_is_judged_by_all_it_carries() {
        let mut plan = one_load(Kind::Phone, 4.0);
        let battery = plan.gear[0].id;
        main_fuse(&mut plan, battery).fuse = Some(Current::amps(4.0));
        let found = findings(&plan, "fuse-wrong");
        assert!(found.len() == 1 && found[0].says.starts_with("The main of battery"), "{found:?}");
        plan.wiring.mains[0].fuse = Some(Current::amps(5.0));
        assert_eq!(findings(&plan, "fuse-wrong"), []);
        // 10 AWG bears 60 A.
        plan.wiring.mains[0].fuse = Some(Current::amps(70.0));
        assert_eq!(findings(&plan, "fuse-wrong").len(), 1);
    }
}
