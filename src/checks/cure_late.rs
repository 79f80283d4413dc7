//! `cure-late`: what is bedded has not cured by the day of the outing.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{Act, BuildState, Fate, On, Plan};
use crate::study::rig::HoleRef;
use crate::study::work::{Work, cure_hours, dates};

/// The check.
pub const CHECK: Check =
    Check { id: "cure-late", title: "a seal has not cured by the day of the outing", doc: DOC, run };

const DOC: &str = "\
What it checks
The work that is left is dealt out to evenings, one a day, from the last day that the plan knows of: the day
the work begins, that of its latest tick, reading or revision. What was ticked off as bedded has cured since. The day on which the last seal has cured is held against the day of the outing. Without a
date of the outing, and without any other, nothing is said.

Why it matters
A seal that is still soft leaks when the hull bends, and is smeared for good. It is only tried with water when it has
cured, so the leak test comes later still.

Limit and source
Cured later than the day of the outing (`cure-late.late`): stop. Evenings of 120 minutes (`cure-late.evening`). Hours
by seal: common practice, no source; polyurethane, silicone and epoxy from memory; polysulfide a published guide.
Twice as long for each 10 K below 20 C: rule of thumb, from memory. The sheet of the product goes before all this.

What to do
Begin with what cures longest, take a gasket or butyl tape, which seal at once, or move the outing.
`gunnel sheet work` shows the evenings.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(outing) = case.plan.outing.date.as_ref().and_then(|date| dates::day(date.as_str())) else { return };
    let Some(start) = dates::last_known(case.plan) else { return };
    if !something_cures(case.plan) {
        return;
    }
    let work = Work::of(case.plan, case.study, None);
    let Some((task, day)) = work.calendar.cured else { return };
    let limit = case.limits.get("cure-late.late");
    let late = f64::from(start.to_julian_day() - outing.to_julian_day()) + f64::from(day);
    if late <= limit {
        return;
    }
    let subject = match work.tasks[task].on {
        On::Gear(id) => Subject::Gear(id),
        On::Hole(id) => Subject::Hole(HoleRef::Own(id)),
        _ => Subject::Plan,
    };
    let cured = dates::on(start, day).map_or("past the calendar".to_string(), |date| date.to_string());
    findings.push(Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject,
        at: subject.gear().and_then(|id| case.place(id)),
        value: late,
        limit,
        margin: limit - late,
        unit: "days",
        says: format!("{} has cured on {cured} at the earliest; the outing is on {outing}.", subject.named(case.plan)),
        remedy: "Bed it first, take a gasket or butyl tape, which seal at once, or move the outing.".into(),
        source: COMMON_PRACTICE,
    });
}

/// Whether any seal of the plan cures: only then the evenings are worth dealing out.
fn something_cures(plan: &Plan) -> bool {
    let gear = plan.gear.iter().filter(|gear| {
        let since = plan.work.tick(Act::Bed, On::Gear(gear.id));
        gear.is_placed() && (gear.state < BuildState::Installed || since.is_some())
    });
    let holes = plan.penetrations.iter().filter(|hole| matches!(hole.fate, Fate::New | Fate::Open));
    // A weld that closes an old hole has to cool.
    let welds = holes.clone().any(|hole| hole.fate == Fate::Open);
    let mut seals = gear.map(|gear| gear.seal).chain(holes.map(|hole| hole.seal));
    welds || seals.any(|seal| cure_hours(seal) > 0.0)
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::{Reading, Seal, Taken};
    use crate::units::{Length, Quantity};
    use crate::units::{Mass, Temperature};

    /// A riveted plate that is drilled already and only has to be bedded, at 20 C.
    fn bedded_with(seal: Seal, outing: &str) -> Plan {
        let mut plan = with_gear(plate(1500.0, 0.0));
        plan.gear[0].seal = seal;
        plan.gear[0].state = BuildState::Drilled;
        plan.outing.air = Temperature::celsius(20.0);
        plan.outing.date = Some(name(outing));
        let taken = Taken::Waterline { x: Length::mm(100.0), height: Length::mm(100.0), load: Mass::from_base(0.0) };
        plan.readings.push(Reading { date: Some(name("2031-05-30")), taken, off: true });
        plan
    }

    fn late(plan: &Plan) -> Option<f64> {
        let study = crate::study::Study::of(plan);
        let limits = crate::checks::Limits::for_plan(plan);
        let mut found = Vec::new();
        (CHECK.run)(&Case { plan, study: &study, limits: &limits }, &mut found);
        found.first().map(|finding| finding.value)
    }

    /// By hand: sat in again and bedded on the evening of 30 May, hybrid sealant cures 48 h, until the evening of
    /// 1 June.
    #[test]
    fn cured_on_the_day_is_in_time_and_a_day_later_is_not() {
        assert_eq!(late(&bedded_with(Seal::Hybrid, "2031-06-01")), None);
        assert_eq!(late(&bedded_with(Seal::Hybrid, "2031-05-31")), Some(1.0));
        assert_eq!(late(&bedded_with(Seal::Gasket, "2031-05-30")), None);
    }

    /// By hand: bedded on the 28th until 21 h, hybrid sealant has 48 h to go, until 21 h on the 30th: in time for the
    /// 30th and late for the 29th. The garage's 10 C double it, to 21 h on 1 June.
    #[test]
    fn what_was_ticked_as_bedded_has_cured_since() {
        let bedded = |outing: &str, garage: Option<f64>| {
            let mut plan = bedded_with(Seal::Hybrid, outing);
            plan.readings.clear();
            plan.gear[0].state = BuildState::Installed;
            let (act, on) = (Act::Bed, On::Gear(plan.gear[0].id));
            let date = crate::plan::Day::from_text("2031-05-28").expect("a day");
            plan.work.ticks = vec![crate::plan::Tick { on, act, date, reading: Default::default() }];
            plan.work.garage = garage.map(Temperature::celsius);
            late(&plan)
        };
        assert_eq!(bedded("2031-05-30", None), None);
        assert_eq!(bedded("2031-05-29", None), Some(1.0));
        assert_eq!(bedded("2031-06-01", Some(10.0)), None);
        assert_eq!(bedded("2031-05-31", Some(10.0)), Some(1.0));
    }

    /// By hand: at 10 C twice as long, 96 h, until 3 June.
    #[test]
    fn cold_makes_it_later() {
        let mut plan = bedded_with(Seal::Hybrid, "2031-06-02");
        assert_eq!(late(&plan), None);
        plan.outing.air = Temperature::celsius(10.0);
        assert_eq!(late(&plan), Some(1.0));
    }

    #[test]
    fn without_dates_nothing_is_said() {
        let mut plan = bedded_with(Seal::Hybrid, "in spring");
        assert_eq!(late(&plan), None);
        plan.outing.date = Some(name("2031-05-31"));
        plan.readings.clear();
        assert_eq!(late(&plan), None);
    }
}
