//! Named earlier states: kept, forgotten, and parts of them brought back.

use super::apply::{Refusal, refuse, sound};
use crate::plan::parts::Part;
use crate::plan::{Name, Plan, Revision};

/// Most revisions a plan keeps: each is a whole plan in the file.
pub const MOST_REVISIONS: usize = 50;

/// Keeps the plan as it is. What is about the plan itself (revisions, threads) is not part of a state.
pub(super) fn name(plan: &mut Plan, name: &Name, date: Option<&Name>) -> Result<(), Refusal> {
    if plan.revisions.iter().any(|revision| revision.name == *name) {
        return refuse(format!("there is a revision called {name} already"));
    }
    room_for_revision(plan.revisions.len())?;
    let state = Plan { revisions: Vec::new(), threads: Vec::new(), ..plan.clone() };
    plan.revisions.push(Revision { name: name.clone(), date: date.cloned(), plan: Box::new(state) });
    Ok(())
}

fn room_for_revision(count: usize) -> Result<(), Refusal> {
    if count < MOST_REVISIONS {
        return Ok(());
    }
    refuse(format!("a plan keeps at most {MOST_REVISIONS} revisions: forget one first"))
}

pub(super) fn strike(plan: &mut Plan, index: usize) -> Result<(), Refusal> {
    if index >= plan.revisions.len() {
        return refuse("there is no such revision");
    }
    plan.revisions.remove(index);
    Ok(())
}

/// Puts parts in, and has the whole looked at: a circuit may hang on gear that is not there any more.
pub(super) fn put(plan: &mut Plan, parts: &[Part], revisions: Option<&[Revision]>) -> Result<(), Refusal> {
    if parts.is_empty() && revisions.is_none() {
        return refuse("there is nothing to bring back");
    }
    for part in parts {
        plan.put(part);
    }
    if let Some(revisions) = revisions {
        room_for_revision(revisions.len().saturating_sub(1))?;
        plan.revisions = revisions.to_vec();
    }
    sound(plan)
}
