//! What is done to gear under the cursor or in hand: turn, mirror, mount, level, copy, ashore.

use super::hand::{change, take_gear, turned_by};
use crate::edit::Edit;
use crate::plan::{GearId, Level, Mount, Seat, Spec};
use crate::tui::app::{App, Editor, Thing};
use crate::units::Length;

/// Makes an edit and says what it was, or why not.
pub(super) fn edit(app: &mut App, edit: Edit) -> bool {
    let Some(editor) = app.editor_mut() else { return false };
    match editor.session.edit(edit) {
        Ok(label) => {
            app.say(label);
            true
        }
        Err(why) => {
            app.refuse(why.to_string());
            false
        }
    }
}

/// The gear in question.
fn here(app: &App) -> Option<GearId> {
    app.editor().and_then(Editor::gear)
}

/// Keeps gear chosen that an edit moved from under the cursor.
fn stay_on(app: &mut App, id: GearId) {
    super::cursor::show(app, Thing::Gear(id));
}

pub(super) fn turn(app: &mut App, deg: f64) {
    if change(app, |hand, _| hand.place.turn = turned_by(hand.place.turn, deg)) {
        return;
    }
    let Some(id) = here(app) else { return };
    let Some(now) = app.editor().and_then(|e| e.session.plan().gear(id)).and_then(|g| g.place) else { return };
    edit(app, Edit::Turn { gear: id, to: turned_by(now.turn, deg) });
}

pub(super) fn mirror(app: &mut App) {
    let Some(id) = here(app) else { return };
    if edit(app, Edit::Mirror { gear: id }) {
        stay_on(app, id);
    }
}

pub(super) fn next_mount(app: &mut App) {
    if change(app, |hand, spec| hand.mount = mount_after(spec, hand.mount)) {
        return;
    }
    let Some(id) = here(app) else { return };
    let Some((now, next)) =
        app.editor().and_then(|e| e.session.plan().gear(id)).map(|g| (g.mount, mount_after(&g.spec, g.mount)))
    else {
        return;
    };
    if now == next {
        app.refuse(format!("it can only be held by {}", now.word()));
        return;
    }
    edit(app, Edit::SetMount { gear: id, how: next });
}

fn mount_after(spec: &Spec, now: Mount) -> Mount {
    let at = spec.mounts.iter().position(|m| m.how == now).map_or(0, |at| at + 1);
    spec.mounts.get(at).or(spec.mounts.first()).map_or(now, |m| m.how)
}

pub(super) fn next_level(app: &mut App) {
    let after = |level| match level {
        Level::Deck => Level::Inside,
        Level::Inside => Level::Under,
        Level::Under => Level::Deck,
    };
    if change(app, |hand, _| hand.place.level = after(hand.place.level)) {
        return;
    }
    let Some(id) = here(app) else { return };
    let Some(now) = app.editor().and_then(|e| e.session.plan().gear(id)).and_then(|g| g.place) else { return };
    edit(app, Edit::SetLevel { gear: id, level: after(now.level) });
}

pub(super) fn duplicate(app: &mut App) {
    let Some(id) = here(app) else { return };
    if edit(app, Edit::Duplicate { gear: id }) {
        let copy = app.editor().and_then(|e| e.session.plan().gear.last()).map(|g| g.id);
        if let Some(copy) = copy {
            take_gear(app, copy);
        }
    }
}

pub(super) fn put_ashore(app: &mut App) {
    let Some(id) = here(app) else {
        super::hand::let_go(app);
        return;
    };
    if let Some(editor) = app.editor_mut() {
        editor.hand = None;
        editor.chosen = None;
    }
    edit(app, Edit::PutAshore { gear: id });
}

pub(super) fn strike(app: &mut App) {
    let Some(id) = here(app) else {
        super::hand::let_go(app);
        return;
    };
    if let Some(editor) = app.editor_mut() {
        editor.hand = None;
        editor.chosen = None;
    }
    edit(app, Edit::Strike { gear: id });
}

/// Moves the seat by notches of its rail.
pub(super) fn nudge_seat(app: &mut App, notches: f64) {
    let Some(editor) = app.editor() else { return };
    let plan = editor.session.plan();
    let back = plan.angler.seat.back.to_mm() + notches * plan.hull.seat.step.to_mm();
    let seat = Seat { back: Length::mm(back), ..plan.angler.seat.clone() };
    edit(app, Edit::SetSeat { seat });
}
