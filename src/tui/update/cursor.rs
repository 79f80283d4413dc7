//! The cursor, the view, the rows of panels: moving about without changing the plan.

use crate::checks::Subject;
use crate::geometry::Spot;
use crate::tui::app::{App, Editor, FINDINGS_ROW, Focus, Screen, Thing};
use crate::tui::areas::Areas;
use crate::tui::panels::{Panel, Sources};
use crate::tui::view::{View, snapped};

/// Grid steps of a leap.
pub(super) const LEAP: f64 = 8.0;

/// How far off the hull the cursor may go, mm: an arm or a pole hangs over.
const OVERBOARD_MM: f64 = 300.0;

/// Moves the cursor by grid steps forward and to port.
pub(super) fn step(app: &mut App, forward: f64, port: f64) {
    let pitch = app.look.tape.grid_pitch().to_mm();
    let Some(editor) = app.editor_mut() else { return };
    let from = snapped(editor.cursor, pitch);
    go(app, Spot::new(from.x + forward * pitch, from.y + port * pitch));
}

/// Moves the cursor to a spot, kept near the hull, and whatever is in hand with it.
pub(super) fn go(app: &mut App, to: Spot) {
    let Some(editor) = app.editor_mut() else { return };
    let (low, high) = editor.session.plan().hull.form.deck_outline().bounds();
    editor.cursor = Spot::new(
        to.x.clamp(low.x - OVERBOARD_MM, high.x + OVERBOARD_MM),
        to.y.clamp(low.y - OVERBOARD_MM, high.y + OVERBOARD_MM),
    );
    editor.chosen = None;
    super::refresh_preview(editor);
    keep_in_view(app);
}

/// Shifts the view so that the cursor is on the screen.
pub(super) fn keep_in_view(app: &mut App) {
    let deck = Areas::of(app).deck;
    if let Some(editor) = app.editor_mut() {
        editor.view = editor.view.showing(&editor.session.plan().hull, deck, editor.cursor);
    }
}

pub(super) fn to_end(app: &mut App, bow: bool) {
    let Some(editor) = app.editor() else { return };
    let (low, high) = editor.session.plan().hull.form.deck_outline().bounds();
    let to = Spot::new(if bow { high.x } else { low.x }, editor.cursor.y);
    go(app, to);
}

pub(super) fn to_centreline(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let to = Spot::new(editor.cursor.x, 0.0);
    go(app, to);
}

pub(super) fn zoom(app: &mut App, closer: bool) {
    let deck = Areas::of(app).deck;
    let Some(editor) = app.editor_mut() else { return };
    let hull = &editor.session.plan().hull;
    let about = editor.cursor;
    editor.view = if closer { editor.view.closer(hull, deck, about) } else { editor.view.farther(hull, deck, about) };
}

pub(super) fn whole(app: &mut App) {
    if let Some(editor) = app.editor_mut() {
        editor.view = View::default();
    }
}

/// Pans by columns forward and rows to port.
pub(super) fn pan(app: &mut App, columns: f64, rows: f64) {
    let deck = Areas::of(app).deck;
    let Some(editor) = app.editor_mut() else { return };
    editor.view = editor.view.panned(&editor.session.plan().hull, deck, columns, rows);
}

/// Goes to the next or previous finding that has a place.
pub(super) fn finding(app: &mut App, by: isize) {
    let Some(editor) = app.editor_mut() else { return };
    let count = editor.session.findings().len() as isize;
    let start = editor.finding.map_or(if by > 0 { -1 } else { count }, |at| at as isize);
    let next = (start + by).rem_euclid(count.max(1)) as usize;
    show_finding(app, next);
}

/// Shows a finding: the cursor at its place, its row chosen, its words said.
pub(super) fn show_finding(app: &mut App, index: usize) {
    let Some(editor) = app.editor_mut() else { return };
    let Some(finding) = editor.session.findings().get(index) else { return };
    let (at, subject) = (finding.at, finding.subject);
    editor.finding = Some(index);
    editor.rows[FINDINGS_ROW] = index;
    let chosen = match subject {
        Subject::Circuit(id) => Some(Thing::Circuit(id)),
        subject => subject.gear().map(Thing::Gear),
    };
    if let Some(at) = at {
        go(app, at.spot());
    }
    if let Some(editor) = app.editor_mut() {
        editor.chosen = chosen;
    }
}

/// Goes to a thing: the cursor at its spot, the thing chosen.
pub(super) fn show(app: &mut App, thing: Thing) {
    let spot = app.editor().and_then(|editor| editor.spot_of(thing));
    if let Some(spot) = spot {
        go(app, spot);
    }
    if let Some(editor) = app.editor_mut() {
        editor.chosen = Some(thing);
    }
}

/// Moves the chosen row of what has the focus; what the row is about lights up on deck.
pub(super) fn row(app: &mut App, by: isize) {
    let moved = |row: usize, rows: usize| (row as isize + by).clamp(0, rows.saturating_sub(1) as isize) as usize;
    if let Screen::Start { row } = &app.screen {
        let rows = super::lists::start_choices(app).len();
        app.screen = Screen::Start { row: moved(*row, rows) };
        return;
    }
    let tape = app.look.tape;
    let Some(editor) = app.editor_mut() else { return };
    match editor.focus {
        Focus::Deck => {}
        Focus::Findings => {
            let next = moved(editor.rows[FINDINGS_ROW], editor.session.findings().len());
            show_finding(app, next);
        }
        Focus::Panel(kind) => {
            let panel = Panel::of(kind, sources(editor, tape));
            let next = moved(editor.rows[kind.index()], panel.rows.len());
            editor.rows[kind.index()] = next;
            if let Some(thing) = panel.rows.get(next).and_then(|row| row.thing) {
                show(app, thing);
            }
        }
    }
}

/// What the panels are made from.
pub(crate) fn sources(editor: &Editor, tape: crate::units::Measure) -> Sources<'_> {
    Sources {
        plan: editor.session.plan(),
        study: editor.session.study(),
        findings: editor.session.findings(),
        before: editor.session.previous().map(|(study, _)| study),
        tape,
    }
}
