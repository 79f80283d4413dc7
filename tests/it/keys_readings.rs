//! The list of readings by keys: added, switched, struck, undone.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Taken, Weighed};
use gunnel::tui::layer::Layer;
use gunnel::units::Measure;

use crate::boats::bare;
use crate::stage::Stage;

/// A bare hull with two marked waterlines and one scale, the list still open.
fn read() -> Stage {
    let mut stage = Stage::on(bare());
    stage.play("Q a \"600\" tab \"105\" tab \"95\" tab \"2031-05-30\" enter");
    stage.play("a \"2700\" tab \"107\" enter");
    stage.play("up up enter \"600\" tab \"19\" enter");
    stage
}

fn rows(stage: &Stage) -> Vec<String> {
    match stage.app.layers.last() {
        Some(Layer::Chooser(list)) => list.choices.iter().map(|c| format!("{} | {}", c.label, c.detail)).collect(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_waterline_is_added_and_the_next_is_like_it() {
    let mut stage = Stage::on(bare());
    stage.play("Q a \"600\" tab \"105\" tab \"95\" tab \"2031-05-30\" enter");
    assert_eq!(stage.plan().readings.len(), 1, "{}", stage.picture());
    stage.play("a \"2700\" tab \"107\" enter");
    let [first, second] = &stage.plan().readings[..] else { panic!("{:?}", stage.plan().readings) };
    assert_eq!(first.date, second.date);
    let load = |taken: &Taken| if let Taken::Waterline { load, .. } = taken { load.to_kg() } else { panic!() };
    assert_eq!((load(&first.taken), load(&second.taken)), (95.0, 95.0));
    assert!(rows(&stage)[1].starts_with("2031-05-30  waterline 107 mm at 2700 mm with 95.0 kg | "));
}

#[test]
fn a_reading_is_switched_struck_and_all_is_undone() {
    let mut stage = read();
    let start = stage.plan().clone();
    stage.play("pageup down space");
    let off: Vec<bool> = stage.plan().readings.iter().map(|reading| reading.off).collect();
    assert_eq!(off, [false, true, false]);
    assert!(rows(&stage)[1].ends_with("| off"), "{:?}", rows(&stage));
    stage.play("enter D");
    let left: Vec<bool> = stage.plan().readings.iter().map(|reading| reading.off).collect();
    assert_eq!(left, [false, false]);
    assert!(matches!(stage.plan().readings[1].taken, Taken::Scale { of: Weighed::BareHull, .. }));
    stage.play("esc u*3");
    assert_eq!(*stage.plan(), start);
}

/// Marks where the hull floats by the figures fit, and the page says so too.
#[test]
fn what_came_of_a_reading_is_said_in_words() {
    let mut stage = read();
    let text = |stage: &Stage| {
        let session = &stage.editor().session;
        gunnel::sheets::show_text(session.plan(), session.study(), Measure::default())
    };
    let far = text(&stage);
    assert!(far.contains("2031-05-30: waterline 105 mm at 600 mm with 95.0 kg; "), "{far}");
    assert!(far.contains(" deeper than the hull floats\n"), "{far}");
    assert!(far.contains("undated: scale 19.0 kg at 600 mm, bare hull; not used: older or alone\n"), "{far}");
    let heights: Vec<f64> = stage.editor().session.study().shape.readings.iter().map(|r| r.before_mm).collect();
    stage.play("pageup D D D");
    for (x, height) in ["600", "2700"].iter().zip(heights) {
        stage.play(&format!("pageup a \"{x}\" tab \"{height:.1}\" tab ctrl-u \"95\" enter"));
    }
    assert!(text(&stage).contains("with 95.0 kg; fits\n"), "{}", text(&stage));
}

/// A slip keeps the form open with its reason, and letters that mean nothing here do nothing.
#[test]
fn what_is_refused_stays_to_be_mended() {
    let mut stage = read();
    stage.play("pageup \"xyz\" a \"9000\" tab \"105\" enter");
    assert!(stage.shows("no hull at that station"), "{}", stage.picture());
    assert_eq!(stage.plan().readings.len(), 3);
    stage.play("shift-tab ctrl-u \"900\" enter");
    assert_eq!(stage.plan().readings.len(), 4);
}

#[test]
fn a_plan_to_look_at_keeps_its_readings() {
    let plan = read().plan().clone();
    let mut stage = Stage::looking_at(plan.clone());
    stage.play("Q D space a enter");
    assert_eq!(*stage.plan(), plan);
    assert!(stage.refused().contains("only be looked at"), "{}", stage.refused());
}

/// What is selected is on; the next reading is like it. The outcome stands beside each.
#[test]
fn a_meter_is_read_of_what_is_selected() {
    let mut plan = crate::test_power::plan();
    for label in ["display", "pump"] {
        let load = crate::test_power::load(12.0, 0.9, 1.2);
        crate::test_power::add_electric(&mut plan, label, gunnel::plan::Kind::Pump, load);
    }
    let mut stage = Stage::on(plan);
    stage.play("Q down a \"1.14\" enter");
    assert!(stage.shows("say which loads were on"), "{}", stage.picture());
    stage.play("tab tab space enter");
    assert_eq!(rows(&stage)[0], "undated     meter 1.14 A, display | takes 1.14 A, measured 0.90 A");
    stage.play("pageup a \"3\" tab tab tab space enter");
    assert_eq!(stage.plan().readings.len(), 2, "{}", stage.picture());
    let Taken::Meter { loads, .. } = &stage.plan().readings[1].taken else { panic!() };
    assert_eq!(loads.len(), 2);
    assert_eq!(rows(&stage)[1], "undated     meter 3.00 A, display and 1 more | takes 1.86 A, measured 0.90 A");
}
