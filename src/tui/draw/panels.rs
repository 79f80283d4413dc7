//! The panels: open side by side, as meter lines, or one of them alone.

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::{Modifier, Style};

use super::text;
use crate::checks::Severity;
use crate::tui::app::{App, Editor, Focus, Thing};
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::panels::{Panel, PanelKind, PanelRow};
use crate::tui::theme::{Role, Theme};
use crate::tui::update::sources;

/// Columns of a meter line's title.
const TITLE_COLUMNS: u16 = 13;

/// The role of a verdict's weight.
pub fn role(severity: Severity) -> Role {
    match severity {
        Severity::Stop => Role::Stop,
        Severity::Caution => Role::Caution,
        Severity::Note => Role::Note,
    }
}

/// The mark of a verdict's weight; meaning never hangs on its colour.
pub fn mark(severity: Severity, glyphs: Glyphs) -> &'static str {
    glyphs.of(match severity {
        Severity::Stop => Glyph::Stop,
        Severity::Caution => Glyph::Caution,
        Severity::Note => Glyph::Note,
    })
}

/// All that have a place: four side by side, Float over or under them.
pub fn all(app: &App, editor: &Editor, areas: &[Rect; 5], buffer: &mut Buffer) {
    for (kind, area) in PanelKind::ALL.into_iter().zip(areas) {
        one(app, editor, kind, *area, buffer);
    }
}

/// One panel: a head line, then as many rows as fit around the chosen one.
pub fn one(app: &App, editor: &Editor, kind: PanelKind, area: Rect, buffer: &mut Buffer) {
    match kind {
        PanelKind::Float => return super::float::draw(app, editor, area, buffer),
        PanelKind::Wiring => return super::wiring::draw(app, editor, area, buffer),
        _ => {}
    }
    if kind == PanelKind::Power && editor.focus == Focus::Panel(kind) {
        super::power::draw(app, editor, area, buffer);
        return;
    }
    let panel = Panel::of(kind, sources(editor, app.look.tape));
    let focused = editor.focus == Focus::Panel(kind);
    let mut lines = text::rows(area);
    let Some(head) = lines.next() else { return };
    head_line(app, &panel, focused, head, buffer);
    if let Some((share, words)) = &panel.gauge
        && let Some(line) = lines.next()
    {
        gauge(app, *share, words, line, buffer);
    } else if panel.rows.is_empty()
        && let Some(line) = lines.next()
    {
        text::put(buffer, line, &text::fit(&panel.verdict, line.width, ascii(app)), app.look.theme.style(Role::Dim));
    }
    let (list, first) = list(editor, &panel, area);
    let chosen = focused.then_some(chosen(editor, &panel));
    list_lines(app, &panel.rows, first, chosen, editor.thing(), list, buffer);
}

/// Rows from the first shown, the chosen one lit, or without one those about what is under the cursor; the
/// last line says how many more there are.
pub(super) fn list_lines(
    app: &App,
    rows: &[PanelRow],
    first: usize,
    chosen: Option<usize>,
    here: Option<Thing>,
    area: Rect,
    buffer: &mut Buffer,
) {
    let lines: Vec<Rect> = text::rows(area).collect();
    for (index, (row, line)) in rows.iter().skip(first).zip(&lines).enumerate() {
        let lit = match chosen {
            Some(chosen) => first + index == chosen,
            None => row.thing.is_some() && row.thing == here,
        };
        row_line(app, row, lit, chosen.is_some(), *line, buffer);
    }
    let hidden = rows.len().saturating_sub(first + lines.len());
    if hidden > 0
        && let Some(last) = lines.last()
    {
        let style = app.look.theme.style(Role::Dim);
        let words = format!("{} more", hidden + 1);
        text::put(buffer, *last, &" ".repeat(usize::from(last.width)), style);
        text::put(buffer, *last, &words, style);
    }
}

