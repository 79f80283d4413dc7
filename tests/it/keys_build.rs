//! The work by keys: tonight's tasks in their order, gone to, ticked off where a part's state can keep it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::BuildState;
use gunnel::study::work::{Act, On, Work};
use gunnel::tui::app::Thing;

use crate::boats::demo;
use crate::stage::Stage;

fn stage() -> Stage {
    Stage::on(demo("seat-test.ron")).sized(120, 40)
}

#[test]
fn tonight_is_listed_as_on_the_sheet() {
    let mut stage = stage();
    stage.play("9");
    assert!(stage.shows("tonight"), "{}", stage.lines().join("\n"));
    let session = &stage.editor().session;
    let work = Work::of(session.plan(), session.study(), None);
    let lines = stage.lines().join("\n");
    let mut from = 0;
    for task in &work.calendar.evenings[0].tasks {
        let word = work.tasks[*task].act.word();
        let at = lines[from..].find(word).unwrap_or_else(|| panic!("{word} is not next in\n{lines}"));
        from += at + word.len();
    }
}

#[test]
fn a_dry_fit_is_gone_to_and_ticked_off_and_is_not_listed_again() {
    let mut stage = stage();
    let crate_id = stage.gear("crate").id;
    let left = |stage: &Stage| {
        let session = &stage.editor().session;
        let work = Work::of(session.plan(), session.study(), None);
        work.tasks.iter().any(|task| !task.done && task.act == Act::DryFit && task.on == On::Gear(crate_id))
    };
    assert!(left(&stage));
    stage.play("9 \"dry fit crate\" enter");
    assert_eq!(stage.editor().chosen, Some(Thing::Gear(crate_id)));
    assert!(stage.shows("done: note crate as dry-fitted"), "{}", stage.lines().join("\n"));
    stage.play("enter");
    assert_eq!(stage.plan().gear(crate_id).unwrap().state, BuildState::DryFitted);
    assert!(!left(&stage) && stage.shows("work, "), "the list goes on");
    stage.play("esc u");
    assert!(left(&stage));
}

#[test]
fn a_step_that_no_state_keeps_says_so() {
    let mut stage = stage();
    stage.play("9 \"partner yes\" enter");
    assert!(stage.said().contains("keeps no note of this step alone"), "{}", stage.said());
}

#[test]
fn where_a_plan_can_only_be_looked_at_tasks_are_gone_to_alone() {
    let mut stage = Stage::looking_at(demo("seat-test.ron")).sized(120, 40);
    let before = stage.plan().clone();
    stage.play("9 \"dry fit crate\" enter enter enter");
    assert_eq!(stage.plan(), &before);
}
