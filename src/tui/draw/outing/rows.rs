//! The rows of the editor of the day, in one column or two, and the line being typed in the one in question.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Modifier;

use crate::tui::app::Look;
use crate::tui::areas::OutingAreas;
use crate::tui::draw::panels::first_shown;
use crate::tui::draw::text;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::OutingEditor;
use crate::tui::theme::Role;

/// Columns of the labels.
const LABEL: u16 = 22;

/// Where each of the rows that are shown stands.
fn places(planned: &OutingEditor, areas: &OutingAreas) -> Vec<(usize, Rect)> {
    let rows = planned.rows();
    let loads_from = if areas.second.is_empty() { rows.len() } else { rows.len() - loads(planned) };
    let mut places = column(areas.rows, 0..loads_from, planned.at());
    places.extend(column(areas.second, loads_from..rows.len(), planned.at()));
    places
}

/// How many rows at the end are loads.
fn loads(planned: &OutingEditor) -> usize {
    planned.rows().iter().filter(|row| row.is_load()).count()
}

/// A stretch of the rows in an area, the one in question among those shown if it is one of them.
fn column(area: Rect, rows: std::ops::Range<usize>, at: usize) -> Vec<(usize, Rect)> {
    let chosen = if rows.contains(&at) { at - rows.start } else { 0 };
    let first = rows.start + first_shown(chosen, usize::from(area.height), rows.len());
    (first..rows.end).zip(text::rows(area)).collect()
}

/// The row that stands at a cell.
pub fn row_at(planned: &OutingEditor, areas: &OutingAreas, cell: Position) -> Option<usize> {
    places(planned, areas).into_iter().find(|(_, line)| line.contains(cell)).map(|(row, _)| row)
}

/// Draws the rows.
pub(super) fn draw(look: &Look, planned: &OutingEditor, areas: &OutingAreas, buffer: &mut Buffer) {
    for (row, line) in places(planned, areas) {
        one(look, planned, row, line, buffer);
    }
}

fn one(look: &Look, planned: &OutingEditor, index: usize, line: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let ascii = look.glyphs == Glyphs::Ascii;
    let Some(row) = planned.rows().get(index).copied() else { return };
    let told = planned.told(row);
    let lit = index == planned.at();
    let name = Rect { width: LABEL.min(line.width), ..line };
    let style = if lit { theme.style(Role::Selected).add_modifier(Modifier::REVERSED) } else { theme.style(Role::Dim) };
    if lit {
        text::put(buffer, name, &" ".repeat(usize::from(name.width)), style);
    }
    text::put(buffer, name, &text::fit(&told.label, name.width.saturating_sub(1), ascii), style);
    let field = Rect { x: line.x + name.width + 1, width: line.width.saturating_sub(name.width + 1), ..line };
    if lit && row.takes_text() && !planned.input.value().is_empty() {
        typing(look, planned, field, buffer);
        return;
    }
    let value = theme.style(if told.note.is_empty() { Role::Text } else { Role::Dim });
    let taken = text::put(buffer, field, &text::fit(&told.value, field.width, ascii), value);
    let note = Rect { x: field.x + taken + 2, width: field.width.saturating_sub(taken + 2), ..field };
    text::put(buffer, note, &text::fit(&told.note, note.width, ascii), theme.style(Role::Dim));
    if lit && row.takes_text() {
        let caret = Rect { width: 1.min(field.width), ..field }.intersection(buffer.area);
        buffer.set_style(caret, theme.style(Role::Cursor).add_modifier(Modifier::REVERSED));
    }
}

/// What is typed, with its cursor, and the unit if none was typed.
fn typing(look: &Look, planned: &OutingEditor, field: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let typed = planned.input.value();
    let (shown, at) = text::typed(typed, planned.input.cursor(), field.width);
    let refused = planned.said.as_ref().is_some_and(|said| said.refused);
    let style = theme.style(if refused { Role::Caution } else { Role::Text });
    let taken = text::put(buffer, field, &shown, style.add_modifier(Modifier::UNDERLINED));
    let caret = Rect { x: field.x + at, width: 1, ..field }.intersection(field).intersection(buffer.area);
    buffer.set_style(caret, theme.style(Role::Cursor).add_modifier(Modifier::REVERSED));
    if typed.chars().all(|c| !c.is_alphabetic() && c != ':' && c != '%') {
        let rest = Rect { x: field.x + taken + 2, width: field.width.saturating_sub(taken + 2), ..field };
        text::put(buffer, rest, planned.row().unit(), theme.style(Role::Dim));
    }
}
