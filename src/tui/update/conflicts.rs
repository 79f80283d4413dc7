//! What two changed at once, each to something else: listed, with mine kept until theirs is taken.

use std::sync::Arc;

use super::revisions;
use crate::compare::merge::Conflict;
use crate::sheets::change_words;
use crate::tui::app::App;
use crate::tui::layer::{Choice, Chooser, Layer, Purpose, Value};
use crate::units::Measure;

/// Lists what both changed; nothing where there is nothing.
pub fn list_conflicts(app: &mut App, conflicts: Vec<Conflict>) {
    if conflicts.is_empty() {
        return;
    }
    let title = match conflicts.len() {
        1 => "changed by both: 1 thing; yours is kept".to_string(),
        count => format!("changed by both: {count} things; yours are kept"),
    };
    let conflicts = Arc::new(conflicts);
    let mut choices = vec![Choice::new("keep yours", "nothing is changed", Value::Nothing)];
    choices.extend((0..conflicts.len()).flat_map(|index| lines(&conflicts, index, app.look.tape)));
    choices.push(Choice::new("take all of theirs", "one step", Value::Theirs(conflicts, None)));
    app.layers.push(Layer::Chooser(Chooser::new(title, Purpose::Conflicts, choices)));
}

/// What they did, to be taken, and below it what I did.
fn lines(conflicts: &Arc<Vec<Conflict>>, index: usize, tape: Measure) -> [Choice; 2] {
    let conflict = &conflicts[index];
    let name = conflict.mine.name.as_str();
    let (mine, theirs) = (change_words(&conflict.mine, tape), change_words(&conflict.theirs, tape));
    let take = Value::Theirs(Arc::clone(conflicts), Some(index));
    let kept = Choice::new("  yours, kept", mine.clone(), Value::Nothing).also(name).barred(Some(mine));
    [Choice::new(name, format!("theirs {theirs}"), take), kept]
}

/// Takes theirs of one thing, and lists what is left, or of all.
pub(super) fn chosen(app: &mut App, value: &Value) {
    let Value::Theirs(conflicts, which) = value else { return };
    let mut left = Vec::clone(conflicts);
    let (what, taken) = match *which {
        Some(index) if index < left.len() => {
            let one = left.remove(index);
            (one.mine.name.clone(), vec![one])
        }
        Some(_) => return,
        None => ("all that both changed".into(), std::mem::take(&mut left)),
    };
    let parts = taken.into_iter().map(|conflict| conflict.part).collect();
    let done = revisions::put(app, &format!("take theirs of {what}"), parts);
    // What would not be sound by itself may be so with the rest.
    list_conflicts(app, if done { left } else { Vec::clone(conflicts) });
}
