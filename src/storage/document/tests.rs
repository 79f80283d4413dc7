//! A person opens, edits, saves, loses power, comes back, and finds that somebody else was there meanwhile.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::path::PathBuf;

use super::*;
use crate::edit::Edit;
use crate::plan::{GearId, Name};
use crate::storage::scratch::Scratch;
use crate::units::Length;

const GOOD: &str = include_str!("../../../tests/it/corpus/good.ron");

struct Desk {
    scratch: Scratch,
    env: Env,
    plan: PathBuf,
}

impl Desk {
    fn new() -> Self {
        let scratch = Scratch::new();
        let env = Env::of([("XDG_STATE_HOME", scratch.state().into_os_string()), ("USER", "kim".into())]);
        let plan = scratch.file("boat.ron", GOOD);
        Self { scratch, env, plan }
    }

    fn open(&self) -> (Document, Session, Opened) {
        Document::open(&self.plan, &self.env, Measure::default()).unwrap()
    }

    /// Opens, renames the plan to each of `names` in turn, and is killed.
    fn killed_after(&self, names: &[&str]) {
        let (mut document, mut session, _) = self.open();
        for name in names {
            rename(&mut session, name);
            document.note(&mut session);
        }
    }

    fn journals(&self) -> Vec<String> {
        let state = self.scratch.state().join("gunnel");
        let mut names: Vec<String> = fs::read_dir(state)
            .map(|entries| entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into()).collect())
            .unwrap_or_default();
        names.retain(|name: &String| name.contains(".journal"));
        names.sort();
        names
    }
}

fn rename(session: &mut Session, name: &str) {
    session.edit(Edit::RenamePlan { name: Name::new(name).unwrap() }).unwrap();
}

fn name_of(session: &Session) -> &str {
    session.plan().name.as_str()
}

#[test]
fn looking_at_a_plan_leaves_nothing_behind() {
    let desk = Desk::new();
    let (mut document, mut session, opened) = desk.open();
    assert!(opened.warnings.is_empty() && opened.recoverable.is_none() && opened.read_only_because.is_none());
    document.note(&mut session);
    document.close();
    assert_eq!(desk.scratch.names(), ["boat.ron"]);
    assert_eq!(desk.journals(), Vec::<String>::new());
    assert_eq!(fs::read_to_string(&desk.plan).unwrap(), GOOD);
}

#[test]
fn undo_works_across_restarts() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "one");
    rename(&mut session, "two");
    document.save(&mut session).unwrap();
    assert!(!session.history().is_dirty());
    document.close();

    let (mut document, mut session, opened) = desk.open();
    assert_eq!((name_of(&session), opened.recoverable), ("two", None));
    assert!(!session.history().is_dirty());
    assert_eq!(session.undo().as_deref(), Some("rename the plan to two"));
    rename(&mut session, "three");
    document.save(&mut session).unwrap();
    document.close();

    let (_document, mut session, _) = desk.open();
    assert_eq!(name_of(&session), "three");
    while session.undo().is_some() {}
    assert_eq!(name_of(&session), "pond boat");
    assert_eq!(desk.journals().len(), 1);
}

#[test]
fn what_a_kill_left_unsaved_is_offered_and_recovered() {
    let desk = Desk::new();
    desk.killed_after(&["one", "two"]);
    let (mut document, mut session, opened) = desk.open();
    let offered = opened.recoverable.unwrap();
    assert_eq!(offered.edits, ["rename the plan to one", "rename the plan to two"]);
    assert_eq!((offered.by.user.as_str(), offered.changed_underneath), ("kim", false));
    assert_eq!(name_of(&session), "pond boat");
    assert_eq!(document.recover(&mut session), Brought::default());
    assert_eq!(name_of(&session), "two");
    assert!(session.history().is_dirty());
    drop(document);

    // Killed again before the save: offered again, and then saved.
    let (mut document, mut session, opened) = desk.open();
    assert_eq!(opened.recoverable.unwrap().edits.len(), 2);
    document.recover(&mut session);
    rename(&mut session, "three");
    document.save(&mut session).unwrap();
    drop(document);
    let (_, mut session, opened) = desk.open();
    assert_eq!((opened.recoverable, name_of(&session)), (None, "three"));
    session.undo();
    assert_eq!(name_of(&session), "two");
}

