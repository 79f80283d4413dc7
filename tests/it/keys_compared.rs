//! Then and now on the deck: the demo beside its kept state, a plan beside how it was opened, a suggestion before it is
//! taken over.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::Edit;
use gunnel::geometry::Spot;
use gunnel::plan::{Anchor, Key, Note};
use gunnel::review::entries::{Entry, VERSION};
use gunnel::review::whereabouts::pin;
use gunnel::review::{Deed, talk};
use gunnel::tui::app::Overlay;
use gunnel::tui::compared::Difference;
use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::theme::Depth;
use gunnel::tui::update::heard;
use gunnel::units::Length;
use insta::assert_snapshot;

use crate::boats::{demo, rich};
use crate::stage::Stage;

fn toast(stage: &Stage) -> &str {
    &stage.app.toast.as_ref().unwrap().text
}

fn id_of(stage: &Stage, label: &str) -> gunnel::plan::GearId {
    stage.plan().gear.iter().find(|gear| gear.label.as_str() == label).unwrap().id
}

#[test]
fn the_demo_beside_its_kept_state() {
    let mut stage = Stage::on(demo("seat-test.ron"));
    stage.play("|");
    assert_snapshot!("compared_80x24", stage.picture());
    stage.resize(120, 40);
    assert_snapshot!("compared_120x40", stage.picture());
    let mut plain = Stage::on(demo("seat-test.ron")).looking(Depth::Mono, Glyphs::Ascii);
    plain.play("|");
    assert_snapshot!("compared_ascii_80x24", plain.picture());
}

#[test]
fn what_moved_is_outlined_where_it_was_and_told_at_both_places() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.play("|");
    let other = stage.editor().compared.clone().unwrap();
    let of = |label: &str| {
        let id = id_of(&stage, label);
        other.gear().find(|(gear, _)| *gear == id).map(|(_, difference)| difference)
    };
    assert_eq!(of("display"), Some(Difference::Moved));
    assert_eq!(of("USB socket"), Some(Difference::Here));
    assert_eq!(of("switch unit"), None);
    // The display stood 50 mm further forward, at (2190, 340).
    stage.go(2190.0, 340.0);
    assert!(stage.lines().join("\n").contains("display: moved 50 mm aft"), "{}", stage.lines().join("\n"));
    stage.play("|");
    assert_eq!(stage.editor().overlay, None);
}

#[test]
fn without_a_kept_state_it_is_the_plan_as_it_was_opened() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    stage.play("|");
    assert_eq!(toast(&stage), "nothing was changed, and no other state is kept; I keeps one");
    let gear = stage.plan().gear.iter().find(|gear| gear.is_placed()).unwrap().clone();
    let place = gear.place.unwrap();
    let moved = Edit::Move { gear: gear.id, x: place.x + Length::mm(40.0), y: place.y };
    stage.app.editor_mut().unwrap().session.edit(moved).unwrap();
    stage.play("|");
    assert!(stage.lines().join("\n").contains("since it was opened: 1 moved"), "{}", stage.lines().join("\n"));
    // What is done under it is told at once.
    stage.play("u");
    assert!(stage.lines().join("\n").contains("since it was opened: nothing changed"), "{}", stage.lines().join("\n"));
}

#[test]
fn a_kept_state_is_chosen_from_the_list_of_states() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.play("I enter \"on the deck\" enter");
    assert_eq!(stage.editor().overlay, Some(Overlay::Compared));
    assert!(stage.lines().join("\n").contains("since \"before the seat test\""));
}

#[test]
fn a_suggestion_is_seen_on_the_deck_before_it_is_taken_over() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    let partner = Key::new("partner").unwrap();
    let gear = stage.plan().gear.iter().find(|gear| gear.is_placed()).unwrap().clone();
    let place = gear.place.unwrap();
    let to = Spot::new(place.x.to_mm() - 100.0, place.y.to_mm());
    let does = Deed::Suggest {
        on: pin(stage.plan(), &Anchor::Gear(gear.id)).unwrap(),
        text: Note::new("nearer").unwrap(),
        edits: vec![Edit::Move { gear: gear.id, x: Length::mm(to.x), y: place.y }],
        next: None,
    };
    let files = [(partner, vec![Entry { v: VERSION, id: 1, at_s: 1, does }])].into_iter().collect();
    let editor = stage.app.editor_mut().unwrap();
    editor.voice.talk = talk(editor.session.plan(), &files);
    heard(&mut stage.app, None);
    let before = stage.plan().clone();
    stage.play("Y enter g");
    let other = stage.editor().compared.clone().unwrap();
    assert_eq!(other.study.rig.item(gear.id).unwrap().at.spot(), to);
    assert!(stage.lines().join("\n").contains("as partner suggests"), "{}", stage.lines().join("\n"));
    assert_eq!(*stage.plan(), before, "looking is no accepting");
}

#[test]
fn a_partner_sees_what_was_tried_beside_the_plan() {
    let mut stage = Stage::looking_at(rich()).sized(120, 40);
    stage.app.editor_mut().unwrap().voice.reviewer = Some(Key::new("partner").unwrap());
    stage.play("@ } |");
    assert!(stage.lines().join("\n").contains("beside the plan: seat"), "{}", stage.lines().join("\n"));
}
