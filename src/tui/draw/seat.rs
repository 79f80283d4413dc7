//! What is seen from the seat: the picture in degrees with its axes, and the screens with their figures.

use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Modifier;
use ratatui::widgets::{Clear, Widget};

use super::panels::{first_shown, mark, role};
use super::text;
use crate::checks::Severity;
use crate::geometry::Spot;
use crate::plan::{Plan, Posture};
use crate::sheets;
use crate::study::sight::{Eye, Seen, View, eye};
use crate::tui::app::{App, Editor};
use crate::tui::canvas::Canvas;
use crate::tui::cells::Brush;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{SEAT_KEYS, SeatView};
use crate::tui::seat_view::SeatPicture;
use crate::tui::theme::Role;
use crate::tui::view::Window;

/// Columns left of the picture for elevations.
const GUTTER: u16 = 8;
/// Heads of the figures of a screen, each over the right end of its column, and how wide the column is.
const COLUMNS: [(&str, u16); 6] =
    [("distance", 10), ("down", 9), ("to the side", 13), ("off glass", 11), ("letters", 11), ("hidden", 9)];
/// Columns of all the figures together.
const FIGURES: u16 = 63;

/// Draws it over the whole screen.
pub fn draw(app: &App, editor: &Editor, shown: &SeatView, whole: Rect, buffer: &mut Buffer) {
    Clear.render(whole.intersection(buffer.area), buffer);
    let sight = &editor.session.study().sight;
    let list_rows = (sight.items.len() as u16).clamp(1, (whole.height / 5).max(3));
    let [title_line, picture, axis, head, list, detail, keys] = Layout::vertical([
        Constraint::Length(1),
        Constraint::Min(4),
        Constraint::Length(1),
        Constraint::Length(1),
        Constraint::Length(list_rows),
        Constraint::Length(1),
        Constraint::Length(1),
    ])
    .areas(Rect { x: whole.x + 1, width: whole.width.saturating_sub(2), ..whole });
    let from = from_eye(editor, shown);
    title(app, editor, from, title_line, buffer);
    let [gutter, picture] = Layout::horizontal([Constraint::Length(GUTTER), Constraint::Min(1)]).areas(picture);
    paint(app, editor, from, shown, picture, buffer);
    let window = SeatPicture::window(picture, from.posture);
    elevations(app, &window, gutter, buffer);
    bearings(app, &window, Rect { x: picture.x, width: picture.width, ..axis }, buffer);
    heads(app, head, buffer);
    rows(app, editor, from, shown, list, buffer);
    if let Some(seen) = sight.items.get(shown.row) {
        let words = told(app, editor, from, seen);
        let words = text::fit(&words, detail.width, ascii(app));
        text::put(buffer, detail, &words, app.look.theme.style(Role::Text));
    }
    key_line(app, keys, buffer);
}

/// The eye that is looked from: as the seat is set, or standing.
fn from_eye(editor: &Editor, shown: &SeatView) -> Eye {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let set = study.sight.eyes.first().map_or(Posture::SeatedLow, |eye| eye.posture);
    let posture = if shown.standing { Posture::Standing } else { set };
    Eye { posture, at: eye(plan, &study.reach.body, posture) }
}

fn title(app: &App, editor: &Editor, from: Eye, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let bold = theme.style(Role::Accent).add_modifier(Modifier::BOLD);
    let height = app.look.tape.length(from.at.z);
    let words = format!("{}, eye {height} over the keel", sheets::posture_word(from.posture));
    let taken =
        text::put_all(buffer, area, [("Seat view", bold), ("  ", bold), (words.as_str(), theme.style(Role::Text))]);
    let items = &editor.session.study().sight.items;
    let failing = items.iter().filter(|seen| severity(editor, from, seen).is_some()).count();
    let count = match (items.len(), failing) {
        (0, _) => "nothing aboard must be seen".to_string(),
        (all, 0) => format!("{all} to be seen, all well"),
        (all, some) => format!("{some} of {all} not seen well"),
    };
    let rest = Rect { x: area.x + taken, width: area.width - taken, ..area };
    let style = theme.style(if failing > 0 { Role::Caution } else { Role::Dim });
    text::put_right(buffer, rest, &text::fit(&count, rest.width.saturating_sub(2), ascii(app)), style);
}

