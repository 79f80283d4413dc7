//! `order-broken`: something is marked done before what should have come first.

use std::collections::{BTreeMap, BTreeSet};

use super::words::{label, list};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{Act, BuildState, Electric, Gear, GearId, On, Taken};
use crate::study::rig::{HoleRef, Support};
use crate::study::work::{Work, is_metered};

/// The check.
pub const CHECK: Check = Check { id: "order-broken", title: "work is marked done out of its order", doc: DOC, run };

const DOC: &str = "\
What it checks
What the states of gear and the ticks of the work say against the gates and the order of work: gear with holes is drilled and no seat test was
noted; an electric part is bedded in its holes and no meter reading shows that it works; a part is bedded before the
track that holds it; a part is connected before the battery that feeds it; a task is ticked off and one before it is
not done. Tracks that hold each other have no order at all.

Why it matters
Everything that is reached, seen or swung past the knees moves with the seat: a second sit with everything dry-fitted
costs an evening, a hole in the wrong place stays. A part that does not work is found before it is sealed in or after.

Limit and source
Any of these: caution. Common practice, no source.

What to do
Note the reading or the tick if it was taken, or take it now. Where the order was another for good reason, let it stand.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    drilled_before_the_sit(case, findings);
    ticked_before_its_turn(case, findings);
    held_by_each_other(case, findings);
    for gear in case.plan.gear.iter().filter(|gear| gear.is_placed()) {
        let broken = [
            sealed_before_it_worked(case, gear),
            fixed_before_its_track(case, gear),
            live_before_its_battery(case, gear),
        ];
        for (says, remedy) in broken.into_iter().flatten() {
            findings.push(finding(case, gear.id, says, remedy));
        }
    }
}

/// One finding for each task that is missing, however many were ticked off before their turn.
fn ticked_before_its_turn(case: &Case<'_>, findings: &mut Vec<Finding>) {
    if case.plan.work.ticks.is_empty() {
        return;
    }
    let work = Work::of(case.plan, case.study, None);
    let mut early: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for (number, _) in work.tasks.iter().enumerate().filter(|(_, task)| task.ticked.is_some()) {
        if let Some(missing) = work.missing(number).next() {
            early.entry(missing).or_default().push(number);
        }
    }
    let named = |task: usize| {
        let task = &work.tasks[task];
        format!("{} ({})", task.act.word(), task.on.named(case.plan))
    };
    for (missing, ticked) in early {
        let names: Vec<String> = ticked.iter().map(|task| named(*task)).collect();
        let says = format!("ticked off: {}; not done before it: {}", list(&names), named(missing));
        let subject = match work.tasks[ticked[0]].on {
            On::Gear(id) => Subject::Gear(id),
            On::Hole(id) => Subject::Hole(HoleRef::Own(id)),
            _ => Subject::Plan,
        };
        findings.push(about(
            case,
            subject,
            says,
            "Do what is missing, tick it off if it was done, or take the tick back.",
        ));
    }
}

/// Two tracks laid into each other: neither can be fastened before the other.
fn held_by_each_other(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let below = |gear: GearId| match case.study.rig.item(gear)?.fit.support()? {
        Support::Gear(below) => Some(below),
        _ => None,
    };
    let mut told = BTreeSet::new();
    for gear in case.plan.gear.iter().map(|gear| gear.id) {
        let mut ring = vec![gear];
        while let Some(next) = ring.last().and_then(|last| below(*last)).filter(|next| !ring.contains(next)) {
            ring.push(next);
        }
        let closes = ring.last().and_then(|last| below(*last)) == Some(gear);
        if closes && !ring.iter().any(|part| told.contains(part)) {
            let names: Vec<String> = ring.iter().map(|part| label(case.plan, *part)).collect();
            let says = format!("{} hold each other: none of them can be fastened first", list(&names));
            findings.push(finding(case, gear, says, "Hold one of them by the hull, or move it off the others."));
            told.extend(ring);
        }
    }
}

fn finding(case: &Case<'_>, gear: GearId, says: String, remedy: &str) -> Finding {
    about(case, Subject::Gear(gear), says, remedy)
}

fn about(case: &Case<'_>, subject: Subject, says: String, remedy: &str) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject,
        at: subject.gear().and_then(|gear| case.place(gear)),
        value: 0.0,
        limit: 1.0,
        margin: -1.0,
        unit: "count",
        says,
        remedy: remedy.into(),
        source: COMMON_PRACTICE,
    }
}

