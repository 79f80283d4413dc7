//! Kept states by keys: kept under a name, compared, brought back in part or whole as one step, forgotten.

use gunnel::plan::GearId;

use crate::boats::rich;
use crate::stage::Stage;

const CRATE: GearId = GearId(4);
const COOLER: GearId = GearId(11);

/// The rigged boat, kept as "first layout"; then crate and cooler went ashore.
fn kept() -> Stage {
    let mut stage = Stage::on(rich()).sized(120, 40);
    stage.play("I enter \"first layout\" enter");
    for gear in [CRATE, COOLER] {
        let spot = rich().gear(gear).and_then(|gear| gear.place).map(|place| place.spot());
        let spot = spot.unwrap_or_default();
        stage.go(spot.x, spot.y).play("b");
        assert!(!is_aboard(&stage, gear));
    }
    stage
}

fn is_aboard(stage: &Stage, gear: GearId) -> bool {
    stage.plan().gear(gear).is_some_and(gunnel::plan::Gear::is_placed)
}

#[test]
fn one_thing_is_brought_back_and_the_rest_stays() {
    let mut stage = kept();
    stage.play("I enter");
    assert!(stage.shows("bring back crate with trays and rod tubes"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("since then: went ashore"));
    stage.play("down*4 enter");
    assert!(is_aboard(&stage, CRATE) && !is_aboard(&stage, COOLER));
    stage.play("u");
    assert!(!is_aboard(&stage, CRATE), "one step");
}

#[test]
fn all_of_it_is_brought_back_as_one_step() {
    let mut stage = kept();
    stage.play("I enter down enter");
    assert_eq!(stage.plan().differences(&rich()), Vec::new());
    stage.play("u");
    assert!(!is_aboard(&stage, CRATE) && !is_aboard(&stage, COOLER));
}

#[test]
fn a_kept_state_is_compared_with_the_plan_now() {
    let mut stage = kept();
    stage.play("I");
    assert!(stage.shows("2 things changed since"), "{}", stage.lines().join("\n"));
    stage.play("enter enter");
    assert!(stage.shows("from \"first layout\" to the plan now"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("cooler, 20 L: went ashore"));
}

#[test]
fn a_kept_state_is_forgotten_and_a_name_is_kept_once() {
    let mut stage = kept();
    stage.play("I down enter \"first layout\" enter");
    assert!(stage.shows("there is a revision called first layout already"), "{}", stage.lines().join("\n"));
    stage.play("esc*3 I enter down*2 enter");
    assert!(stage.plan().revisions.is_empty());
    stage.play("u");
    assert_eq!(stage.plan().revisions.len(), 1);
}

#[test]
fn where_a_plan_can_only_be_looked_at_states_are_compared_alone() {
    let plan = kept().plan().clone();
    let mut stage = Stage::looking_at(plan.clone()).sized(120, 40);
    stage.play("I enter down enter");
    assert!(stage.refused().contains("only be looked at"));
    stage.play("I enter enter");
    assert!(stage.shows("from \"first layout\" to the plan now"));
    assert_eq!(stage.plan(), &plan);
}