fn paint(app: &App, editor: &Editor, from: Eye, shown: &SeatView, area: Rect, buffer: &mut Buffer) {
    let (plan, study) = (editor.session.plan(), editor.session.study());
    let verdict =
        |seen: &Seen| severity(editor, from, seen).map(|severity| (role(severity), mark(severity, app.look.glyphs)));
    let chosen = study.sight.items.get(shown.row).map(|seen| seen.gear);
    let picture = SeatPicture { plan, study, eye: from, chosen, verdict: &verdict };
    let brush = Brush { theme: &app.look.theme, glyphs: app.look.glyphs };
    let mut canvas = Canvas::new(SeatPicture::window(area, from.posture));
    picture.paint(&mut canvas, &brush);
    canvas.render(&brush, buffer);
}

/// How a thing is seen from an eye: as the study has it, or looked at anew where the day never claims the posture.
fn view(editor: &Editor, from: Eye, seen: &Seen) -> Option<View> {
    let known = seen.views.iter().find(|view| view.posture == from.posture).cloned();
    known.or_else(|| {
        let study = editor.session.study();
        study.sight.view_from(editor.session.plan(), &study.rig, &study.reach.body, from, seen.gear)
    })
}

fn severity(editor: &Editor, from: Eye, seen: &Seen) -> Option<Severity> {
    let view = view(editor, from, seen).filter(|view| !view.faults.is_empty())?;
    Some(if view.is_seated() { Severity::Caution } else { Severity::Note })
}

/// Elevations in words at the left, as many as have room.
fn elevations(app: &App, window: &Window, area: Rect, buffer: &mut Buffer) {
    let step = if window.mm_per_row > 4.5 { 20 } else { 10 };
    for deg in (-80..=80).filter(|deg| deg % step == 0) {
        let row = window.place(Spot::new(0.0, f64::from(deg))).1.floor();
        if row < 0.0 || row >= f64::from(area.height) {
            continue;
        }
        let words = match deg {
            0 => "level".to_string(),
            up if up > 0 => format!("{up} up"),
            down => format!("{} down", -down),
        };
        let line = Rect { y: area.y + row as u16, height: 1, width: area.width - 1, ..area };
        text::put_right(buffer, line, &words, app.look.theme.style(Role::Dim));
    }
}

/// Bearings in words under the picture.
fn bearings(app: &App, window: &Window, area: Rect, buffer: &mut Buffer) {
    for deg in (-150_i32..=150).step_by(30) {
        let words = match deg {
            0 => "ahead".to_string(),
            -60 => "60 deg port".into(),
            60 => "60 deg stbd".into(),
            other => other.abs().to_string(),
        };
        let middle = window.place(Spot::new(f64::from(deg), 0.0)).0;
        let start = (middle - f64::from(text::width(&words)) / 2.0).round();
        if start < 0.0 || start + f64::from(text::width(&words)) > f64::from(area.width) {
            continue;
        }
        let line = Rect { x: area.x + start as u16, width: text::width(&words), ..area };
        text::put(buffer, line, &words, app.look.theme.style(Role::Dim));
    }
}

fn heads(app: &App, area: Rect, buffer: &mut Buffer) {
    let dim = app.look.theme.style(Role::Dim);
    text::put(buffer, area, "must be seen", dim);
    columns(COLUMNS.map(|(head, _)| head.to_string()), dim, area, buffer);
}

/// Figures at the right of a line, each at the right end of its column.
fn columns(cells: [String; 6], style: ratatui::style::Style, area: Rect, buffer: &mut Buffer) {
    let mut x = area.right().saturating_sub(FIGURES);
    for (words, (_, wide)) in cells.iter().zip(COLUMNS) {
        text::put_right(buffer, Rect { x, width: wide, ..area }.intersection(area), words, style);
        x += wide;
    }
}

