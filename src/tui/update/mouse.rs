//! The mouse: everything it does, keys do too.

use crossterm::event::{MouseButton, MouseEvent, MouseEventKind};
use ratatui::layout::{Position, Rect};

use super::{Effect, answer, cursor, hand, perform};
use crate::geometry::Spot;
use crate::tui::app::{App, FINDINGS_ROW, Focus, Screen};
use crate::tui::areas::{Areas, BoxAreas, InterviewAreas, OutingAreas, list_area};
use crate::tui::draw::{build, findings, footer, interview, outing, panels, start};
use crate::tui::layer::{Layer, Reply};
use crate::tui::panels::PanelKind;
use crate::tui::view::snapped;

pub(super) fn take(app: &mut App, mouse: &MouseEvent) -> Vec<Effect> {
    let cell = Position::new(mouse.column, mouse.row);
    match mouse.kind {
        MouseEventKind::Down(MouseButton::Left) => down(app, cell),
        MouseEventKind::Drag(MouseButton::Left) => {
            drag(app, cell);
            Vec::new()
        }
        MouseEventKind::Up(MouseButton::Left) => {
            let dragging = app.editor().and_then(|e| e.hand.as_ref()).is_some_and(|h| h.dragging.is_some());
            if dragging {
                hand::set_down(app);
            }
            Vec::new()
        }
        MouseEventKind::ScrollUp => scroll(app, cell, -1),
        MouseEventKind::ScrollDown => scroll(app, cell, 1),
        _ => Vec::new(),
    }
}

fn down(app: &mut App, cell: Position) -> Vec<Effect> {
    app.toast = None;
    if !app.layers.is_empty() {
        return on_layer(app, cell);
    }
    let areas = Areas::of(app);
    if areas.footer.contains(cell) {
        let action = footer::action_at(app, areas.footer, cell.x);
        return action.map_or_else(Vec::new, |action| perform(app, action));
    }
    if let Screen::Start { row } = app.screen {
        let rows = super::lists::start_choices(app).len();
        let list = start::list_area(areas.whole, rows);
        return match row_in(list, cell).map(|line| line + start::first_row(row, list, rows)) {
            Some(row) if row < rows => super::lists::start_row(app, row),
            _ => Vec::new(),
        };
    }
    if areas.deck.contains(cell) {
        let pitch = app.look.tape.grid_pitch().to_mm();
        let carrying = app.editor().is_some_and(|e| e.hand.is_some());
        to_cell(app, areas.deck, cell, pitch, Spot::default());
        if carrying {
            hand::set_down(app);
        } else if let Some(editor) = app.editor_mut() {
            editor.focus = Focus::Deck;
        }
        return Vec::new();
    }
    if let Some((focus, row)) = list_at(app, &areas, cell) {
        if let Some(editor) = app.editor_mut() {
            editor.hand = None;
            editor.focus = focus;
            let rows = match focus {
                Focus::Panel(kind) => &mut editor.rows[kind.index()],
                _ => &mut editor.rows[FINDINGS_ROW],
            };
            *rows = row.unwrap_or(*rows);
        }
        cursor::row(app, 0);
    }
    Vec::new()
}

/// The panel or the findings under a cell, and the row of it that stands there.
fn list_at(app: &App, areas: &Areas, cell: Position) -> Option<(Focus, Option<usize>)> {
    let editor = app.editor()?;
    if areas.findings.contains(cell) {
        return Some((Focus::Findings, findings::index_at(editor, areas.findings, cell.y)));
    }
    let (kind, area) = match editor.focus {
        Focus::Panel(kind) if areas.opened.contains(cell) => (kind, areas.opened),
        _ => PanelKind::ALL.into_iter().zip(areas.panels).find(|(_, area)| area.contains(cell))?,
    };
    Some((Focus::Panel(kind), panels::row_at(app, editor, kind, area, cell)))
}

