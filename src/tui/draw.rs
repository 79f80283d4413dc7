//! Drawing: the state in, cells out. Nothing here changes anything.

pub mod boat;
pub mod build;
mod curve;
mod day;
pub mod findings;
pub mod float;
pub mod footer;
pub mod inspector;
pub mod interview;
pub mod layers;
mod lever;
mod lights;
pub mod outing;
pub mod panels;
pub mod power;
pub mod seat;
mod seat_test;
pub mod start;
pub mod text;
pub mod title;
pub mod walk;
pub mod wiring;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::app::{App, Focus, Screen};
use super::areas::{Areas, LEAST, Room};
use super::theme::Role;

/// Draws the whole screen.
pub fn draw(app: &App, buffer: &mut Buffer) {
    let areas = Areas::of(app);
    if Room::of(app.size) == Room::None {
        too_small(app, areas.whole.intersection(buffer.area), buffer);
        return;
    }
    match &app.screen {
        Screen::Start { row } => start::draw(app, *row, areas.whole, buffer),
        Screen::Editor(editor) => {
            title::draw(app, editor, areas.title, buffer);
            boat::draw(app, editor, &areas, buffer);
            if let (Focus::Panel(kind), false) = (editor.focus, areas.opened.is_empty()) {
                panels::one(app, editor, kind, areas.opened, buffer);
            } else if Room::of(app.size) == Room::Compact {
                panels::meters(app, editor, &areas.panels, buffer);
            } else {
                panels::all(app, editor, &areas.panels, buffer);
            }
            findings::draw(app, editor, areas.findings, buffer);
            if !areas.inspector.is_empty() {
                inspector::draw(app, editor, areas.inspector, buffer);
                inspector::gear_list(app, editor, areas.gear, buffer);
            }
            footer::draw(app, areas.footer, buffer);
        }
    }
    for layer in &app.layers {
        layers::draw(app, layer, areas.whole, buffer);
    }
}

fn too_small(app: &App, area: Rect, buffer: &mut Buffer) {
    let lines = [format!("needs {} x {}", LEAST.0, LEAST.1), format!("has {} x {}", app.size.0, app.size.1)];
    for (row, line) in lines.iter().enumerate() {
        let y = area.y + row as u16;
        if y < area.bottom() {
            text::put(buffer, Rect { y, height: 1, ..area }, line, app.look.theme.style(Role::Text));
        }
    }
}
