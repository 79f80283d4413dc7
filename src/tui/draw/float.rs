//! The Float panel: one line, or with it the curve, the figures and the load cases.

use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::style::{Modifier, Style};

use super::panels::{first_shown, list_lines, mark, role};
use super::{lever, text};
use crate::checks::Severity;
use crate::tui::app::{App, Editor, Focus};
use crate::tui::glyphs::Glyphs;
use crate::tui::panels::float::{CASE_HEADS, CaseLine, Part, cases, summary};
use crate::tui::panels::{Panel, PanelKind};
use crate::tui::theme::Role;
use crate::tui::update::sources;
use crate::tui::words::afloat;
use crate::units::{Measure, Tape};

/// Columns from which curve, figures and load cases stand side by side.
const BROAD_FROM: u16 = 106;
/// Columns of the figures.
const FIGURES: u16 = 32;
/// Columns of the figures where the load cases stand under them.
const FIGURES_ALONE: u16 = 38;
/// Rows of the curve where the load cases stand under it.
const CURVE_ROWS: u16 = 9;
/// Columns of a load case's name.
const NAME: u16 = 13;

/// Draws as much of it as the area has room for: the line, or everything.
pub fn draw(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let panel = Panel::of(PanelKind::Float, sources(editor, app.look.tape));
    let (head, _) = parted(area);
    line(app, editor, &panel, head, buffer);
    if area.height == 1 {
        return;
    }
    let whole = Whole::of(app, editor, &panel, area);
    if whole.broad {
        whole.draw(app, editor, &panel, buffer);
        return;
    }
    // One below the other they are drawn aside, and what is scrolled to is shown.
    let mut aside = Buffer::empty(Rect::new(0, 0, area.width, whole.rows));
    whole.draw(app, editor, &panel, &mut aside);
    for (line, y) in text::rows(whole.shown).zip(whole.scroll..whole.rows) {
        for x in 0..line.width {
            if let (Some(to), Some(from)) = (buffer.cell_mut((line.x + x, line.y)), aside.cell((x, y))) {
                to.clone_from(from);
            }
        }
    }
}

/// The row of the panel under a cell.
pub fn row_at(app: &App, editor: &Editor, area: Rect, cell: Position) -> Option<usize> {
    let panel = Panel::of(PanelKind::Float, sources(editor, app.look.tape));
    if area.height <= 1 || !parted(area).1.contains(cell) {
        return None;
    }
    let whole = Whole::of(app, editor, &panel, area);
    let cell = if whole.broad { cell } else { Position::new(cell.x - area.x, cell.y - whole.shown.y + whole.scroll) };
    let row = if whole.figures.contains(cell) {
        usize::from(cell.y - whole.figures.y) + whole.first
    } else if whole.cases.contains(cell) {
        whole.count + usize::from((cell.y - whole.cases.y).checked_sub(1)?)
    } else {
        return None;
    };
    (row < panel.rows.len()).then_some(row)
}

/// The line that sums up, two where one is too short for it, and what is left for the rest.
fn parted(area: Rect) -> (Rect, Rect) {
    let head = if area.height > 1 && area.width < BROAD_FROM { 2 } else { 1 };
    (Rect { height: head, ..area }, Rect { y: area.y + head, height: area.height - head, ..area })
}

/// Where the parts of the open panel stand.
struct Whole {
    /// Side by side on the screen; else one below the other, aside.
    broad: bool,
    curve: Rect,
    figures: Rect,
    cases: Rect,
    /// How many of the rows are figures; the rest are load cases.
    count: usize,
    /// The first figure shown.
    first: usize,
    /// The screen's part for what is drawn aside, its rows, and the first of them that is shown.
    shown: Rect,
    rows: u16,
    scroll: u16,
}

impl Whole {
    fn of(app: &App, editor: &Editor, panel: &Panel, area: Rect) -> Self {
        let cases = cases(sources(editor, app.look.tape)).len();
        let count = panel.rows.len() - cases;
        let chosen = if focused(editor) { editor.rows[PanelKind::Float.index()] } else { 0 };
        let table = NAME + widths(app.look.tape).iter().sum::<u16>();
        let (_, shown) = parted(area);
        if area.width >= BROAD_FROM {
            let [curve, figures, cases] =
                Layout::horizontal([Constraint::Fill(1), Constraint::Length(FIGURES), Constraint::Length(table)])
                    .spacing(2)
                    .areas(shown);
            let room = usize::from(figures.height);
            let first = if chosen < count { first_shown(chosen, room, count) } else { 0 };
            return Self { broad: true, curve, figures, cases, count, first, shown, rows: 0, scroll: 0 };
        }
        let rows = count as u16 + if cases > 0 { cases as u16 + 1 } else { 0 };
        let line = if chosen < count { chosen } else { chosen + 1 };
        let scroll = first_shown(line, usize::from(shown.height), usize::from(rows)) as u16;
        let left = FIGURES_ALONE.min(area.width);
        Self {
            broad: false,
            curve: Rect::new(left + 2, 0, area.width.saturating_sub(left + 2), CURVE_ROWS.min(count as u16)),
            figures: Rect::new(0, 0, area.width, count as u16),
            cases: Rect::new(0, count as u16, area.width, rows - count as u16),
            count,
            first: 0,
            shown,
            rows,
            scroll,
        }
    }

