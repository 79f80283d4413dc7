//! What only a person can decide: a save that met something, edits that were lost.

use crate::storage::atomic::SaveError;
use crate::storage::document::{Brought, DocumentError, Recoverable};
use crate::tui::app::App;
use crate::tui::layer::{Answer, Layer, Page, Question};
use crate::tui::update::list_conflicts;

/// The question that a failed save leads to, or a message where there is nothing to decide.
pub(super) fn ask_about(app: &mut App, error: DocumentError) {
    let question = |title: &str, text: String, answers| Question { title: title.into(), text: vec![text], answers };
    let layer = match error {
        DocumentError::Save(SaveError::Changed) => question(
            "the plan was changed on disk",
            "Somebody else saved it since you opened it. Writing over it keeps theirs only among the backups. Reading \
             theirs merges: what one of you changed is kept of both; what both changed stays yours and is listed. \
             Saving under another name (W) keeps both files."
                .into(),
            vec![
                ('o', "write over it", Answer::Overwrite),
                ('r', "read theirs, bring my edits over", Answer::Reload),
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
        text.push("The file has changed since; they are brought over to the plan as it is now.".into());
    }
    match lost.conflicts {
        0 => {}
        1 => text.push("1 thing was changed by both; it is listed then.".into()),
        count => text.push(format!("{count} things were changed by both; they are listed then.")),
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

/// What was read anew, in a line: `read anew with your 2 edits: crate and 1 more from disk`.
pub(super) fn read_anew(brought: &Brought) -> String {
    let edits = match brought.edits {
        0 => String::new(),
        1 => " with your edit".into(),
        count => format!(" with your {count} edits"),
    };
    let theirs = match brought.taken.as_slice() {
        [] => "it was changed on disk".into(),
        [one] => format!("{one} from disk"),
        [one, two] => format!("{one} and {two} from disk"),
        [one, more @ ..] => format!("{one} and {} more from disk", more.len()),
    };
    format!("read anew{edits}: {theirs}")
}

/// Shows what is left to a person after edits were brought over: first what was lost, then what both changed.
pub(super) fn left_over(app: &mut App, brought: Brought) {
    list_conflicts(app, brought.conflicts);
    if !brought.lost.is_empty() {
        let text = format!("What could not be done again on the plan as it is now:\n\n{}", brought.lost.join("\n\n"));
        app.layers.push(Layer::Page(Page::new("brought over in part", &text)));
    }
}
