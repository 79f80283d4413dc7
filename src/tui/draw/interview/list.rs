//! The rows of the interview in walking order, and the line being typed in the one in question.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::{ascii, text};
use crate::plan::{Bottom, Gauge, Measurement};
use crate::tui::app::Look;
use crate::tui::glyphs::Glyph;
use crate::tui::layer::{Interview, Row, heading, label, length_in_its_unit};
use crate::tui::theme::Role;
use crate::units::{Length, Measure, Origin, Quantity};

/// Columns of the labels and of the values.
const LABEL: u16 = 16;
const VALUE: u16 = 11;

/// One line of the list.
enum Line {
    Heading(String, String),
    Row(usize),
}

/// Draws the list.
pub(super) fn draw(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let lines = lines(interview);
    let first = first_line(interview, &lines, area);
    for (line, area) in lines.iter().skip(first).zip(text::rows(area)) {
        match line {
            Line::Heading(words, count) => {
                let words = text::fit(words, area.width, ascii(look));
                text::put(buffer, area, &words, look.theme.style(Role::Text));
                let right = Rect { width: (LABEL + 1 + VALUE).min(area.width), ..area };
                text::put_right(buffer, right, count, look.theme.style(Role::Dim));
            }
            Line::Row(row) => draw_row(look, interview, *row, area, buffer),
        }
    }
}

/// The row that stands at a line of the screen.
pub fn row_at(interview: &Interview, area: Rect, y: u16) -> Option<usize> {
    let lines = lines(interview);
    let line = first_line(interview, &lines, area) + usize::from(y.checked_sub(area.y)?);
    match lines.get(line)? {
        Line::Row(row) => Some(*row),
        Line::Heading(..) => None,
    }
}

fn lines(interview: &Interview) -> Vec<Line> {
    let (tape, hull) = (&interview.trial().tape, interview.hull());
    let mut lines = Vec::new();
    for (index, row) in interview.rows().iter().enumerate() {
        if let Some(words) = heading(*row, tape, hull) {
            let measured = row.station().map_or(0, |station| interview.measured_at(station));
            let count = if measured > 0 { format!("{measured} of 5") } else { String::new() };
            lines.push(Line::Heading(words, count));
        }
        lines.push(Line::Row(index));
    }
    lines
}

/// The first line shown: the row in question stays in the upper part, so that what comes next is seen.
fn first_line(interview: &Interview, lines: &[Line], area: Rect) -> usize {
    let room = usize::from(area.height);
    let at = lines.iter().position(|line| matches!(line, Line::Row(row) if *row == interview.at())).unwrap_or(0);
    at.saturating_sub(room * 3 / 5).min(lines.len().saturating_sub(room))
}

fn draw_row(look: &Look, interview: &Interview, index: usize, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let row = interview.rows()[index];
    let lit = index == interview.at();
    let alone = matches!(row, Row::Gauge(Measurement::Length) | Row::Features | Row::Done);
    let indent = u16::from(!alone);
    let words = label(row, &interview.trial().tape, interview.hull());
    let name = Rect { x: area.x + indent, width: LABEL.saturating_sub(indent).min(area.width), ..area };
    let style = match (lit, row) {
        (true, _) => theme.style(Role::Selected).add_modifier(Modifier::REVERSED),
        (false, Row::Done) => theme.style(Role::Text),
        (false, _) => theme.style(Role::Dim),
    };
    if lit {
        let bar = Rect { width: LABEL.min(area.width), ..area };
        text::put(buffer, bar, &" ".repeat(usize::from(bar.width)), style);
    }
    text::put(buffer, name, &text::fit(&words, name.width.saturating_sub(1), ascii(look)), style);
    let field = Rect { x: area.x + LABEL + 1, width: area.width.saturating_sub(LABEL + 1), ..area };
    if lit && row.takes_text() && !interview.input.value().is_empty() {
        typing(look, interview, field, buffer);
        return;
    }
    let shown = Shown::of(look, interview, row);
    let value = Rect { width: VALUE.min(field.width), ..field };
    text::put_right(buffer, value, &text::fit(&shown.value, value.width, ascii(look)), theme.style(shown.role));
    let note = Rect { x: field.x + VALUE + 1, width: field.width.saturating_sub(VALUE + 1), ..field };
    text::put(buffer, note, &text::fit(&shown.note, note.width, ascii(look)), theme.style(Role::Dim));
    if lit && row.takes_text() {
        let caret = Rect { width: 1.min(field.width), ..field }.intersection(buffer.area);
        buffer.set_style(caret, theme.style(Role::Cursor).add_modifier(Modifier::REVERSED));
    }
}

