//! The editor of the day: opening it, and turning what it plans into edits.

use super::act;
use super::gear::edit;
use crate::edit::Edit;
use crate::plan::Outing;
use crate::tui::action::Action;
use crate::tui::app::App;
use crate::tui::layer::{Layer, OutingEditor};

/// Opens it on the plan's day.
pub(super) fn open(app: &mut App) {
    let Some(editor) = app.editor() else { return };
    let layer = OutingEditor::new(editor.session.plan());
    app.layers.push(Layer::Outing(Box::new(layer)));
}

/// Plans days one after the other, a step each; the first that is refused is the last.
pub(super) fn plan(app: &mut App, days: Vec<Outing>) {
    for outing in days {
        if !edit(app, Edit::SetOuting { outing: Box::new(outing) }) {
            break;
        }
    }
    follow(app);
}

/// Undoes a step, or redoes one.
pub(super) fn take_back(app: &mut App, forward: bool) {
    match super::barred(app, if forward { Action::Redo } else { Action::Undo }) {
        Some(why) => app.refuse(why),
        None => act::undo(app, forward),
    }
    follow(app);
}

/// The editor shows what the plan says now, and says what came of it where it had nothing to say itself.
fn follow(app: &mut App) {
    let said = app.toast.take();
    let Some(plan) = app.editor().map(|editor| editor.session.shared_plan()) else { return };
    let Some(Layer::Outing(layer)) = app.layers.last_mut() else { return };
    layer.follow(&plan);
    if let Some(said) = said.filter(|_| layer.said.is_none()) {
        layer.tell(said.text, said.refused);
    }
}