    fn draw(&self, app: &App, editor: &Editor, panel: &Panel, buffer: &mut Buffer) {
        let float = &editor.session.study().float;
        let chosen = focused(editor).then_some(editor.rows[PanelKind::Float.index()]);
        if let Some(planned) = float.planned() {
            let leaning = float.leaning.as_ref().and_then(|leaning| leaning.heel_deg()).map(f64::abs);
            lever::draw(app, planned, leaning, self.curve, buffer);
        }
        let here = editor.thing();
        let figures = &panel.rows[..self.count];
        if self.broad {
            list_lines(app, figures, self.first, chosen, here, self.figures, buffer);
        } else {
            // Beside the curve, then as wide as it goes.
            let rows = usize::from(self.curve.height);
            let beside =
                Rect { width: FIGURES_ALONE.min(self.figures.width), height: self.curve.height, ..self.figures };
            let under = Rect { y: beside.bottom(), height: self.figures.height - beside.height, ..self.figures };
            list_lines(app, &figures[..rows], 0, chosen, here, beside, buffer);
            let chosen = chosen.map(|chosen| chosen.checked_sub(rows).unwrap_or(usize::MAX));
            list_lines(app, &figures[rows..], 0, chosen, here, under, buffer);
        }
        let mut lines = text::rows(self.cases);
        let Some(head) = lines.next() else { return };
        let dim = app.look.theme.style(Role::Dim);
        text::put(buffer, head, "load case", dim);
        let heads = CASE_HEADS.iter().map(|head| (*head, dim));
        columns(heads, app.look.tape, head, buffer);
        for ((index, case), line) in cases(sources(editor, app.look.tape)).iter().enumerate().zip(lines) {
            case_line(app, case, chosen == Some(self.count + index), index == 0, line, buffer);
        }
    }
}

fn case_line(app: &App, case: &CaseLine, lit: bool, planned: bool, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let base = if lit {
        theme.style(Role::Selected).add_modifier(Modifier::REVERSED)
    } else {
        theme.style(if planned { Role::Text } else { Role::Dim })
    };
    if lit {
        text::put(buffer, area, &" ".repeat(usize::from(area.width)), base);
    }
    text::put(buffer, area, case.name, base);
    let cells = case.cells.iter().map(|cell| {
        let style = match (lit, cell.changed, cell.differs || planned) {
            (true, ..) => base,
            (_, true, _) => theme.style(Role::Changed),
            (_, _, true) => theme.style(Role::Text),
            _ => theme.style(Role::Dim),
        };
        (cell.text.as_str(), style)
    });
    if case.cells.len() < CASE_HEADS.len() {
        // No figures but a reason: it takes their place.
        let words: Vec<&str> = case.cells.iter().map(|cell| cell.text.as_str()).collect();
        let rest = Rect { x: area.x + NAME, width: area.width.saturating_sub(NAME), ..area };
        text::put(buffer, rest, &words.join(" kg, "), base);
        return;
    }
    columns(cells, app.look.tape, area, buffer);
}

/// Puts the figures of a load case into their columns, each at the right of its own.
fn columns<'a>(cells: impl Iterator<Item = (&'a str, Style)>, tape: Measure, area: Rect, buffer: &mut Buffer) {
    let mut x = area.x + NAME;
    for ((text, style), wide) in cells.zip(widths(tape)) {
        let cell = Rect { x, width: wide, ..area }.intersection(area);
        text::put_right(buffer, cell, text, style);
        x += wide;
    }
}

/// Columns of the figures of a load case.
fn widths(tape: Measure) -> [u16; 7] {
    match tape.0 {
        Tape::Metric => [4, 5, 5, 10, 9, 8, 6],
        Tape::Inches => [4, 8, 8, 10, 9, 9, 9],
    }
}

