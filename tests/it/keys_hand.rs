//! Where gear in hand would be held: said while it is carried, and found by one key.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use super::boats::bare;
use super::stage::Stage;

#[test]
fn a_point_finds_the_nearest_place_that_holds_what_is_in_hand() {
    let mut stage = Stage::on(bare());
    stage.play("a \"display-9\" enter");
    assert!(stage.shows("no track under it"), "{}", stage.lines().join("\n"));
    stage.play(". enter");
    let gear = stage.plan().gear.last().unwrap();
    let held = stage.app.editor().unwrap().session.study().rig.item(gear.id).unwrap().fit.is_held();
    assert!(held, "{:?}", gear.place);
}

#[test]
fn what_would_hold_it_otherwise_is_said() {
    let mut stage = Stage::on(bare());
    stage.resize(200, 60);
    stage.play("a \"display-9\" enter");
    assert!(stage.shows("would hold it: m"), "{}", stage.lines().join("\n"));
}
