//! Two at one plan: what a person has not saved meets what somebody else wrote into the file.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::path::PathBuf;

use gunnel::edit::{Edit, apply};
use gunnel::plan::parts::{Part, PartKey};
use gunnel::plan::{Act, BuildState, Circuit, CircuitId, Day, Fate, GearId, HoleId, Note, On, Plan, Tick};
use gunnel::session::Session;
use gunnel::storage::document::{Brought, Document, DocumentError, Opened};
use gunnel::storage::load::{self, Format};
use gunnel::storage::paths::Env;
use gunnel::storage::write;
use gunnel::units::{Length, Measure};

use crate::boats::{name, rich};
const DISPLAY: GearId = GearId(3);
const CRATE: GearId = GearId(4);
const LIGHT: GearId = GearId(5);
const COOLER: GearId = GearId(11);

/// A plan in a folder, open, with a folder of state unless it is to go without.
pub struct Desk {
    root: tempfile::TempDir,
    document: Document,
    pub session: Session,
}

impl Desk {
    pub fn new() -> Self {
        Self::at(tempfile::tempdir().unwrap(), true)
    }

    fn at(root: tempfile::TempDir, has_state: bool) -> Self {
        let path = root.path().join("boat.ron");
        if !path.exists() {
            fs::write(&path, text(&rich())).unwrap();
        }
        let mut variables = vec![("USER", "kim".into())];
        if has_state {
            variables.push(("XDG_STATE_HOME", root.path().join("state").into_os_string()));
        }
        let (document, session, _) = Document::open(&path, &Env::of(variables), Measure::default()).unwrap();
        Self { root, document, session }
    }

    pub fn path(&self) -> PathBuf {
        self.root.path().join("boat.ron")
    }

    /// Edits that are noted in the journal.
    pub fn does(&mut self, edits: &[Edit]) {
        for edit in edits {
            self.session.edit(edit.clone()).unwrap();
        }
        self.document.note(&mut self.session);
    }

    /// Somebody else makes this of the plan on disk.
    fn they_do(&self, edits: &[Edit]) -> Plan {
        let theirs = edited(&self.on_disk(), edits);
        fs::write(self.path(), text(&theirs)).unwrap();
        theirs
    }

    fn on_disk(&self) -> Plan {
        load::plan(&fs::read_to_string(self.path()).unwrap(), &self.path(), Format::Ron).unwrap()
    }

    pub fn reload(&mut self) -> Brought {
        self.document.reload(&mut self.session).unwrap()
    }

    /// The program is killed and started again.
    fn killed(self) -> (Self, Opened) {
        let Self { root, document, .. } = self;
        drop(document);
        let env = Env::of([("USER", "kim".into()), ("XDG_STATE_HOME", root.path().join("state").into_os_string())]);
        let (document, session, opened) =
            Document::open(&root.path().join("boat.ron"), &env, Measure::default()).unwrap();
        (Self { root, document, session }, opened)
    }
}

pub fn text(plan: &Plan) -> String {
    write::plan(plan, Format::Ron).unwrap()
}

fn edited(plan: &Plan, edits: &[Edit]) -> Plan {
    edits.iter().fold(plan.clone(), |plan, edit| apply(&plan, edit).unwrap())
}

fn moved(gear: GearId, x: f64) -> Edit {
    Edit::Move { gear, x: Length::mm(x), y: Length::mm(40.0) }
}

fn renamed(gear: GearId, label: &str) -> Edit {
    Edit::Rename { gear, label: name(label) }
}

fn x_mm(plan: &Plan, gear: GearId) -> f64 {
    plan.gear(gear).unwrap().place.unwrap().x.to_mm()
}

fn names(brought: &Brought) -> Vec<&str> {
    brought.conflicts.iter().map(|conflict| conflict.mine.name.as_str()).collect()
}

#[test]
fn what_each_did_elsewhere_is_kept_and_undone_as_one_step() {
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0), renamed(LIGHT, "stern light")]);
    let theirs = desk.they_do(&[moved(COOLER, 2200.0)]);
    let brought = desk.reload();
    let expected = Brought { edits: 2, taken: vec!["cooler, 20 L".into()], ..Brought::default() };
    assert_eq!(brought, expected);
    let plan = desk.session.plan();
    assert_eq!((x_mm(plan, CRATE), x_mm(plan, COOLER)), (600.0, 2200.0));
    assert_eq!(plan.gear(LIGHT).unwrap().label.as_str(), "stern light");
    assert_eq!(desk.session.undo().as_deref(), Some("bring over 2 unsaved edits"));
    assert_eq!(desk.session.plan(), &theirs);
    assert!(!desk.session.history().is_dirty());
}

