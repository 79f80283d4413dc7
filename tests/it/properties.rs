//! Whatever is typed, clicked, pasted and resized: no panic, nothing unsafe on the screen, and every step undone.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::path::Path;

use crossterm::event::{KeyCode, KeyEvent};
use gunnel::geometry::Spot;
use gunnel::plan::Plan;
use gunnel::session::{Record, Session};
use gunnel::shown::is_unsafe;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use gunnel::terminal::input::TermEvent;
use gunnel::tui::action::{ACTIONS, Action};
use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::theme::Depth;
use gunnel::tui::update::perform;
use gunnel::units::Measure;
use proptest::prelude::*;
use proptest::sample::select;
use ratatui::buffer::Buffer;

use crate::boats::{bare, many_scripts, rich};
use crate::stage::Stage;

/// One thing a person, or a cat, does.
#[derive(Clone, Debug)]
enum Deed {
    /// Words of a script.
    Script(String),
    /// Text typed letter by letter.
    Type(String),
    /// An action, however it was started.
    Act(Action),
    /// The cursor put somewhere, so that the deeds after it have something under it.
    Go(f64, f64),
}

fn deed() -> impl Strategy<Value = Deed> {
    let action = || (0..ACTIONS.len()).prop_map(|at| Deed::Act(ACTIONS[at].action));
    let keys = [
        "enter",
        "esc",
        "tab",
        "shift-tab",
        "up",
        "down",
        "left",
        "right",
        "home",
        "end",
        "pageup",
        "pagedown",
        "backspace",
        "delete",
        "space",
        "ctrl-u",
        "ctrl-c",
        "ctrl-left",
        "shift-down",
    ];
    let cell = || (0_u16..250, 0_u16..120);
    let letters = "[a-zA-Z0-9 .,/'\"?+=-]{1,6}|[表示👩🏽e\u{301}ｶ한\u{200d}\u{202e}\u{200b}\u{85}عק]{1,5}";
    prop_oneof![
        6 => action(),
        5 => select(keys.to_vec()).prop_map(|key| Deed::Script(key.into())),
        3 => select(&["enter enter", "enter enter enter", "a enter enter", "space left*6 enter", "h enter"][..])
            .prop_map(|script| Deed::Script(script.into())),
        3 => (0.0..3660.0, -450.0..450.0).prop_map(|(x, y)| Deed::Go(x, y)),
        3 => select(GEAR_SPOTS).prop_map(|(x, y)| Deed::Go(x, y)),
        2 => letters.prop_map(Deed::Type),
        2 => cell().prop_map(|(x, y)| Deed::Script(format!("click:{x}:{y}"))),
        2 => (cell(), cell()).prop_map(|(a, b)| Deed::Script(format!("drag:{}:{}:{}:{}", a.0, a.1, b.0, b.1))),
        1 => (any::<bool>(), cell())
            .prop_map(|(up, (x, y))| Deed::Script(format!("wheel-{}:{x}:{y}", if up { "up" } else { "down" }))),
        1 => "[a-z\n\t \u{1b}\u{202e}é]{0,12}".prop_map(|text| Deed::Script(format!("paste:\"{text}\""))),
        2 => size().prop_map(|(columns, rows)| Deed::Script(format!("size:{columns}x{rows}"))),
    ]
}

/// Where the rigged boat has something.
const GEAR_SPOTS: &[(f64, f64)] = &[(2000.0, 385.0), (650.0, 0.0), (2310.0, 0.0), (1297.0, -350.0), (1380.0, 300.0)];

fn size() -> impl Strategy<Value = (u16, u16)> {
    prop_oneof![
        3 => (0_u16..=250, 0_u16..=120),
        1 => (0_u16..4, 0_u16..4),
        3 => select(&[(80, 24), (120, 40), (200, 60), (60, 16), (59, 16), (110, 34)][..]),
    ]
}

fn look() -> impl Strategy<Value = (Depth, Glyphs)> {
    let depths = [Depth::Mono, Depth::Sixteen, Depth::TwoFiftySix, Depth::True];
    (select(depths.to_vec()), select(vec![Glyphs::Block, Glyphs::Ascii]))
}

fn plan() -> impl Strategy<Value = fn() -> Plan> {
    select(vec![bare as fn() -> Plan, rich, many_scripts])
}

