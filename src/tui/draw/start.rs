//! The start screen: what this is, the demos, plans opened before, the hull classes.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::{footer, text};
use crate::tui::app::App;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::Value;
use crate::tui::theme::Role;
use crate::tui::update::start_choices;

/// Lines above the list.
const HEAD: u16 = 5;

/// Where the rows of the list stand.
pub fn list_area(whole: Rect, rows: usize) -> Rect {
    let width = whole.width.saturating_sub(4).min(110);
    let height = u16::try_from(rows).unwrap_or(u16::MAX).min(whole.height.saturating_sub(HEAD + 2));
    Rect::new(whole.x + (whole.width - width) / 2, whole.y + HEAD, width, height)
}

/// The first row of the list that is shown.
pub fn first_row(chosen: usize, list: Rect, rows: usize) -> usize {
    super::panels::first_shown(chosen, usize::from(list.height), rows)
}

/// Draws the start screen.
pub fn draw(app: &App, chosen: usize, whole: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let choices = start_choices(app);
    let list = list_area(whole, choices.len());
    let head = |row: u16| Rect { x: list.x, y: whole.y + row, width: list.width, height: 1 };
    text::put(buffer, head(1), "gunnel", theme.style(Role::Accent).add_modifier(Modifier::BOLD));
    let about =
        "Plan the rig before a hole is drilled. It advises; the hull's maker, local rules and a float test decide.";
    text::put(buffer, head(2), &text::fit(about, list.width, ascii), theme.style(Role::Dim));
    let room = usize::from(list.height);
    let first = first_row(chosen, list, choices.len());
    for (index, choice) in choices.iter().enumerate().skip(first).take(room) {
        let line = Rect { y: list.y + (index - first) as u16, height: 1, ..list };
        let group = match choice.value {
            Value::Demo(_) => "demo",
            Value::File(_) => "recent",
            Value::Lost(_) => "unsaved",
            _ => "new",
        };
        let lit = index == chosen;
        let style =
            if lit { theme.style(Role::Selected).add_modifier(Modifier::REVERSED) } else { theme.style(Role::Text) };
        if lit {
            text::put(buffer, line, &" ".repeat(usize::from(line.width)), style);
        }
        text::put(buffer, line, &format!(" {group:<7}"), if lit { style } else { theme.style(Role::Dim) });
        let name = Rect { x: line.x + 9, width: line.width.saturating_sub(9), ..line };
        let columns = (name.width * 2 / 5).min(34);
        text::put(
            buffer,
            Rect { width: columns, ..name },
            &text::fit(&choice.label, columns.saturating_sub(1), ascii),
            style,
        );
        let detail = Rect { x: name.x + columns, width: name.width.saturating_sub(columns + 1), ..name };
        text::put(
            buffer,
            detail,
            &text::fit(&choice.detail, detail.width, ascii),
            if lit { style } else { theme.style(Role::Dim) },
        );
    }
    footer::draw(app, Rect { y: whole.bottom().saturating_sub(1), height: 1, ..whole }, buffer);
}
