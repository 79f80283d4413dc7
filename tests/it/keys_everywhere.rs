//! What holds for every action and every way to start one: the list of actions, the mouse, pastes, looking only.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeSet;

use gunnel::geometry::Spot;
use gunnel::plan::GearId;
use gunnel::tui::action::{ACTIONS, Action};
use gunnel::tui::app::{FINDINGS_ROW, Focus, Thing};
use gunnel::tui::areas::Areas;
use gunnel::tui::layer::{Layer, Value};
use gunnel::tui::panels::PanelKind;
use gunnel::tui::update::{Effect, barred, perform};
use gunnel::tui::view::Zoom;
use unicode_width::UnicodeWidthStr;

use crate::boats::{bare, rich};
use crate::stage::Stage;

/// Situations that between them make every action possible, by a script that leads there.
const SITUATIONS: &[(&str, &str)] = &[
    ("the cursor on gear", "/ \"9-inch display\" enter"),
    ("the cursor on a hole of its own", "/ \"old rod holder screw\" enter"),
    ("the cursor on a hole not drilled yet", "/ \"cable entry\" enter"),
    ("gear in hand", "/ \"9-inch display\" enter space left"),
    ("an edit undone", "/ \"9-inch display\" enter m u"),
    ("an edit made", "/ \"9-inch display\" enter m"),
    ("a panel open", "2 down"),
    ("the findings open", "5 down"),
    ("the day of the battery open", "1 down"),
    ("the diagram of the wires open", "7 down"),
];

/// Opens the list of all actions and goes to the row of one; false where it is not offered.
fn choose(stage: &mut Stage, action: Action) -> bool {
    stage.play("?");
    let Some(Layer::Chooser(chooser)) = stage.app.layers.last_mut() else { panic!("no list") };
    let offers = |index: &usize| matches!(chooser.choices[*index].value, Value::Action(other) if other == action);
    let Some(row) = chooser.matches.iter().position(offers) else { return false };
    chooser.row = row;
    true
}

#[test]
fn every_action_runs_from_the_list_of_all_actions() {
    let mut ran = BTreeSet::new();
    for (situation, script) in SITUATIONS {
        let mut there = Stage::on(rich());
        there.play(script);
        assert_eq!(there.refused(), "", "{situation}");
        for row in ACTIONS.iter().filter(|row| barred(&there.app, row.action).is_none()) {
            if ran.contains(row.id) && *situation != "gear in hand" {
                continue;
            }
            let mut stage = Stage::on(rich()).sized(120, 40);
            stage.play(script);
            if !choose(&mut stage, row.action) {
                continue;
            }
            stage.play("enter");
            ran.insert(row.id);
            // Whatever it opened is drawn at every room, filled in as it stands, and left.
            for size in ["size:200x60", "size:60x16", "size:3x1"] {
                stage.play(size);
                stage.buffer();
            }
            stage.play("size:80x24 enter enter esc esc");
            stage.buffer();
            assert_eq!(stage.plan().validate(), Ok(()), "{situation}: {}", row.id);
        }
    }
    let never: Vec<&str> = ACTIONS.iter().map(|row| row.id).filter(|id| !ran.contains(id)).collect();
    // Moving in a list is for the list that has the keys; the list of actions has them itself. What takes a partner
    // or somebody else at the plan is tried where they are.
    assert_eq!(never, ["accept", "back", "suggest", "people", "follow", "lead", "point", "row-up", "row-down"]);
}

#[test]
fn a_key_of_the_list_runs_what_it_is_called() {
    for (words, done) in [("zoom in", true), ("zoom out", false), ("show-inside", false)] {
        let mut stage = Stage::on(rich());
        stage.play(&format!("? \"{words}\" enter"));
        assert!(stage.app.layers.is_empty(), "{words}");
        assert_eq!(matches!(stage.editor().view.zoom, Zoom::Scale(_)), done, "{words}");
    }
}

#[test]
fn an_action_that_is_not_possible_says_why_and_changes_nothing() {
    for row in ACTIONS {
        let mut stage = Stage::on(bare());
        let before = stage.plan().clone();
        let Some(why) = barred(&stage.app, row.action) else { continue };
        stage.effects = perform(&mut stage.app, row.action);
        assert_eq!(stage.refused(), why, "{}", row.id);
        assert!(stage.effects.is_empty() && stage.app.layers.is_empty() && *stage.plan() == before, "{}", row.id);
    }
}

