//! What lies in front: lists, forms, pages, questions. One frame, and nothing under it shows through.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::widgets::{Block, BorderType, Clear, Widget};

use super::text;
use crate::tui::app::App;
use crate::tui::areas::{BoxAreas, centred, list_area};
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{Chooser, FieldKind, Form, Layer, Page, Question, is_heading};
use crate::tui::theme::Role;

/// Draws a layer.
pub fn draw(app: &App, layer: &Layer, whole: Rect, buffer: &mut Buffer) {
    match layer {
        Layer::Chooser(list) => chooser(app, list, list_area(whole, list.choices.len()), buffer),
        Layer::Form(filled) => form(app, filled, whole, buffer),
        Layer::Page(read) => page(app, read, whole, buffer),
        Layer::Question(asked) => question(app, asked, whole, buffer),
        Layer::Outing(planned) => super::outing::draw(app, planned, whole, buffer),
        Layer::Walk(walked) => super::walk::draw(app, walked, whole, buffer),
        Layer::Seat(shown) => {
            if let Some(editor) = app.editor() {
                super::seat::draw(app, editor, shown, whole, buffer);
            }
        }
        Layer::Build(view) => super::build::draw(app, view, whole, buffer),
        Layer::SeatTest(round) => super::seat_test::draw(app, round, whole, buffer),
        Layer::Interview(measured) => super::interview::draw(&app.look, measured, whole, buffer),
        Layer::Lights(view) => super::lights::draw(app, view, whole, buffer),
    }
}

/// First row of the list shown.
pub fn first_row(list: &Chooser, area: Rect) -> usize {
    super::panels::first_shown(list.row, usize::from(area.height.saturating_sub(4)), list.matches.len())
}

/// A frame with a title over a cleared area; its inside.
pub(super) fn frame(app: &App, title: &str, area: Rect, buffer: &mut Buffer) -> Rect {
    let area = area.intersection(buffer.area);
    Clear.render(area, buffer);
    let theme = &app.look.theme;
    let title = text::fit(title, area.width.saturating_sub(4), ascii(app));
    let block = Block::bordered()
        .border_style(theme.style(Role::Frame))
        .title(format!(" {title} "))
        .title_style(theme.style(Role::Accent).add_modifier(Modifier::BOLD));
    let block = if ascii(app) { block.border_set(ASCII_BORDER) } else { block.border_type(BorderType::Plain) };
    let inner = block.inner(area);
    block.render(area, buffer);
    Rect { x: inner.x + 1, width: inner.width.saturating_sub(2), ..inner }
}

const ASCII_BORDER: ratatui::symbols::border::Set<'static> = ratatui::symbols::border::Set {
    top_left: "+",
    top_right: "+",
    bottom_left: "+",
    bottom_right: "+",
    vertical_left: "|",
    vertical_right: "|",
    horizontal_top: "-",
    horizontal_bottom: "-",
};

fn chooser(app: &App, list: &Chooser, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let inner = frame(app, &list.title, area, buffer);
    let mut lines = text::rows(inner);
    let Some(typed) = lines.next() else { return };
    match list.verbs {
        Some(verbs) => {
            text::put(buffer, typed, verbs, theme.style(Role::Dim));
        }
        None => filter(app, list, typed, buffer),
    }
    lines.next();
    let first = first_row(list, area);
    for (row, line) in (first..list.matches.len()).zip(lines) {
        let Some(choice) = list.matches.get(row).and_then(|index| list.choices.get(*index)) else { break };
        let lit = row == list.row;
        let style = match (lit, choice.barred.is_some()) {
            (true, _) => theme.style(Role::Selected).add_modifier(Modifier::REVERSED),
            (false, true) => theme.style(Role::Dim),
            (false, false) => theme.style(Role::Text),
        };
        if lit {
            text::put(buffer, line, &" ".repeat(usize::from(line.width)), style);
        }
        let right = match &choice.barred {
            Some(why) if lit => why.clone(),
            _ => choice.detail.clone(),
        };
        let right = text::fit(&right, line.width * 3 / 5, ascii(app));
        let room = line.width.saturating_sub(text::width(&right) + 1);
        text::put(buffer, line, &text::fit(&choice.label, room, ascii(app)), style);
        text::put_right(buffer, line, &right, if lit { style } else { theme.style(Role::Dim) });
    }
}

/// The line that is typed into, and how much of the list it leaves.
fn filter(app: &App, list: &Chooser, typed: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let caret = if ascii(app) { "> " } else { "› " };
    let count = format!("{} of {}", list.matches.len(), list.choices.len());
    let room = typed.width.saturating_sub(text::width(&count) + 3);
    let (shown, at) = text::typed(list.input.value(), list.input.cursor(), room);
    text::put_all(buffer, typed, [(caret, theme.style(Role::Accent)), (shown.as_str(), theme.style(Role::Text))]);
    let cell = Rect { x: typed.x + 2 + at, width: 1, ..typed }.intersection(buffer.area);
    buffer.set_style(cell, theme.style(Role::Cursor).add_modifier(Modifier::REVERSED));
    text::put_right(buffer, typed, &count, theme.style(Role::Dim));
}

