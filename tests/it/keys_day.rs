//! The day on the screen: the battery's day in the open Power panel, and the editor of the day.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Clock, Phase, Posture, Water};
use gunnel::sheets::show_text;
use gunnel::tui::app::Focus;
use gunnel::tui::layer::{Layer, OutingEditor};
use gunnel::tui::panels::PanelKind;
use gunnel::units::Measure;

use crate::boats::demo;
use crate::stage::Stage;

fn stage(columns: u16, rows: u16) -> Stage {
    Stage::on(demo("seat-test.ron")).sized(columns, rows)
}

fn planning(stage: &Stage) -> &OutingEditor {
    match stage.app.layers.last() {
        Some(Layer::Outing(planned)) => planned,
        other => panic!("the day is not open: {other:?}"),
    }
}

fn phase(stage: &Stage, index: usize) -> &Phase {
    &stage.plan().outing.phases[index]
}

fn steps(stage: &Stage) -> usize {
    stage.editor().session.history().position()
}

/// The ampere-hours that stand before the unit in a line.
fn amp_hours(line: &str) -> f64 {
    line.split(" Ah").next().unwrap().split_whitespace().last().unwrap().parse().unwrap()
}

#[test]
fn the_power_panel_opens_large_and_closes_again() {
    for (columns, rows) in [(80, 24), (120, 40), (200, 60)] {
        let mut stage = stage(columns, rows);
        assert!(!stage.shows("flat at 14:23  "));
        stage.play("1");
        assert_eq!(stage.editor().focus, Focus::Panel(PanelKind::Power));
        for words in
            ["battery flat at 14:23", "100 %", "04:30", "16:00", "sunrise", "would do: 6.0 kg, 225 x 138 x 205 mm"]
        {
            assert!(stage.shows(words), "{words} at {columns}\n{}", stage.lines().join("\n"));
        }
        stage.play("esc");
        assert!(!stage.shows("04:30") && stage.editor().focus == Focus::Deck);
    }
}

/// Every moment that the screen tells stands in the text for paper as well.
#[test]
fn the_screen_says_what_paper_says() {
    let mut stage = stage(200, 60);
    stage.play("1");
    let session = &stage.editor().session;
    let paper = show_text(session.plan(), session.study(), Measure::default());
    for words in ["into its reserve at 10:58", "used up at 12:35", "display stops at 13:44", "flat at 14:23"] {
        assert!(paper.contains(words) && stage.shows(words), "{words}\n{}", stage.lines().join("\n"));
    }
}

/// By hand: the rows of the four phases add up to the headline. Each is rounded to a tenth, so by 0.2 at most.
#[test]
fn the_phases_add_up_to_the_day() {
    let mut stage = stage(200, 60);
    stage.play("1 pagedown*3");
    let lines = stage.lines();
    let of = |name: &str| amp_hours(lines.iter().find(|line| line.trim_start().starts_with(name)).unwrap());
    let sum: f64 = ["launch and run out", "first light, ", "day, ", "way home, "].map(of).iter().sum();
    let head = lines.iter().find(|line| line.contains("usable")).unwrap();
    let total = head.split(" Ah, ").next().unwrap().split_whitespace().last().unwrap().parse::<f64>().unwrap();
    assert!((sum - total).abs() <= 0.2, "{sum} {total}");
}

/// With another battery the plot is another's: a row of the panel is about one battery.
#[test]
fn the_chosen_row_is_the_battery_plotted() {
    let mut stage = stage(120, 40);
    stage.play("/ \"battery\" enter d left enter 1");
    let first = stage.lines();
    stage.play("down");
    assert_ne!(stage.lines(), first);
    assert!(stage.shows("battery leaves 100 %"), "{}", stage.lines().join("\n"));
}

#[test]
fn hours_are_changed_and_taken_back_and_the_number_follows() {
    let mut stage = stage(80, 24);
    stage.play("O");
    let before = "battery lasts to 14:23, 21.4 of 15.0 Ah";
    assert!(stage.shows(before), "{}", stage.lines().join("\n"));
    stage.play("tab tab down \"2\" enter");
    assert_eq!(phase(&stage, 2).hours.to_hours(), 2.0);
    assert!(stage.shows("day: 6.50 to 2.00 h"), "{}", stage.lines().join("\n"));
    assert!(stage.shows("battery lasts the day") && !stage.shows(before), "{}", stage.lines().join("\n"));
    stage.play("ctrl-z");
    assert_eq!(phase(&stage, 2).hours.to_hours(), 6.5);
    assert!(stage.shows(before) && stage.shows("undone: day: 6.50 to 2.00 h"));
    stage.play("ctrl-r");
    assert_eq!(phase(&stage, 2).hours.to_hours(), 2.0);
}

