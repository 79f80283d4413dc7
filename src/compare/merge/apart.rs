//! What two added each for itself, told apart: both gave it the next free number.

use std::collections::BTreeMap;

use crate::compare::name_of;
use crate::plan::parts::{Part, PartKey};
use crate::plan::renumber::NewNumbers;
use crate::plan::{CableId, CircuitId, GearId, HoleId, Plan};

/// `mine`, with numbers of its own for what is new in it where `theirs` has something else of that number. The same
/// plan where there is nothing of the kind.
pub fn apart(base: &Plan, mine: &Plan, theirs: &Plan) -> Plan {
    let numbers = numbers(base, mine, theirs);
    let mut own = mine.clone();
    if numbers != NewNumbers::default() {
        numbers.give(&mut own);
        let kept = own.revisions.iter_mut().filter(|revision| !base.revisions.contains(revision));
        kept.for_each(|revision| numbers.give(&mut revision.plan));
    }
    own
}

fn numbers(base: &Plan, mine: &Plan, theirs: &Plan) -> NewNumbers {
    let is_new = |part: &Part| name_of(base, &part.key()).is_none();
    let their_new: Vec<Part> = base.differences(theirs).into_iter().filter(is_new).collect();
    let differs = |part: &Part| their_new.iter().any(|their| their.key() == part.key() && their != part);
    let mut numbers = NewNumbers::default();
    let mut next = (
        mine.next_gear_id().max(theirs.next_gear_id()),
        mine.next_hole_id().max(theirs.next_hole_id()),
        mine.wiring.next_circuit_id().max(theirs.wiring.next_circuit_id()),
        mine.wiring.next_cable_id().max(theirs.wiring.next_cable_id()),
    );
    for part in base.differences(mine).into_iter().filter(|part| is_new(part) && differs(part)) {
        match part.key() {
            PartKey::Gear(id) => fresh(&mut numbers.gear, id, &mut next.0, |id| GearId(id.0.saturating_add(1))),
            PartKey::Hole(id) => fresh(&mut numbers.holes, id, &mut next.1, |id| HoleId(id.0.saturating_add(1))),
            PartKey::Circuit(id) => {
                fresh(&mut numbers.circuits, id, &mut next.2, |id| CircuitId(id.0.saturating_add(1)));
            }
            PartKey::Cable(id) => fresh(&mut numbers.cables, id, &mut next.3, |id| CableId(id.0.saturating_add(1))),
            // Of these there is one each, or they are known by what they are of.
            _ => {}
        }
    }
    numbers
}

/// Gives a part the next free number.
fn fresh<I: Copy + Ord>(numbers: &mut BTreeMap<I, I>, id: I, next: &mut I, after: fn(I) -> I) {
    numbers.insert(id, *next);
    *next = after(*next);
}