fn does(stage: &mut Stage, deed: &Deed) {
    match deed {
        Deed::Script(script) => {
            // A terminal tells only of cells it has.
            let (columns, rows) = stage.app.size;
            for event in crate::stage::events(script) {
                let there = |mouse: &crossterm::event::MouseEvent| mouse.column < columns && mouse.row < rows;
                if !matches!(&event, TermEvent::Mouse(mouse) if !there(mouse)) {
                    stage.take(&event);
                }
            }
        }
        Deed::Type(text) => {
            for c in text.chars() {
                stage.take(&TermEvent::Key(KeyEvent::from(KeyCode::Char(c))));
            }
        }
        Deed::Act(action) => {
            let effects = perform(&mut stage.app, *action);
            stage.effects.extend(effects);
            stage.take(&TermEvent::Focus(true));
        }
        Deed::Go(x, y) => {
            if stage.app.layers.is_empty() {
                stage.go(*x, *y);
            }
        }
    }
}

fn check_cells(buffer: &Buffer) -> Result<(), TestCaseError> {
    for cell in buffer.content() {
        prop_assert!(!cell.symbol().chars().any(is_unsafe), "{:?}", cell.symbol());
    }
    Ok(())
}

/// The cursor stays where an arm or a pole can hang over.
fn check_cursor(stage: &Stage) -> Result<(), TestCaseError> {
    let (low, high) = stage.plan().hull.form.deck_outline().bounds();
    let Spot { x, y } = stage.editor().cursor;
    prop_assert!((low.x - 300.0..=high.x + 300.0).contains(&x) && (low.y - 300.0..=high.y + 300.0).contains(&y));
    Ok(())
}

/// Undone to the first plan, redone to the last, made again from the journal's records, saved and read back.
fn check_history(stage: &mut Stage, first: &Plan) -> Result<(), TestCaseError> {
    let last = stage.plan().clone();
    prop_assert_eq!(last.validate(), Ok(()));
    let session = &mut stage.app.editor_mut().unwrap().session;
    let records: Vec<Record> = session.take_records();
    let mut again = Session::new(first.clone(), Measure::default());
    prop_assert_eq!(again.replay(&records), Vec::<String>::new());
    prop_assert_eq!(again.plan(), &last);
    prop_assert_eq!(again.history().position(), session.history().position());

    while session.redo().is_some() {}
    let newest = session.plan().clone();
    while session.undo().is_some() {}
    prop_assert_eq!(session.plan(), first);
    while session.redo().is_some() {}
    prop_assert_eq!(session.plan(), &newest);

    for format in [Format::Ron, Format::Json] {
        let text = write::plan(&last, format).unwrap();
        prop_assert_eq!(&load::plan(&text, Path::new("boat"), format).unwrap(), &last);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn whatever_is_done_can_be_drawn_and_undone(
        plan in plan(), size in size(), look in look(), deeds in prop::collection::vec(deed(), 1..40),
    ) {
        let first = plan();
        let mut stage = Stage::on(first.clone()).sized(size.0, size.1).looking(look.0, look.1);
        for (at, deed) in deeds.iter().enumerate() {
            does(&mut stage, deed);
            check_cursor(&stage)?;
            if at % 4 == 0 {
                check_cells(&stage.buffer())?;
            }
        }
        check_cells(&stage.buffer())?;
        check_history(&mut stage, &first)?;
    }

    #[test]
    fn every_layer_is_drawn_at_every_size(
        plan in plan(), sizes in prop::collection::vec(size(), 1..4), look in look(), at in 0..LAYERS.len(),
    ) {
        let mut stage = Stage::on(plan()).looking(look.0, look.1);
        stage.play(LAYERS[at]);
        for (columns, rows) in sizes {
            stage.resize(columns, rows);
            check_cells(&stage.buffer())?;
        }
    }

    #[test]
    fn the_start_screen_takes_anything(size in size(), deeds in prop::collection::vec(deed(), 1..20)) {
        let mut stage = Stage::start().sized(size.0, size.1);
        for deed in deeds.iter().filter(|deed| !matches!(deed, Deed::Go(..))) {
            does(&mut stage, deed);
            check_cells(&stage.buffer())?;
        }
    }
}

/// Scripts that open each kind of layer and each overlay.
const LAYERS: &[&str] = &[
    "?",
    "a",
    "/",
    "H",
    "enter",
    "s",
    "y",
    "O",
    "h",
    "n x",
    "a enter",
    "n",
    "5 down*3",
    "1",
    "2 down",
    "3",
    "4",
    "i",
    "r",
    "e",
    "o",
    "n m q",
    "W",
    "/ enter R",
    "/ enter = ctrl-u \"x\"",
    "/ enter C",
    "/ enter L",
    "+*5",
    "/ enter S \"disp\"",
];