#[test]
fn what_is_discarded_is_kept_aside_and_the_saved_history_stays() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "saved");
    document.save(&mut session).unwrap();
    drop(document);
    desk.killed_after(&["lost"]);

    let (mut document, session, opened) = desk.open();
    assert_eq!(opened.recoverable.unwrap().edits, ["rename the plan to lost"]);
    let aside = document.discard().unwrap();
    assert!(aside.exists());
    assert_eq!(name_of(&session), "saved");
    drop(document);
    let (_, mut session, opened) = desk.open();
    assert_eq!(opened.recoverable, None);
    session.undo();
    assert_eq!(name_of(&session), "pond boat");
}

#[test]
fn whoever_edits_on_without_deciding_loses_nothing() {
    let desk = Desk::new();
    desk.killed_after(&["lost"]);
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "new");
    document.note(&mut session);
    drop(document);
    assert_eq!(desk.journals().len(), 2);
    let (_, _, opened) = desk.open();
    assert_eq!(opened.recoverable.unwrap().edits, ["rename the plan to new"]);
}

#[test]
fn undone_saved_edits_are_offered_as_such() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "saved");
    document.save(&mut session).unwrap();
    session.undo();
    rename(&mut session, "other");
    document.note(&mut session);
    drop(document);
    let (mut document, mut session, opened) = desk.open();
    assert_eq!(opened.recoverable.unwrap().edits, ["undo: rename the plan to saved", "rename the plan to other"]);
    document.recover(&mut session);
    assert_eq!(name_of(&session), "other");
}

#[test]
fn a_kill_between_the_save_and_its_note_loses_no_history() {
    let desk = Desk::new();
    desk.killed_after(&["one"]);
    // The save itself, as the killed program did it.
    let (document, mut session, _) = desk.open();
    drop(document);
    rename(&mut session, "one");
    fs::write(&desk.plan, write::plan(session.plan(), Format::Ron).unwrap()).unwrap();

    for _ in 0..2 {
        let (_document, mut session, opened) = desk.open();
        assert!(opened.recoverable.is_none() && opened.warnings.is_empty(), "{opened:?}");
        assert!(!session.history().is_dirty());
        assert_eq!(session.undo().as_deref(), Some("rename the plan to one"));
    }
}

#[test]
fn edits_move_to_a_file_that_somebody_else_changed() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "undone");
    session.undo();
    rename(&mut session, "mine");
    session.edit(Edit::Move { gear: GearId(1), x: Length::mm(1800.0), y: Length::mm(330.0) }).unwrap();
    session.edit(Edit::Pin { gear: GearId(2), pinned: false }).unwrap();
    document.note(&mut session);
    drop(document);
    // Somebody takes the display out of the plan.
    let other = session.plan().clone();
    let mut other = Plan { gear: other.gear[1..].to_vec(), ..other };
    other.wiring.circuits.clear();
    other.readings.clear();
    other.name = Name::new("theirs").unwrap();
    other.gear[0].pinned = true;
    fs::write(&desk.plan, write::plan(&other, Format::Ron).unwrap()).unwrap();

    let (mut document, mut session, opened) = desk.open();
    let offered = opened.recoverable.unwrap();
    assert!(offered.changed_underneath);
    assert_eq!((offered.edits.len(), offered.conflicts), (3, 2));
    assert_eq!(offered.edits[0], "rename the plan to mine");
    assert_eq!(offered.lost, Vec::<String>::new());
    assert_eq!(session.plan(), &other);
    let brought = document.recover(&mut session);
    assert_eq!((brought.edits, &brought.lost), (3, &offered.lost));
    let both: Vec<&str> = brought.conflicts.iter().map(|conflict| conflict.mine.name.as_str()).collect();
    assert_eq!(both, ["display", "name of the plan"]);
    assert_eq!(brought.taken, ["circuit sonar", "readings"]);
    assert_eq!((name_of(&session), session.plan().gear[0].place.unwrap().x), ("mine", Length::mm(1800.0)));
    assert!(!session.plan().gear[1].pinned && session.plan().wiring.circuits.is_empty());
    assert!(session.history().is_dirty());
    assert_eq!(session.history().next_undo(), Some("bring over 3 unsaved edits"));
    document.save(&mut session).unwrap();
    drop(document);
    let (_, session, opened) = desk.open();
    assert_eq!((opened.recoverable, name_of(&session)), (None, "mine"));
    assert_eq!(desk.journals().len(), 2, "the journal of the old file is kept aside");
}

