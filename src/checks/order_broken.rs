//! `order-broken`: something is marked done before what should have come first.

use super::words::label;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{BuildState, Electric, Gear, GearId, Taken};
use crate::study::rig::Support;
use crate::study::work::is_metered;

/// The check.
pub const CHECK: Check = Check { id: "order-broken", title: "work is marked done out of its order", doc: DOC, run };

const DOC: &str = "\
What it checks
What the states of gear say against the gates and the order of work: gear with holes is drilled and no seat test was
noted; an electric part is bedded in its holes and no meter reading shows that it works; a part is bedded before the
track that holds it; a part is connected before the battery that feeds it.

Why it matters
Everything that is reached, seen or swung past the knees moves with the seat: a second sit with everything dry-fitted
costs an evening, a hole in the wrong place stays. A part that does not work is found before it is sealed in or after.

Limit and source
Any of these: caution. Common practice, no source.

What to do
Note the reading if it was taken, or take it now. Where the order was another for good reason, let it stand.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    drilled_before_the_sit(case, findings);
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

fn finding(case: &Case<'_>, gear: GearId, says: String, remedy: &str) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(gear),
        at: case.place(gear),
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
    let sat = plan.readings.iter().any(|reading| !reading.off && matches!(reading.taken, Taken::SeatTest { .. }));
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
    let unshown = draws && sealed && !is_metered(case.plan, gear.id);
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
        let taken = Taken::SeatTest {
            gear,
            touched: true,
            leaning: false,
            seen: None,
            distance: None,
            knees: None,
            strokes: None,
            seat: None,
            at_mm: None,
        };
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
