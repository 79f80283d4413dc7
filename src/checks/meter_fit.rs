//! `meter-fit`: what a meter says against the plan's currents, and one reading against another.

use super::words::label;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::GearId;
use crate::study::metered::{Conflict, MeteredLoad};
use crate::units::{Quantity, amount};

/// The check.
pub const CHECK: Check = Check { id: "meter-fit", title: "a meter against the currents of the plan", doc: DOC, run };

const DOC: &str = "\
What it checks
The current of each load that a meter reading settles, against the figure it replaces, in times of it; and
a reading of several loads together against what other readings say of loads in it.

Why it matters
What a meter shows is used at once: a slip of its range makes the day ten times too long or too short. Two
readings that cannot both be true are no ground for either.

Limit and source
Caution when a load takes more than twice (`meter-fit.more`) or less than half (`meter-fit.less`) of the
plan's figure, or when a set shows less than loads in it take, or all of them something else than the set, by
more than the meter is off. Common practice, no source.

What to do
Check the range of the meter or the unit: in series, on the socket of 10 A, nothing else on, the light or
screen as bright as in use. Read it again; switch off the reading that is wrong. The plan's figures are
always kept. Never put a meter that is set to amperes across the battery.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let metered = &case.study.power.metered;
    findings.extend(metered.loads.iter().filter_map(|(gear, load)| far_off(case, *gear, load)));
    findings.extend(metered.conflicts.iter().map(contradicts));
}

fn far_off(case: &Case<'_>, gear: GearId, load: &MeteredLoad) -> Option<Finding> {
    let (found, figure) = (load.typical.value, load.typical.was?);
    let (more, less) = (case.limits.get("meter-fit.more"), case.limits.get("meter-fit.less"));
    if figure.base() <= 0.0 {
        return None;
    }
    let times = found.base() / figure.base();
    let (limit, margin) = match times {
        times if times > more => (more, more - times),
        times if times < less => (less, times - less),
        _ => return None,
    };
    let shared = if load.shared_over > 1 { " by its share of a reading" } else { "" };
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(gear),
        at: case.place(gear),
        value: times,
        limit,
        margin,
        unit: "times",
        says: format!(
            "{} takes {}{shared}, {times:.1} times the {} of its figure.",
            label(case.plan, gear),
            amount(found, 2),
            amount(figure, 2)
        ),
        remedy: "Check the range of the meter or the unit and read it again; switch off a reading that is wrong."
            .into(),
        source: COMMON_PRACTICE,
    })
}

fn contradicts(conflict: &Conflict) -> Finding {
    let (shown, known) = (conflict.shown, conflict.known);
    let apart = (shown.base() - known.base()).abs();
    let whose = if conflict.whole { "its loads, read otherwise," } else { "loads in it, read otherwise, already" };
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: None,
        value: shown.base(),
        limit: known.base(),
        margin: -apart,
        unit: "A",
        says: format!(
            "Reading {} of several loads shows {}; {whose} take {}: it is not used.",
            conflict.reading + 1,
            amount(shown, 2),
            amount(known, 2)
        ),
        remedy:
            "Check the range of the meter or the unit, read the loads again one by one, and switch off the reading \
                 that is wrong."
                .into(),
        source: COMMON_PRACTICE,
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::checks::test_power::{add_electric, findings, load, plan};
    use crate::plan::{Kind, Reading, Taken};
    use crate::units::Current;

    /// A display of 0.9 A and a pump of 0.5 A, with readings of the first, the second or both.
    fn check(readings: &[(&[u32], f64)], expected: &[(f64, f64)]) -> Vec<Finding> {
        let mut plan = plan();
        add_electric(&mut plan, "display", Kind::Display, load(12.0, 0.9, 1.2));
        add_electric(&mut plan, "pump", Kind::Pump, load(12.0, 0.5, 0.5));
        for (loads, amps) in readings {
            let loads = loads.iter().map(|id| GearId(*id)).collect();
            let taken = Taken::Meter { loads, current: Current::amps(*amps) };
            plan.readings.push(Reading { date: None, taken, off: false });
        }
        let found = findings(&plan, CHECK.id);
        let said: Vec<(f64, f64)> = found.iter().map(|f| ((100.0 * f.value).round() / 100.0, f.limit)).collect();
        assert_eq!(said, expected, "{readings:?}: {found:?}");
        found
    }

    #[test]
    fn more_than_twice_and_less_than_half() {
        check(&[(&[1], 1.8)], &[]);
        check(&[(&[1], 1.82)], &[(2.02, 2.0)]);
        check(&[(&[1], 0.45)], &[]);
        check(&[(&[1], 0.44)], &[(0.49, 0.5)]);
        let found = check(&[(&[1], 9.0)], &[(10.0, 2.0)]);
        assert_eq!(found[0].says, "display takes 9.00 A, 10.0 times the 0.90 A of its figure.");
    }

    /// The meter is off by 2 % of 1.4 A: twice that, 0.056 A, is borne.
    #[test]
    fn a_set_against_its_loads() {
        let (both, each) = (&[1_u32, 2][..], (&[1_u32][..], &[2_u32][..]));
        check(&[(each.0, 0.9), (each.1, 0.5), (both, 1.45)], &[]);
        check(&[(each.0, 0.9), (each.1, 0.5), (both, 1.46)], &[(1.46, 1.4)]);
        check(&[(each.0, 0.9), (each.1, 0.5), (both, 1.35)], &[]);
        check(&[(each.0, 0.9), (each.1, 0.5), (both, 1.34)], &[(1.34, 1.4)]);
        let found = check(&[(each.0, 1.14), (both, 0.8)], &[(0.8, 1.14)]);
        assert!(found[0].says.contains("loads in it, read otherwise, already take 1.14 A"), "{}", found[0].says);
    }
}
