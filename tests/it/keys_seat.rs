//! What is seen from the seat, on the screen: the picture and its list, sitting and standing, going to a screen.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{GearId, Plan};
use gunnel::units::Length;

use crate::boats::demo;
use crate::stage::Stage;

/// The demo boat's display, by its name there.
fn display(plan: &Plan) -> GearId {
    plan.gear.iter().find(|gear| gear.label.as_str() == "display").unwrap().id
}

/// The demo boat with its display on the foredeck: too far to read.
pub fn far() -> Plan {
    let mut plan = demo("seat-test.ron");
    let id = display(&plan);
    let place = plan.gear_mut(id).unwrap().place.as_mut().unwrap();
    place.x = Length::mm(2700.0);
    plan
}

#[test]
fn the_list_tells_what_the_study_found() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.play("8");
    let view = stage.editor().session.study().sight.items[0].views[0].clone();
    assert!(stage.shows("Seat view  seated low, eye"), "{}", stage.lines().join("\n"));
    let row = stage.lines().into_iter().find(|line| line.contains("arcmin")).unwrap();
    for words in [
        format!("{:.0} mm", view.look.distance_mm),
        format!("{:.0} deg", view.look.down_deg),
        format!("{:.0} deg port", view.look.turn_deg),
        format!("{:.0} arcmin", view.text_arcmin.unwrap()),
        "nothing".to_string(),
    ] {
        assert!(row.contains(&words), "{words} is not in {row}");
    }
    assert!(stage.shows("1 to be seen, all well"));
    stage.play("esc");
    assert!(!stage.shows("Seat view") && stage.app.layers.is_empty());
}

#[test]
fn standing_is_looked_at_though_no_phase_claims_it() {
    let mut stage = Stage::on(demo("seat-test.ron")).sized(120, 40);
    stage.play("8");
    let seated = stage.lines();
    stage.play("s");
    assert!(stage.shows("Seat view  standing, eye"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("1 of 1 not seen well") && stage.shows("display: too far"));
    stage.play("s");
    assert_eq!(stage.lines(), seated);
}

#[test]
fn a_screen_too_far_is_marked_told_where_it_would_pass_and_gone_to() {
    let mut stage = Stage::on(far()).sized(120, 40);
    stage.play("8");
    assert!(stage.shows("1 of 1 not seen well"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("display: too far"), "{}", stage.lines().join("\n"));
    stage.play("down*3 up enter");
    assert!(stage.app.layers.is_empty());
    assert_eq!(stage.editor().gear(), Some(display(stage.plan())));
}

#[test]
fn a_boat_without_anything_to_see_says_so() {
    let mut stage = Stage::on(demo("bare-hull.ron"));
    let mut plan = stage.plan().clone();
    plan.gear.clear();
    stage = Stage::on(plan);
    stage.play("8 down enter s");
    assert!(stage.shows("nothing aboard must be seen"), "{}", stage.lines().join("\n"));
    stage.play("8");
    assert!(stage.app.layers.is_empty());
}
