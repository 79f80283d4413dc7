//! A suggestion: tried on a copy of the plan, then sent with a reason, or dropped.

use super::{Effect, talk};
use crate::plan::Note;
use crate::review::whereabouts::pin;
use crate::review::{Deed, NextNumbers};
use crate::tui::app::App;
use crate::tui::layer::{Answer, Layer, Question};
use crate::tui::voice::About;

/// Starts to try something; where that is going on, asks what is to become of it.
pub(super) fn suggest(app: &mut App) {
    let Some(editor) = app.editor_mut() else { return };
    if editor.draft.is_none() {
        editor.start_draft();
        app.say("try what you mean on a copy; @ suggests it to the owner or drops it");
        return;
    }
    if editor.session.edits().is_empty() {
        editor.end_draft();
        app.say("nothing was tried");
        return;
    }
    app.layers.push(Layer::Question(ask(app)));
}

/// What is to become of what was tried: asked also where a partner leaves with it.
pub(super) fn ask(app: &App) -> Question {
    let steps = app.editor().map_or(&[][..], |editor| {
        let history = editor.session.history();
        &history.steps()[1..=history.position()]
    });
    Question {
        title: match steps.len() {
            1 => "1 edit was tried".into(),
            n => format!("{n} edits were tried"),
        },
        text: steps.iter().map(|step| step.label.clone()).collect(),
        answers: vec![
            ('s', "suggest it", Answer::Suggest),
            ('d', "drop it", Answer::DropDraft),
            ('c', "go on trying", Answer::Nothing),
        ],
    }
}

/// Asks for the reason: without one the owner has to guess.
pub(super) fn reason(app: &mut App) {
    talk::ask(app, "why", About::Suggested);
}

pub(super) fn dropped(app: &mut App) -> Vec<Effect> {
    if let Some(editor) = app.editor_mut() {
        editor.end_draft();
    }
    app.say("dropped");
    Vec::new()
}

/// What is sent.
pub(super) fn deed(app: &App, text: Note) -> Option<Deed> {
    let editor = app.editor()?;
    let on = pin(editor.reviewed(), &editor.tried_on())?;
    let tried_on = editor.session.history().steps().first()?;
    let next = Some(NextNumbers::of(&tried_on.plan));
    Some(Deed::Suggest { on, text, edits: editor.session.edits().to_vec(), next })
}