fn form(app: &App, filled: &Form, whole: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let (areas, first) = BoxAreas::of_form(filled, whole);
    frame(app, &filled.title, areas.outer, buffer);
    for (line, area) in text::wrap(&filled.help, areas.text.width).iter().zip(text::rows(areas.text)) {
        text::put(buffer, area, line, theme.style(Role::Dim));
    }
    let label_columns = filled.fields.iter().map(|f| text::width(&f.label)).max().unwrap_or(0) + 2;
    for ((index, field), line) in filled.fields.iter().enumerate().skip(first).zip(text::rows(areas.lines)) {
        let at = index == filled.at;
        text::put(
            buffer,
            Rect { width: label_columns, ..line },
            &field.label,
            theme.style(if at { Role::Text } else { Role::Dim }),
        );
        let value = Rect { x: line.x + label_columns, width: line.width.saturating_sub(label_columns), ..line };
        let fault = field.fault(filled.tape);
        let style = theme.style(if fault.is_some() && at { Role::Caution } else { Role::Text });
        let style = if at { style.add_modifier(Modifier::UNDERLINED) } else { style };
        let shown = field.input.value().to_string();
        let (shown, caret) = if at { text::typed(&shown, field.input.cursor(), value.width) } else { (shown, 0) };
        let taken = text::put(buffer, value, &shown, style);
        let mut rest = Rect { x: value.x + taken, width: value.width - taken, ..value };
        if at && !matches!(field.kind, FieldKind::OneOf(_)) {
            let cell = Rect { x: value.x + caret.min(value.width.saturating_sub(1)), width: 1, ..value };
            buffer
                .set_style(cell.intersection(buffer.area), theme.style(Role::Cursor).add_modifier(Modifier::REVERSED));
            rest.x += 1;
            rest.width = rest.width.saturating_sub(1);
        }
        let unit = match field.kind {
            FieldKind::Length => format!(" {}", crate::units::Measure(filled.tape).unit()),
            FieldKind::Number(unit) => format!(" {unit}"),
            FieldKind::OneOf(_) if at => "  space changes it".into(),
            _ => String::new(),
        };
        let has_unit = field.kind != FieldKind::Length
            || field.input.value().chars().all(|c| !c.is_alphabetic() && c != '"' && c != '\'');
        if has_unit {
            let taken = text::put(buffer, rest, &unit, theme.style(Role::Dim));
            rest.x += taken;
            rest.width -= taken;
        }
        if let Some(why) = fault.filter(|_| at) {
            text::put_right(
                buffer,
                rest,
                &text::fit(&why, rest.width.saturating_sub(1), ascii(app)),
                theme.style(Role::Caution),
            );
        }
    }
    let last = areas.last;
    match &filled.refused {
        Some(why) => text::put(buffer, last, &text::fit(why, last.width, ascii(app)), theme.style(Role::Caution)),
        None => text::put(buffer, last, "enter takes it, tab next field, esc leaves it", theme.style(Role::Dim)),
    };
}

/// The farthest a page can be scrolled: its end stands at the bottom of its frame.
pub fn last_scroll(read: &Page, whole: Rect) -> usize {
    let area = page_area(whole);
    let keys = 2 * u16::from(!read.verbs.is_empty());
    let rows = usize::from(area.height.saturating_sub(2 + keys));
    broken(read, area.width.saturating_sub(4)).len().saturating_sub(rows)
}

fn page_area(whole: Rect) -> Rect {
    centred(whole, 84, whole.height.saturating_sub(4).max(8))
}

fn broken(read: &Page, columns: u16) -> Vec<String> {
    read.lines.iter().flat_map(|line| text::wrap(line, columns)).collect()
}

fn page(app: &App, read: &Page, whole: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let inner = frame(app, &read.title, page_area(whole), buffer);
    let wrapped = broken(read, inner.width);
    let text_rows = verbs(app, read, inner, buffer);
    let first = read.scroll.min(last_scroll(read, whole));
    for (line, area) in wrapped.iter().skip(first).zip(text::rows(text_rows)) {
        let heading = is_heading(line);
        let style =
            if heading { theme.style(Role::Accent).add_modifier(Modifier::BOLD) } else { theme.style(Role::Text) };
        text::put(buffer, area, line, style);
    }
}

/// Writes the keys of a page into its last row; what is left for its text.
fn verbs(app: &App, read: &Page, inner: Rect, buffer: &mut Buffer) -> Rect {
    if read.verbs.is_empty() || inner.height < 3 {
        return inner;
    }
    let words: Vec<String> = read.verbs.iter().map(|verb| format!("{} {}", verb.key, verb.words)).collect();
    let line = Rect { y: inner.y + inner.height - 1, height: 1, ..inner };
    let words = text::fit(&(words.join("  ") + "  esc leaves it"), line.width, ascii(app));
    text::put(buffer, line, &words, app.look.theme.style(Role::Dim));
    Rect { height: inner.height - 2, ..inner }
}

fn question(app: &App, asked: &Question, whole: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let areas = BoxAreas::of_question(asked, whole);
    frame(app, &asked.title, areas.outer, buffer);
    let wrapped = asked.text.iter().flat_map(|line| text::wrap(line, areas.text.width));
    for (line, area) in wrapped.zip(text::rows(areas.text)) {
        text::put(buffer, area, &line, theme.style(Role::Text));
    }
    for ((letter, words, _), area) in asked.answers.iter().zip(text::rows(areas.lines)) {
        let key = format!("{letter}  ");
        text::put_all(buffer, area, [(key.as_str(), theme.style(Role::Accent)), (words, theme.style(Role::Text))]);
    }
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
