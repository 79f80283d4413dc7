//! What both changed, by keys: listed with what each did, mine kept, theirs taken one by one or all.

use gunnel::compare::merge::merge;
use gunnel::edit::Edit;
use gunnel::plan::{GearId, Plan};
use gunnel::tui::update::list_conflicts;
use gunnel::units::Length;

use crate::boats::{name, rich, with};
use crate::stage::Stage;

const CRATE: GearId = GearId(4);
const LIGHT: GearId = GearId(5);

fn moved(gear: GearId, x: f64) -> Edit {
    Edit::Move { gear, x: Length::mm(x), y: Length::mm(0.0) }
}

fn theirs() -> Plan {
    with(rich(), &[Edit::PutAshore { gear: CRATE }, moved(LIGHT, 400.0), Edit::RenamePlan { name: name("theirs") }])
}

/// Mine, with what theirs did otherwise listed on top.
pub fn both_changed() -> Stage {
    let mine = with(rich(), &[moved(CRATE, 600.0), moved(LIGHT, 300.0), Edit::RenamePlan { name: name("mine") }]);
    let merged = merge(&rich(), &mine, &theirs());
    let mut stage = Stage::on(merged.plan).sized(120, 40);
    list_conflicts(&mut stage.app, merged.conflicts);
    stage
}

fn x_mm(stage: &Stage, gear: GearId) -> Option<f64> {
    stage.plan().gear(gear).and_then(|gear| gear.place).map(|place| place.x.to_mm())
}

#[test]
fn each_line_says_what_both_did() {
    let stage = both_changed();
    assert!(stage.shows("changed by both: 3 things; yours are kept"), "{}", stage.lines().join("\n"));
    // 650 mm to 600 mm, and ashore.
    let lines = stage.lines();
    let at = lines.iter().position(|line| line.contains("theirs went ashore"));
    let (theirs, mine) = at.map(|at| (&lines[at], &lines[at + 1])).unwrap_or_else(|| panic!("{}", lines.join("\n")));
    assert!(theirs.contains("crate with trays and rod tubes"), "{theirs}");
    assert!(mine.contains("yours, kept") && mine.contains("moved 50 mm aft"), "{mine}");
    assert!(stage.shows("theirs now theirs") && stage.shows("now mine"));
}

#[test]
fn the_first_line_and_escape_keep_mine() {
    for keys in ["enter", "esc"] {
        let mut stage = both_changed();
        let mine = stage.plan().clone();
        stage.play(keys);
        assert!(stage.app.layers.is_empty());
        assert_eq!(stage.plan(), &mine);
        assert!(!stage.editor().session.history().is_dirty());
    }
}

#[test]
fn theirs_of_one_is_one_step_and_the_rest_stays_listed() {
    let mut stage = both_changed();
    stage.play("down enter");
    assert_eq!((x_mm(&stage, CRATE), x_mm(&stage, LIGHT)), (None, Some(300.0)));
    assert_eq!(stage.said(), "take theirs of crate with trays and rod tubes");
    assert!(stage.shows("changed by both: 2 things"), "{}", stage.lines().join("\n"));
    stage.play("down enter");
    assert_eq!(x_mm(&stage, LIGHT), Some(400.0));
    assert!(stage.shows("changed by both: 1 thing; yours is kept"), "{}", stage.lines().join("\n"));
    // The line of mine is there to be read alone.
    stage.play("down*2 enter");
    assert_eq!(stage.plan().name.as_str(), "mine");
    stage.play("esc u u");
    assert_eq!((x_mm(&stage, CRATE), x_mm(&stage, LIGHT)), (Some(600.0), Some(300.0)));
}

#[test]
fn all_of_theirs_is_one_step() {
    let mut stage = both_changed();
    stage.play("up enter");
    assert!(stage.app.layers.is_empty());
    assert_eq!(stage.plan().differences(&theirs()), Vec::new());
    stage.play("u");
    assert_eq!((x_mm(&stage, CRATE), stage.plan().name.as_str()), (Some(600.0), "mine"));
}

#[test]
fn what_would_not_be_sound_is_refused_and_stays_listed() {
    // They struck the light that I moved; since then it was wired.
    let mine = with(rich(), &[moved(LIGHT, 300.0)]);
    let merged = merge(&rich(), &mine, &with(rich(), &[Edit::Strike { gear: LIGHT }]));
    let mut stage = Stage::on(merged.plan).sized(120, 40);
    let circuit = gunnel::plan::Circuit::new(gunnel::plan::CircuitId(2), name("stern"), GearId(1), vec![LIGHT]);
    let wired = stage.app.editor_mut().map(|editor| editor.session.edit(Edit::SetCircuit { circuit }).is_ok());
    assert_eq!(wired, Some(true));
    list_conflicts(&mut stage.app, merged.conflicts);
    stage.play("down enter");
    assert!(stage.refused().contains("gear 5 is not in the plan"), "{}", stage.refused());
    assert!(stage.shows("changed by both: 1 thing"));
    assert_eq!(x_mm(&stage, LIGHT), Some(300.0));
}