fn rows(app: &App, editor: &Editor, from: Eye, shown: &SeatView, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let items = &editor.session.study().sight.items;
    let first = first_shown(shown.row, usize::from(area.height), items.len());
    for ((index, seen), line) in items.iter().enumerate().skip(first).zip(text::rows(area)) {
        let lit = index == shown.row;
        let style = theme.style(if lit { Role::Selected } else { Role::Text });
        let style = if lit { style.add_modifier(Modifier::REVERSED) } else { style };
        if lit {
            text::put(buffer, line, &" ".repeat(usize::from(line.width)), style);
        }
        let sign = severity(editor, from, seen);
        if let Some(sign) = sign {
            let style = if lit { style } else { theme.style(role(sign)) };
            text::put(buffer, line, mark(sign, app.look.glyphs), style);
        }
        let room = line.width.saturating_sub(FIGURES + 2);
        let name = Rect { x: line.x + 2, width: room, ..line };
        text::put(buffer, name, &text::fit(name_of(editor.session.plan(), seen), room, ascii(app)), style);
        if let Some(view) = view(editor, from, seen) {
            columns(cells(app, &view), style, line, buffer);
        }
    }
}

fn name_of<'a>(plan: &'a Plan, seen: &Seen) -> &'a str {
    plan.gear(seen.gear).map_or("", |gear| gear.label.as_str())
}

fn cells(app: &App, view: &View) -> [String; 6] {
    let look = &view.look;
    let up = if look.down_deg < 0.0 { " up" } else { "" };
    let side = match look.turn_deg {
        turn if turn.abs() < 0.5 => "ahead".to_string(),
        turn => format!("{:.0} deg {}", turn.abs(), if turn > 0.0 { "port" } else { "stbd" }),
    };
    let or_none = |value: Option<f64>, unit: &str| value.map_or(String::new(), |value| format!("{value:.0} {unit}"));
    [
        app.look.tape.length(look.distance_mm),
        format!("{:.0} deg{up}", look.down_deg.abs()),
        side,
        or_none(view.glass_deg, "deg"),
        or_none(view.text_arcmin, "arcmin"),
        if view.hidden_percent > 0.0 { format!("{:.0} %", view.hidden_percent) } else { "nothing".into() },
    ]
}

/// What speaks against the thing in question, and where it would pass.
fn told(app: &App, editor: &Editor, from: Eye, seen: &Seen) -> String {
    let name = name_of(editor.session.plan(), seen);
    let Some(view) = view(editor, from, seen) else { return name.to_string() };
    let what = if view.faults.is_empty() {
        let mirrors = match view.mirrored {
            Some(mirrored) if mirrored.up_deg > 0.0 => format!(", mirrors the sky {:.0} deg up", mirrored.up_deg),
            _ => String::new(),
        };
        format!("seen well{mirrors}")
    } else {
        sheets::fault_words(&view.faults)
    };
    let x = editor.session.study().rig.item(seen.gear).map(|item| item.at.x);
    let place = x.and_then(|x| seen.nearest_shift(x).map(|shift| x + shift));
    let passes = match place {
        Some(x) => {
            format!("; would pass {} from stern ({})", app.look.tape.length(x), sheets::bands_words(&seen.bands))
        }
        None if !view.faults.is_empty() && view.is_seated() => "; nowhere along the boat by this mount".to_string(),
        None => String::new(),
    };
    format!("{name}: {what}{passes}")
}

fn key_line(app: &App, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let mut rest = area;
    for (key, words) in SEAT_KEYS {
        if text::width(key) + text::width(words) + 1 > rest.width {
            break;
        }
        let pieces =
            [(*key, theme.style(Role::Accent)), (" ", theme.style(Role::Dim)), (*words, theme.style(Role::Dim))];
        let taken = text::put_all(buffer, rest, pieces) + 2;
        rest = Rect { x: rest.x + taken, width: rest.width.saturating_sub(taken), ..rest };
    }
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
