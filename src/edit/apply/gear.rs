//! Gear taken, mirrored, swapped, struck, and what is asked of gear before it is changed.

use std::sync::Arc;

use super::{Refusal, gear_in, holes, refuse, room_for_more};
use crate::edit::{cables, readings};
use crate::plan::{Gear, GearId, Level, Mount, Name, Placement, Plan, Spec, Via, validate::MOST_ITEMS};

pub(super) fn add(plan: &mut Plan, spec: &Spec, mount: Option<Mount>, place: Option<Placement>) -> Result<(), Refusal> {
    room_for_more(plan.gear.len())?;
    spec.validate().map_err(|faults| Refusal(faults.first().map(ToString::to_string).unwrap_or_default()))?;
    let Some(preferred) = spec.mounts.first() else { return refuse("this entry has no mount") };
    let mount = mount.unwrap_or(preferred.how);
    accepts(spec, mount)?;
    if let Some(place) = &place {
        within_reason(place)?;
    }
    let gear = Gear {
        id: plan.next_gear_id(),
        label: free_label(plan, &spec.name),
        spec: Arc::new(spec.clone()),
        mount,
        place,
        seal: Default::default(),
        state: Default::default(),
        pinned: false,
    };
    plan.gear.push(gear);
    Ok(())
}

/// The spec's name, numbered when the plan has gear of that label already.
fn free_label(plan: &Plan, name: &Name) -> Name {
    let taken = |label: &str| plan.gear.iter().any(|g| g.label.as_str() == label);
    if !taken(name.as_str()) {
        return name.clone();
    }
    (2..=MOST_ITEMS + 1)
        .map(|n| format!("{name} {n}"))
        .find(|label| !taken(label))
        .and_then(|label| Name::new(label).ok())
        .unwrap_or_else(|| name.clone())
}

pub(super) fn mirror(plan: &mut Plan, id: GearId) -> Result<(), Refusal> {
    placed(plan, id)?;
    let gear = gear_in(plan, id)?;
    match gear.mirrored() {
        Some(mirrored) => {
            *gear = mirrored;
            Ok(())
        }
        None => refuse("it sits on the centreline: nothing to mirror"),
    }
}

pub(super) fn swap(plan: &mut Plan, id: GearId, spec: &Spec) -> Result<(), Refusal> {
    spec.validate().map_err(|faults| Refusal(faults.first().map(ToString::to_string).unwrap_or_default()))?;
    let label = {
        let gear = gear_in(plan, id)?;
        // A label the person chose stays; one that only repeated the old spec follows the new one.
        let followed = gear.label.as_str().starts_with(gear.spec.name.as_str());
        (!followed).then(|| gear.label.clone())
    };
    let label = match label {
        Some(label) => label,
        None => free_label(plan, &spec.name),
    };
    let gear = gear_in(plan, id)?;
    let Some(preferred) = spec.mounts.first() else { return refuse("this entry has no mount") };
    gear.mount = if spec.mounting(gear.mount).is_some() { gear.mount } else { preferred.how };
    gear.label = label;
    gear.spec = Arc::new(spec.clone());
    readings::unit_changed(plan, id);
    Ok(())
}

pub(super) fn strike(plan: &mut Plan, id: GearId) -> Result<(), Refusal> {
    let gear = gear_in(plan, id)?;
    if gear.state >= crate::plan::BuildState::Drilled && gear.is_placed() {
        return refuse(format!(
            "{} is drilled: its holes are in the hull; put it ashore first, and they stay behind",
            gear.label
        ));
    }
    if let Some(circuit) =
        plan.wiring.circuits.iter().find(|c| c.battery == id || c.channel.is_some_and(|(unit, _)| unit == id))
    {
        return refuse(format!("circuit \"{}\" hangs on it; change the circuit first", circuit.name));
    }
    plan.gear.retain(|g| g.id != id);
    holes::release(plan, id);
    readings::unit_changed(plan, id);
    for circuit in &mut plan.wiring.circuits {
        circuit.loads.retain(|load| *load != id);
    }
    plan.wiring.mains.retain(|main| main.battery != id);
    plan.wiring.cables.retain(|cable| cable.from != id && cable.to != id);
    cables::lead_past(plan, Via::Gear(id));
    for phase in &mut plan.outing.phases {
        phase.duties.retain(|duty| duty.gear != id);
    }
    Ok(())
}

pub(super) fn accepts(spec: &Spec, how: Mount) -> Result<(), Refusal> {
    if spec.mounting(how).is_some() {
        return Ok(());
    }
    let known: Vec<&str> = spec.mounts.iter().map(|m| m.how.word()).collect();
    refuse(format!("{} does not take {}; it takes {}", spec.name, how.word(), known.join(", ")))
}

/// Gear may hang over the hull (an oar, an arm), but not leave the driveway.
pub(super) fn within_reason(place: &Placement) -> Result<(), Refusal> {
    let (spot, raise) = (place.spot(), place.raise.to_mm());
    let near = spot.is_finite() && (-2000.0..=9000.0).contains(&spot.x) && spot.y.abs() <= 3000.0;
    if !near {
        return refuse("that is nowhere near the boat");
    }
    if !(-1000.0..=3000.0).contains(&raise) {
        return refuse("that is too high or too low to be mounted");
    }
    if place.level == Level::Under && raise > 500.0 {
        return refuse("that is too far under the hull");
    }
    Ok(())
}

pub(super) fn placed(plan: &mut Plan, id: GearId) -> Result<&mut Placement, Refusal> {
    let gear = gear_in(plan, id)?;
    let label = gear.label.clone();
    gear.place.as_mut().ok_or_else(|| Refusal(format!("{label} is ashore: place it first")))
}