#[test]
fn with_nothing_unsaved_theirs_is_read_and_no_step_made() {
    for has_state in [true, false] {
        let mut desk = Desk::at(tempfile::tempdir().unwrap(), has_state);
        desk.does(&[moved(CRATE, 600.0)]);
        desk.document.save(&mut desk.session).unwrap();
        let theirs = desk.they_do(&[moved(CRATE, 700.0)]);
        let brought = desk.reload();
        assert_eq!((brought.edits, brought.taken.len(), brought.conflicts.len()), (0, 1, 0), "{brought:?}");
        assert_eq!(desk.session.plan(), &theirs);
        assert_eq!(desk.session.history().steps().len(), 1);
    }
}

#[test]
fn what_was_saved_is_where_unsaved_edits_begin() {
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0)]);
    desk.document.save(&mut desk.session).unwrap();
    desk.does(&[renamed(LIGHT, "stern light")]);
    // Theirs only takes back what was saved: no conflict, it was not touched since.
    desk.they_do(&[moved(CRATE, 650.0)]);
    let brought = desk.reload();
    assert_eq!((brought.edits, names(&brought)), (1, vec![]));
    assert_eq!(x_mm(desk.session.plan(), CRATE), 650.0);
}

#[test]
fn what_both_changed_stays_mine_and_is_listed() {
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0)]);
    let theirs = desk.they_do(&[Edit::PutAshore { gear: CRATE }, moved(COOLER, 2200.0)]);
    let brought = desk.reload();
    assert_eq!(names(&brought), ["crate with trays and rod tubes"]);
    assert_eq!(brought.conflicts[0].part, Part::Gear(CRATE, theirs.gear(CRATE).cloned().map(Box::new)));
    assert_eq!(brought.taken, ["cooler, 20 L"]);
    assert_eq!(x_mm(desk.session.plan(), CRATE), 600.0);
    // The same once more is no news: theirs was read.
    desk.does(&[renamed(LIGHT, "stern light")]);
    desk.they_do(&[moved(COOLER, 2100.0)]);
    assert_eq!(names(&desk.reload()), Vec::<&str>::new());
    assert_eq!(x_mm(desk.session.plan(), CRATE), 600.0);
}

#[test]
fn what_both_added_is_there_twice() {
    let mut desk = Desk::new();
    desk.does(&[Edit::Duplicate { gear: CRATE }, renamed(GearId(13), "my crate")]);
    let circuit = |id, load, title| Edit::SetCircuit {
        circuit: Circuit::new(CircuitId(id), name(title), GearId(1), vec![GearId(load)]),
    };
    desk.does(&[circuit(2, 13, "mine"), Edit::NameRevision { name: name("tried"), date: None }]);
    let kept = desk.session.plan().clone();
    desk.they_do(&[Edit::Duplicate { gear: LIGHT }, renamed(GearId(13), "their light"), circuit(2, 13, "theirs")]);
    desk.they_do(&[Edit::NameRevision { name: name("tried"), date: None }]);
    let brought = desk.reload();
    assert_eq!((names(&brought), &brought.lost), (vec![], &Vec::new()));
    let plan = desk.session.plan();
    let label = |id| plan.gear(GearId(id)).unwrap().label.to_string();
    assert_eq!((label(13), label(14)), ("their light".into(), "my crate".into()));
    let loads = |id| plan.wiring.circuit(CircuitId(id)).map(|one| (one.name.to_string(), one.loads.clone())).unwrap();
    assert_eq!(loads(2), ("theirs".into(), vec![GearId(13)]));
    assert_eq!(loads(3), ("mine".into(), vec![GearId(14)]));
    // Of the kept states mine speaks of the same gear by its new number.
    let states: Vec<&str> = plan.revisions.iter().map(|state| state.name.as_str()).collect();
    assert_eq!(states, ["tried", "tried 2"]);
    assert_eq!(plan.revisions[1].plan.gear(GearId(14)).unwrap().label.as_str(), "my crate");
    assert_eq!(plan.revisions[1].plan.gear.len(), kept.gear.len());
}

#[test]
fn kept_states_of_both_stay_and_forgotten_ones_go() {
    let keep = |title: &str| Edit::NameRevision { name: name(title), date: None };
    let mut desk = Desk::new();
    desk.does(&[keep("old"), keep("older")]);
    desk.document.save(&mut desk.session).unwrap();
    desk.does(&[Edit::StrikeRevision { index: 0 }, keep("mine")]);
    desk.they_do(&[keep("theirs")]);
    let brought = desk.reload();
    let states = |desk: &Desk| -> Vec<String> {
        desk.session.plan().revisions.iter().map(|state| state.name.to_string()).collect()
    };
    assert_eq!((brought.edits, states(&desk)), (2, vec!["older".into(), "theirs".into(), "mine".into()]));
    let (mut desk, _) = desk.killed();
    assert_eq!(states(&desk), ["old", "older", "theirs"]);
    desk.document.recover(&mut desk.session);
    assert_eq!(states(&desk), ["older", "theirs", "mine"]);
}