/// Everything in one line, quiet when all is well: drafts, trim, list, freeboard, stiffness.
fn line(app: &App, editor: &Editor, panel: &Panel, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let before = editor.session.previous().map(|(study, _)| study);
    let title = theme.style(if focused(editor) { Role::Accent } else { Role::Text }).add_modifier(Modifier::BOLD);
    let title = if focused(editor) { title.add_modifier(Modifier::UNDERLINED) } else { title };
    let taken = text::put(buffer, area, "Float", title) + 1;
    let mut rest = Rect { x: area.x + taken, width: area.width.saturating_sub(taken), ..area };
    // The mark's place is kept free, so that nothing moves when one comes or goes.
    if let Some(worst) = panel.worst.filter(|worst| *worst >= Severity::Caution) {
        text::put(buffer, rest, mark(worst, app.look.glyphs), theme.style(role(worst)));
    }
    rest = Rect { x: rest.x + 2, width: rest.width.saturating_sub(2), ..rest };
    match summary(editor.session.study(), before, app.look.tape) {
        Err(why) => {
            text::put(buffer, rest, &text::fit(&why, rest.width, ascii(app)), theme.style(Role::Text));
        }
        Ok(parts) => {
            let mut lines = text::rows(rest);
            let Some(mut left) = lines.next() else { return };
            for (part, value) in fitted(parts, rest.width * rest.height, ascii(app)) {
                if text::width(part.label) + text::width(&value) + 1 > left.width {
                    left = lines.next().unwrap_or(left);
                }
                let now = if part.was.is_some() { Role::Changed } else { Role::Text };
                let pieces = [
                    (part.label, theme.style(Role::Dim)),
                    (" ", theme.style(Role::Dim)),
                    (value.as_str(), theme.style(now)),
                    ("  ", theme.style(Role::Dim)),
                ];
                let taken = text::put_all(buffer, left, pieces);
                left = Rect { x: left.x + taken, width: left.width - taken, ..left };
            }
        }
    }
}

/// Words of trim and list, and what stands for them where room is short.
const SHORT: [(&str, &str); 4] = [(" by the ", " "), (" bow down", " bow"), (" to starboard", " stbd"), (" to ", " ")];

/// The parts in the order in which what they were is told where there is not room for all of it.
const TELLING: [&str; 6] = ["list", "trim", "freeboard", "GM", "draft aft", "fore"];

/// The parts of the line with their values, and what those were before: in short words where long ones have no
/// room, and only for as many as there is room for.
fn fitted(mut parts: Vec<Part>, room: u16, ascii: bool) -> Vec<(Part, String)> {
    let told = |part: &Part| {
        let both = part.was.as_ref().map_or_else(|| part.value.clone(), |was| afloat::change(was, &part.value));
        if ascii { both.replace('→', "->") } else { both }
    };
    let room = room + 2;
    let wide = |part: &Part, value: &str| text::width(part.label) + text::width(value) + 3;
    if parts.iter().map(|part| wide(part, &told(part))).sum::<u16>() > room {
        for part in &mut parts {
            for (long, short) in SHORT {
                part.value = part.value.replace(long, short);
                part.was = part.was.take().map(|was| was.replace(long, short));
            }
        }
    }
    let mut taken = parts.iter().map(|part| wide(part, &part.value)).sum::<u16>();
    let mut values: Vec<String> = parts.iter().map(|part| part.value.clone()).collect();
    for label in TELLING {
        let Some((part, value)) = parts.iter().zip(&mut values).find(|(part, _)| part.label == label) else { continue };
        let both = told(part);
        let more = text::width(&both).saturating_sub(text::width(value));
        if taken + more <= room {
            taken += more;
            *value = both;
        }
    }
    parts.into_iter().zip(values).collect()
}

fn focused(editor: &Editor) -> bool {
    editor.focus == Focus::Panel(PanelKind::Float)
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The line as text, at so many columns.
    fn check(room: u16, ascii: bool, expected: &str) {
        let part = |label, was: &str, value: &str| Part {
            label,
            value: value.into(),
            was: (was != value).then(|| was.to_string()),
        };
        let parts = vec![
            part("draft aft", "96", "102"),
            part("fore", "90 mm", "88 mm"),
            part("trim", "0.1 deg by the stern", "0.2 deg by the stern"),
            part("list", "0.3 deg to port", "0.3 deg to port"),
        ];
        let line: Vec<String> =
            fitted(parts, room, ascii).into_iter().map(|(part, value)| format!("{} {value}", part.label)).collect();
        let line = line.join("  ");
        assert_eq!(line, expected);
        assert!(line.chars().count() <= usize::from(room));
    }

    #[test]
    fn what_figures_were_is_told_in_the_room_there_is() {
        check(90, false, "draft aft 96 → 102  fore 90 → 88 mm  trim 0.1 → 0.2 deg by the stern  list 0.3 deg to port");
        check(
            93,
            true,
            "draft aft 96 -> 102  fore 90 -> 88 mm  trim 0.1 -> 0.2 deg by the stern  list 0.3 deg to port",
        );
        check(80, false, "draft aft 96 → 102  fore 90 → 88 mm  trim 0.1 → 0.2 deg stern  list 0.3 deg port");
        check(70, false, "draft aft 102  fore 88 mm  trim 0.1 → 0.2 deg stern  list 0.3 deg port");
        check(65, false, "draft aft 102  fore 88 mm  trim 0.2 deg stern  list 0.3 deg port");
    }
}
