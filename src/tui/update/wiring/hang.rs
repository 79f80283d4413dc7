//! Hanging a load or a circuit on a line of the diagram: the one way, from the keys there and from the list of `C`.

use super::{edit, forms, stay_on};
use crate::edit::Edit;
use crate::plan::{Circuit, CircuitId, Electric, GearId, Name, Plan};
use crate::tui::app::{App, Carried};
use crate::tui::panels::wiring::{Item, named};

/// Hangs it there, or says why not. What was picked up is in hand no longer once it hangs.
pub(in crate::tui::update) fn hang(app: &mut App, carried: Carried, on: Item) {
    match carried {
        Carried::Load(load) => hang_load(app, load, on),
        Carried::Circuit(id) => hang_circuit(app, id, on),
    }
}

fn hang_load(app: &mut App, load: GearId, on: Item) {
    let circuit = match on {
        Item::Circuit(id) | Item::Load(_, Some(id)) => Some(id),
        Item::Free | Item::Load(_, None) => None,
        Item::Battery(_) | Item::Unit { .. } | Item::Spare { .. } => return new_circuit(app, Some(load), on),
        Item::Lost | Item::Cables | Item::Cable(_) => {
            return app.refuse("nothing feeds that line: choose a circuit, a channel or a battery");
        }
    };
    if edit(app, Edit::PutOnCircuit { load, circuit }) {
        let_go(app);
        stay_on(app, |item| matches!(item, Item::Load(gear, _) if gear == load));
    }
}

/// Hangs a circuit on a channel, or straight on a battery.
fn hang_circuit(app: &mut App, id: CircuitId, on: Item) {
    let Some(plan) = app.editor().map(|editor| editor.session.plan()) else { return };
    let Some(circuit) = plan.wiring.circuit(id).cloned() else { return };
    let (battery, channel) = match feed(plan, on) {
        Ok(feed) => feed,
        Err(why) => return app.refuse(why),
    };
    if edit(app, Edit::SetCircuit { circuit: Circuit { battery, channel, ..circuit } }) {
        let_go(app);
        stay_on(app, |item| item == Item::Circuit(id));
    }
}

/// Adds a circuit there, with a load or without, and asks for its fuse and wire.
pub(super) fn new_circuit(app: &mut App, load: Option<GearId>, on: Item) {
    let Some(plan) = app.editor().map(|editor| editor.session.plan()) else { return };
    let (battery, channel) = match feed(plan, on) {
        Ok(feed) => feed,
        Err(why) => return app.refuse(why),
    };
    let id = plan.wiring.next_circuit_id();
    let label = load.map(|load| named(plan, Item::Load(load, None)));
    let Ok(name) = Name::new(label.unwrap_or_else(|| id.to_string())) else { return };
    let circuit = Circuit { channel, ..Circuit::new(id, name, battery, load.into_iter().collect()) };
    if edit(app, Edit::SetCircuit { circuit }) {
        let_go(app);
        stay_on(app, |item| item == Item::Circuit(id));
        forms::ask_circuit(app, id, true);
    }
}

/// The battery and channel that feed what hangs on a line; why nothing can.
fn feed(plan: &Plan, on: Item) -> Result<(GearId, Option<(GearId, u8)>), String> {
    match on {
        Item::Battery(battery) => Ok((battery, None)),
        Item::Spare { battery, unit, channel } => Ok((battery, Some((unit, channel)))),
        Item::Unit { battery, unit } => match free_channel(plan, unit) {
            Some(channel) => Ok((battery, Some((unit, channel)))),
            None => Err(format!("every channel of {} has its circuit: put the load on one of them", named(plan, on))),
        },
        Item::Circuit(_) | Item::Load(..) => {
            Err(format!("{} has a line of its own: choose a free channel or a battery", named(plan, on)))
        }
        Item::Free | Item::Lost | Item::Cables | Item::Cable(_) => {
            Err("a circuit hangs on a battery: choose one, or a free channel".into())
        }
    }
}

/// The first channel of a switch unit that no circuit names.
fn free_channel(plan: &Plan, unit: GearId) -> Option<u8> {
    let Some(Electric::Switch { channels, .. }) = plan.gear(unit)?.spec.electric else { return None };
    (1..=channels).find(|channel| plan.wiring.circuits.iter().all(|c| c.channel != Some((unit, *channel))))
}

/// The battery that comes first in the plan, one that is aboard before one that is not.
pub(super) fn first_battery(plan: &Plan) -> Option<GearId> {
    let batteries = plan.gear.iter().filter(|g| matches!(g.spec.electric, Some(Electric::Battery { .. })));
    batteries.min_by_key(|gear| !gear.is_placed()).map(|gear| gear.id)
}

fn let_go(app: &mut App) {
    if let Some(editor) = app.editor_mut() {
        editor.carried = None;
    }
}
