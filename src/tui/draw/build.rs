//! The work evening by evening: below the boat where there is room for both, and tonight's places lit on it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::widgets::{Clear, Widget};

use super::interview::key_line;
use super::layers::frame;
use super::panels::first_shown;
use super::text;
use crate::geometry::Spot;
use crate::tui::app::{App, Editor};
use crate::tui::areas::{Areas, Room};
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{BUILD_KEYS, BuildLine, BuildView, LineOf};
use crate::tui::theme::Role;
use crate::tui::update::thing_of;
use crate::tui::words::work;

/// Where the list stands: under the boat and its words, or over all but the last line.
pub fn list_area(app: &App) -> Rect {
    let areas = Areas::of(app);
    let last = areas.whole.bottom().saturating_sub(1);
    let beside = Room::of(app.size) >= Room::Open;
    let (left, top) = if beside { (areas.words, areas.words.bottom()) } else { (areas.whole, areas.whole.y) };
    Rect { y: top, height: last.saturating_sub(top), ..left }
}

/// Rows of the list inside its frame, and the first line shown.
fn shown(view: &BuildView, area: Rect) -> (usize, usize) {
    let rows = usize::from(area.height.saturating_sub(2));
    (rows, first_shown(view.row, rows, view.lines.len()))
}

/// The line that is drawn at a row of the screen.
pub fn row_at(app: &App, view: &BuildView, row: u16) -> Option<usize> {
    let area = list_area(app);
    let (rows, first) = shown(view, area);
    let at = usize::from(row.checked_sub(area.y + 1)?);
    (at < rows && first + at < view.lines.len()).then_some(first + at)
}

/// Draws it.
pub fn draw(app: &App, view: &BuildView, whole: Rect, buffer: &mut Buffer) {
    let Some(editor) = app.editor() else { return };
    let area = list_area(app);
    if Room::of(app.size) >= Room::Open {
        light(app, editor, view, buffer);
    }
    let inner = frame(app, &work::title(editor, app.today), area, buffer);
    let (_, first) = shown(view, area);
    for ((row, line), area) in view.lines.iter().enumerate().skip(first).zip(text::rows(inner)) {
        draw_line(app, line, row == view.row, area, buffer);
    }
    if app.toast.is_none() {
        let last = Rect { y: whole.bottom().saturating_sub(1), height: 1, ..whole }.intersection(buffer.area);
        Clear.render(last, buffer);
        key_line(&app.look, BUILD_KEYS, Rect { x: last.x + 1, width: last.width.saturating_sub(1), ..last }, buffer);
    }
}

fn draw_line(app: &App, line: &BuildLine, lit: bool, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let style = match (lit, line.of) {
        (true, _) => theme.style(Role::Selected).add_modifier(Modifier::REVERSED),
        (false, LineOf::Heading) => theme.style(Role::Accent).add_modifier(Modifier::BOLD),
        (false, LineOf::Wait) => theme.style(Role::Dim),
        (false, _) => theme.style(Role::Text),
    };
    if lit {
        text::put(buffer, area, &" ".repeat(usize::from(area.width)), style);
    }
    let label = text::fit(&line.label, area.width, ascii);
    let taken = text::put(buffer, area, &label, style) + 2;
    let rest = Rect { x: area.x + taken.min(area.width), width: area.width.saturating_sub(taken), ..area };
    let detail = text::fit(&line.detail, rest.width, ascii);
    text::put_right(buffer, rest, &detail, if lit { style } else { theme.style(Role::Dim) });
}

/// Turns the cells round where something is done tonight.
fn light(app: &App, editor: &Editor, view: &BuildView, buffer: &mut Buffer) {
    let window = editor.view.window(&editor.session.plan().hull, Areas::of(app).deck);
    let style = app.look.theme.style(Role::Selected).add_modifier(Modifier::REVERSED);
    for spot in places(editor, view) {
        if let Some(cell) = window.cell_of(spot) {
            buffer.set_style(Rect::new(cell.x, cell.y, 1, 1).intersection(buffer.area), style);
        }
    }
}

/// Where tonight's tasks are done.
pub fn places(editor: &Editor, view: &BuildView) -> Vec<Spot> {
    let tonight = view.lines.iter().filter_map(|line| match line.of {
        LineOf::Task { on, tonight: true, .. } => thing_of(on),
        _ => None,
    });
    tonight.filter_map(|thing| editor.spot_of(thing)).collect()
}