#[test]
fn nothing_is_written_where_a_plan_can_only_be_looked_at() {
    for (situation, script) in [&SITUATIONS[0], &SITUATIONS[1], &SITUATIONS[7]] {
        for row in ACTIONS {
            let mut stage = Stage::looking_at(rich());
            let before = stage.plan().clone();
            stage.play(script);
            stage.effects.extend(perform(&mut stage.app, row.action));
            stage.play("enter enter \"1\" enter esc esc D b M u");
            assert_eq!(*stage.plan(), before, "{situation}: {}", row.id);
            assert_eq!(stage.editor().session.history().steps().len(), 1, "{situation}: {}", row.id);
            let writes = |effect: &Effect| {
                !matches!(
                    effect,
                    Effect::SaveAs(_, false)
                        | Effect::Quit
                        | Effect::Suspend
                        | Effect::Repaint
                        | Effect::Say(_)
                        | Effect::OpenDemo(_)
                        | Effect::NewPlan(_)
                )
            };
            assert!(!stage.effects.iter().any(writes), "{situation}: {}: {:?}", row.id, stage.effects);
        }
    }
}

#[test]
fn the_title_says_that_it_is_only_to_look_at() {
    let stage = Stage::looking_at(rich()).sized(120, 40);
    assert!(stage.lines()[0].contains("only to look at: it is open in another gunnel"), "{}", stage.lines()[0]);
}

#[test]
fn the_keys_at_the_bottom_fit_and_end_with_the_way_out() {
    for (situation, script) in SITUATIONS {
        let mut stage = Stage::on(rich());
        stage.play(script);
        stage.app.toast = None;
        for columns in (60..=220).step_by(3) {
            stage.resize(columns, 24);
            let lines = stage.lines();
            let footer = lines.last().unwrap();
            assert!(footer.ends_with("? all actions  q quit"), "{situation} at {columns}: {footer}");
            assert!(footer.width() <= usize::from(columns), "{situation} at {columns}: {footer}");
        }
    }
}

#[test]
fn a_click_on_a_key_at_the_bottom_is_that_key() {
    let mut stage = Stage::on(bare());
    let footer = stage.lines().pop().unwrap();
    let column = footer.find("? all actions").unwrap();
    stage.play(&format!("click:{column}:23"));
    assert!(matches!(stage.app.layers.last(), Some(Layer::Chooser(list)) if list.title == "all actions"));
}

#[test]
fn a_click_puts_the_cursor_there() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    let cell = stage.cell(650.0, 0.0);
    stage.play(&format!("5 click:{}:{}", cell.x, cell.y));
    assert_eq!(stage.editor().focus, Focus::Deck);
    assert!(stage.editor().cursor.distance(Spot::new(650.0, 0.0)) < 60.0);
    assert!(matches!(stage.editor().thing(), Some(Thing::Gear(_))));
}

#[test]
fn a_drag_is_one_step_and_letting_go_of_nothing_is_none() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    let (from, to) = (stage.cell(650.0, 0.0), stage.cell(450.0, 0.0));
    stage.play(&format!("drag:{}:{}:{}:{}", from.x, from.y, to.x, to.y));
    let history = stage.editor().session.history();
    assert_eq!(history.steps().len(), 2, "{:?}", history.steps().iter().map(|s| &s.label).collect::<Vec<_>>());
    assert!(history.next_undo().unwrap().starts_with("move crate with trays and rod tubes 200 mm aft"));
    stage.play("u");
    assert_eq!(*stage.plan(), rich());
    // A press and release in place picks nothing up.
    stage.play(&format!("U u click:{}:{}", from.x, from.y));
    assert_eq!(*stage.plan(), rich());
    assert!(stage.editor().hand.is_none());
}

#[test]
fn a_drag_that_starts_on_bare_deck_carries_nothing_off() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    let (from, to) = (stage.cell(3300.0, 0.0), stage.cell(450.0, 0.0));
    stage.play(&format!("drag:{}:{}:{}:{}", from.x, from.y, to.x, to.y));
    assert_eq!(*stage.plan(), rich());
    assert!(stage.editor().hand.is_none());
}

#[test]
fn the_wheel_zooms_about_the_cell_and_moves_in_lists() {
    let mut stage = Stage::on(rich()).sized(120, 40);
    let cell = stage.cell(2000.0, 100.0);
    let spot = stage.window().spot_of(cell);
    stage.play(&format!("wheel-up:{}:{}*3", cell.x, cell.y));
    assert!(matches!(stage.editor().view.zoom, Zoom::Scale(_)));
    assert!(stage.window().spot_of(cell).distance(spot) < 1e-6);
    stage.play(&format!("wheel-down:{}:{}*9", cell.x, cell.y));
    assert_eq!(stage.editor().view.zoom, Zoom::Whole);
    stage.play("a wheel-down:60:20");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Chooser(list)) if list.row == 3));
    stage.play("esc 5 wheel-down:10:36*2");
    assert_eq!(stage.editor().rows[FINDINGS_ROW], 2);
}