/// The row of a panel that stands in a line of the screen.
pub fn row_at(app: &App, editor: &Editor, kind: PanelKind, area: Rect, cell: Position) -> Option<usize> {
    match kind {
        PanelKind::Float => return super::float::row_at(app, editor, area, cell),
        PanelKind::Wiring => return super::wiring::row_at(app, editor, area, cell),
        _ => {}
    }
    if kind == PanelKind::Power && editor.focus == Focus::Panel(kind) {
        return super::power::row_at(app, editor, area, cell);
    }
    let panel = Panel::of(kind, sources(editor, app.look.tape));
    let (list, first) = list(editor, &panel, area);
    let row = first + usize::from(cell.y.checked_sub(list.y)?);
    (cell.y < list.bottom() && row < panel.rows.len()).then_some(row)
}

/// Where the rows of a panel stand, below its head line and its gauge, and the first that is shown.
fn list(editor: &Editor, panel: &Panel, area: Rect) -> (Rect, usize) {
    let head = if panel.gauge.is_some() || panel.rows.is_empty() { 2 } else { 1 };
    let head = area.height.min(head);
    let list = Rect { y: area.y + head, height: area.height - head, ..area };
    let chosen = chosen(editor, panel);
    let focused = editor.focus == Focus::Panel(panel.kind);
    (list, if focused { first_shown(chosen, usize::from(list.height), panel.rows.len()) } else { 0 })
}

fn chosen(editor: &Editor, panel: &Panel) -> usize {
    editor.rows[panel.kind.index()].min(panel.rows.len().saturating_sub(1))
}

/// The first row shown so that the chosen one is among them.
pub fn first_shown(chosen: usize, room: usize, rows: usize) -> usize {
    let last = rows.saturating_sub(room);
    chosen.saturating_sub(room.saturating_sub(2)).min(last)
}

fn head_line(app: &App, panel: &Panel, focused: bool, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let title = theme.style(if focused { Role::Accent } else { Role::Text }).add_modifier(Modifier::BOLD);
    let title = if focused { title.add_modifier(Modifier::UNDERLINED) } else { title };
    let number = match panel.worst {
        Some(Severity::Stop) => theme.style(Role::Stop),
        Some(Severity::Caution) => theme.style(Role::Caution),
        _ => theme.style(Role::Text),
    };
    let was = panel.was.as_ref().map_or(String::new(), |was| format!("{} {} ", was, arrow(app)));
    let head = if panel.worst >= Some(Severity::Caution) {
        panel.worst.map_or(String::new(), |worst| format!("{} {}", mark(worst, app.look.glyphs), panel.headline))
    } else {
        panel.headline.clone()
    };
    let taken = text::put(buffer, area, panel.kind.title(), title);
    let room = area.width.saturating_sub(taken + 1);
    let head = text::fit(&head, room, ascii(app));
    let number_style =
        if panel.was.is_some() && panel.worst < Some(Severity::Caution) { theme.style(Role::Changed) } else { number };
    text::put_right(buffer, area, &head, number_style);
    let left = room.saturating_sub(text::width(&head));
    if !was.is_empty() && text::width(&was) <= left {
        let area = Rect { width: area.width - text::width(&head), ..area };
        text::put_right(buffer, area, &was, theme.style(Role::Dim));
    }
}

fn row_line(app: &App, row: &PanelRow, lit: bool, focused: bool, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let base = match (lit, focused, row.quiet) {
        (true, true, _) => theme.style(Role::Selected).add_modifier(Modifier::REVERSED),
        (true, false, _) => theme.style(Role::Selected),
        (false, _, true) => theme.style(Role::Dim),
        (false, _, false) => theme.style(Role::Text),
    };
    if lit && focused {
        text::put(buffer, area, &" ".repeat(usize::from(area.width)), base);
    }
    let mut label = Rect { width: area.width, ..area };
    if let Some(severity) = row.mark {
        let taken = text::put(buffer, area, mark(severity, app.look.glyphs), theme.style(role(severity)));
        label = Rect { x: area.x + taken + 1, width: area.width.saturating_sub(taken + 1), ..area };
    }
    let value = match (row.value.as_str(), row.unit) {
        ("", _) => String::new(),
        (value, "") => value.to_string(),
        (value, unit) => format!("{value} {unit:<2}"),
    };
    // Notes stand in a column of their own where there is room for one.
    let note_columns = if area.width >= 40 { 14 } else { 0 };
    let shown_note = if note_columns > 0 { text::fit(&row.note, note_columns - 1, ascii(app)) } else { String::new() };
    let right = if value.is_empty() && note_columns == 0 { row.note.clone() } else { value };
    // A label may be cut where a number may not.
    let room = area.width.saturating_sub(note_columns + text::width(&row.label) + 3);
    let right = text::fit(&right, room.max(area.width / 2), ascii(app));
    let taken = text::width(&right) + note_columns;
    let room = label.width.saturating_sub(taken + 1);
    text::put(buffer, label, &text::fit(&row.label, room, ascii(app)), base);
    let numbers = Rect { width: area.width.saturating_sub(note_columns), ..area };
    text::put_right(buffer, numbers, &right, base);
    if note_columns > 0 {
        let note = Rect { x: area.right() - note_columns + 1, width: note_columns - 1, ..area };
        let style = if lit { base } else { theme.style(Role::Dim) };
        text::put(buffer, note, &shown_note, style);
    }
}

