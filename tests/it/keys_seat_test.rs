//! The seat test by keys: one after the other, each answer a step that can be undone; the form; what comes of it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{GearId, Plan, Taken};
use gunnel::study::Study;
use gunnel::study::reach::Band;
use gunnel::study::reach::along::span;
use gunnel::tui::layer::{Ask, Layer, SeatRound};
use gunnel::units::Length;

use crate::boats::{demo, rich};
use crate::stage::Stage;

/// The demo plan after its seat test, without its readings.
fn untested() -> Plan {
    let mut plan = demo("seat-test.ron");
    plan.readings.clear();
    plan
}

fn round(stage: &Stage) -> &SeatRound {
    match stage.app.layers.last() {
        Some(Layer::SeatTest(round)) => round,
        other => panic!("{other:?}"),
    }
}

fn tests(plan: &Plan) -> Vec<(GearId, bool, bool, Option<bool>)> {
    let of = |taken: &Taken| match taken {
        Taken::SeatTest { gear, touched, leaning, seen, seat, at_mm, .. } => {
            assert!(seat.is_some() && at_mm.is_some(), "what was so at the time is noted");
            (*gear, *touched, *leaning, *seen)
        }
        other => panic!("{other:?}"),
    };
    plan.readings.iter().map(|reading| of(&reading.taken)).collect()
}

/// Plays down to a question.
fn to(stage: &mut Stage, ask: Ask) {
    stage.play("home");
    while round(stage).ask() != Some(ask) {
        assert!(round(stage).ask().is_some(), "{ask:?} is not asked");
        stage.play("down");
    }
}

#[test]
fn every_answer_is_one_step_and_goes_on() {
    let mut stage = Stage::on(untested());
    stage.play("E");
    let asks = round(&stage).asks.clone();
    let study = stage.editor().session.study();
    let touched = asks.iter().filter(|ask| !ask.sight).count();
    assert_eq!(touched, study.reach.items.len());
    // From the bow aft.
    let places: Vec<f64> = asks.iter().map(|ask| study.rig.item(ask.gear).unwrap().at.x).collect();
    assert!(places.windows(2).all(|pair| pair[0] >= pair[1]), "{places:?}");
    for ask in &asks {
        assert_eq!(round(&stage).ask(), Some(*ask));
        stage.play(if ask.sight { "s" } else { "t" });
        assert_eq!(round(&stage).refused, None);
    }
    assert_eq!(round(&stage).ask(), None);
    assert!(stage.shows("the end: what changed"), "{}", stage.picture());
    // One reading a piece of gear; each answer one step.
    let noted = tests(stage.plan());
    let mut gear: Vec<GearId> = asks.iter().map(|ask| ask.gear).collect();
    gear.dedup();
    assert_eq!(noted.len(), gear.len());
    assert_eq!(stage.editor().session.history().steps().len(), asks.len() + 1);
    stage.play(&format!("esc u*{}", asks.len()));
    assert_eq!(*stage.plan(), untested());
}

#[test]
fn an_answer_refits_and_says_what_changed() {
    // The display on its arm 30 mm further forward than the hand gets without a lean.
    let mut plan = untested();
    let study = Study::of(&plan);
    let gear =
        plan.gear.iter().find(|gear| gear.spec.handling.as_ref().is_some_and(|h| h.screen.is_some())).unwrap().id;
    let item = study.reach.item(gear).unwrap();
    let in_hand = span(&plan, &study.reach.body, item.control, item.gripped, Band::InHand).unwrap();
    let place = plan.gear_mut(gear).unwrap().place.as_mut().unwrap();
    place.x = Length::mm(place.x.to_mm() + in_hand.fore + 30.0 - item.control.x);
    let mut stage = Stage::on(plan);
    stage.play("E");
    to(&mut stage, Ask { gear, sight: false });
    let before = stage.editor().session.study().reach.body.grip;
    stage.play("t");
    let study = stage.editor().session.study();
    let label = &stage.plan().gear(gear).unwrap().label;
    assert!(study.reach.body.grip > before + 5.0);
    assert!(stage.shows(&format!("{label}: in hand, before at stretch")), "{}", stage.picture());
    assert!(stage.shows("1 noted, missed by 0 mm"), "{}", stage.picture());
    // The panel marks it.
    stage.play("esc 3");
    assert!(stage.shows("tested"), "{}", stage.picture());
}

#[test]
fn a_key_of_the_other_question_is_not_taken() {
    let mut stage = Stage::on(untested());
    stage.play("E");
    let first = round(&stage).ask().unwrap();
    stage.play(if first.sight { "t" } else { "s" });
    assert!(round(&stage).refused.is_some() && stage.plan().readings.is_empty());
    // What is touched has to be tried before it is looked at.
    let asks = round(&stage).asks.clone();
    let both = asks.windows(2).find(|pair| pair[0].gear == pair[1].gear).unwrap()[1];
    to(&mut stage, both);
    stage.play("x");
    assert_eq!(round(&stage).refused.as_deref(), Some("say first whether it is touched"));
    stage.play("up l x");
    assert_eq!(tests(stage.plan()), [(both.gear, true, true, Some(false))]);
}

#[test]
fn a_seat_test_by_the_form() {
    let mut stage = Stage::on(rich());
    let before = stage.plan().readings.len();
    let label = stage.editor().session.study().reach.items[0].gear;
    let label = stage.plan().gear(label).unwrap().label.to_string();
    stage.play("Q up enter");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Form(_))), "{}", stage.picture());
    stage.play(&format!("ctrl-u \"{label}\" tab space tab space tab \"640\" tab space space enter"));
    assert_eq!(stage.plan().readings.len(), before + 1, "{}", stage.picture());
    let Taken::SeatTest { touched, leaning, seen, distance, knees, strokes, .. } =
        &stage.plan().readings.last().unwrap().taken
    else {
        panic!()
    };
    assert_eq!((touched, leaning, seen, knees, strokes), (&true, &true, &Some(true), &Some(false), &None));
    assert_eq!(distance.map(|distance| distance.to_mm()), Some(640.0));
}

#[test]
fn a_seat_test_of_nothing_is_refused_with_its_reason() {
    let mut stage = Stage::on(rich());
    stage.play("Q up enter ctrl-u \"no such thing\" enter");
    assert!(stage.shows("no gear of this plan is called"), "{}", stage.picture());
    stage.play("ctrl-u");
    let ashore = stage.plan().gear.iter().find(|gear| !gear.is_placed()).map(|gear| gear.label.to_string());
    if let Some(label) = ashore {
        stage.play(&format!("\"{label}\" enter"));
        assert!(stage.shows("is ashore"), "{}", stage.picture());
    }
}
