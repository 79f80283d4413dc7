//! The log of the work: ticks with their day and reading, the states that follow, what a file may not say, and what
//! partners see of it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::path::Path;

use gunnel::checks;
use gunnel::compare::merge::merge;
use gunnel::edit::{Edit, apply};
use gunnel::plan::parts::PartKey;
use gunnel::plan::validate::MOST_TICKS;
use gunnel::plan::{Act, AnyQuantity, BuildState, Day, Fate, FigureRef, GearId, HoleId, Note, On, Plan, Tick, WorkLog};
use gunnel::review::SignOff;
use gunnel::sheets::{SheetForm, drill_sheet, parts_sheet, work_sheet};
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use gunnel::study::Study;
use gunnel::study::work::Work;
use gunnel::units::{Length, Measure, Origin, Price};

use crate::boats::{rich, with};
use crate::home::{Home, code, errors};
use crate::load::GOOD;

/// A display on four bolts, with wires.
const BOLTED: GearId = GearId(3);
const ON: On = On::Gear(BOLTED);

fn day(text: &str) -> Day {
    Day::from_text(text).unwrap()
}

fn tick(act: Act, on: On) -> Tick {
    Tick { on, act, date: day("2031-05-30"), reading: Note::default() }
}

fn ticked(act: Act, on: On) -> Edit {
    Edit::Tick { tick: tick(act, on) }
}

fn state(plan: &Plan) -> BuildState {
    plan.gear(BOLTED).unwrap().state
}

fn refused(plan: &Plan, edit: &Edit) -> String {
    apply(plan, edit).unwrap_err().to_string()
}

fn is_done(plan: &Plan, act: Act, on: On) -> bool {
    let work = Work::of(plan, &Study::of(plan), None);
    work.tasks.iter().any(|task| task.done && (task.act, task.on) == (act, on))
}

#[test]
fn the_states_follow_the_ticks_in_whatever_order_they_come() {
    let order = [Act::DryFit, Act::Drill, Act::Connect, Act::TryIt, Act::Bed];
    let states =
        [BuildState::DryFitted, BuildState::Drilled, BuildState::Drilled, BuildState::Drilled, BuildState::Tested];
    let mut plan = rich();
    for (act, expected) in order.into_iter().zip(states) {
        plan = with(plan, &[ticked(act, ON)]);
        assert_eq!(state(&plan), expected, "after {act:?}");
        assert!(is_done(&plan, act, ON));
    }
    // Taken back, each leads to the state before it, and what was ticked ahead stays.
    plan = with(plan, &[Edit::Untick { on: ON, act: Act::Bed }]);
    assert_eq!(state(&plan), BuildState::Drilled);
    assert!(is_done(&plan, Act::TryIt, ON) && !is_done(&plan, Act::Bed, ON));
    assert!(refused(&plan, &Edit::Untick { on: ON, act: Act::Drill }).contains("its holes are in the hull"));
    assert!(refused(&plan, &Edit::Untick { on: ON, act: Act::Bed }).contains("was not ticked"));
}

/// Where the drill was ticked, swarf is a tick of its own; a state alone says both.
#[test]
fn a_drilled_part_is_deburred_by_its_own_tick() {
    let plan = with(rich(), &[ticked(Act::Drill, ON)]);
    assert!(is_done(&plan, Act::Drill, ON) && !is_done(&plan, Act::Deburr, ON));
    let plan = with(plan, &[ticked(Act::Deburr, ON)]);
    assert!(is_done(&plan, Act::Deburr, ON));
    let plan = with(rich(), &[Edit::SetState { gear: BOLTED, state: BuildState::Drilled }]);
    assert!(is_done(&plan, Act::Deburr, ON));
}

