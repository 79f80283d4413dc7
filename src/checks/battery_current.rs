//! More current asked of a battery than it gives.

use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};
use crate::units::amount;

/// More current asked of a battery than it gives.
pub const CHECK: Check =
    Check { id: "battery-current", title: "more current asked than the battery gives", doc: DOC, run };

const DOC: &str = "\
What it checks
The greatest current of everything on a battery together, motors at their greatest setting, against the
greatest current the battery gives.

Why it matters
The protection inside a lithium battery opens at its limit: motor, lights and sonar stop at the same
moment, often against wind or current. A 20 Ah battery commonly gives 20 A, a 50 Ah one 50 A.

Limit and source
Stop over the battery maker's limit. Batteries without a stated limit are not checked.

What to do
Put the motor on its own battery, use a smaller greatest setting, or a battery with a higher limit.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for battery in &case.study.power.batteries {
        let Some(limit) = battery.limit else { continue };
        let (peak, limit_a) = (battery.peak.to_amps(), limit.to_amps());
        if peak <= limit_a {
            continue;
        }
        let name = label(case.plan, battery.gear);
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Stop,
            subject: Subject::Gear(battery.gear),
            at: case.place(battery.gear),
            value: peak,
            limit: limit_a,
            margin: limit_a - peak,
            unit: "A",
            says: format!(
                "{name} is asked for {} at once and gives {}: it may cut out and everything on it stops.",
                amount(battery.peak, 1),
                amount(limit, 1)
            ),
            remedy: "Give the largest load a battery of its own, or take a battery with a higher limit.".into(),
            source: "the battery maker's stated limit",
        });
    }
}

#[cfg(test)]
mod tests {
    use crate::checks::test_power::{add_electric, battery, findings, load, plan};
    use crate::plan::{Chemistry, Kind};

    fn check(peak: f64, limit: Option<f64>, speaks: bool) {
        let mut plan = plan();
        let lithium = battery(Chemistry::LithiumIronPhosphate, 12.8, 20.0, limit);
        add_electric(&mut plan, "battery", Kind::Battery, lithium);
        add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 0.1, peak));
        assert_eq!(findings(&plan, "battery-current").len(), usize::from(speaks), "{peak} A of {limit:?}");
    }

    #[test]
    fn speaks_past_the_limit() {
        check(20.0, Some(20.0), false);
        check(20.1, Some(20.0), true);
        check(200.0, None, false);
    }
}
