//! A battery that does not see the day out, or none at all.

use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::power::{BatteryUse, LoadUse};
use crate::units::{Charge, Quantity, amount};

/// A battery that does not see the day out, or none at all.
pub const CHECK: Check = Check { id: "battery-short", title: "the battery does not see the day out", doc: DOC, run };

const DOC: &str = "\
What it checks
For each battery what is left of its usable charge at the end of the outing, in percent of the usable
charge. Usable is the label times the depth of discharge (lithium iron phosphate 85 %, lead 50 %) times
what the coldest air of the day leaves of it. Loads that nothing aboard feeds, and phases that name a
motor setting no motor aboard has, are reported too.

Why it matters
Lights and the way home hang on it. A lithium battery gives no warning: its protection cuts out and
everything goes dark at once. Lead emptied below half ages fast.

Limit and source
Caution under 20 % left, stop when empty before the end or when nothing feeds a load. Common practice, no
source; cold from makers' tables, depth of discharge from published charts and from memory.

What to do
Run the largest load less, take a larger battery, measure currents with a meter in series. Carry a light
with cells of its own whatever the sum says. Disconnect before work: a shorted battery can start a fire.
";

const SOURCE: &str = "common practice, no source; cold from makers' capacity tables";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let power = &case.study.power;
    for battery in power.batteries.iter().filter(|battery| battery.drawn.base() > 0.0) {
        findings.extend(short(case, battery));
    }
    let unfed: Vec<&LoadUse> =
        power.loads.iter().filter(|load| load.battery.is_none() && load.charge.base() > 0.0).collect();
    findings.extend(nothing_feeds(case, &unfed));
    for phase in power.phases.iter().filter(|phase| phase.motor_unknown) {
        findings.extend(motor_unknown(case, phase.phase));
    }
}

fn short(case: &Case<'_>, battery: &BatteryUse) -> Option<Finding> {
    let reserve = battery.reserve_percent;
    let (wanted, least) = (case.limits.get("battery-short.caution"), case.limits.get("battery-short.stop"));
    let (limit, severity) = match reserve {
        r if r < least => (least, Severity::Stop),
        r if r < wanted => (wanted, Severity::Caution),
        _ => return None,
    };
    let name = label(case.plan, battery.gear);
    let ends = match battery.empty_after {
        Some(hours) => format!("is empty after {} of {}", amount(hours, 1), amount(case.study.power.hours, 1)),
        None => format!("leaves {reserve:.0} % of that"),
    };
    let enough = (battery.smallest.base() / (1.0 - wanted / 100.0).max(0.01)).ceil();
    let largest = largest(case.study.power.loads.iter().filter(|load| load.battery == Some(battery.gear)));
    let less = largest
        .map(|load| format!("Run {} less ({}), or take", label(case.plan, load.gear), amount(load.charge, 1)))
        .unwrap_or_else(|| "Take".into());
    Some(Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Gear(battery.gear),
        at: case.place(battery.gear),
        value: reserve,
        limit,
        margin: reserve - limit,
        unit: "percent",
        says: format!(
            "{name} has {} to use of {} on the label at {:.0} C; the day takes {} and {}{ends}.",
            amount(battery.usable, 1),
            amount(battery.nominal, 0),
            case.plan.outing.air.to_celsius(),
            amount(battery.drawn, 1),
            if battery.empty_after.is_some() { "it " } else { "" },
        ),
        remedy: format!(
            "{less} a battery of {} or more on the label. Carry a light with cells of its own.",
            amount(Charge::from_base(enough), 0)
        ),
        source: SOURCE,
    })
}

fn nothing_feeds(case: &Case<'_>, unfed: &[&LoadUse]) -> Option<Finding> {
    let first = largest(unfed.iter().copied())?;
    let names: Vec<String> = unfed.iter().map(|load| label(case.plan, load.gear)).collect();
    let asked: Charge = unfed.iter().map(|load| load.charge).sum();
    let why = if case.study.power.batteries.is_empty() { "No battery is aboard" } else { "No battery aboard feeds it" };
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(first.gear),
        at: case.place(first.gear),
        value: asked.base(),
        limit: 0.0,
        margin: -asked.base(),
        unit: "Ah",
        says: format!("{why}: {} would take {} over the day.", list(&names), amount(asked, 1)),
        remedy: format!("Place a battery and give its circuit these loads. {SHORT_CIRCUIT}"),
        source: SOURCE,
    })
}

fn motor_unknown(case: &Case<'_>, phase: usize) -> Option<Finding> {
    let phase = case.plan.outing.phases.get(phase)?;
    let setting = phase.motor.as_ref()?;
    let hours = phase.hours.to_hours();
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: Subject::Plan,
        at: None,
        value: hours,
        limit: 0.0,
        margin: -hours,
        unit: "h",
        says: format!(
            "In \"{}\" the motor is set to \"{setting}\", which no motor aboard has: counted as off.",
            phase.name
        ),
        remedy: "Name a setting that the motor has, or place the motor.".into(),
        source: SOURCE,
    })
}

fn largest<'a>(loads: impl Iterator<Item = &'a LoadUse>) -> Option<&'a LoadUse> {
    loads.max_by(|a, b| a.charge.base().total_cmp(&b.charge.base()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, findings, load, name, plan};
    use crate::plan::{Chemistry, Kind, Plan};

    /// A lead battery of 40 Ah (20 to use at 25 C) and a load for ten hours.
    fn rigged(amps: f64) -> Plan {
        let mut plan = plan();
        add_electric(&mut plan, "battery", Kind::Battery, battery(Chemistry::GlassMatLead, 12.0, 40.0, None));
        add_electric(&mut plan, "display", Kind::Display, load(12.0, amps, amps));
        plan
    }

    fn check(amps: f64, severity: Option<Severity>) {
        let found = findings(&rigged(amps), "battery-short");
        assert_eq!(found.first().map(|f| f.severity), severity, "{amps} A: {found:?}");
    }

    #[test]
    fn speaks_under_a_fifth_left_and_stops_when_empty() {
        check(1.6, None);
        check(1.61, Some(Severity::Caution));
        check(2.0, Some(Severity::Caution));
        check(2.01, Some(Severity::Stop));
    }

    #[test]
    fn says_when_it_is_empty_and_what_would_do() {
        let found = findings(&rigged(2.5), "battery-short");
        assert!(found[0].says.contains("empty after 8.0 h of 10.0 h"), "{}", found[0].says);
        // 25 Ah over half the label over four fifths.
        assert!(found[0].remedy.contains("63 Ah"), "{}", found[0].remedy);
    }

    #[test]
    fn stops_when_loads_draw_and_nothing_feeds_them() {
        let mut plan = rigged(1.0);
        plan.gear[0].place = None;
        let found = findings(&plan, "battery-short");
        assert_eq!((found.len(), found[0].severity, found[0].value), (1, Severity::Stop, 10.0));
        assert!(found[0].says.contains("No battery is aboard: display"), "{}", found[0].says);
        plan.gear[1].place = None;
        assert_eq!(findings(&plan, "battery-short"), []);
    }

    #[test]
    fn a_motor_setting_nobody_has_is_not_swallowed() {
        let mut plan = plan();
        plan.outing.phases[0].motor = Some(name("9"));
        let found = findings(&plan, "battery-short");
        assert_eq!((found.len(), found[0].severity), (1, Severity::Note));
    }
}
