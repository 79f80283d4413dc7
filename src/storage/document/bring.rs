//! Unsaved edits brought over to a version of the plan that somebody else wrote.

use std::sync::Arc;

use super::recall::Net;
use crate::compare::merge::{Conflict, Merged, apart, merge};
use crate::compare::name_of;
use crate::edit::Edit;
use crate::plan::parts::Part;
use crate::plan::{Name, Plan};
use crate::session::Session;

/// What came of bringing unsaved edits over to the plan that is on disk now.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brought {
    /// How many edits were not saved.
    pub edits: usize,
    /// What somebody else changed and is in the plan now, by name.
    pub taken: Vec<String>,
    /// What both changed, each to something else: the plan has mine.
    pub conflicts: Vec<Conflict>,
    /// Edits that could not be made again, with reasons.
    pub lost: Vec<String>,
}

/// What was done and never saved.
#[derive(Clone, Debug)]
pub(super) struct Unsaved {
    /// The plan that was on disk when it began, and what became of it; `None` where that is not known for sure.
    pub(super) grown: Option<(Arc<Plan>, Arc<Plan>)>,
    /// The same as edits.
    pub(super) net: Net,
}

impl Unsaved {
    /// Brings it over to a session that starts from the plan on disk: as one step, by merging. Where the merged plan
    /// would not be sound, each edit is made again by itself, and what cannot be made any more is lost.
    pub(super) fn onto(&self, session: &mut Session) -> Brought {
        let edits = self.net.count();
        let Some((base, mine)) = &self.grown else {
            return Brought { edits, lost: self.net.onto(session).1, ..Brought::default() };
        };
        let theirs = session.shared_plan();
        let merged = merge(base, mine, &theirs);
        let lost = match self.put(session, &merged) {
            Ok(()) => Vec::new(),
            // Edits name what they added by the number it got; where theirs has that number, they would change theirs.
            Err(_) if apart(base, mine, &theirs) != **mine => part_by_part(session, &merged),
            Err(_) => self.net.onto(session).1,
        };
        let name = |part: &Part| {
            let key = part.key();
            name_of(&theirs, &key).or_else(|| name_of(base, &key)).unwrap_or_default()
        };
        let taken = merged.taken.iter().map(name).collect();
        Brought { edits, taken, conflicts: merged.conflicts, lost }
    }

    /// Puts what the merged plan has beyond the session's into it; the reason if it is not sound.
    fn put(&self, session: &mut Session, merged: &Merged) -> Result<(), String> {
        let theirs = session.plan();
        let parts = theirs.differences(&merged.plan);
        let revisions = (theirs.revisions != merged.plan.revisions).then(|| merged.plan.revisions.clone());
        if parts.is_empty() && revisions.is_none() {
            return Ok(());
        }
        let purpose = match self.net.count() {
            1 => "bring over 1 unsaved edit".to_string(),
            count => format!("bring over {count} unsaved edits"),
        };
        let purpose = Name::new(purpose).map_err(|why| why.to_string())?;
        session.edit(Edit::Put { purpose, parts, revisions }).map(drop).map_err(|why| why.to_string())
    }
}

/// Puts in each part of a merged plan that is sound by itself; what is not, with reasons.
fn part_by_part(session: &mut Session, merged: &Merged) -> Vec<String> {
    let mut lost = Vec::new();
    for part in session.plan().differences(&merged.plan) {
        let key = part.key();
        let name = name_of(&merged.plan, &key).or_else(|| name_of(session.plan(), &key)).unwrap_or_default();
        let short: String = format!("bring over {name}").chars().take(80).collect();
        let put = Name::new(short).map_err(|why| why.to_string()).and_then(|purpose| {
            let edit = Edit::Put { purpose, parts: vec![part], revisions: None };
            session.edit(edit).map_err(|why| why.to_string())
        });
        if let Err(why) = put {
            lost.push(format!("{name}: {why}"));
        }
    }
    lost
}