/// A bar that fills with the share, then words. Over full, it says so by its mark as well.
fn gauge(app: &App, share: f64, words: &str, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let percent = format!("{:.0} % {words}", share * 100.0);
    let columns = area.width.saturating_sub(text::width(&percent) + 1);
    let bar = bar(share, columns, app.look.glyphs);
    let role = if share > 1.0 {
        Role::Stop
    } else if share > 0.8 {
        Role::Caution
    } else {
        Role::Power
    };
    text::put(buffer, Rect { width: columns, ..area }, &bar, gauge_style(theme, role));
    text::put_right(buffer, area, &text::fit(&percent, area.width, ascii(app)), theme.style(Role::Dim));
}

/// The foreground of a role without its background: a bar is not a shout.
fn gauge_style(theme: &Theme, role: Role) -> Style {
    let style = theme.style(role);
    match (role, style.bg) {
        (Role::Stop, Some(background)) => Style::new().fg(background),
        _ => style,
    }
}

/// Block eighths where there are blocks, `#` and `-` where there are not.
pub fn bar(share: f64, columns: u16, glyphs: Glyphs) -> String {
    let full = (share.clamp(0.0, 1.0) * f64::from(columns)).round() as usize;
    let rest = usize::from(columns) - full;
    match glyphs {
        Glyphs::Ascii => "#".repeat(full) + &"-".repeat(rest),
        Glyphs::Block => "▄".repeat(full) + &"▁".repeat(rest),
    }
}

/// The panels as one line each: title, number, worst finding.
pub fn meters(app: &App, editor: &Editor, areas: &[Rect; 5], buffer: &mut Buffer) {
    let theme = &app.look.theme;
    for (kind, area) in PanelKind::ALL.into_iter().zip(areas.iter().copied()) {
        let panel = Panel::of(kind, sources(editor, app.look.tape));
        let key = format!("{} ", kind.key());
        text::put_all(
            buffer,
            area,
            [
                (key.as_str(), theme.style(Role::Accent)),
                (kind.title(), theme.style(Role::Text).add_modifier(Modifier::BOLD)),
            ],
        );
        let number =
            Rect { x: area.x + TITLE_COLUMNS + 2, width: 20.min(area.width.saturating_sub(TITLE_COLUMNS + 2)), ..area };
        let style = theme.style(if panel.was.is_some() { Role::Changed } else { Role::Text });
        text::put_right(buffer, number, &text::fit(&panel.headline, number.width, ascii(app)), style);
        let rest = Rect { x: number.right() + 2, width: area.right().saturating_sub(number.right() + 2), ..area };
        match (panel.worst, &panel.gauge) {
            (Some(worst), _) => {
                let marked = text::put(buffer, rest, mark(worst, app.look.glyphs), theme.style(role(worst))) + 1;
                let rest = Rect { x: rest.x + marked, width: rest.width.saturating_sub(marked), ..rest };
                text::put(buffer, rest, &text::fit(&panel.verdict, rest.width, ascii(app)), theme.style(Role::Text));
            }
            (None, Some((share, words))) => gauge(app, *share, words, rest, buffer),
            (None, None) => {
                text::put(buffer, rest, &text::fit(&panel.verdict, rest.width, ascii(app)), theme.style(Role::Dim));
            }
        }
    }
}

fn arrow(app: &App) -> &'static str {
    if ascii(app) { "->" } else { "→" }
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