#[test]
fn history_of_another_version_is_set_aside() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "one");
    document.save(&mut session).unwrap();
    drop(document);
    fs::write(&desk.plan, GOOD.replace("pond boat", "theirs")).unwrap();
    let (_, session, opened) = desk.open();
    assert_eq!((name_of(&session), opened.recoverable), ("theirs", None));
    assert_eq!(session.history().steps().len(), 1);
    assert_eq!(opened.warnings, ["the file was changed by another program; its undo history was set aside"]);
}

#[test]
fn the_second_to_open_looks_on() {
    let desk = Desk::new();
    let (mut first, mut session, _) = desk.open();
    rename(&mut session, "one");
    first.note(&mut session);
    let (mut second, mut seen, opened) = desk.open();
    let why = opened.read_only_because.unwrap();
    assert!(why.starts_with("kim on ") && why.contains("read-only"), "{why}");
    assert_eq!(opened.recoverable, None, "the journal is the first one's");
    rename(&mut seen, "no");
    second.note(&mut seen);
    assert!(matches!(second.save(&mut seen), Err(DocumentError::ReadOnly(_))));
    first.save(&mut session).unwrap();
    assert!(second.changed_on_disk());
    second.reload(&mut seen).unwrap();
    assert!(!second.changed_on_disk());
    assert_eq!(fs::read_to_string(&desk.plan).unwrap().matches("\"one\"").count(), 1);
}

#[test]
fn a_version_put_there_meanwhile_is_never_written_over_unasked() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "mine");
    let theirs = GOOD.replace("pond boat", "theirs").replace("Kg(1.6)", "Kg(1.7)");
    fs::write(&desk.plan, &theirs).unwrap();
    assert!(document.changed_on_disk());
    assert!(matches!(document.save(&mut session), Err(DocumentError::Save(SaveError::Changed))));
    assert_eq!(fs::read_to_string(&desk.plan).unwrap(), theirs);
    assert!(session.history().is_dirty());

    // Taking theirs brings the unsaved edits over.
    let brought = document.reload(&mut session).unwrap();
    assert_eq!((brought.edits, brought.conflicts.len(), brought.lost), (1, 1, Vec::new()));
    assert_eq!((name_of(&session), session.plan().gear[0].spec.mass.value.to_kg()), ("mine", 1.7));
    document.save(&mut session).unwrap();
    drop(document);
    let (_, session, opened) = desk.open();
    assert_eq!((opened.recoverable, name_of(&session)), (None, "mine"));

    // Or the person insists.
    let (mut document, mut session, _) = desk.open();
    fs::write(&desk.plan, &theirs).unwrap();
    document.save_over(&mut session).unwrap();
    assert!(fs::read_to_string(&desk.plan).unwrap().contains("\"mine\""));
    let state = desk.scratch.state().join("gunnel");
    assert_eq!(fs::read_to_string(&backup::list(&state, &desk.plan)[0]).unwrap(), theirs);
}

#[test]
fn a_file_that_went_away_is_made_again_only_on_the_second_asking() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "mine");
    fs::remove_file(&desk.plan).unwrap();
    assert!(document.changed_on_disk());
    assert!(matches!(document.save(&mut session), Err(DocumentError::Save(SaveError::Gone))));
    document.save(&mut session).unwrap();
    assert!(desk.plan.exists());
}

#[test]
fn another_name_takes_the_history_along_and_leaves_the_old_file_its_own() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "one");
    document.save(&mut session).unwrap();
    rename(&mut session, "two");
    let copy = desk.scratch.path("copy.json");
    document.save_as(&copy, &mut session, false).unwrap();
    assert!(matches!(
        Document::open(&copy, &desk.env, Measure::default()),
        Ok((_, _, Opened { read_only_because: Some(_), .. }))
    ));
    let (mut old, mut old_session, opened) = desk.open();
    assert_eq!((name_of(&old_session), opened.recoverable, opened.read_only_because), ("one", None, None));
    assert_eq!(old_session.undo().as_deref(), Some("rename the plan to one"));
    assert!(matches!(old.save_as(&copy, &mut old_session, true), Err(DocumentError::Locked(_))));
    drop(document);
    assert!(matches!(old.save_as(&copy, &mut old_session, false), Err(DocumentError::Save(SaveError::Exists))));

    let (_, mut session, _) = Document::open(&copy, &desk.env, Measure::default()).unwrap();
    assert_eq!(name_of(&session), "two");
    while session.undo().is_some() {}
    assert_eq!(name_of(&session), "pond boat");
}

