//! The Power panel opened: its rows at the left, the day of the battery they are about at the right.

use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Position, Rect};
use ratatui::style::Modifier;

use super::day::DayPicture;
use super::panels::{first_shown, list_lines, mark, role};
use super::text;
use crate::checks::Severity;
use crate::plan::GearId;
use crate::sheets::{day_words, remedy_words};
use crate::study::Study;
use crate::tui::app::{App, Editor, Thing};
use crate::tui::glyphs::Glyphs;
use crate::tui::panels::{Panel, PanelKind};
use crate::tui::theme::Role;
use crate::tui::update::sources;

/// Columns of the rows: on a narrow screen, and where there is room for their notes.
const ROWS: (u16, u16) = (27, 42);

/// Columns from which the rows have their notes.
const NOTES_FROM: u16 = 110;

/// Rows from which all of the words are told.
const WORDS_FROM: u16 = 14;

/// The battery a panel's row is about: itself, or the one that feeds the load; else the one with the least reserve.
fn battery(editor: &Editor, panel: &Panel) -> Option<GearId> {
    let study = editor.session.study();
    let row = panel.rows.get(editor.rows[PanelKind::Power.index()]);
    let here = row.and_then(|row| row.thing).and_then(|thing| match thing {
        Thing::Gear(id) if study.power.battery(id).is_some() => Some(id),
        Thing::Gear(id) => study.power.load(id)?.battery,
        _ => None,
    });
    here.or_else(|| weakest(study))
}

/// The battery with the least reserve of those that something draws on, else the first.
pub fn weakest(study: &Study) -> Option<GearId> {
    study.power.weakest().or(study.power.batteries.first()).map(|battery| battery.gear)
}

/// Where the parts of the opened panel stand.
struct Parts {
    head: Rect,
    words: Rect,
    rows: Rect,
    day: Rect,
}

impl Parts {
    fn at(area: Rect, words: u16) -> Self {
        let [head, words, body] =
            Layout::vertical([Constraint::Length(1), Constraint::Length(words), Constraint::Min(0)]).areas(area);
        let columns = if area.width >= NOTES_FROM { ROWS.1 } else { ROWS.0 };
        let [rows, day] = Layout::horizontal([Constraint::Length(columns), Constraint::Min(0)]).spacing(2).areas(body);
        Self { head, words, rows, day }
    }
}

/// What is said of a battery's day, in lines of the area.
fn words(editor: &Editor, battery: Option<GearId>, area: Rect) -> Vec<String> {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let Some(battery) = battery else { return vec!["no battery is aboard".into()] };
    let mut remedies = remedy_words(plan, study, battery);
    // What ends it for good comes first: the battery that would do.
    if study.day.battery(battery).is_some_and(|day| day.enough.is_some()) {
        remedies.rotate_right(1);
    }
    let large = area.height >= WORDS_FROM;
    let day = day_words(plan, study, battery).filter(|_| large || remedies.is_empty());
    let mut lines = day.map_or_else(Vec::new, |day| text::wrap(&day, area.width));
    lines.extend(as_many_as_fit(&remedies, area.width, 2));
    lines
}

/// The first of some items, parted by semicolons, that fit whole into so many lines.
fn as_many_as_fit(items: &[String], columns: u16, most: usize) -> Vec<String> {
    let lines = |count: &usize| text::wrap(&items[..*count].join("; "), columns);
    (1..=items.len()).rev().map(|count| lines(&count)).find(|lines| lines.len() <= most).unwrap_or_default()
}

/// Draws the panel.
pub fn draw(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    if area.is_empty() {
        return;
    }
    let panel = Panel::of(PanelKind::Power, sources(editor, app.look.tape));
    let battery = battery(editor, &panel);
    let words = words(editor, battery, area);
    let parts = Parts::at(area, words.len() as u16);
    head(app, editor, &panel, battery, parts.head, buffer);
    for (words, line) in words.iter().zip(text::rows(parts.words)) {
        text::put(buffer, line, words, app.look.theme.style(Role::Text));
    }
    let (chosen, first) = shown(editor, &panel, parts.rows);
    list_lines(app, &panel.rows, first, Some(chosen), editor.thing(), parts.rows, buffer);
    let day = battery.and_then(|battery| editor.session.study().day.battery(battery));
    let outing = &editor.session.plan().outing;
    DayPicture { look: &app.look, outing, battery: day, lit: None }.draw(parts.day, buffer);
}

/// The row of the panel that stands in a line of the screen.
pub fn row_at(app: &App, editor: &Editor, area: Rect, cell: Position) -> Option<usize> {
    let panel = Panel::of(PanelKind::Power, sources(editor, app.look.tape));
    let words = words(editor, battery(editor, &panel), area);
    let rows = Parts::at(area, words.len() as u16).rows;
    let (_, first) = shown(editor, &panel, rows);
    let row = first + usize::from(cell.y.checked_sub(rows.y)?);
    (rows.contains(cell) && row < panel.rows.len()).then_some(row)
}

/// The chosen row, and the first that is shown.
fn shown(editor: &Editor, panel: &Panel, rows: Rect) -> (usize, usize) {
    let chosen = editor.rows[PanelKind::Power.index()].min(panel.rows.len().saturating_sub(1));
    (chosen, first_shown(chosen, usize::from(rows.height), panel.rows.len()))
}

/// Title, how the battery's day ends, and at the right what the day takes of what there is.
fn head(app: &App, editor: &Editor, panel: &Panel, battery: Option<GearId>, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let title = theme.style(Role::Accent).add_modifier(Modifier::BOLD | Modifier::UNDERLINED);
    let taken = text::put(buffer, area, PanelKind::Power.title(), title) + 2;
    let was =
        panel.was.as_ref().map_or_else(String::new, |was| format!("{was} {} ", if ascii(app) { "->" } else { "→" }));
    let of =
        panel.gauge.as_ref().map_or_else(String::new, |(share, words)| format!(", {:.0} % {words}", share * 100.0));
    let right = format!("{was}{}{of}", panel.headline);
    let rest = Rect { x: area.x + taken.min(area.width), width: area.width.saturating_sub(taken), ..area };
    text::put_right(buffer, rest, &text::fit(&right, rest.width, ascii(app)), theme.style(Role::Dim));
    let Some((words, weight)) = battery.and_then(|battery| ending(editor, battery)) else { return };
    let room = rest.width.saturating_sub(text::width(&right) + 2);
    let marked = weight.map_or_else(|| words.clone(), |weight| format!("{} {words}", mark(weight, app.look.glyphs)));
    let style = theme.style(weight.map_or(Role::Text, role));
    text::put(buffer, rest, &text::fit(&marked, room, ascii(app)), style);
}

/// How a battery's day ends, in few words: `battery flat at 14:22`, `battery leaves 43 %`.
fn ending(editor: &Editor, battery: GearId) -> Option<(String, Option<Severity>)> {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let (day, label) = (study.day.battery(battery)?, &plan.gear(battery)?.label);
    let moment = |after| plan.outing.moment(after);
    let ends = match (day.empty, day.used_up) {
        (Some(empty), _) => format!("flat {}", moment(empty)),
        (None, Some(used_up)) => format!("used up {}", moment(used_up)),
        (None, None) => format!("leaves {:.0} %", day.reserve_percent.max(0.0)),
    };
    let about =
        |finding: &&crate::checks::Finding| finding.check == "battery-short" && finding.subject.gear() == Some(battery);
    let weight = editor.session.findings().iter().find(about).map(|finding| finding.severity);
    Some((format!("{label} {ends}"), weight))
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
