//! Holes that no gear owns: added, used again, and what is asked of one before it is changed.

use super::gear::placed;
use super::{Refusal, gear_in, refuse, room_for_more, sound};
use crate::plan::penetration::{REUSE_WIDER_MM, REUSE_WITHIN_MM};
use crate::plan::{Fate, GearId, HoleId, Penetration, Plan};

/// Holes that served this gear are open again.
pub(super) fn release(plan: &mut Plan, id: GearId) {
    for hole in &mut plan.penetrations {
        if hole.fate == Fate::Reused(id) {
            hole.fate = Fate::Open;
        }
    }
}

pub(super) fn add(plan: &mut Plan, hole: &Penetration) -> Result<(), Refusal> {
    room_for_more(plan.penetrations.len())?;
    if plan.hull.form.bottom(hole.spot()).is_none() {
        return refuse("there is no hull at that place");
    }
    let hole = Penetration { id: plan.next_hole_id(), ..hole.clone() };
    plan.penetrations.push(hole);
    sound(plan)
}

pub(super) fn reuse(plan: &mut Plan, id: HoleId, gear: GearId) -> Result<(), Refusal> {
    let label = gear_in(plan, gear)?.label.clone();
    placed(plan, gear)?;
    let hole = existing(plan, id)?;
    if let Fate::Plugged(_) = hole.fate {
        return refuse(format!("{} is closed for good", hole.name));
    }
    let (spot, bore) = (hole.spot(), hole.bore.to_mm());
    let rig = crate::study::rig::Rig::of(plan);
    let near = rig
        .item(gear)
        .into_iter()
        .flat_map(|item| item.holes.iter())
        .map(|h| (h.at.spot().distance(spot), h.bore_mm))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match near {
        None => return refuse(format!("{label} needs no hole as it is mounted now")),
        Some((off, _)) if off > REUSE_WITHIN_MM => {
            return refuse(format!("the nearest hole of {label} is {off:.0} mm away: move the gear onto it first"));
        }
        Some((_, needed)) if bore > needed + REUSE_WIDER_MM => {
            return refuse(format!(
                "it is {bore:.0} mm wide and {label} needs {needed:.0} mm: plug it, or cover it with a larger fitting"
            ));
        }
        Some(_) => {}
    }
    existing(plan, id)?.fate = Fate::Reused(gear);
    Ok(())
}

pub(super) fn planned<'a>(plan: &'a mut Plan, id: HoleId, done: &str) -> Result<&'a mut Penetration, Refusal> {
    let hole = hole_in(plan, id)?;
    if hole.fate == Fate::New {
        Ok(hole)
    } else {
        refuse(format!("{} exists in the hull: it cannot be {done}, only plugged or reused", hole.name))
    }
}

pub(super) fn existing(plan: &mut Plan, id: HoleId) -> Result<&mut Penetration, Refusal> {
    let hole = hole_in(plan, id)?;
    if hole.fate == Fate::New {
        refuse(format!("{} is not drilled yet: strike it instead", hole.name))
    } else {
        Ok(hole)
    }
}

fn hole_in(plan: &mut Plan, id: HoleId) -> Result<&mut Penetration, Refusal> {
    plan.penetrations.iter_mut().find(|p| p.id == id).ok_or_else(|| Refusal(format!("there is no {id} in this plan")))
}
