//! What keys do: scripts as a person would type them, and what the plan and the screen say afterwards.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::Spot;
use gunnel::plan::{Fate, GearId, HoleId, Mount, Plug, SeatHeight};
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::study::rig::HoleRef;
use gunnel::tui::app::{Held, Thing};
use gunnel::tui::layer::Layer;
use gunnel::units::Origin;

use crate::boats::{bare, rich};
use crate::stage::Stage;

/// Where the track of the boat's port side has its middle.
pub const TRACK: (f64, f64) = (2000.0, 385.0);

fn new_holes(stage: &Stage) -> usize {
    stage.editor().session.study().holes.counts.new_total()
}

fn undo_label(stage: &Stage) -> &str {
    stage.editor().session.history().next_undo().unwrap_or_default()
}

/// A boat with a display on its port track, the cursor on it.
pub fn with_display() -> Stage {
    let mut stage = Stage::on(bare());
    stage.go(TRACK.0, TRACK.1 - 10.0).play("a \"display-9\" enter enter");
    stage
}

#[test]
fn gear_is_taken_by_typing_and_set_down_on_the_middle_of_its_track() {
    let mut stage = Stage::on(bare());
    stage.go(TRACK.0, TRACK.1 - 10.0).play("a \"9 disp\" enter");
    let hand = stage.editor().hand.as_ref().unwrap();
    assert!(matches!(&hand.held, Held::New(spec) if spec.key.as_str() == "display-9"));
    assert_eq!(hand.preview.as_ref().unwrap().refused, None);
    assert!(hand.preview.as_ref().unwrap().changes.iter().any(|words| words == "+1.4 A"), "{:?}", hand.preview);
    assert!(stage.plan().gear.is_empty());
    stage.play("enter");
    let display = stage.gear("9-inch display");
    assert_eq!(display.place.unwrap().spot(), Spot::new(TRACK.0, TRACK.1));
    assert_eq!(display.mount, Mount::Track);
    assert_eq!(stage.said(), "place 9-inch display");
    assert!(stage.editor().hand.is_none());
}

#[test]
fn the_ghost_says_why_it_does_not_fit_before_it_is_set_down() {
    let mut stage = Stage::on(bare()).sized(200, 60);
    stage.go(1800.0, 0.0).play("a \"display-9\" enter");
    let why = stage.editor().hand.as_ref().unwrap().preview.as_ref().unwrap().refused.clone().unwrap();
    assert!(stage.shows(&why), "{why}\n{}", stage.lines().join("\n"));
    assert!(stage.plan().gear.is_empty());
    // It may be set down all the same: the plan is the person's, and says what is wrong with it.
    stage.play("enter");
    assert!(stage.refused().contains(&why), "{}", stage.refused());
    assert!(stage.findings().iter().any(|finding| finding.subject.gear() == Some(GearId(1))));
}

#[test]
fn letting_go_leaves_everything_as_it_was() {
    let mut stage = with_display();
    let before = stage.plan().clone();
    stage.play("space left*9 up t esc");
    assert_eq!(*stage.plan(), before);
    assert!(stage.editor().hand.is_none());
    stage.play("a \"crate\" enter right esc");
    assert_eq!(*stage.plan(), before);
}

#[test]
fn a_move_is_named_by_its_distance_in_words() {
    let mut stage = with_display();
    stage.play("space left*8 enter");
    assert_eq!(undo_label(&stage), "move 9-inch display 200 mm aft");
    stage.play("= ctrl-u \"2110\" enter");
    assert_eq!(undo_label(&stage), "move 9-inch display 310 mm forward");
    stage.play("u");
    assert_eq!(stage.said(), "undone: move 9-inch display 310 mm forward");
    assert_eq!(stage.gear("9-inch display").place.unwrap().x.to_mm(), 1800.0);
    stage.play("U");
    assert_eq!(stage.gear("9-inch display").place.unwrap().x.to_mm(), 2110.0);
}

#[test]
fn inches_step_by_the_inch_and_are_named_so() {
    let mut stage = Stage::on(bare());
    stage.play("'");
    stage.go(2006.6, TRACK.1 - 4.0).play("a \"display-9\" enter enter space left*8 enter");
    assert_eq!(undo_label(&stage), "move 9-inch display 8 in aft");
}