#[test]
fn a_hole_that_was_drilled_for_the_plan_is_no_old_hole_to_be_closed() {
    let new = rich().penetrations.iter().find(|hole| hole.fate == Fate::New).unwrap().id;
    let on = On::Hole(new);
    let plan = with(rich(), &[ticked(Act::Drill, on)]);
    assert_eq!(plan.penetration(new).unwrap().fate, Fate::Open);
    let work = Work::of(&plan, &Study::of(&plan), None);
    let acts: Vec<Act> = work.tasks.iter().filter(|task| task.on == on && !task.done).map(|task| task.act).collect();
    assert!(acts.contains(&Act::Bed) && !acts.contains(&Act::Patch), "{acts:?}");
    assert!(refused(&plan, &Edit::Untick { on, act: Act::Drill }).contains("the hole is in the hull"));
}

#[test]
fn a_tick_twice_is_refused_and_another_reading_takes_its_place() {
    let plan = with(rich(), &[ticked(Act::LeakTest, On::Boat)]);
    assert!(refused(&plan, &ticked(Act::LeakTest, On::Boat)).contains("already"));
    let reading = Note::new("dry after an hour").unwrap();
    let again = Edit::Tick { tick: Tick { reading: reading.clone(), ..tick(Act::LeakTest, On::Boat) } };
    assert_eq!(again.label(&plan, Measure::default()), "tick leak test (the boat) on 2031-05-30: dry after an hour");
    let plan = with(plan, &[again]);
    assert_eq!(plan.work.ticks.len(), 1);
    assert_eq!(plan.work.ticks[0].reading, reading);
}

#[test]
fn what_is_moved_struck_or_set_back_is_not_ticked_any_more() {
    let plan = with(rich(), &[ticked(Act::Mark, ON), ticked(Act::DryFit, ON), ticked(Act::SitAgain, On::Boat)]);
    let moved = with(plan.clone(), &[Edit::Move { gear: BOLTED, x: Length::mm(2500.0), y: Length::mm(0.0) }]);
    assert_eq!(moved.work.ticks, [tick(Act::SitAgain, On::Boat)]);
    let struck = with(plan.clone(), &[Edit::Strike { gear: BOLTED }]);
    assert_eq!(struck.work.ticks, [tick(Act::SitAgain, On::Boat)]);
    let back = with(plan, &[Edit::SetState { gear: BOLTED, state: BuildState::Planned }]);
    assert!(back.work.tick(Act::DryFit, ON).is_none() && back.work.tick(Act::Mark, ON).is_some());
}

/// A file may bring ticks of what is gone: they are kept, told on the sheet, and change nothing.
#[test]
fn ticks_of_what_is_gone_are_kept_and_told() {
    let mut plan = rich();
    let (findings, gone) = (checks::run(&plan, &Study::of(&plan)), On::Gear(GearId(4000)));
    plan.work.ticks = vec![tick(Act::Bed, gone), tick(Act::Drill, On::Hole(HoleId(77)))];
    assert_eq!(plan.validate(), Ok(()));
    let study = Study::of(&plan);
    assert_eq!(checks::run(&plan, &study).len(), findings.len());
    let sheet = work_sheet(&plan, &study, None, None).written(SheetForm::Text);
    assert!(sheet.contains("Ticked, and no task of the plan any more: 2") && sheet.contains("gear 4000"), "{sheet}");
    let moved = with(plan.clone(), &[Edit::Move { gear: BOLTED, x: Length::mm(2500.0), y: Length::mm(0.0) }]);
    assert_eq!(moved.work.ticks, plan.work.ticks);
    assert!(refused(&plan, &ticked(Act::Bed, On::Gear(GearId(4001)))).contains("not in this plan"));
    assert_eq!(with(plan, &[Edit::Untick { on: gone, act: Act::Bed }]).work.ticks.len(), 1);
}