/// A click in front of everything: chooses a row, or closes the layer when outside it.
fn on_layer(app: &mut App, cell: Position) -> Vec<Effect> {
    let whole = Rect::new(0, 0, app.size.0, app.size.1);
    let chooser = match app.layers.last_mut() {
        Some(Layer::Chooser(chooser)) => chooser,
        Some(Layer::Form(form)) => {
            let (areas, first) = BoxAreas::of_form(form, whole);
            if let Some(row) = row_in(areas.lines, cell) {
                form.at = (first + row).min(form.fields.len().saturating_sub(1));
            }
            return Vec::new();
        }
        Some(Layer::Question(question)) => {
            let row = row_in(BoxAreas::of_question(question, whole).lines, cell);
            let given = row.and_then(|row| question.answers.get(row)).map(|(_, _, given)| given.clone());
            return given.map_or_else(Vec::new, |given| answer(app, Reply::Answered(given)));
        }
        Some(Layer::Interview(interview)) => {
            let list = InterviewAreas::at(whole).list;
            let row = list.contains(cell).then(|| interview::row_at(interview, list, cell.y)).flatten();
            if let Some(row) = row {
                interview.go(row);
            }
            return Vec::new();
        }
        Some(Layer::Outing(planned)) => {
            let areas = OutingAreas::at(whole);
            let reply = match (outing::row_at(planned, &areas, cell), outing::phase_at(planned, &areas, cell)) {
                (Some(row), _) => planned.go(row),
                (None, Some(phase)) => planned.go_to_phase(phase),
                (None, None) => Reply::Stay,
            };
            return answer(app, reply);
        }
        Some(Layer::SeatTest(_)) => return Vec::new(),
        Some(Layer::Build(_)) => {
            let Some(Layer::Build(view)) = app.layers.last() else { return Vec::new() };
            let row = build::row_at(app, view, cell.y);
            let Some(Layer::Build(view)) = app.layers.last_mut() else { return Vec::new() };
            let reply = row.map_or(Reply::Stay, |row| view.go(row));
            return answer(app, reply);
        }
        Some(Layer::Page(_) | Layer::Walk(_) | Layer::Lights(_) | Layer::Seat(_)) | None => {
            return answer(app, Reply::Close);
        }
    };
    let area = list_area(whole, chooser.choices.len());
    if !area.contains(cell) {
        app.layers.pop();
        return Vec::new();
    }
    let first = crate::tui::draw::layers::first_row(chooser, area);
    let Some(row) = usize::from(cell.y).checked_sub(usize::from(area.y) + 3) else { return Vec::new() };
    if first + row >= chooser.matches.len() {
        return Vec::new();
    }
    chooser.choose_row(first + row);
    let reply = match chooser.chosen() {
        Some(choice) if choice.barred.is_none() => Reply::Chosen(chooser.purpose, choice.value.clone()),
        _ => Reply::Stay,
    };
    answer(app, reply)
}

/// Dragging from gear picks it up; it is set down where the button is let go.
fn drag(app: &mut App, cell: Position) {
    if !app.layers.is_empty() {
        return;
    }
    let deck = Areas::of(app).deck;
    if !deck.contains(cell) {
        return;
    }
    let may = app.editor().is_some_and(|e| e.hand.is_none() && e.may_write());
    let under = app.editor().and_then(crate::tui::app::Editor::gear);
    if may && let Some(id) = under {
        let gripped = app.editor().map(|e| e.cursor);
        hand::take_gear(app, id);
        // Gear keeps the place it was gripped at: its middle does not jump under the pointer.
        if let (Some(editor), Some(gripped)) = (app.editor_mut(), gripped)
            && let Some(hand) = &mut editor.hand
        {
            hand.dragging = Some(editor.cursor - gripped);
        }
    }
    let pitch = app.look.tape.grid_pitch().to_mm();
    let grip = app.editor().and_then(|e| e.hand.as_ref()).and_then(|hand| hand.dragging).unwrap_or_default();
    to_cell(app, deck, cell, pitch, grip);
}

/// Moves the cursor to a cell, or beside it by the grip of what is dragged.
fn to_cell(app: &mut App, deck: Rect, cell: Position, pitch: f64, grip: Spot) {
    let Some(editor) = app.editor() else { return };
    let window = editor.view.window(&editor.session.plan().hull, deck);
    cursor::go(app, snapped(window.spot_of(cell) + grip, pitch));
}

fn scroll(app: &mut App, cell: Position, by: isize) -> Vec<Effect> {
    match app.layers.last_mut() {
        Some(Layer::Chooser(chooser)) => {
            let row = chooser.row as isize + by * 3;
            chooser.choose_row(row.max(0) as usize);
            return Vec::new();
        }
        Some(Layer::Page(page)) => {
            page.scroll = page.scroll.saturating_add_signed(by * 3);
            return Vec::new();
        }
        Some(Layer::Interview(interview)) => {
            interview.go(interview.at().saturating_add_signed(by));
            return Vec::new();
        }
        Some(Layer::Outing(planned)) => {
            let reply = planned.go(planned.at().saturating_add_signed(by));
            return answer(app, reply);
        }
        Some(Layer::Lights(view)) => {
            view.step(by);
            return Vec::new();
        }
        Some(_) => return Vec::new(),
        None => {}
    }
    let deck = Areas::of(app).deck;
    if deck.contains(cell) {
        let Some(editor) = app.editor_mut() else { return Vec::new() };
        let hull = &editor.session.plan().hull;
        let about = editor.view.window(hull, deck).spot_of(cell);
        editor.view =
            if by < 0 { editor.view.closer(hull, deck, about) } else { editor.view.farther(hull, deck, about) };
    } else {
        cursor::row(app, by);
    }
    Vec::new()
}

fn row_in(area: Rect, cell: Position) -> Option<usize> {
    area.contains(cell).then(|| usize::from(cell.y - area.y))
}
