//! Edits of cables: applied, and named in the history.

use super::apply::{Refusal, gear_in, refuse, room_for_more, sound};
use crate::plan::{Cable, CableId, GearId, Plan, Via};
use crate::units::{Length, Measure};

/// Plans a cable under the next free number.
pub(super) fn add(plan: &mut Plan, cable: &Cable) -> Result<(), Refusal> {
    room_for_more(plan.wiring.cables.len())?;
    let (from, to) = (gear_in(plan, cable.from)?.label.clone(), gear_in(plan, cable.to)?.label.clone());
    if cable.from == cable.to {
        return refuse(format!("a cable from {from} to itself leads nowhere"));
    }
    let same = |old: &&Cable| old.signal == cable.signal && joins(old, cable.from, cable.to);
    if plan.wiring.cables.iter().any(|old| same(&old)) {
        return refuse(format!("such a cable between {from} and {to} is planned already"));
    }
    let id = plan.wiring.next_cable_id();
    plan.wiring.cables.push(Cable { id, ..cable.clone() });
    sound(plan)
}

fn joins(cable: &Cable, a: GearId, b: GearId) -> bool {
    (cable.from, cable.to) == (a, b) || (cable.from, cable.to) == (b, a)
}

/// Leads a cable through these openings and writes its measured length down.
pub(super) fn set(plan: &mut Plan, id: CableId, via: &[Via], length: Option<Length>) -> Result<(), Refusal> {
    let cable = cable_in(plan, id)?;
    if cable.via == via && cable.length == length {
        return refuse("this cable is led so already");
    }
    (cable.via, cable.length) = (via.to_vec(), length);
    sound(plan)
}

/// Strikes a cable.
pub(super) fn strike(plan: &mut Plan, id: CableId) -> Result<(), Refusal> {
    cable_in(plan, id)?;
    plan.wiring.cables.retain(|cable| cable.id != id);
    Ok(())
}

/// No cable must pass an opening that is gone.
pub(super) fn lead_past(plan: &mut Plan, gone: Via) {
    for cable in &mut plan.wiring.cables {
        cable.via.retain(|via| *via != gone);
    }
}

fn cable_in(plan: &mut Plan, id: CableId) -> Result<&mut Cable, Refusal> {
    let found = plan.wiring.cables.iter_mut().find(|cable| cable.id == id);
    found.ok_or_else(|| Refusal(format!("there is no {id}")))
}

/// `the cable from battery to pump`.
pub(super) fn words(before: &Plan, cable: &Cable) -> String {
    let label = |gear: GearId| before.gear(gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string());
    format!("the cable from {} to {}", label(cable.from), label(cable.to))
}

/// The cable of this number in words.
pub(super) fn named(before: &Plan, id: CableId) -> String {
    let cable = before.wiring.cables.iter().find(|cable| cable.id == id);
    cable.map_or_else(|| id.to_string(), |cable| words(before, cable))
}

/// Names what a change of a cable does.
pub(super) fn set_words(before: &Plan, id: CableId, via: &[Via], length: Option<Length>, tape: Measure) -> String {
    let name = named(before, id);
    let now = before.wiring.cables.iter().find(|cable| cable.id == id);
    match length.filter(|_| now.is_some_and(|cable| cable.via == via)) {
        Some(length) => format!("measure {name}: {}", tape.length(length.to_mm())),
        None => format!("lead {name}"),
    }
}