#[test]
fn mirroring_keeps_the_cursor_on_the_gear() {
    let mut stage = with_display();
    stage.play("M");
    assert_eq!(stage.gear("9-inch display").place.unwrap().y.to_mm(), -TRACK.1);
    assert_eq!(stage.editor().gear(), Some(GearId(1)));
    assert_eq!(stage.editor().cursor, Spot::new(TRACK.0, -TRACK.1));
    stage.play("M");
    assert_eq!(stage.gear("9-inch display").place.unwrap().y.to_mm(), TRACK.1);
}

#[test]
fn another_mount_costs_other_holes() {
    let mut stage = with_display();
    assert_eq!(new_holes(&stage), 0);
    stage.play("m");
    assert_eq!(stage.gear("9-inch display").mount, Mount::Bolts);
    assert_eq!(new_holes(&stage), 4);
    assert!(stage.shows("4 new"), "{}", stage.lines().join("\n"));
    stage.play("m m");
    assert_eq!((stage.gear("9-inch display").mount, new_holes(&stage)), (Mount::Track, 0));
}

#[test]
fn a_swap_keeps_label_and_place() {
    let mut stage = with_display();
    stage.play("R ctrl-u \"sounder\" enter S \"display-12\" enter");
    let gear = stage.gear("sounder");
    assert_eq!(gear.spec.key.as_str(), "display-12");
    assert_eq!(gear.place.unwrap().spot(), Spot::new(TRACK.0, TRACK.1));
    assert_eq!(undo_label(&stage), "swap sounder for 12-inch display");
}

#[test]
fn a_copy_is_taken_in_hand_and_set_down() {
    let mut stage = with_display();
    stage.play("d left*6 enter");
    let places: Vec<f64> = stage.plan().gear.iter().map(|gear| gear.place.unwrap().x.to_mm()).collect();
    assert_eq!(places, [2000.0, 1850.0]);
}

#[test]
fn ashore_and_back_and_struck() {
    let mut stage = with_display();
    stage.play("b");
    assert!(!stage.gear("9-inch display").is_placed());
    stage.play("g enter enter");
    assert!(stage.gear("9-inch display").is_placed());
    stage.play("D");
    assert!(stage.plan().gear.is_empty());
    stage.play("u*3");
    assert!(stage.gear("9-inch display").is_placed());
}

#[test]
fn what_is_in_hand_is_what_is_changed_not_what_lies_under_it() {
    let mut stage = Stage::on(bare());
    stage.go(TRACK.0, TRACK.1 - 10.0).play("a \"display-9\" enter enter");
    stage.go(650.0, 0.0).play("a \"crate\" enter enter");
    stage.go(TRACK.0, TRACK.1).play("space");
    // Carried until it hangs over the crate.
    while stage.editor().cursor.distance(Spot::new(650.0, 0.0)) > 60.0 {
        let away = stage.editor().cursor;
        stage.play(if away.x > 650.0 { "left" } else { "down" });
    }
    stage.play("D");
    let left: Vec<&str> = stage.plan().gear.iter().map(|gear| gear.spec.key.as_str()).collect();
    assert_eq!(left, ["crate"]);
}

#[test]
fn new_gear_in_hand_is_not_renamed_by_way_of_what_lies_under_it() {
    let mut stage = with_display();
    stage.play("a \"crate\" enter R");
    assert!(stage.app.layers.is_empty(), "a form for the wrong gear");
    assert_eq!(stage.refused(), "set it down first");
}

#[test]
fn a_figure_typed_in_inches_is_saved_in_inches() {
    let mut stage = Stage::on(bare());
    stage.play("enter \"inspect the hull\" enter \"beam\" enter ctrl-u \"35 1/2 in\" enter");
    let beam = stage.plan().hull.beam;
    assert_eq!((beam.value.unit_tag(), beam.value.written(), beam.origin), ("In", 35.5, Origin::Measured));
    assert!((beam.was.unwrap().to_mm() - 910.0).abs() < 1e-9);
    assert_eq!(undo_label(&stage), "set beam");
    let text = write::plan(stage.plan(), Format::Ron).unwrap();
    assert!(text.contains("beam: (value: In(35.5), origin: Measured"), "{text}");
}