/// What is typed, with its cursor, and the unit if none was typed.
fn typing(look: &Look, interview: &Interview, field: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let text = interview.input.value();
    let (shown, at) = text::typed(text, interview.input.cursor(), field.width);
    let refused = interview.said.as_ref().is_some_and(|said| said.refused);
    let style = theme.style(if refused { Role::Caution } else { Role::Text });
    let taken = text::put(buffer, field, &shown, style.add_modifier(Modifier::UNDERLINED));
    let caret = Rect { x: field.x + at, width: 1, ..field }.intersection(field).intersection(buffer.area);
    buffer.set_style(caret, theme.style(Role::Cursor).add_modifier(Modifier::REVERSED));
    let bare = text.chars().all(|c| !c.is_alphabetic() && c != '"' && c != '\'');
    if bare && interview.row() != Row::Rounding {
        let rest = Rect { x: field.x + taken + 2, width: field.width.saturating_sub(taken + 2), ..field };
        text::put(buffer, rest, Measure(interview.units).unit(), theme.style(Role::Dim));
    }
}

/// Where a station is. Places in millimetres are the program's own as well as the person's: they follow the tape.
pub(super) fn place_words(look: &Look, x: Length) -> String {
    if x.unit_tag() == "Mm" { look.tape.length(x.to_mm()) } else { length_in_its_unit(x) }
}

/// The value in use and where it comes from.
struct Shown {
    value: String,
    role: Role,
    note: String,
}

impl Shown {
    fn of(look: &Look, interview: &Interview, row: Row) -> Self {
        let tape = &interview.trial().tape;
        match row {
            Row::Gauge(what) => tape.gauge(what).map_or_else(Self::nothing, |gauge| Self::gauge(look, gauge)),
            Row::Place(number) => {
                let guessed = interview.places_guessed();
                let station = tape.stations.get(number);
                let value = station.map_or_else(String::new, |station| place_words(look, station.x));
                let role = if guessed { Role::Guess } else { Role::Text };
                Self { value, role, note: if guessed { "guess".into() } else { String::new() } }
            }
            Row::Rounding => {
                let Some(rounding) = tape.rounding else { return Self::nothing() };
                let compared = rounding.origin == Origin::Measured;
                let value = format!("{:.2}", rounding.value);
                let value = value.trim_end_matches('0').trim_end_matches('.').to_string();
                let (role, note) = if compared { (Role::Measured, "compared") } else { (Role::Guess, "guess") };
                Self { value, role, note: note.into() }
            }
            Row::Kind => {
                let word = match tape.bottom {
                    Bottom::Flat => "flat",
                    Bottom::Tunnel { .. } => "tunnel",
                    Bottom::Pontoons { .. } => "pontoons",
                };
                Self { value: word.into(), role: Role::Text, note: String::new() }
            }
            Row::Features => {
                let (placed, all) = interview.placed();
                let glyph = if interview.unfolded() { Glyph::RulerDown } else { Glyph::RulerRight };
                Self { value: format!("{placed} of {all}"), role: Role::Text, note: look.glyphs.of(glyph).into() }
            }
            Row::Done => {
                let (taken, all) = interview.progress();
                Self { value: format!("{taken} of {all}"), role: Role::Text, note: "measured".into() }
            }
        }
    }

    fn gauge(look: &Look, gauge: &Gauge) -> Self {
        let Some(figure) = gauge.figure() else { return Self::nothing() };
        if !gauge.is_measured() {
            let value = look.tape.length(figure.value.to_mm());
            return Self { value, role: Role::Guess, note: "guess".into() };
        }
        let size = figure.value.scaled(figure.value.to_mm().signum());
        let value = length_in_its_unit(size);
        let spread = figure.spread.map_or(0.0, |spread| spread.to_mm());
        let about = if ascii(look) { "+-" } else { "±" };
        let note = match gauge.taken.len() {
            1 => "measured".into(),
            n => format!("{n}x {about}{}", look.tape.bare(spread)),
        };
        Self { value, role: Role::Measured, note }
    }

    fn nothing() -> Self {
        Self { value: "-".into(), role: Role::Dim, note: String::new() }
    }
}