#[test]
fn a_log_is_read_as_it_was_written() {
    let mut plan = with(rich(), &[ticked(Act::Drill, ON), ticked(Act::Deburr, ON)]);
    plan.work.begins = Some(day("2031-05-20"));
    plan.work.evenings = vec![gunnel::plan::Weekday::Tue, gunnel::plan::Weekday::Sat];
    let (figure, value) = (FigureRef::GearPrice(BOLTED), AnyQuantity::Price(Price::new(649.9).unwrap()));
    plan = with(plan, &[Edit::SetFigure { figure, value, origin: Origin::Measured }]);
    plan = with(plan, &[Edit::Move { gear: BOLTED, x: Length::mm(2500.0), y: Length::mm(0.0) }]);
    assert!(plan.penetrations.iter().any(|hole| hole.left.is_some()));
    for format in [Format::Ron, Format::Json] {
        let text = write::plan(&plan, format).unwrap();
        assert_eq!(load::plan(&text, Path::new("rig"), format).unwrap(), plan, "{text}");
    }
}

/// What a person may type into a file by hand, put into the sound plan of the corpus.
#[test]
fn what_is_no_log_is_refused_with_its_place() {
    let logged = |log: &str| GOOD.replacen("    angler:", &format!("    work: ({log}),\n    angler:"), 1);
    let told = |log: &str| match load::plan(&logged(log), Path::new("rig.ron"), Format::Ron) {
        Ok(_) => "sound".to_string(),
        Err(why) => why.to_string(),
    };
    let sound = "begins: \"2032-02-29\", ticks: [(on: Boat, act: LeakTest, date: \"2032-03-01\", reading: \"dry\")]";
    assert_eq!(told(sound), "sound");
    for (log, why) in [
        ("begins: \"2031-02-29\"", "no day of the calendar"),
        ("launch: \"soon\"", "not a day of the calendar"),
        ("evenings: [Tue, Tue]", "named twice"),
        ("garage: C(900)", "outside"),
        ("ticks: [(on: Boat, act: LeakTest, date: \"2031-13-01\")]", "not a day of the calendar"),
        ("ticks: [(on: Boat, act: LeakTest, date: \"2031-05-30\", reading: \"a\\u{1b}[2J\")]", "control"),
        (
            "ticks: [(on: Boat, act: LeakTest, date: \"2031-05-30\"), (on: Boat, act: LeakTest, date: \"2031-05-31\")]",
            "ticked twice",
        ),
        ("begun: \"2031-05-30\"", "unknown field"),
    ] {
        let why = why.replace("no day of", "not a day of");
        let told = told(log);
        assert!(told.contains(&why), "{log}: {told}");
        assert!(!told.chars().any(|c| gunnel::shown::is_unsafe(c) && c != '\n'), "{told:?}");
    }
}

#[test]
fn more_ticks_than_a_plan_keeps_are_refused() {
    let mut plan = rich();
    let on = |n: usize| On::Gear(GearId(100 + n as u32));
    plan.work.ticks = (0..MOST_TICKS).map(|n| tick(Act::Mark, on(n))).collect();
    assert_eq!(plan.validate(), Ok(()));
    assert_eq!(Work::of(&plan, &Study::of(&plan), None).gone(&plan).count(), MOST_TICKS);
    assert!(refused(&plan, &ticked(Act::LeakTest, On::Boat)).contains("at most 10000 ticks"));
    plan.work.ticks.push(tick(Act::Mark, on(MOST_TICKS)));
    assert!(plan.validate().unwrap_err()[0].what.contains("at most 10000"));
}

#[test]
fn partners_see_ticks_and_two_who_ticked_agree() {
    let base = rich();
    let mine = with(base.clone(), &[ticked(Act::Mark, ON)]);
    let theirs = with(base.clone(), &[ticked(Act::SitAgain, On::Boat), Edit::SetWork { work: Box::new(begun()) }]);
    let keys: Vec<PartKey> = base.differences(&theirs).iter().map(gunnel::plan::parts::Part::key).collect();
    assert_eq!(keys, [PartKey::Work, PartKey::Tick(On::Boat, Act::SitAgain)]);
    let merged = merge(&base, &mine, &theirs);
    assert!(merged.conflicts.is_empty());
    assert_eq!(merged.plan.work.ticks.len(), 2);
    assert_eq!(merged.plan.work.begins, begun().begins);
    let changes = gunnel::compare::changes(&base, &theirs);
    assert_eq!(
        changes.iter().map(|change| change.name.as_str()).collect::<Vec<_>>(),
        ["time for the work", "tick of sit again (the boat)"]
    );
}