#[test]
fn a_form_says_what_is_wrong_while_it_is_typed_and_does_not_close() {
    let mut stage = Stage::on(bare());
    stage.play("enter \"inspect the hull\" enter \"beam\" enter ctrl-u \"35 1/\"");
    assert!(stage.shows("a number is missing"), "{}", stage.lines().join("\n"));
    stage.play("enter");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Form(_))));
    // A sound number out of all reason is refused by the plan itself, and the form stays for another try.
    stage.play("ctrl-u \"9 m\" enter");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Form(form)) if form.refused.is_some()));
    stage.play("ctrl-u \"900\" enter");
    // The inspector it was opened from is under it, with the new figure.
    assert!(matches!(stage.app.layers.as_slice(), [Layer::Chooser(_)]));
    assert!(stage.shows("900 mm"));
    assert_eq!(stage.plan().hull.beam.value.to_mm(), 900.0);
}

#[test]
fn a_hole_is_added_at_the_cursor_and_struck_again() {
    let mut stage = Stage::on(bare());
    stage.go(1425.0, 325.0).play("h ctrl-u \"cable entry, port\" tab ctrl-u \"1 in\" enter");
    let hole = stage.plan().penetrations[0].clone();
    assert_eq!((hole.name.as_str(), hole.bore.unit_tag(), hole.fate), ("cable entry, port", "In", Fate::New));
    assert_eq!(hole.spot(), Spot::new(1425.0, 325.0));
    assert_eq!(new_holes(&stage), 1);
    assert_eq!(stage.editor().thing(), Some(Thing::Hole(HoleRef::Own(hole.id))));
    // It does not exist yet, so there is nothing to plug.
    stage.play("p enter");
    assert_eq!(stage.refused(), "cable entry, port is not drilled yet: strike it instead");
    stage.play("? \"strike a hole\" enter");
    assert!(stage.plan().penetrations.is_empty());
}

#[test]
fn an_old_hole_is_plugged_left_open_and_reused() {
    let mut stage = Stage::on(rich());
    let old = |stage: &Stage| stage.plan().penetration(HoleId(2)).unwrap().clone();
    stage.play("/ \"old rod holder screw\" enter p \"weld\" enter");
    assert_eq!(old(&stage).fate, Fate::Plugged(Plug::PlasticWeld));
    stage.play("? \"leave the hole open\" enter");
    assert_eq!(old(&stage).fate, Fate::Open);
    // The rod holder's own screw is nearest; it is moved onto the old hole where it is not near enough.
    stage.play("P enter");
    let fate = old(&stage).fate;
    assert!(matches!(fate, Fate::Reused(_)) || stage.refused().contains("move the gear onto it first"), "{fate:?}");
}

#[test]
fn the_seat_moves_by_a_notch_and_stops_at_its_rails() {
    let mut stage = Stage::on(bare());
    let back = |stage: &Stage| stage.plan().angler.seat.back.to_mm();
    let start = back(&stage);
    stage.play("}");
    assert_eq!(back(&stage), start + 25.0);
    assert_eq!(undo_label(&stage), "move the seat 25 mm forward");
    stage.play("{ {");
    assert_eq!(back(&stage), start - 25.0);
    stage.play("{*40");
    assert!(!stage.refused().is_empty());
    assert!(back(&stage) >= 1410.0);
    stage.play("s tab \"h\" enter");
    assert_eq!(stage.plan().angler.seat.height, SeatHeight::High);
}

#[test]
fn gear_is_put_on_a_circuit_of_its_own_and_its_fuse_asked_for() {
    let mut stage = Stage::on(bare());
    stage.go(2310.0, 0.0).play("a \"battery-lfp-50\" enter enter");
    stage.go(TRACK.0, TRACK.1 - 10.0).play("a \"display-9\" enter enter C \"new\" enter tab ctrl-u \"3\" enter");
    let circuit = &stage.plan().wiring.circuits[0];
    assert_eq!(circuit.fuse.unwrap().to_amps(), 3.0);
    assert_eq!((circuit.battery, circuit.loads.as_slice()), (GearId(1), [GearId(2)].as_slice()));
}

#[test]
fn a_circuit_needs_a_battery() {
    let mut stage = with_display();
    stage.play("C");
    assert!(stage.refused().starts_with("a circuit needs a battery"), "{}", stage.refused());
}