#[test]
fn phases_are_added_doubled_moved_and_struck_each_as_one_step() {
    let mut stage = stage(80, 24);
    let names = |stage: &Stage| {
        stage
            .plan()
            .outing
            .phases
            .iter()
            .map(|phase| phase.name.as_str().chars().take(6).collect())
            .collect::<Vec<String>>()
    };
    let start = names(&stage);
    stage.play("O ctrl-n");
    assert_eq!(names(&stage), ["launch", "phase ", "first ", "day", "way ho"]);
    stage.play("shift-right");
    assert_eq!(names(&stage), ["launch", "first ", "phase ", "day", "way ho"]);
    stage.play("shift-left ctrl-o");
    assert_eq!(names(&stage), ["launch", "phase ", "phase ", "first ", "day", "way ho"]);
    assert_eq!((steps(&stage), planning(&stage).phase()), (4, Some(2)));
    stage.play("ctrl-d*2");
    assert_eq!((names(&stage), steps(&stage)), (["launch", "phase ", "day", "way ho"].map(String::from).to_vec(), 6));
    stage.play("ctrl-z*6");
    assert_eq!(names(&stage), start);
}

#[test]
fn what_a_phase_asks_for_is_turned_and_typed() {
    let mut stage = stage(120, 40);
    stage.play("O tab \"dawn\" enter down space down \"-4\" enter space down down space");
    let dawn = phase(&stage, 1);
    assert_eq!((dawn.name.as_str(), dawn.dark, dawn.posture, dawn.charging), ("dawn", true, Posture::SeatedHigh, true));
    assert_eq!(dawn.air.unwrap().to_celsius(), -4.0);
    // No motor is aboard, and it says so.
    stage.play("up space");
    assert!(stage.shows("no motor is aboard"), "{}", stage.lines().join("\n"));
    let display = stage.gear("display").id;
    let at = planning(&stage).rows().iter().position(|row| planning(&stage).told(*row).label == "display").unwrap();
    stage.play(&format!("home down*{at} \"40 %\" enter"));
    assert_eq!(phase(&stage, 1).duties.iter().find(|duty| duty.gear == display).unwrap().share, 0.4);
    stage.play("up left");
    assert!((phase(&stage, 1).duties[0].share - 0.3).abs() < 1e-9);
    stage.play("backspace");
    assert!(phase(&stage, 1).duties.is_empty());
}

#[test]
fn the_day_has_fields_of_its_own() {
    let mut stage = stage(120, 40);
    stage.play("O shift-tab \"long night\" enter \"2026-11-02\" enter \"515\" enter \"7:10\" enter \"16.40\" enter \"4\" enter");
    stage.play("\"8\" enter space down \"12\" enter");
    let day = &stage.plan().outing;
    assert_eq!((day.name.as_str(), day.date.as_ref().unwrap().as_str()), ("long night", "2026-11-02"));
    assert_eq!((day.starts, day.sunrise, day.sunset), (Clock::new(5, 15), Clock::new(7, 10), Clock::new(16, 40)));
    assert_eq!((day.air.to_celsius(), day.water_temperature.to_celsius(), day.water), (4.0, 8.0, Water::Salt));
    assert_eq!(day.bilge.unwrap().to_kg(), 12.0);
    stage.play("backspace");
    assert_eq!((stage.plan().outing.bilge, steps(&stage)), (None, 10));
}

#[test]
fn a_refusal_says_why_and_keeps_the_line() {
    for (script, why) in [
        ("tab down \"0\" enter", "a phase needs some time"),
        ("tab down \"16\" enter", "that makes 25 h together, and a day has 24"),
        ("shift-tab down*2 \"25:00\" enter", "\"25:00\" is not a time of day"),
        ("tab end \"140\" enter", "0 to 100 percent"),
        ("tab down*3 \"200\" enter", "60"),
        ("shift-left", "it is the first phase already"),
        ("shift-tab ctrl-d", "go to a phase first"),
        ("ctrl-d*4", "a day needs at least one phase"),
        ("shift-tab backspace", "this cannot be left out"),
    ] {
        let mut stage = stage(120, 40);
        stage.play(&format!("O {script}"));
        let said = planning(&stage).said.as_ref().unwrap_or_else(|| panic!("{script} was taken"));
        assert!(said.refused && said.text.contains(why), "{script}: {}", said.text);
        assert!(stage.shows(why) && stage.plan().validate().is_ok(), "{script}");
    }
}

#[test]
fn a_click_goes_to_a_phase_and_to_a_row() {
    let mut stage = stage(120, 40);
    stage.play("O click:80:14");
    assert_eq!(planning(&stage).phase(), Some(2));
    let line = stage.lines().iter().position(|line| line.trim_start().starts_with("posture")).unwrap();
    stage.play(&format!("click:5:{line} space"));
    assert_eq!(phase(&stage, 2).posture, Posture::SeatedHigh);
}