#[test]
fn holes_that_were_drilled_meanwhile_are_not_lost() {
    let drilled = Edit::SetState { gear: DISPLAY, state: BuildState::Drilled };
    // They drilled it where it was; I moved it: its four bolt holes are in the hull. By hand, from the catalogue.
    let mut desk = Desk::new();
    desk.does(&[moved(DISPLAY, 2700.0)]);
    desk.they_do(std::slice::from_ref(&drilled));
    assert_eq!(names(&desk.reload()), [rich().gear(DISPLAY).unwrap().label.as_str()]);
    let open = |plan: &Plan| plan.penetrations.iter().filter(|hole| hole.fate == Fate::Open).count();
    let before = open(&rich());
    assert_eq!(open(desk.session.plan()), before + 4);
    assert_eq!(desk.session.plan().gear(DISPLAY).unwrap().state, BuildState::Planned);

    // I drilled it, unsaved, and moved it on: the holes come over once, not twice.
    let mut desk = Desk::new();
    desk.does(std::slice::from_ref(&drilled));
    desk.document.save(&mut desk.session).unwrap();
    desk.does(&[moved(DISPLAY, 2700.0)]);
    let mine = desk.session.plan().clone();
    desk.they_do(&[moved(CRATE, 600.0)]);
    assert_eq!(names(&desk.reload()), Vec::<&str>::new());
    assert_eq!(open(desk.session.plan()), before + 4);
    assert_eq!(
        desk.session.plan().differences(&mine).iter().map(Part::key).collect::<Vec<_>>(),
        [PartKey::Gear(CRATE)]
    );
}

#[test]
fn what_cannot_be_merged_is_made_again_edit_by_edit_and_told() {
    let wired = Edit::SetCircuit { circuit: Circuit::new(CircuitId(2), name("stern"), GearId(1), vec![LIGHT]) };
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0), wired]);
    desk.they_do(&[Edit::Strike { gear: LIGHT }]);
    let (mut desk, opened) = desk.killed();
    let offered = opened.recoverable.unwrap();
    assert!(offered.changed_underneath && offered.edits.len() == 1, "{offered:?}");
    let brought = desk.document.recover(&mut desk.session);
    assert_eq!((brought.edits, &brought.lost), (2, &offered.lost));
    assert_eq!(brought.lost.len(), 1);
    assert!(brought.lost[0].contains("gear 5 is not in the plan"), "{:?}", brought.lost);
    assert_eq!(x_mm(desk.session.plan(), CRATE), 600.0);
    assert_eq!(desk.session.plan().validate(), Ok(()));
}

#[test]
fn what_cannot_be_merged_does_not_change_what_they_added_under_the_same_number() {
    let wired = Edit::SetCircuit { circuit: Circuit::new(CircuitId(2), name("stern"), GearId(1), vec![LIGHT]) };
    let mut desk = Desk::new();
    desk.does(&[Edit::Duplicate { gear: CRATE }, renamed(GearId(13), "my crate"), wired]);
    desk.they_do(&[Edit::Strike { gear: LIGHT }, Edit::Duplicate { gear: COOLER }, renamed(GearId(13), "theirs")]);
    let brought = desk.reload();
    assert_eq!(brought.lost.len(), 1);
    assert!(brought.lost[0].contains("circuit stern"), "{:?}", brought.lost);
    let plan = desk.session.plan();
    let label = |id| plan.gear(GearId(id)).unwrap().label.to_string();
    assert_eq!((label(13), label(14)), ("theirs".into(), "my crate".into()));
    assert_eq!(plan.validate(), Ok(()));
}

#[test]
fn a_tick_goes_with_gear_that_stands_elsewhere_now() {
    let tick = |act| Edit::Tick {
        tick: Tick { on: On::Gear(CRATE), act, date: Day::from_text("2031-05-30").unwrap(), reading: Note::default() },
    };
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0)]);
    desk.they_do(&[tick(Act::Mark)]);
    desk.reload();
    assert_eq!(x_mm(desk.session.plan(), CRATE), 600.0);
    assert!(desk.session.plan().work.ticks.is_empty(), "marked where it does not stand any more");

    let mut desk = Desk::new();
    desk.does(&[moved(COOLER, 600.0)]);
    desk.they_do(&[tick(Act::Mark)]);
    desk.reload();
    assert_eq!(desk.session.plan().work.ticks.len(), 1, "nothing was done to it but this");
}