fn begun() -> WorkLog {
    WorkLog { begins: Some(day("2031-05-30")), ..WorkLog::default() }
}

/// The tick of the yes says that it was signed, so it voids no signature; any other tick is a change.
#[test]
fn the_yes_voids_no_signature() {
    let plan = rich();
    let by = gunnel::plan::Key::new("partner").unwrap();
    let signed = SignOff { by, at_s: 0, text: Note::default(), plan: Box::new(plan.clone()) };
    assert!(signed.void_by(&with(plan.clone(), &[ticked(Act::PartnersYes, On::Boat)])).is_empty());
    assert_eq!(signed.void_by(&with(plan, &[ticked(Act::Mark, ON)])).len(), 1);
}

/// By hand: 649.90 and 0.10 of the gear still to buy make 650.00.
#[test]
fn prices_are_summed_to_the_hundredth_and_none_is_made_up() {
    let total = |plan: &Plan| parts_sheet(plan, &Study::of(plan)).written(SheetForm::Text);
    assert!(!total(&rich()).contains("priced"), "{}", total(&rich()));
    let priced = |gear: u32, amount: f64| Edit::SetFigure {
        figure: FigureRef::GearPrice(GearId(gear)),
        value: AnyQuantity::Price(Price::new(amount).unwrap()),
        origin: Origin::Measured,
    };
    let plan = with(rich(), &[priced(2, 0.1), priced(3, 649.9)]);
    let count = plan.gear.len();
    let told = total(&plan);
    assert!(told.contains(&format!("2 of {count} priced")) && told.contains("650.00"), "{told}");
    let text = write::plan(&plan, Format::Ron).unwrap();
    assert!(text.contains("price: 649.9"), "{text}");
    let home = Home::new();
    for wrong in ["-1", "NaN", "1e300", "1.005", "inf"] {
        home.file("rig.ron", &text.replace("price: 649.9", &format!("price: {wrong}")));
        let asked = home.run(&["check", "rig.ron"]);
        assert_eq!(code(&asked), 3, "{wrong}: {}", errors(&asked));
        let why =
            if wrong == "NaN" || wrong == "inf" { "not a number a boat can have" } else { "at most two decimals" };
        assert!(errors(&asked).contains(why), "{wrong}: {}", errors(&asked));
    }
}

#[test]
fn an_old_hole_is_told_with_its_history() {
    let plan =
        with(rich(), &[ticked(Act::Drill, ON), Edit::Move { gear: BOLTED, x: Length::mm(2500.0), y: Length::mm(0.0) }]);
    let sheet = |plan: &Plan| drill_sheet(plan, &Study::of(plan), Measure::default()).written(SheetForm::Text);
    assert!(sheet(&plan).contains("left by 12-inch display, drilled 2031-05-30"), "{}", sheet(&plan));
    let struck = with(plan.clone(), &[Edit::Strike { gear: BOLTED }]);
    assert!(sheet(&struck).contains("left by 12-inch display, which is struck"), "{}", sheet(&struck));
    // Moved back to within a few millimetres, its own old holes would serve it.
    let place = rich().gear(BOLTED).unwrap().place.unwrap();
    let back = with(plan, &[Edit::Move { gear: BOLTED, x: place.x + Length::mm(2.0), y: place.y }]);
    assert!(sheet(&back).contains("open: use it again for 12-inch display"), "{}", sheet(&back));
}
