//! Then and now on the deck: which other state of the plan is laid over it.

use std::sync::Arc;

use crate::plan::Plan;
use crate::review::{Outlook, ThreadRef};
use crate::tui::app::{App, Editor, Overlay};
use crate::tui::compared::Compared;

/// Lays the state over the deck that was chosen last, else the one kept last, else the plan as it was opened; or takes
/// it away.
pub(super) fn switch(app: &mut App) {
    let Some(editor) = app.editor_mut() else { return };
    if editor.overlay == Some(Overlay::Compared) {
        editor.overlay = None;
        return;
    }
    // A copy to try on is looked at beside the plan it was made of.
    let chosen = editor.compared.take().filter(|_| editor.draft.is_none());
    match chosen.or_else(|| last(editor)) {
        Some(other) => lay(editor, other),
        None => app.say("nothing was changed, and no other state is kept; I keeps one"),
    }
}

/// Lays a kept state over the deck.
pub(super) fn kept(app: &mut App, index: usize) {
    let Some(editor) = app.editor_mut() else { return };
    let revision = editor.session.plan().revisions.get(index);
    let Some((name, plan)) = revision.map(|kept| (since(kept.name.as_str()), kept.plan.clone())) else { return };
    lay(editor, Compared::new(name, Arc::new(Plan::clone(&plan))));
}

/// Lays over the deck what a suggestion would make of the plan.
pub(super) fn suggested(app: &mut App, thread: &ThreadRef) {
    let tape = app.look.tape;
    let Some(editor) = app.editor_mut() else { return };
    let suggestion = editor.voice.talk.thread(thread).and_then(|thread| thread.suggestion.as_ref());
    let would = suggestion.and_then(|suggestion| Outlook::of(editor.side(), suggestion, tape).plan);
    match would {
        Some(plan) => {
            app.layers.clear();
            if let Some(editor) = app.editor_mut() {
                lay(editor, Compared::new(format!("as {} suggests, seen from there", thread.by), Arc::new(plan)));
            }
        }
        None => app.refuse("it cannot be done any more"),
    }
}

fn lay(editor: &mut Editor, other: Compared) {
    // Two states may differ from the plan in the same counts.
    editor.still = None;
    editor.compared = Some(other);
    editor.overlay = Some(Overlay::Compared);
}

/// The latest state that is not as the plan is now.
fn last(editor: &Editor) -> Option<Compared> {
    let now = editor.session.plan();
    let differs = |plan: &Plan| !plan.differences(now).is_empty();
    if editor.draft.is_some() {
        let plan = editor.reviewed();
        return differs(plan).then(|| Compared::new("beside the plan".into(), Arc::new(plan.clone())));
    }
    let kept = now.revisions.iter().rev().find(|kept| differs(&kept.plan));
    if let Some(kept) = kept {
        return Some(Compared::new(since(kept.name.as_str()), Arc::new(Plan::clone(&kept.plan))));
    }
    let opened = &editor.opened;
    differs(opened).then(|| Compared::new("since it was opened".into(), Arc::clone(opened)))
}

fn since(name: &str) -> String {
    format!("since \"{name}\"")
}
