//! A battery that does not see the day out, or none at all.

use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::day::{BatteryDay, ShedLoad};
use crate::study::power::{BatteryUse, LoadUse};
use crate::units::{Charge, Quantity, amount};

/// A battery that does not see the day out, or none at all.
pub const CHECK: Check = Check { id: "battery-short", title: "the battery does not see the day out", doc: DOC, run };

const DOC: &str = "\
What it checks
For each battery, lived hour by hour, what is left at the end of the outing of what may be used of it, in
percent of that. What may be used is the label times what age left of it, times the depth of discharge
(lithium iron phosphate 85 %, lead 50 %), times what the air of each phase leaves of it. Lead counts more
than was taken where the current is above that of its label (Peukert). Loads that nothing aboard feeds, and
phases that name a motor setting no motor aboard has, are reported too.

Why it matters
Lights and the way home hang on it. A lithium battery gives no warning: its protection cuts out and
everything goes dark at once. Lead emptied below half ages fast.

Limit and source
Caution under 20 % left, stop when it is used up or empty before the end or when nothing feeds a load. Common
practice, no source; cold from makers' tables, depth of discharge from published charts and from memory. What
the battery's maker states goes before all of it.

What to do
Leave off what the finding names first, run it less, or take a battery of the label it names; measure
currents with a meter in series. Carry a light with cells of its own whatever the sum says. Disconnect before
work: a shorted battery can start a fire.
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
    let day = case.study.day.battery(battery.gear)?;
    let reserve = day.reserve_percent;
    let (wanted, least) = (case.limits.get("battery-short.caution"), case.limits.get("battery-short.stop"));
    let (limit, severity) = match reserve {
        r if r < least || day.empty.is_some() => (least, Severity::Stop),
        r if r < wanted || day.used_up.is_some() => (wanted, Severity::Caution),
        _ => return None,
    };
    let enough = day.enough.map_or_else(String::new, |label| {
        format!(" Or take a battery of {} or more on the label.", amount(Charge::from_base(label.base().ceil()), 0))
    });
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
            "{} {}: {} to use of {} on the label at {:.0} C{}, and the day takes {}.",
            label(case.plan, battery.gear),
            ends(case, day),
            amount(battery.usable, 1),
            amount(battery.nominal, 0),
            case.plan.outing.air.to_celsius(),
            aged(battery),
            amount(battery.drawn, 1),
        ),
        remedy: format!(
            "{}{enough} Carry a light with cells of its own; the battery maker's sheet goes before these sums.",
            leave_off(case, day, wanted)
        ),
        source: SOURCE,
    })
}

/// What age left, where it took some: `, 70 % of it left by age`.
fn aged(battery: &BatteryUse) -> String {
    match battery.health_percent {
        health if health < 100.0 => format!(", {health:.0} % of it left by age"),
        _ => String::new(),
    }
}

/// How the day ends: `leaves 12 %`, `runs flat at 14:20 (used up at 12:50), the day ends at 16:00`.
fn ends(case: &Case<'_>, day: &BatteryDay) -> String {
    let moment = |after| case.plan.outing.moment(after);
    let ends = match (day.empty, day.used_up) {
        (Some(empty), _) => format!("runs flat {}", moment(empty)),
        (None, Some(used_up)) => format!("is used up {}", moment(used_up)),
        (None, None) => return format!("leaves {:.0} %", day.reserve_percent.max(0.0)),
    };
    let mut before = Vec::new();
    before.extend(day.empty.and(day.used_up).map(|after| format!("used up {}", moment(after))));
    let first = day.stops.first();
    before.extend(first.map(|(gear, after)| format!("{} stops {}", label(case.plan, *gear), moment(*after))));
    let before = if before.is_empty() { String::new() } else { format!(" ({})", before.join(", ")) };
    format!("{ends}{before}, the day ends {}", moment(case.study.power.hours))
}

/// What to leave off, in words: `Without camera it sees the day out`, `Without display it lasts 2.1 h longer`.
fn leave_off(case: &Case<'_>, day: &BatteryDay, wanted: f64) -> String {
    let Some(first) = day.shed.loads.first() else { return "Run less on it.".into() };
    let name = |load: &ShedLoad| label(case.plan, load.gear);
    let longer = match first.longer.base() {
        hours if hours >= 0.05 => format!("lasts {} longer", amount(first.longer, 1)),
        _ => format!("is spared {}", amount(first.charge, 1)),
    };
    let out = format!("sees the day out with {wanted:.0} % left");
    match day.shed.together {
        _ if first.alone => format!("Without {} it {longer} and {out}.", name(first)),
        Some(count) => {
            let names: Vec<String> = day.shed.loads.iter().take(count).map(name).collect();
            format!("Without {} it {longer}, without {} it {out}.", name(first), list(&names))
        }
        None => format!("Without {} it {longer}.", name(first)),
    }
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
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::checks::test_power::{add_electric, battery, findings, load, name, plan};
    use crate::plan::{Chemistry, Clock, Kind, Plan};

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

    /// By hand: 20 Ah to use at 2.5 A, a quarter over the label's 2 A, so 2.5 x 1.25^0.1 = 2.5564 A count: used
    /// up after 7.82 h. A label of 62.5 Ah has a rated current above 2.5 A: 25 Ah over a half over four fifths.
    #[test]
    fn says_when_it_is_used_up_and_what_would_do() {
        let mut plan = rigged(2.5);
        let found = findings(&plan, "battery-short");
        assert!(
            found[0].says.contains("is used up 7.8 h in, the day ends 10.0 h in: 20.0 Ah to use"),
            "{}",
            found[0].says
        );
        assert!(found[0].remedy.contains("63 Ah"), "{}", found[0].remedy);
        plan.outing.starts = Clock::new(4, 30);
        let found = findings(&plan, "battery-short");
        assert!(found[0].says.contains("is used up at 12:19, the day ends at 14:30"), "{}", found[0].says);
    }

    /// 40 Ah at 4 A for ten hours: twice the label's current, so 4 x 2^0.1 = 4.2871 A count, flat after 9.33 h.
    #[test]
    fn says_when_it_runs_flat() {
        let found = findings(&rigged(4.0), "battery-short");
        assert!(
            found[0].says.contains("battery runs flat 9.3 h in (used up 4.7 h in), the day ends"),
            "{}",
            found[0].says
        );
    }

    #[test]
    fn says_what_to_leave_off() {
        let mut plan = rigged(1.5);
        let camera = add_electric(&mut plan, "camera", Kind::Camera, load(12.0, 0.4, 0.4));
        let remedy = |plan: &Plan| findings(plan, "battery-short")[0].remedy.clone();
        assert!(
            remedy(&plan).starts_with("Without camera it is spared 4.0 Ah and sees the day out"),
            "{}",
            remedy(&plan)
        );
        // A pump is not offered, and neither of the others is enough alone.
        add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 1.7, 1.7));
        let text = remedy(&plan);
        assert!(text.starts_with("Without display it lasts"), "{text}");
        assert!(text.contains("Or take a battery"), "{text}");
        plan.gear_mut(camera).unwrap().place = None;
        plan.gear[1].place = None;
        plan.gear.retain(|gear| gear.is_placed());
        add_electric(&mut plan, "second pump", Kind::Pump, load(12.0, 1.0, 1.0));
        assert!(remedy(&plan).starts_with("Run less on it."), "{}", remedy(&plan));
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