#[test]
fn a_click_on_a_line_chooses_what_the_line_says() {
    for (columns, rows, before) in
        [(80, 24, "n*9"), (80, 24, "5 down*12"), (80, 24, "4 down*7"), (120, 40, "n*30"), (120, 40, "1 down*4")]
    {
        let mut stage = Stage::on(rich()).sized(columns, rows);
        stage.play(before);
        clicks_agree(&stage, before);
    }
}

/// Every line of findings and panels that is shown is clicked, each on a stage of its own.
fn clicks_agree(stage: &Stage, before: &str) {
    let areas = Areas::of(&stage.app);
    let lines = stage.lines();
    let (columns, rows) = stage.app.size;
    let lists = areas.panels.into_iter().chain([areas.findings, areas.opened]);
    for area in lists.filter(|area| area.height > 1) {
        for y in area.y + 1..area.bottom() {
            let mut clicked = Stage::on(rich()).sized(columns, rows);
            clicked.play(before);
            clicked.play(&format!("click:{}:{y}", area.x + 2));
            let line: String =
                lines[usize::from(y)].chars().skip(usize::from(area.x)).take(usize::from(area.width)).collect();
            let start = |text: &str| text.chars().take(10).collect::<String>();
            match clicked.editor().focus {
                Focus::Findings if !line.trim_start().is_empty() => {
                    let says = &clicked.findings()[clicked.editor().rows[FINDINGS_ROW]].says;
                    let opened = clicked.editor().rows[FINDINGS_ROW] == stage.editor().rows[FINDINGS_ROW];
                    assert!(line.contains(&start(says)) || opened, "{before}: \"{line}\" chose \"{says}\"");
                }
                Focus::Panel(kind) => {
                    let chosen = clicked.editor().chosen.and_then(|thing| match thing {
                        Thing::Gear(id) => Some(clicked.plan().gear(id).unwrap().label.to_string()),
                        _ => None,
                    });
                    let aboard = stage.plan().gear.iter().any(|gear| line.contains(&start(gear.label.as_str())));
                    if let (Some(label), true, PanelKind::Power | PanelKind::Reach) = (chosen, aboard, kind) {
                        // What is said over the rows of the open power budget names gear and chooses none.
                        let opened = clicked.editor().rows[kind.index()] == stage.editor().rows[kind.index()];
                        assert!(line.contains(&start(&label)) || opened, "{before}: \"{line}\" chose \"{label}\"");
                    }
                }
                _ => {}
            }
        }
    }
}

#[test]
fn a_click_in_a_list_takes_its_row_and_one_beside_it_closes_it() {
    let mut stage = Stage::on(bare()).sized(120, 40);
    stage.play("a \"crate\"");
    let y = stage.lines().iter().position(|line| line.contains("crate") && line.contains("kg")).unwrap();
    stage.play(&format!("click:60:{y}"));
    assert!(stage.editor().hand.is_some());
    let mut stage = Stage::on(bare()).sized(120, 40);
    stage.play("a click:1:1");
    assert!(stage.app.layers.is_empty() && stage.editor().hand.is_none());
}

#[test]
fn what_is_pasted_is_text_and_never_keys() {
    let mut stage = Stage::on(rich());
    let before = stage.plan().clone();
    stage.play("/ \"9-inch display\" enter paste:\"DbMu\n\nq\"");
    assert_eq!(*stage.plan(), before);
    assert!(stage.effects.is_empty() && stage.app.layers.is_empty());
    stage.play("R ctrl-u paste:\"bow\nscreen \u{202e}x\" enter");
    assert_eq!(stage.plan().gear(GearId(2)).unwrap().label.as_str(), "bow screen x");
    stage.play("q paste:\"l\"");
    assert!(matches!(stage.app.layers.last(), Some(Layer::Question(_))), "a paste answers no question");
}

#[test]
fn a_paste_into_a_field_of_fixed_words_leaves_it_sound() {
    let mut stage = Stage::on(bare());
    stage.play("s tab paste:\"anything\" enter");
    assert!(stage.app.layers.is_empty(), "{}", stage.lines().join("\n"));
}
