//! Lithium charged in the cold.

use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Chemistry, Electric, Gear};

/// Lithium charged in the cold.
pub const CHECK: Check =
    Check { id: "cold-charge", title: "a battery is charged colder than it may be", doc: DOC, run };

const DOC: &str = "\
What it checks
Phases in which batteries are charged: the air against the coldest that each battery aboard may be charged at.
What its own figures say counts, else for lithium iron phosphate the limit below. Lead is not checked unless
its figures name a temperature.

Why it matters
Lithium charged below freezing plates metal inside: the battery loses capacity for good and can become
dangerous. The battery itself lags behind the air; after a cold night it is colder than the morning.

Limit and source
Stop below 0 C for lithium iron phosphate, a battery maker's note; some makers say 5 C. The maker's sheet
decides.

What to do
Charge at home, after the battery has warmed to room temperature, with a charger made for it. Never charge a
battery that was under water.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let outing = &case.plan.outing;
    let charging = outing.phases.iter().enumerate().filter(|(_, phase)| phase.charging);
    let cold = charging.map(|(index, phase)| (outing.air_in(index).to_celsius(), phase));
    let Some((air, phase)) = cold.min_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    for gear in case.plan.gear.iter().filter(|gear| gear.is_placed()) {
        let Some((limit, source)) = least(case, gear) else { continue };
        if air >= limit {
            continue;
        }
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Stop,
            subject: Subject::Gear(gear.id),
            at: case.place(gear.id),
            value: air,
            limit,
            margin: air - limit,
            unit: "C",
            says: format!(
                "{} would be charged in \"{}\" at {air:.0} C and may not be below {limit:.0} C.",
                label(case.plan, gear.id),
                phase.name
            ),
            remedy: "Charge it at home once it has warmed; the battery maker's sheet decides.".into(),
            source,
        });
    }
}

/// The coldest a battery may be charged at, C, and who says so.
fn least(case: &Case<'_>, gear: &Gear) -> Option<(f64, &'static str)> {
    let Some(Electric::Battery { chemistry, charge_above, .. }) = &gear.spec.electric else { return None };
    match (charge_above, chemistry) {
        (Some(own), _) => Some((own.to_celsius(), "the battery maker's stated limit")),
        (None, Chemistry::LithiumIronPhosphate) => {
            Some((case.limits.get("cold-charge.stop"), "a battery maker's note on lithium iron phosphate"))
        }
        (None, _) => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, electric, findings, phase, plan};
    use crate::plan::{Kind, Phase};
    use crate::units::Temperature;

    fn check(chemistry: Chemistry, own: Option<f64>, charged_at: Option<f64>, speaks: bool) {
        let mut plan = plan();
        plan.outing.air = Temperature::celsius(-5.0);
        let source = add_electric(&mut plan, "battery", Kind::Battery, battery(chemistry, 12.0, 20.0, None));
        if let Electric::Battery { charge_above, .. } = electric(&mut plan, source) {
            *charge_above = own.map(Temperature::celsius);
        }
        let noon = Phase { air: charged_at.map(Temperature::celsius), ..phase("noon", 1.0, false) };
        plan.outing.phases.push(Phase { charging: charged_at.is_some(), ..noon });
        let found = findings(&plan, "cold-charge");
        assert_eq!(found.len(), usize::from(speaks), "{chemistry:?} {own:?} {charged_at:?}: {found:?}");
    }

    #[test]
    fn speaks_where_lithium_is_charged_below_freezing() {
        use Chemistry::{FloodedLead, LithiumIronPhosphate};
        check(LithiumIronPhosphate, None, None, false);
        check(LithiumIronPhosphate, None, Some(0.0), false);
        check(LithiumIronPhosphate, None, Some(-0.1), true);
        check(LithiumIronPhosphate, Some(5.0), Some(4.9), true);
        check(LithiumIronPhosphate, Some(5.0), Some(5.0), false);
        check(FloodedLead, None, Some(-10.0), false);
        check(FloodedLead, Some(-5.0), Some(-10.0), true);
    }
}
