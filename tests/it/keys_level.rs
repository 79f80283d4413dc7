//! What moves it level, on the screen: the list, one step made of it, and what is said where there is nothing to do.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Kind, Mount, Placement, Plan};
use gunnel::tui::layer::Layer;
use gunnel::units::{Figure, Mass};

use crate::stage::Stage;
use crate::test_power::{add, mount, plan};

/// The box with 12 kg at the stern: worked out in `study_level`. The second way is the seat, two notches forward.
pub fn by_the_stern() -> Plan {
    let mut plan = plan();
    let battery = add(&mut plan, "battery", Kind::Battery, Figure::measured(Mass::kg(12.0)), None);
    mount(&mut plan, battery, Mount::Strap);
    plan.gear_mut(battery).unwrap().place = Some(Placement::at(100.0, 0.0));
    plan
}

fn listed(stage: &Stage) -> Vec<(String, String)> {
    let Some(Layer::Chooser(list)) = stage.app.layers.last() else { return Vec::new() };
    list.choices.iter().map(|choice| (choice.label.clone(), choice.detail.clone())).collect()
}

#[test]
fn the_list_says_what_to_move_and_enter_moves_it_in_one_step() {
    let mut stage = Stage::on(by_the_stern()).sized(120, 40);
    stage.play("V");
    let after = "0.5 deg by the stern, no list".to_string();
    assert_eq!(
        listed(&stage),
        [("battery 250 mm forward".to_string(), after.clone()), ("the seat 50 mm forward".to_string(), after)]
    );
    assert!(stage.shows("what moves it level: now 0.6 deg by the stern, no list"), "{}", stage.lines().join("\n"));
    stage.play("enter");
    assert_eq!(stage.said(), "move it level: battery 250 mm forward");
    assert_eq!(stage.gear("battery").place, Some(Placement::at(350.0, 0.0)));
    assert_eq!(stage.editor().gear(), Some(stage.gear("battery").id), "the cursor is on what was moved");
    stage.play("V");
    assert_eq!(stage.said(), "bench is level: 0.5 deg by the stern, no list; nothing has to be moved");
    stage.play("u");
    assert_eq!(*stage.plan(), by_the_stern());
}

#[test]
fn leaving_the_list_changes_nothing() {
    let mut stage = Stage::on(by_the_stern());
    stage.play("V down esc");
    assert_eq!((stage.app.layers.len(), stage.plan()), (0, &by_the_stern()));
    stage.play("V down enter");
    assert_eq!(stage.said(), "move it level: the seat 50 mm forward");
}

#[test]
fn who_only_looks_sees_the_list_and_cannot_make_it() {
    let mut stage = Stage::looking_at(by_the_stern());
    stage.play("V");
    assert_eq!(listed(&stage).len(), 2);
    stage.play("enter");
    assert_eq!(stage.refused(), "this plan can only be looked at");
    assert_eq!(*stage.plan(), by_the_stern());
}

#[test]
fn where_nothing_can_be_moved_it_says_why() {
    let mut plan = by_the_stern();
    plan.gear[0].pinned = true;
    plan.angler.seat.back = plan.hull.seat.back_fore;
    plan.gear[0].place = Some(Placement::at(100.0, 300.0));
    let mut stage = Stage::on(plan);
    stage.play("V");
    assert_eq!(stage.refused(), "nothing heavy may be moved: it is pinned, fixed, or where it does its work");
    let mut stage = Stage::on(by_the_stern());
    stage.go(100.0, 0.0).play("space V");
    assert_eq!(stage.refused(), "set it down first");
}
