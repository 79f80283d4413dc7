//! A day that does not add up.

use super::finding::COMMON_PRACTICE;
use super::{Case, Check, Finding, Severity, Subject};

/// A day that does not add up.
pub const CHECK: Check = Check { id: "day-odd", title: "the day does not add up", doc: DOC, run };

const DOC: &str = "\
What it checks
Phases of no length, a day of more than 24 hours, a sunset before the sunrise, and sunrise or sunset without
the time at which the day starts.

Why it matters
Every sum over the day is only as good as its hours. A phase of no length takes nothing; times that contradict
each other leave the dark hours wrong, and the lights with them.

Limit and source
Caution over 24 hours, note for the rest. Common practice, no source.

What to do
Set the hours of the phases and the times of the outing right.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let outing = &case.plan.outing;
    let (hours, most) = (outing.hours().to_hours(), case.limits.get("day-odd.hours"));
    if hours > most {
        findings.push(odd(
            Severity::Caution,
            (hours, most, "h"),
            format!("The phases of \"{}\" come to {hours:.1} h, more than {most:.0} h.", outing.name),
            "Make the day shorter: a second day needs its own charge.",
        ));
    }
    for phase in outing.phases.iter().filter(|phase| phase.hours.to_hours() <= 0.0) {
        findings.push(odd(
            Severity::Note,
            (0.0, 0.0, "h"),
            format!("\"{}\" has no length: nothing is counted in it.", phase.name),
            "Give it hours, or take it out.",
        ));
    }
    if let (Some(rise), Some(set)) = (outing.sunrise, outing.sunset)
        && set <= rise
    {
        let minutes = |clock: crate::plan::Clock| f64::from(clock.minutes()) / 60.0;
        findings.push(odd(
            Severity::Note,
            (minutes(set), minutes(rise), "h"),
            format!("The sun sets at {set} and rises at {rise}: every phase counts as dark."),
            "Type sunrise and sunset anew.",
        ));
    }
    if outing.starts.is_none() && (outing.sunrise.is_some() || outing.sunset.is_some()) {
        findings.push(odd(
            Severity::Note,
            (0.0, 0.0, "count"),
            "Sunrise or sunset is known but not when the day starts: which phases are dark is not taken from it."
                .into(),
            "Type the time at which the first phase begins.",
        ));
    }
}

fn odd(severity: Severity, (value, limit, unit): (f64, f64, &'static str), says: String, remedy: &str) -> Finding {
    Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Plan,
        at: None,
        value,
        limit,
        margin: limit - value,
        unit,
        says,
        remedy: remedy.into(),
        source: COMMON_PRACTICE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{findings, phase, plan};
    use crate::plan::{Clock, Plan};

    fn check(change: impl Fn(&mut Plan), expected: &[(Severity, &str)]) {
        let mut plan = plan();
        change(&mut plan);
        let found = findings(&plan, "day-odd");
        assert_eq!(found.len(), expected.len(), "{found:?}");
        for (finding, (severity, says)) in found.iter().zip(expected) {
            assert!(finding.severity == *severity && finding.says.contains(says), "{finding:?}");
        }
    }

    #[test]
    fn a_day_has_24_hours() {
        let long = |hours| {
            move |plan: &mut Plan| plan.outing.phases = vec![phase("on", 12.0, false), phase("and on", hours, false)]
        };
        check(long(12.0), &[]);
        check(long(12.1), &[(Severity::Caution, "24.1 h")]);
    }

    #[test]
    fn a_phase_has_a_length() {
        check(|plan| plan.outing.phases.push(phase("nap", 0.01, false)), &[]);
        check(|plan| plan.outing.phases.push(phase("nap", 0.0, false)), &[(Severity::Note, "\"nap\" has no length")]);
    }

    #[test]
    fn the_sun_rises_before_it_sets_and_the_day_has_a_start() {
        let times = |starts, rise, set| {
            move |plan: &mut Plan| {
                let clock = |hour: Option<u16>| hour.and_then(|hour| Clock::new(hour, 0));
                (plan.outing.starts, plan.outing.sunrise, plan.outing.sunset) =
                    (clock(starts), clock(rise), clock(set));
            }
        };
        check(times(Some(5), Some(7), Some(19)), &[]);
        check(times(Some(5), Some(19), Some(7)), &[(Severity::Note, "sets at 07:00 and rises at 19:00")]);
        check(times(None, Some(7), None), &[(Severity::Note, "not when the day starts")]);
        check(times(Some(5), None, None), &[]);
    }
}