/// One finding for all of it: the gate is one.
fn drilled_before_the_sit(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let plan = case.plan;
    let sat = plan.readings.iter().any(|reading| !reading.off && matches!(reading.taken, Taken::SeatTest { .. }))
        || plan.work.tick(Act::SitAgain, On::Boat).is_some();
    let drilled: Vec<GearId> = plan
        .gear
        .iter()
        .filter(|gear| gear.state >= BuildState::Drilled && has_holes(case, gear))
        .map(|gear| gear.id)
        .collect();
    let Some(first) = drilled.first().filter(|_| !sat) else { return };
    let more = match drilled.len() - 1 {
        0 => String::new(),
        1 => " and another part".into(),
        more => format!(" and {more} more parts"),
    };
    let says = format!("{}{more}: drilled, and no seat test is noted", label(plan, *first));
    findings.push(finding(case, *first, says, "Sit in the boat with everything in place, and note what you reach."));
}

fn has_holes(case: &Case<'_>, gear: &Gear) -> bool {
    case.study.rig.item(gear.id).is_some_and(|item| !item.holes.is_empty())
}

type Broken = Option<(String, &'static str)>;

fn sealed_before_it_worked(case: &Case<'_>, gear: &Gear) -> Broken {
    let draws = matches!(gear.spec.electric, Some(Electric::Load { .. } | Electric::Motor { .. }));
    let sealed = gear.state >= BuildState::Bedded && has_holes(case, gear);
    let tried = is_metered(case.plan, gear.id) || case.plan.work.tick(Act::TryIt, On::Gear(gear.id)).is_some();
    let unshown = draws && sealed && !tried;
    unshown.then(|| {
        let says = format!("{} is bedded, and no meter reading shows that it works", gear.label);
        (says, "Measure its current and note it.")
    })
}

fn fixed_before_its_track(case: &Case<'_>, gear: &Gear) -> Broken {
    let support = case.study.rig.item(gear.id).and_then(|item| item.fit.support());
    let Some(Support::Gear(below)) = support else { return None };
    let below = case.plan.gear(below)?;
    let early = gear.state >= BuildState::Bedded && below.state < BuildState::Bedded;
    early.then(|| {
        let says = format!("{} is fastened, and {}, which holds it, is not bedded", gear.label, below.label);
        (says, "Bed what holds it first, or set the states right.")
    })
}

fn live_before_its_battery(case: &Case<'_>, gear: &Gear) -> Broken {
    let circuit = case.plan.wiring.circuit_of(gear.id)?;
    let battery = case.plan.gear(circuit.battery)?;
    let early = gear.state >= BuildState::Tested && battery.state < BuildState::Installed;
    early.then(|| {
        let says = format!("{} is marked tested, and {}, which feeds it, is not connected", gear.label, battery.label);
        (says, "Test it on the boat's own battery, or set the states right.")
    })
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::super::test_power;
    use super::*;
    use crate::plan::{Chemistry, Kind, Plan, Reading};
    use crate::units::Current;

    fn seat_test(plan: &mut Plan) {
        let gear = plan.gear[0].id;
        let taken = Taken::seat_test(gear, true, false);
        plan.readings.push(Reading { date: None, taken, off: false });
    }

    #[test]
    fn the_drill_waits_for_the_second_sit() {
        let mut plan = with_gear(plate(1500.0, 0.0));
        plan.gear[0].state = BuildState::DryFitted;
        fires(&plan, CHECK, &[]);
        plan.gear[0].state = BuildState::Drilled;
        add_gear(&mut plan, crate::plan::Gear { state: BuildState::Bedded, ..plate(1800.0, 0.0) });
        let found = fires(&plan, CHECK, &[Severity::Caution]);
        assert!(found[0].says.contains("and another part"), "{}", found[0].says);
        seat_test(&mut plan);
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn a_part_is_shown_to_work_before_it_is_bedded() {
        let mut plan = with_gear(plate(1500.0, 0.0));
        seat_test(&mut plan);
        std::sync::Arc::make_mut(&mut plan.gear[0].spec).electric = Some(test_power::load(12.0, 1.0, 1.0));
        plan.gear[0].state = BuildState::Drilled;
        fires(&plan, CHECK, &[]);
        plan.gear[0].state = BuildState::Bedded;
        fires(&plan, CHECK, &[Severity::Caution]);
        let taken = Taken::Meter { loads: vec![plan.gear[0].id], current: Current::amps(1.0) };
        plan.readings.push(Reading { date: None, taken, off: false });
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn a_track_is_bedded_before_what_it_holds() {
        let mut plan = with_gear(plate_or_track(1500.0, 0.0));
        seat_test(&mut plan);
        let mut track = plate(1500.0, 0.0);
        std::sync::Arc::make_mut(&mut track.spec).track = Some(crate::units::Length::mm(300.0));
        add_gear(&mut plan, track);
        plan.gear[0].mount = crate::plan::Mount::Track;
        plan.gear[0].state = BuildState::Bedded;
        plan.gear[1].state = BuildState::Drilled;
        let found = fires(&plan, CHECK, &[Severity::Caution]);
        assert!(found[0].says.contains("which holds it"), "{}", found[0].says);
        plan.gear[1].state = BuildState::Bedded;
        fires(&plan, CHECK, &[]);
    }

    /// Tracks laid into each other wait for each other: a circle of the work that is told, and that nothing hangs on.
    #[test]
    fn tracks_that_hold_each_other_are_told_and_cannot_be_planned() {
        let mut plan = with_gear(plate_or_track(1500.0, 0.0));
        add_gear(&mut plan, plate_or_track(1500.0, 0.0));
        for gear in &mut plan.gear {
            std::sync::Arc::make_mut(&mut gear.spec).track = Some(crate::units::Length::mm(300.0));
            gear.mount = crate::plan::Mount::Track;
        }
        let found = fires(&plan, CHECK, &[Severity::Caution]);
        assert!(found[0].says.contains("hold each other"), "{}", found[0].says);
        let work = Work::of(&plan, &crate::study::Study::of(&plan), None);
        assert!(!work.paths.circles.is_empty() && work.calendar.launch().is_none());
        let circle = &work.paths.circles[0];
        assert!(circle.iter().all(|task| work.calendar.left.contains(task)), "{circle:?}");
    }

    /// What is ticked out of its order is told once for what is missing; what is done in order is not.
    #[test]
    fn a_tick_waits_for_its_turn() {
        let mut plan = with_gear(plate(1500.0, 0.0));
        let on = On::Gear(plan.gear[0].id);
        let date = crate::plan::Day::from_text("2031-05-30").expect("a day");
        let mut tick = |act, on| {
            plan.work.ticks.push(crate::plan::Tick { on, act, date, reading: Default::default() });
            plan.work.ticks.sort_by_key(crate::plan::Tick::task);
            plan.clone()
        };
        fires(&tick(Act::Mark, on), CHECK, &[]);
        let found = fires(&tick(Act::Pilot, on), CHECK, &[Severity::Caution]);
        assert!(found[0].says.contains("not done before it: partner's yes"), "{}", found[0].says);
        fires(&tick(Act::PartnersYes, On::Boat), CHECK, &[]);
        let plan = tick(Act::LeakTest, On::Boat);
        let (study, limits) = (crate::study::Study::of(&plan), crate::checks::Limits::for_plan(&plan));
        let mut found = Vec::new();
        run(&Case { plan: &plan, study: &study, limits: &limits }, &mut found);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].says.starts_with("ticked off: leak test (the boat)"), "{}", found[0].says);
    }

    #[test]
    fn nothing_is_tested_on_a_battery_that_is_not_connected() {
        let mut plan = test_power::plan();
        let source = test_power::battery(Chemistry::LithiumIronPhosphate, 12.8, 30.0, None);
        let battery = test_power::add_electric(&mut plan, "battery", Kind::Battery, source);
        let lamp = test_power::add_electric(&mut plan, "lamp", Kind::Light, test_power::load(12.0, 1.0, 1.0));
        test_power::circuit(&mut plan, "lights", battery, &[lamp]);
        plan.gear[1].state = BuildState::Installed;
        fires(&plan, CHECK, &[]);
        plan.gear[1].state = BuildState::Tested;
        fires(&plan, CHECK, &[Severity::Caution]);
        plan.gear[0].state = BuildState::Installed;
        fires(&plan, CHECK, &[]);
    }
}
