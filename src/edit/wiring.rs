//! Edits of circuits and mains: applied, and named in the history.

use super::apply::{Refusal, gear_in, refuse, room_for_more, sound};
use crate::plan::{Circuit, CircuitId, Electric, GearId, Main, Plan};
use crate::units::Quantity;

/// Adds a circuit, or changes the one with the same id. A load hangs on one circuit: putting it here takes it from
/// there.
pub(super) fn set_circuit(plan: &mut Plan, circuit: &Circuit) -> Result<(), Refusal> {
    is_battery(plan, circuit.battery)?;
    if circuit.loads.contains(&circuit.battery) {
        return refuse(format!("{} cannot feed itself", gear_in(plan, circuit.battery)?.label));
    }
    if plan.wiring.circuits.contains(circuit) {
        return refuse(format!("circuit \"{}\" is so already", circuit.name));
    }
    for other in &mut plan.wiring.circuits {
        other.loads.retain(|load| !circuit.loads.contains(load));
    }
    match plan.wiring.circuits.iter_mut().find(|c| c.id == circuit.id) {
        Some(old) => *old = circuit.clone(),
        None => {
            room_for_more(plan.wiring.circuits.len())?;
            plan.wiring.circuits.push(circuit.clone());
        }
    }
    sound(plan)
}

/// Puts a load on a circuit, or takes it off its own.
pub(super) fn put_on_circuit(plan: &mut Plan, load: GearId, circuit: Option<CircuitId>) -> Result<(), Refusal> {
    let gear = gear_in(plan, load)?;
    let label = gear.label.clone();
    if matches!(gear.spec.electric, None | Some(Electric::Battery { .. } | Electric::Protection { .. })) {
        return refuse(format!("{label} draws nothing: a circuit feeds what does"));
    }
    let now = plan.wiring.circuit_of(load).map(|circuit| (circuit.id, circuit.name.clone()));
    match (circuit, now) {
        (None, None) => return refuse(format!("{label} is on no circuit")),
        (Some(id), Some((now, name))) if id == now => {
            return refuse(format!("{label} is on circuit \"{name}\" already"));
        }
        _ => {}
    }
    for other in &mut plan.wiring.circuits {
        other.loads.retain(|other| *other != load);
    }
    let Some(id) = circuit else { return Ok(()) };
    circuit_in(plan, id)?.loads.push(load);
    Ok(())
}

/// Strikes a circuit; its loads are free then.
pub(super) fn strike_circuit(plan: &mut Plan, id: CircuitId) -> Result<(), Refusal> {
    circuit_in(plan, id)?;
    plan.wiring.circuits.retain(|circuit| circuit.id != id);
    Ok(())
}

/// Sets the main of a battery instead of the one it has.
pub(super) fn set_main(plan: &mut Plan, main: &Main) -> Result<(), Refusal> {
    is_battery(plan, main.battery)?;
    if plan.wiring.mains.contains(main) {
        return refuse(format!("the main of {} is so already", gear_in(plan, main.battery)?.label));
    }
    match plan.wiring.mains.iter_mut().find(|old| old.battery == main.battery) {
        Some(old) => *old = main.clone(),
        None => plan.wiring.mains.push(main.clone()),
    }
    sound(plan)
}

/// Strikes the main of a battery.
pub(super) fn strike_main(plan: &mut Plan, battery: GearId) -> Result<(), Refusal> {
    let label = gear_in(plan, battery)?.label.clone();
    let before = plan.wiring.mains.len();
    plan.wiring.mains.retain(|main| main.battery != battery);
    if plan.wiring.mains.len() == before { refuse(format!("{label} has no main fuse")) } else { Ok(()) }
}

fn circuit_in(plan: &mut Plan, id: CircuitId) -> Result<&mut Circuit, Refusal> {
    let found = plan.wiring.circuits.iter_mut().find(|circuit| circuit.id == id);
    found.ok_or_else(|| Refusal(format!("there is no {id}")))
}

fn is_battery(plan: &mut Plan, id: GearId) -> Result<(), Refusal> {
    let gear = gear_in(plan, id)?;
    match gear.spec.electric {
        Some(Electric::Battery { .. }) => Ok(()),
        _ => refuse(format!("{} is not a battery", gear.label)),
    }
}

/// Names a change of a circuit by the one thing that changes, or the two.
pub(super) fn circuit_words(before: &Plan, circuit: &Circuit) -> String {
    let name = &circuit.name;
    let Some(old) = before.wiring.circuit(circuit.id) else { return format!("add circuit {name}") };
    let mut parts = Vec::new();
    if old.name != circuit.name {
        parts.push(format!("rename circuit {} to {name}", old.name));
    }
    if old.battery != circuit.battery {
        parts.push(format!("feed circuit {name} from {}", label(before, circuit.battery)));
    }
    if old.fuse != circuit.fuse {
        parts.push(match circuit.fuse {
            Some(fuse) => format!("fuse circuit {name} at {} A", fuse.base()),
            None => format!("take the fuse off circuit {name}"),
        });
    }
    if old.gauge_awg != circuit.gauge_awg {
        parts.push(match circuit.gauge_awg {
            Some(awg) => format!("wire circuit {name} in {awg} AWG"),
            None => format!("leave the wire of circuit {name} open"),
        });
    }
    if old.channel != circuit.channel {
        parts.push(match circuit.channel {
            Some((unit, channel)) => format!("put circuit {name} on channel {channel} of {}", label(before, unit)),
            None => format!("take circuit {name} off its channel"),
        });
    }
    match parts.as_slice() {
        [_] | [_, _] if *circuit == with_changed(old, circuit) => parts.join(", "),
        _ => format!("set circuit {name}"),
    }
}

/// The old circuit with what [`circuit_words`] has words for taken from the new one.
fn with_changed(old: &Circuit, new: &Circuit) -> Circuit {
    let Circuit { name, battery, fuse, gauge_awg, channel, .. } = new.clone();
    Circuit { name, battery, fuse, gauge_awg, channel, ..old.clone() }
}

/// Names the setting of a main.
pub(super) fn main_words(before: &Plan, main: &Main) -> String {
    let (word, battery) = (main.word(), label(before, main.battery));
    match main.fuse {
        Some(fuse) => format!("put a main {word} of {} A on {battery}", fuse.base()),
        None => format!("plan a main {word} for {battery}"),
    }
}

/// Names putting a load on a circuit.
pub(super) fn load_words(before: &Plan, load: GearId, circuit: Option<CircuitId>) -> String {
    let load = label(before, load);
    match circuit {
        Some(id) => format!("put {load} on circuit {}", circuit_name(before, id)),
        None => format!("take {load} off its circuit"),
    }
}

/// What the person calls a circuit.
pub(super) fn circuit_name(plan: &Plan, id: CircuitId) -> String {
    plan.wiring.circuit(id).map_or_else(|| id.0.to_string(), |circuit| circuit.name.to_string())
}

fn label(plan: &Plan, gear: GearId) -> String {
    plan.gear(gear).map_or_else(|| gear.to_string(), |gear| gear.label.to_string())
}
