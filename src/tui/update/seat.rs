//! The view from the seat: opening it, and going to what was chosen in it.

use super::cursor;
use crate::tui::app::{App, Thing};
use crate::tui::layer::{Layer, SeatView};

/// Opens it on what is in question, if that must be seen.
pub(super) fn open(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let items = &editor.session.study().sight.items;
    let row = items.iter().position(|seen| Some(seen.gear) == editor.gear()).unwrap_or(0);
    let view = SeatView { standing: false, row, rows: items.len() };
    app.layers.push(Layer::Seat(view));
}

/// Goes to the thing in a row of what must be seen.
pub(super) fn go_to(app: &mut App, row: usize) {
    let gear = app.editor().and_then(|editor| Some(editor.session.study().sight.items.get(row)?.gear));
    if let Some(gear) = gear {
        cursor::show(app, Thing::Gear(gear));
    }
}
