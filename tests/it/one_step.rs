//! Several edits as one step: all or none, one undo, one line in the history, whole again from the journal.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::{Edit, apply};
use gunnel::plan::{GearId, Plan, Seat};
use gunnel::session::{Record, Session};
use gunnel::units::{Length, Measure};

use crate::boats::{name, rich};

const BATTERY: GearId = GearId(1);
const CRATE: GearId = GearId(4);
const ASHORE: GearId = GearId(12);

fn shift(gear: GearId, x: f64, y: f64) -> Edit {
    Edit::Move { gear, x: Length::mm(x), y: Length::mm(y) }
}

fn step(edits: Vec<Edit>) -> Edit {
    Edit::All { purpose: name("move it level"), edits }
}

fn seat(plan: &Plan, by: f64) -> Edit {
    let now = &plan.angler.seat;
    Edit::SetSeat { seat: Seat { back: Length::mm(now.back.to_mm() + by), ..now.clone() } }
}

#[test]
fn one_undo_takes_all_of_it_back_and_the_label_names_each_part() {
    let plan = rich();
    let parts = vec![shift(BATTERY, 2000.0, 0.0), Edit::Mirror { gear: GearId(2) }, seat(&plan, 25.0)];
    let mut session = Session::new(plan.clone(), Measure::default());
    let label = session.edit(step(parts.clone())).unwrap();
    let battery = &plan.gear(BATTERY).unwrap().label;
    let display = &plan.gear(GearId(2)).unwrap().label;
    assert_eq!(label, format!("move it level: {battery} 310 mm aft; mirror {display}; the seat 25 mm forward"));
    let mut by_hand = plan.clone();
    for part in &parts {
        by_hand = apply(&by_hand, part).unwrap();
    }
    assert_eq!(*session.plan(), by_hand);
    assert_eq!(session.undo(), Some(label.clone()));
    assert_eq!(*session.plan(), plan);
    assert_eq!(session.redo(), Some(label));
    assert_eq!(*session.plan(), by_hand);
}

#[test]
fn a_refused_part_refuses_them_all() {
    let plan = rich();
    let mut session = Session::new(plan.clone(), Measure::default());
    let why = session.edit(step(vec![shift(BATTERY, 2000.0, 0.0), shift(ASHORE, 2000.0, 0.0)])).unwrap_err();
    assert!(why.to_string().contains("is ashore: place it first"), "{why}");
    assert_eq!(*session.plan(), plan);
    assert_eq!((session.history().position(), session.take_records().len()), (0, 0));
}

#[test]
fn a_step_of_nothing_and_a_step_within_a_step_are_refused() {
    let plan = rich();
    assert!(apply(&plan, &step(Vec::new())).is_err());
    assert!(apply(&plan, &step(vec![step(vec![shift(CRATE, 700.0, 0.0)])])).is_err());
}

#[test]
fn the_journal_brings_it_back() {
    let plan = rich();
    let mut session = Session::new(plan.clone(), Measure::default());
    session.edit(step(vec![shift(BATTERY, 2000.0, 0.0), shift(CRATE, 700.0, 0.0)])).unwrap();
    let text = serde_json::to_string(&session.take_records()).unwrap();
    let records: Vec<Record> = serde_json::from_str(&text).unwrap();
    let mut again = Session::new(plan, Measure::default());
    assert!(again.replay(&records).is_empty());
    assert_eq!(again.plan(), session.plan());
    assert_eq!(again.history().next_undo(), session.history().next_undo());
}
