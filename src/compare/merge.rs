//! Two plans that grew out of one, made one again: part by part, by its number.

use std::collections::BTreeMap;

use crate::plan::parts::{Part, PartKey};
use crate::plan::{Gear, Plan};

/// What came of a merge.
#[derive(Clone, Debug)]
pub struct Merged {
    /// The plan with the changes of both. Where they conflict it has mine.
    pub plan: Plan,
    /// What was taken from theirs.
    pub taken: Vec<Part>,
    /// What both changed, each to something else.
    pub conflicts: Vec<Conflict>,
}

/// A part that both changed, each to something else.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// As it is in mine, and so in the merged plan.
    pub mine: Part,
    /// As it is in theirs.
    pub theirs: Part,
}

/// Merges what `mine` and `theirs` made of `base`. What only one of them changed is taken, what both changed alike
/// is no conflict, and of gear that both have, each field is looked at by itself (one moved it, the other renamed
/// it). Revisions and threads stay mine.
///
/// Each part may be sound by itself and the whole not (one struck what the other wired): validate the plan.
pub fn merge(base: &Plan, mine: &Plan, theirs: &Plan) -> Merged {
    let my_changes: BTreeMap<PartKey, Part> =
        base.differences(mine).into_iter().map(|part| (part.key(), part)).collect();
    let mut merged = Merged { plan: mine.clone(), taken: Vec::new(), conflicts: Vec::new() };
    for their in base.differences(theirs) {
        let taken = match my_changes.get(&their.key()) {
            None => Ok(their),
            Some(my) if *my == their => continue,
            Some(my) => both(base, my, &their).ok_or_else(|| Conflict { mine: my.clone(), theirs: their }),
        };
        match taken {
            Ok(part) => {
                merged.plan.put(&part);
                merged.taken.push(part);
            }
            Err(conflict) => merged.conflicts.push(conflict),
        }
    }
    merged
}

/// A part with the changes of both, if they do not touch the same field. Only gear is looked into.
fn both(base: &Plan, mine: &Part, theirs: &Part) -> Option<Part> {
    let (Part::Gear(id, Some(mine)), Part::Gear(_, Some(theirs))) = (mine, theirs) else { return None };
    let base = base.gear(*id)?;
    let gear = Gear {
        id: *id,
        label: field(&base.label, &mine.label, &theirs.label)?,
        spec: field(&base.spec, &mine.spec, &theirs.spec)?,
        mount: field(&base.mount, &mine.mount, &theirs.mount)?,
        place: field(&base.place, &mine.place, &theirs.place)?,
        seal: field(&base.seal, &mine.seal, &theirs.seal)?,
        state: field(&base.state, &mine.state, &theirs.state)?,
        pinned: field(&base.pinned, &mine.pinned, &theirs.pinned)?,
    };
    Some(Part::Gear(*id, Some(Box::new(gear))))
}

/// A field that at most one of the two changed, or both alike.
fn field<T: Clone + PartialEq>(base: &T, mine: &T, theirs: &T) -> Option<T> {
    match (mine == base, theirs == base) {
        (_, true) => Some(mine.clone()),
        (true, false) => Some(theirs.clone()),
        (false, false) => (mine == theirs).then(|| mine.clone()),
    }
}