#[test]
fn a_kill_after_the_merge_loses_neither() {
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0)]);
    let theirs = desk.they_do(&[moved(COOLER, 2200.0)]);
    desk.reload();
    let merged = desk.session.plan().clone();
    let (mut desk, opened) = desk.killed();
    assert_eq!(desk.session.plan(), &theirs);
    assert_eq!(opened.recoverable.unwrap().edits, ["bring over 1 unsaved edit"]);
    desk.document.recover(&mut desk.session);
    assert_eq!(desk.session.plan(), &merged);
    desk.document.save(&mut desk.session).unwrap();
    assert_eq!(desk.on_disk().differences(&merged), []);
}

#[test]
fn a_kill_before_the_merge_brings_both_together_at_the_next_start() {
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0)]);
    desk.they_do(&[moved(COOLER, 2200.0), moved(CRATE, 700.0)]);
    let (mut desk, opened) = desk.killed();
    let offered = opened.recoverable.unwrap();
    assert_eq!((offered.edits.len(), offered.conflicts, offered.changed_underneath), (1, 1, true));
    let brought = desk.document.recover(&mut desk.session);
    assert_eq!(names(&brought), ["crate with trays and rod tubes"]);
    assert_eq!((x_mm(desk.session.plan(), CRATE), x_mm(desk.session.plan(), COOLER)), (600.0, 2200.0));
}

#[test]
fn a_file_written_again_and_again_ends_with_the_last_and_mine() {
    let mut desk = Desk::new();
    desk.does(&[moved(CRATE, 600.0)]);
    for step in 0..5 {
        // Two writes between looks: the first of them is never seen.
        desk.they_do(&[moved(COOLER, 2000.0 + f64::from(step))]);
        desk.they_do(&[moved(COOLER, 2100.0 + f64::from(step)), renamed(LIGHT, &format!("light {step}"))]);
        assert!(desk.document.changed_on_disk());
        assert!(matches!(desk.document.save(&mut desk.session), Err(DocumentError::Save(_))));
        assert_eq!(names(&desk.reload()), Vec::<&str>::new());
        assert!(!desk.document.changed_on_disk());
    }
    let plan = desk.session.plan().clone();
    assert_eq!((x_mm(&plan, CRATE), x_mm(&plan, COOLER)), (600.0, 2104.0));
    assert_eq!(plan.gear(LIGHT).unwrap().label.as_str(), "light 4");
    desk.document.save(&mut desk.session).unwrap();
    assert_eq!(desk.on_disk(), plan);
}

#[test]
fn a_file_that_went_or_became_something_else_changes_nothing_here() {
    for what in ["gone", "a folder", "cut short", "no text"] {
        let mut desk = Desk::new();
        desk.does(&[moved(CRATE, 600.0)]);
        let mine = desk.session.plan().clone();
        let good = fs::read(desk.path()).unwrap();
        fs::remove_file(desk.path()).unwrap();
        match what {
            "a folder" => fs::create_dir(desk.path()).unwrap(),
            "cut short" => fs::write(desk.path(), &good[..good.len() / 2]).unwrap(),
            "no text" => fs::write(desk.path(), [0xff, 0xfe, 0x00]).unwrap(),
            _ => {}
        }
        assert!(desk.document.changed_on_disk(), "{what}");
        assert!(desk.document.reload(&mut desk.session).is_err(), "{what}");
        assert!(desk.document.save(&mut desk.session).is_err(), "{what}");
        assert_eq!(desk.session.plan(), &mine, "{what}");
        assert_eq!(desk.session.history().unsaved_edits(), Some(1), "{what}");
        // When the plan is there again it merges as ever.
        let _ = fs::remove_dir(desk.path());
        fs::write(desk.path(), good).unwrap();
        desk.they_do(&[moved(COOLER, 2200.0)]);
        assert_eq!(desk.reload().taken, ["cooler, 20 L"], "{what}");
        assert_eq!((x_mm(desk.session.plan(), CRATE), x_mm(desk.session.plan(), COOLER)), (600.0, 2200.0), "{what}");
    }
}

#[test]
fn the_second_to_open_follows_without_a_step() {
    let desk = Desk::new();
    let env = Env::of([("USER", "lee".into()), ("XDG_STATE_HOME", desk.root.path().join("state").into_os_string())]);
    let (mut second, mut seen, opened) = Document::open(&desk.path(), &env, Measure::default()).unwrap();
    assert!(opened.read_only_because.is_some());
    let theirs = desk.they_do(&[Edit::StrikeHole { hole: HoleId(1) }]);
    assert_eq!(second.reload(&mut seen).unwrap().taken, ["cable entry"]);
    assert_eq!((seen.plan(), seen.history().steps().len()), (&theirs, 1));
}
