//! What only a person can decide: a save that met something, edits that were lost.

use crate::storage::atomic::SaveError;
use crate::storage::document::{DocumentError, Recoverable};
use crate::tui::app::App;
use crate::tui::layer::{Answer, Layer, Question};

/// The question that a failed save leads to, or a message where there is nothing to decide.
pub(super) fn ask_about(app: &mut App, error: DocumentError) {
    let question = |title: &str, text: String, answers| Question { title: title.into(), text: vec![text], answers };
    let layer = match error {
        DocumentError::Save(SaveError::Changed) => question(
            "the plan was changed on disk",
            "Somebody else saved it since you opened it. Writing over it keeps theirs only among the backups. Reading \
             theirs makes your edits again on top of it. Saving under another name (W) keeps both."
                .into(),
            vec![
                ('o', "write over it", Answer::Overwrite),
                ('r', "read theirs, make my edits again", Answer::Reload),
                ('c', "go on working", Answer::Nothing),
            ],
        ),
        DocumentError::Save(SaveError::NeedsInPlace(why)) => question(
            "this file cannot be replaced, only written in place",
            format!("{why}. A copy of the old plan is kept first."),
            vec![('w', "write in place", Answer::WriteInPlace), ('c', "leave it", Answer::Nothing)],
        ),
        other => {
            app.refuse(format!("not saved: {other}"));
            return;
        }
    };
    app.layers.push(Layer::Question(layer));
}

/// The question about edits that the last session left unsaved.
pub(super) fn recovery(lost: &Recoverable) -> Question {
    let mut text = vec![match lost.edits.last() {
        Some(last) => format!("The last session ended without saving. Last of them: {last}."),
        None => "The last session ended without saving.".into(),
    }];
    if lost.changed_underneath {
        text.push("The file has changed since; they are made again on the plan as it is now.".into());
    }
    if !lost.lost.is_empty() {
        text.push(format!("{} of them no longer apply.", lost.lost.len()));
    }
    Question {
        title: match lost.edits.len() {
            1 => "1 edit was not saved".into(),
            n => format!("{n} edits were not saved"),
        },
        text,
        answers: vec![('r', "recover them", Answer::Recover), ('d', "set them aside for 30 days", Answer::Discard)],
    }
}
