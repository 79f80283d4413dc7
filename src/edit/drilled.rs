//! What is drilled stays drilled: gear that leaves its holes leaves them in the hull, open, with their fate to choose.

use super::apply::{Refusal, refuse};
use crate::plan::penetration::REUSE_WITHIN_MM;
use crate::plan::{
    Act, BuildState, Carries, Fate, Gear, GearId, HoleId, Left, Name, On, Penetration, Plan, Purpose,
    validate::MOST_ITEMS,
};
use crate::study::rig::{RigHole, RigItem};
use crate::units::{Length, Quantity};

/// Holes nearer than this to where they were are the same holes, mm.
const SAME_MM: f64 = 0.5;

/// Looks at gear whose holes existed before and that an edit turned into something else: holes that it does not use any
/// more become holes of their own, and the work on it begins anew.
pub(super) fn leave_holes(before: &Plan, after: &mut Plan) -> Result<(), Refusal> {
    let left: Vec<(GearId, Vec<Penetration>)> =
        before.gear.iter().enumerate().filter_map(|(index, gear)| left_by(before, gear, index, after)).collect();
    for (id, holes) in left {
        if after.penetrations.len() + holes.len() > MOST_ITEMS {
            return refuse(format!("a plan holds at most {MOST_ITEMS} of these"));
        }
        for hole in holes {
            let id = after.next_hole_id();
            after.penetrations.push(Penetration { id, ..hole });
        }
        if let Some(gear) = after.gear_mut(id) {
            gear.state = BuildState::Planned;
        }
    }
    Ok(())
}

/// The holes a piece of gear leaves; `None` for gear that is where it was or has none.
fn left_by(before: &Plan, gear: &Gear, index: usize, after: &Plan) -> Option<(GearId, Vec<Penetration>)> {
    if gear.state < BuildState::Drilled {
        return None;
    }
    let now = after.gear(gear.id);
    let unmoved = now
        .is_some_and(|now| now.place == gear.place && now.mount == gear.mount && now.spec.mounts == gear.spec.mounts);
    if unmoved {
        return None;
    }
    let was = RigItem::of(before, gear, index)?;
    let is = now.and_then(|now| RigItem::of(after, now, 0));
    let still_used = |hole: &RigHole| {
        is.as_ref().is_some_and(|is| is.holes.iter().any(|other| other.at.distance(hole.at) <= SAME_MM))
    };
    // An old hole that served here is in the list already.
    let known = |hole: &RigHole| {
        let same = |old: &Penetration| {
            old.fate == Fate::Reused(gear.id) && old.spot().distance(hole.at.spot()) <= REUSE_WITHIN_MM
        };
        before.penetrations.iter().any(same)
    };
    // What is brought from another state of the plan may bring the holes along.
    let brought = |hole: &RigHole| {
        let new = after.penetrations.iter().filter(|old| before.penetration(old.id).is_none() && old.fate != Fate::New);
        new.into_iter().any(|old| old.spot().distance(hole.at.spot()) <= SAME_MM && old.bore.to_mm() == hole.bore_mm)
    };
    let left = was.holes.iter().filter(|hole| !still_used(hole) && !known(hole) && !brought(hole));
    let left: Vec<Penetration> = left.map(|hole| old_hole(before, gear, hole)).collect();
    (!left.is_empty()).then_some((gear.id, left))
}

fn old_hole(before: &Plan, gear: &Gear, hole: &RigHole) -> Penetration {
    let purpose = match hole.carries {
        Carries::Fastener => Purpose::Fastener,
        Carries::Cable => Purpose::Cable,
        Carries::Body => Purpose::Fitting,
    };
    let drilled = before.work.tick(Act::Drill, On::Gear(gear.id)).map(|tick| tick.date);
    let label: String = gear.label.as_str().chars().take(70).collect();
    Penetration {
        id: HoleId(0),
        name: Name::new(format!("hole of {label}")).unwrap_or_else(|_| gear.label.clone()),
        x: Length::mm(hole.at.x),
        y: Length::mm(hole.at.y),
        bore: Length::from_base(hole.bore_mm),
        purpose,
        fate: Fate::Open,
        seal: gear.seal,
        left: Some(Left { by: gear.id, name: gear.label.clone(), drilled }),
    }
}

/// Records how far the work on gear has come; what is set back is not ticked any more.
pub(super) fn set_state(plan: &mut Plan, id: GearId, state: BuildState) -> Result<(), Refusal> {
    let from = plan.gear(id).map(|gear| gear.state).unwrap_or_default();
    note(plan, id, state)?;
    super::work::set_back(plan, id, from, state);
    Ok(())
}

/// Notes a state. Holes cannot be undrilled.
pub(super) fn note(plan: &mut Plan, id: GearId, state: BuildState) -> Result<(), Refusal> {
    let found = plan.gear.iter().enumerate().find(|(_, gear)| gear.id == id);
    let Some((index, gear)) = found else { return refuse(format!("there is no {id} in this plan")) };
    if gear.state == state {
        return refuse(format!("{} is {} already", gear.label, state.word()));
    }
    let Some(item) = RigItem::of(plan, gear, index) else {
        return refuse(format!("{} is ashore: place it first", gear.label));
    };
    if gear.state >= BuildState::Drilled && state < BuildState::Drilled && !item.holes.is_empty() {
        return refuse(format!(
            "{} is drilled: its holes are in the hull. Undo (u) if that was a slip; move it and they stay behind",
            gear.label
        ));
    }
    if let Some(gear) = plan.gear_mut(id) {
        gear.state = state;
    }
    Ok(())
}

/// Notes that a hole was drilled.
pub(super) fn drill(plan: &mut Plan, id: HoleId) -> Result<(), Refusal> {
    let Some(hole) = plan.penetrations.iter_mut().find(|hole| hole.id == id) else {
        return refuse(format!("there is no {id} in this plan"));
    };
    if hole.fate != Fate::New {
        return refuse(format!("{} is drilled already", hole.name));
    }
    hole.fate = Fate::Open;
    Ok(())
}