#[test]
fn a_new_plan_lost_before_its_first_save_is_found() {
    let desk = Desk::new();
    let plan = load::plan(GOOD, &desk.plan, Format::Ron).unwrap();
    let (mut document, mut session) = Document::new(plan, &desk.env, Measure::default());
    assert!(matches!(document.save(&mut session), Err(DocumentError::NoPath)));
    rename(&mut session, "one");
    document.note(&mut session);
    assert_eq!(document.journal_trouble(), None);
    assert_eq!(Document::lost(&desk.env), Vec::<PathBuf>::new(), "its program still runs");
    drop(document);

    let lost = Document::lost(&desk.env);
    let (mut document, mut session, opened) = Document::open_lost(&lost[0], &desk.env, Measure::default()).unwrap();
    assert_eq!((lost.len(), name_of(&session), opened.warnings.len()), (1, "one", 0));
    assert!(session.history().is_dirty());
    let path = desk.scratch.path("new.ron");
    document.save_as(&path, &mut session, false).unwrap();
    drop(document);
    assert_eq!(Document::lost(&desk.env), Vec::<PathBuf>::new());
    let (_, mut session, opened) = Document::open(&path, &desk.env, Measure::default()).unwrap();
    assert_eq!((name_of(&session), opened.recoverable), ("one", None));
    assert!(session.undo().is_some());
}

#[test]
fn closing_without_saving_keeps_the_edits_aside() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "one");
    let aside = document.abandon(&mut session).unwrap();
    document.close();
    assert!(aside.exists());
    let (_, session, opened) = desk.open();
    assert_eq!((name_of(&session), opened.recoverable), ("pond boat", None));
}

#[test]
fn a_journal_cut_anywhere_gives_back_a_beginning_of_what_was_done() {
    let desk = Desk::new();
    let names = ["one", "two", "three"];
    desk.killed_after(&names);
    let journal = desk.scratch.state().join("gunnel").join(&desk.journals()[0]);
    let whole = fs::read(&journal).unwrap();
    let mut told = 0;
    let first_edit = whole.windows(8).position(|window| window == b"\"Step\":{").unwrap();
    for cut in (first_edit - 100..whole.len()).step_by(3) {
        fs::write(&journal, &whole[..cut]).unwrap();
        let (mut document, mut session, opened) = desk.open();
        let edits = opened.recoverable.map_or(Vec::new(), |found| found.edits);
        let expected: Vec<String> =
            names[..edits.len()].iter().map(|name| format!("rename the plan to {name}")).collect();
        assert_eq!(edits, expected, "cut at {cut}");
        assert!(edits.len() < names.len(), "cut at {cut}");
        told += opened.warnings.len();
        document.recover(&mut session);
        rename(&mut session, "after");
        document.note(&mut session);
        drop(document);
        let (_, _, opened) = desk.open();
        assert_eq!(opened.recoverable.unwrap().edits.len(), edits.len() + 1, "cut at {cut}");
    }
    assert!(told > 50, "a cut inside a record is told");
}

#[test]
fn without_a_state_folder_the_person_is_told() {
    let desk = Desk::new();
    let env = Env::of([("USER", "kim")]);
    let (mut document, mut session, _) = Document::open(&desk.plan, &env, Measure::default()).unwrap();
    rename(&mut session, "one");
    document.note(&mut session);
    assert!(document.journal_trouble().unwrap().contains("lost in a crash"));
    let saved = document.save(&mut session).unwrap();
    assert!(saved.warnings.iter().any(|warning| warning.to_string().contains("no backup")));
}

#[test]
fn a_broken_plan_is_not_opened_and_its_backup_is_named() {
    let desk = Desk::new();
    let (mut document, mut session, _) = desk.open();
    rename(&mut session, "one");
    document.save(&mut session).unwrap();
    drop(document);
    fs::write(&desk.plan, "(format: 1, name: \"x\"").unwrap();
    let error = Document::open(&desk.plan, &desk.env, Measure::default()).unwrap_err();
    assert!(error.to_string().contains("never closed") && error.hint().unwrap().contains("backups"), "{error}");
    assert_eq!(desk.scratch.names(), ["boat.ron"], "no lock is left");
}
