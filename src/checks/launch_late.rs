//! `launch-late`: the work that is left takes longer than there is time until the boat is wanted on the water.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::On;
use crate::study::work::Work;

/// The check.
pub const CHECK: Check =
    Check { id: "launch-late", title: "the work is not done by the day the boat is wanted", doc: DOC, run };

const DOC: &str = "\
What it checks
The work that is left is dealt out to the evenings there are, from the last day that the plan knows of: the day the
work begins, that of its latest tick, reading or revision. The first day on which all of it is done and cured is held
against the day on which the boat is wanted on the water. Without such a day nothing is said.

Why it matters
What is hurried is what comes last: the cure, the leak test, the float test.

Limit and source
Done later than the day it is wanted (`launch-late.late`): caution. Minutes of the tasks and evenings of 120 minutes
(`cure-late.evening`): common practice, no source.

What to do
Begin with the longest way, which `gunnel sheet work` names; seal with a gasket or butyl tape, which need no cure; give
it more or longer evenings; or want the boat later.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(wanted) = case.plan.work.launch else { return };
    let work = Work::of(case.plan, case.study, None);
    let (Some(start), Some(day)) = (work.rhythm.start, work.calendar.launch()) else { return };
    if work.tasks.iter().all(|task| task.done) {
        return;
    }
    let limit = case.limits.get("launch-late.late");
    let late = f64::from(start.to_julian_day() - wanted.date().to_julian_day()) + f64::from(day);
    if late <= limit {
        return;
    }
    let done = work.date(day).map_or("past the calendar".to_string(), |date| date.to_string());
    let span = |task: &usize| work.tasks[*task].minutes / 60.0 + work.tasks[*task].wait_h;
    let longest = work.critical().max_by(|a, b| span(a).total_cmp(&span(b))).map(|task| &work.tasks[task]);
    let place = work.critical().find_map(|task| match work.tasks[task].on {
        On::Gear(id) => case.place(id),
        _ => None,
    });
    let remedy = match longest {
        Some(task) => format!(
            "The longest of it is {} ({}): begin its way first, take seals that need no cure, find more evenings, or want it \
             later.",
            task.act.word(),
            task.on.named(case.plan)
        ),
        None => "Find more evenings, or want it later.".into(),
    };
    findings.push(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: place,
        value: late,
        limit,
        margin: limit - late,
        unit: "days",
        says: format!("the work is done on {done} at the earliest; the boat is wanted on {wanted}"),
        remedy,
        source: COMMON_PRACTICE,
    });
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::{BuildState, Day, Plan, Seal};

    /// A riveted plate that is drilled already, sealed by a gasket, with the work begun on a Friday.
    fn begun(wanted: &str) -> Plan {
        let mut plan = with_gear(plate(1500.0, 0.0));
        plan.gear[0].state = BuildState::Drilled;
        plan.work.begins = Day::from_text("2031-05-30").ok();
        plan.work.launch = Day::from_text(wanted).ok();
        plan
    }

    /// By hand: sitting again takes 30 minutes, bedding two holes 22, leak and float tests 60 each: 172 minutes are two
    /// evenings, the 30th and the 31st; with everything done the boat is free on 1 June. On Saturdays alone the second
    /// evening is the 7th.
    #[test]
    fn done_on_the_day_is_in_time_and_a_day_later_is_not() {
        fires(&begun("2031-06-01"), CHECK, &[]);
        let found = fires(&begun("2031-05-31"), CHECK, &[Severity::Caution]);
        assert_eq!(found[0].value, 1.0);
        assert!(found[0].says.contains("2031-06-01"), "{}", found[0].says);
        let mut plan = begun("2031-06-07");
        plan.work.evenings = vec![crate::plan::Weekday::Sat];
        assert_eq!(fires(&plan, CHECK, &[Severity::Caution])[0].value, 1.0);
    }

    #[test]
    fn a_cure_longer_than_the_calendar_is_late_and_not_a_crash() {
        let mut plan = begun("2031-06-01");
        plan.gear[0].seal = Seal::Polysulfide;
        fires(&plan, CHECK, &[Severity::Caution]);
        plan.work.begins = Day::from_text("9999-12-30").ok();
        let found = fires(&plan, CHECK, &[Severity::Caution]);
        assert!(found[0].says.contains("past the calendar"), "{}", found[0].says);
    }

    #[test]
    fn without_a_day_or_with_nothing_left_nothing_is_said() {
        let mut plan = begun("2031-05-31");
        plan.work.begins = None;
        fires(&plan, CHECK, &[]);
        let plan =
            Plan { work: crate::plan::WorkLog { launch: None, ..begun("2031-05-31").work }, ..begun("2031-05-31") };
        fires(&plan, CHECK, &[]);
    }
}
