//! Two plans that grew out of one, made one again: part by part, by its number.

mod apart;

use std::collections::BTreeMap;

pub use apart::apart;

use super::changes::{Change, change};
use crate::plan::parts::{Part, PartKey};
use crate::plan::{BuildState, Gear, Name, On, Plan, Reading, Revision};

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

/// A part that both changed, each to something else. The merged plan has mine.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// As it is in theirs.
    pub part: Part,
    /// What I did to it.
    pub mine: Change,
    /// What they did to it.
    pub theirs: Change,
}

/// Merges what `mine` and `theirs` made of `base`. What only one of them changed is taken, and what both changed alike
/// is no conflict. Of gear that both have, each field is looked at by itself (one moved it, the other renamed it); of
/// readings, what each added is kept. What both added is there twice, mine under a number of its own: see [`apart()`].
/// States that were kept by name are those of both.
///
/// Each part may be sound by itself and the whole not (one struck what the other wired): validate the plan.
pub fn merge(base: &Plan, mine: &Plan, theirs: &Plan) -> Merged {
    let mine = &apart(base, mine, theirs);
    let my_changes: BTreeMap<PartKey, Part> =
        base.differences(mine).into_iter().map(|part| (part.key(), part)).collect();
    let mut merged = Merged { plan: mine.clone(), taken: Vec::new(), conflicts: Vec::new() };
    for their in base.differences(theirs) {
        let taken = match my_changes.get(&their.key()) {
            None => Some(their.clone()),
            Some(my) if *my == their => continue,
            Some(my) => both(base, my, &their),
        };
        match taken {
            Some(part) => {
                merged.plan.put(&part);
                merged.taken.push(part);
            }
            None => merged.conflicts.push(Conflict {
                mine: change(base, mine, &their),
                theirs: change(base, theirs, &their),
                part: their,
            }),
        }
    }
    drop_moved_ticks(&mut merged.plan, mine, theirs);
    merged.plan.revisions = revisions(base, mine, theirs);
    // No edit changes them.
    merged.plan.threads = field(&base.threads, &mine.threads, &theirs.threads).unwrap_or(theirs.threads.clone());
    merged
}

/// Work is done where gear was: a tick goes with gear that stands, in the merged plan, where neither plan with that tick
/// has it.
fn drop_moved_ticks(merged: &mut Plan, mine: &Plan, theirs: &Plan) {
    let mut ticks = std::mem::take(&mut merged.work.ticks);
    ticks.retain(|tick| {
        let On::Gear(id) = tick.on else { return true };
        let holds = |plan: &Plan| {
            plan.work.tick(tick.act, tick.on) == Some(tick)
                && match (plan.gear(id), merged.gear(id)) {
                    (Some(there), Some(here)) => same_holes(there, here),
                    (there, here) => there.is_none() && here.is_none(),
                }
        };
        holds(mine) || holds(theirs)
    });
    merged.work.ticks = ticks;
}

/// A part with the changes of both, if they do not touch the same. Only gear and readings are looked into.
fn both(base: &Plan, mine: &Part, theirs: &Part) -> Option<Part> {
    match (mine, theirs) {
        (Part::Gear(id, Some(mine)), Part::Gear(_, Some(theirs))) => {
            let gear = gear(base.gear(*id)?, mine, theirs)?;
            Some(Part::Gear(*id, Some(Box::new(gear))))
        }
        (Part::Readings(mine), Part::Readings(theirs)) => readings(&base.readings, mine, theirs).map(Part::Readings),
        _ => None,
    }
}

fn gear(base: &Gear, mine: &Gear, theirs: &Gear) -> Option<Gear> {
    if bored_elsewhere(base, mine, theirs) {
        return None;
    }
    Some(Gear {
        id: base.id,
        label: field(&base.label, &mine.label, &theirs.label)?,
        spec: field(&base.spec, &mine.spec, &theirs.spec)?,
        mount: field(&base.mount, &mine.mount, &theirs.mount)?,
        place: field(&base.place, &mine.place, &theirs.place)?,
        seal: field(&base.seal, &mine.seal, &theirs.seal)?,
        state: field(&base.state, &mine.state, &theirs.state)?,
        pinned: field(&base.pinned, &mine.pinned, &theirs.pinned)?,
    })
}

/// Whether one drilled its holes while the other had them somewhere else: each is right, and together they are not.
fn bored_elsewhere(base: &Gear, mine: &Gear, theirs: &Gear) -> bool {
    let drilled = |gear: &Gear| gear.state != base.state && gear.state.max(base.state) >= BuildState::Drilled;
    !same_holes(mine, theirs)
        && (drilled(mine) && !same_holes(base, theirs) || drilled(theirs) && !same_holes(base, mine))
}

fn same_holes(a: &Gear, b: &Gear) -> bool {
    a.place == b.place && a.mount == b.mount && a.spec.mounts == b.spec.mounts
}

/// A field that at most one of the two changed, or both alike.
fn field<T: Clone + PartialEq>(base: &T, mine: &T, theirs: &T) -> Option<T> {
    match (mine == base, theirs == base) {
        (_, true) => Some(mine.clone()),
        (true, false) => Some(theirs.clone()),
        (false, false) => (mine == theirs).then(|| mine.clone()),
    }
}

/// Theirs and then mine, where both only added.
fn readings(base: &[Reading], mine: &[Reading], theirs: &[Reading]) -> Option<Vec<Reading>> {
    let (my_new, their_new) = (mine.strip_prefix(base)?, theirs.strip_prefix(base)?);
    Some(theirs.iter().chain(my_new.iter().filter(|reading| !their_new.contains(reading))).cloned().collect())
}

/// Theirs without what I forgot, then what I kept; two of one name are told apart.
fn revisions(base: &Plan, mine: &Plan, theirs: &Plan) -> Vec<Revision> {
    let mut all = theirs.revisions.clone();
    all.retain(|revision| mine.revisions.contains(revision) || !base.revisions.contains(revision));
    for revision in mine.revisions.iter().filter(|revision| !base.revisions.contains(revision)) {
        if all.contains(revision) {
            continue;
        }
        all.push(Revision { name: free_name(&all, &revision.name), ..revision.clone() });
    }
    all
}

/// The name, numbered where another revision has it.
fn free_name(revisions: &[Revision], name: &Name) -> Name {
    let taken = |name: &Name| revisions.iter().any(|other| other.name == *name);
    let short: String = name.as_str().chars().take(70).collect();
    let numbered = (2..=revisions.len() + 2).filter_map(|count| Name::new(format!("{short} {count}")).ok());
    std::iter::once(name.clone()).chain(numbered).find(|name| !taken(name)).unwrap_or_else(|| name.clone())
}
