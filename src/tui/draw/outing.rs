//! The editor of the day: the day to scale, the rows of the phase in question, and what comes of it.

mod rows;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect};
use ratatui::style::Modifier;
use ratatui::widgets::{Clear, Widget};

pub use rows::row_at;

use super::day::{self, DayPicture};
use super::interview::key_line;
use super::{power, text};
use crate::checks::Severity;
use crate::sheets::{day_words, remedy_words};
use crate::tui::app::{App, Editor};
use crate::tui::areas::OutingAreas;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{OUTING_KEYS, OutingEditor, trimmed};
use crate::tui::theme::Role;
use crate::tui::words;
use crate::units::Quantity;

/// Draws the editor over the whole screen.
pub fn draw(app: &App, planned: &OutingEditor, whole: Rect, buffer: &mut Buffer) {
    let whole = whole.intersection(buffer.area);
    Clear.render(whole, buffer);
    let areas = OutingAreas::at(whole);
    let Some(editor) = app.editor() else { return };
    title(app, planned, areas.title, buffer);
    let study = editor.session.study();
    let battery = power::weakest(study).and_then(|battery| study.day.battery(battery));
    let picture = DayPicture { look: &app.look, outing: planned.outing(), battery, lit: planned.phase() };
    picture.draw(areas.day, buffer);
    heading(app, planned, areas.heading, buffer);
    rows::draw(&app.look, planned, &areas, buffer);
    if planned.phase().is_none() {
        batteries(app, editor, areas.second, buffer);
    }
    result(app, editor, areas.result, buffer);
    said(app, planned, areas.said, buffer);
    key_line(&app.look, OUTING_KEYS, areas.keys, buffer);
}

/// The phase that is drawn at a cell.
pub fn phase_at(planned: &OutingEditor, areas: &OutingAreas, cell: Position) -> Option<usize> {
    areas.day.contains(cell).then(|| day::phase_at(planned.outing(), areas.day, cell.x)).flatten()
}

fn title(app: &App, planned: &OutingEditor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let day = planned.outing();
    let hours = format!("{} h", trimmed(day.hours().base()));
    let right = match day.starts {
        Some(starts) => format!("{starts} to {}, {hours}", starts.after(day.hours())),
        None => hours,
    };
    let bold = theme.style(Role::Accent).add_modifier(Modifier::BOLD);
    let taken = text::put(buffer, area, "Plan the day", bold) + 2;
    let room = area.width.saturating_sub(taken + text::width(&right) + 2);
    let name = Rect { x: area.x + taken.min(area.width), width: room, ..area };
    text::put(buffer, name, &text::fit(day.name.as_str(), room, ascii(app)), theme.style(Role::Text));
    text::put_right(buffer, area, &text::fit(&right, area.width, ascii(app)), theme.style(Role::Dim));
}

/// What the rows are about: the day, or a phase with its times.
fn heading(app: &App, planned: &OutingEditor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let day = planned.outing();
    let (what, when) = match planned.phase().and_then(|index| Some((index, day.phases.get(index)?))) {
        None => ("the day itself".to_string(), String::new()),
        Some((index, phase)) => {
            let (begins, ends) = (day.begins(index), day.begins(index + 1));
            let when = match day.starts {
                Some(starts) => format!("{} to {}", starts.after(begins), starts.after(ends)),
                None => format!("{} to {} h", trimmed(begins.base()), trimmed(ends.base())),
            };
            (phase.name.to_string(), format!("{when}, phase {} of {}", index + 1, day.phases.len()))
        }
    };
    let room = area.width.saturating_sub(text::width(&when) + 2);
    let bold = theme.style(Role::Text).add_modifier(Modifier::BOLD);
    let taken = text::put(buffer, area, &text::fit(&what, room, ascii(app)), bold) + 2;
    let rest = Rect { x: area.x + taken.min(area.width), width: area.width.saturating_sub(taken), ..area };
    text::put(buffer, rest, &text::fit(&when, rest.width, ascii(app)), theme.style(Role::Dim));
}

/// How each battery's day goes, and what would do.
fn batteries(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let said = study.day.batteries.iter().flat_map(|battery| {
        let day = day_words(plan, study, battery.gear);
        day.into_iter().chain(remedy_words(plan, study, battery.gear))
    });
    let lines = said.flat_map(|said| text::wrap(&said, area.width));
    for (words, line) in lines.zip(text::rows(area)) {
        text::put(buffer, line, &words, app.look.theme.style(Role::Dim));
    }
}

fn result(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let words = words::day::result(editor.session.plan(), editor.session.study());
    let weight = editor.session.findings().iter().filter(|finding| finding.check == "battery-short");
    let worst = weight.map(|finding| finding.severity).max();
    let role = worst.filter(|worst| *worst >= Severity::Caution).map_or(Role::Text, super::panels::role);
    let mark = worst.map_or("", |worst| super::panels::mark(worst, app.look.glyphs));
    let line = format!("{mark} {words}").trim_start().to_string();
    text::put(buffer, area, &text::fit(&line, area.width, ascii(app)), app.look.theme.style(role));
}

/// Why the line is not taken, what was done, or what the line does.
fn said(app: &App, planned: &OutingEditor, area: Rect, buffer: &mut Buffer) {
    let (words, role) = match &planned.said {
        Some(said) => (said.text.as_str(), if said.refused { Role::Caution } else { Role::Accent }),
        None => (planned.row().help(), Role::Dim),
    };
    text::put(buffer, area, &text::fit(words, area.width, ascii(app)), app.look.theme.style(role));
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
