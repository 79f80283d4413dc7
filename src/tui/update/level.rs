//! What moves the boat level: the list of proposals, and making one of them.

use std::sync::Arc;

use super::{cursor, lists};
use crate::sheets;
use crate::study::float::moves::Proposal;
use crate::tui::app::{App, Thing};
use crate::tui::layer::{Choice, Purpose, Value};

/// Lists the proposals; says so where there is nothing to propose.
pub(super) fn list(app: &mut App) {
    let tape = app.look.tape;
    let Some(editor) = app.editor() else { return };
    if editor.hand.is_some() {
        app.refuse("set it down first");
        return;
    }
    let (plan, moves) = (editor.session.plan(), editor.session.level());
    let Some(now) = moves.now.filter(|_| !moves.proposals.is_empty()) else {
        let verdict = sheets::verdict(plan, editor.session.study(), &moves);
        if moves.can_be_level() {
            app.say(verdict);
        } else {
            app.refuse(verdict);
        }
        return;
    };
    let off = moves.off;
    let choices = moves.proposals.into_iter().map(|proposal| {
        let (words, after) = sheets::proposal_words(plan, &proposal, tape);
        Choice::new(words, after, Value::Level(Arc::new(proposal)))
    });
    let choices = choices.collect();
    let title = format!("what moves it level: now {}", sheets::lies(now, off));
    lists::open_list(app, &title, Purpose::Level, choices);
}

/// Makes the moves, as one step.
pub(super) fn make(app: &mut App, proposal: &Proposal) {
    let Some(editor) = app.editor_mut() else { return };
    if !editor.may_write() {
        app.refuse("this plan can only be looked at");
        return;
    }
    match editor.session.move_level(proposal) {
        Ok(label) => {
            if let Some(gear) = proposal.moves.iter().find_map(|one| one.gear()) {
                cursor::show(app, Thing::Gear(gear));
            }
            app.say(label);
        }
        Err(why) => app.refuse(why.to_string()),
    }
}
