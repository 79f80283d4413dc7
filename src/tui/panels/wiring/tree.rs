//! Who hangs on whom: batteries, their switch units, circuits, loads; and what hangs on nothing.

use super::cells::{self, Cell};
use super::{Item, Line};
use crate::checks::{Finding, Subject};
use crate::plan::{Circuit, Electric, Gear, GearId, Plan};
use crate::study::cables::CableRef;
use crate::study::power::LoadUse;
use crate::tui::app::Thing;
use crate::tui::panels::{Sources, label};
use crate::units::{Quantity, amount};

/// A line and what hangs on it.
pub(super) struct Node {
    pub(super) line: Line,
    pub(super) below: Vec<Node>,
}

/// Every battery, then circuits that none feeds, then what is on no circuit.
pub(super) fn roots(from: Sources<'_>) -> Vec<Node> {
    let batteries = from.plan.gear.iter().filter(|gear| is_battery(gear) && counts(from.plan, gear));
    let mut roots: Vec<Node> = batteries.map(|gear| battery(from, gear)).collect();
    let fed = |circuit: &&Circuit| from.plan.gear(circuit.battery).is_some_and(is_battery);
    let lost: Vec<Node> =
        from.plan.wiring.circuits.iter().filter(|c| !fed(c)).map(|c| circuit(from, c, None)).collect();
    if !lost.is_empty() {
        roots.push(node(from, Item::Lost, "fed by no battery", lost));
    }
    let free: Vec<Node> =
        from.study.wiring.free.iter().map(|gear| load(from, *gear, Item::Load(*gear, None))).collect();
    if !free.is_empty() {
        roots.push(node(from, Item::Free, "on no circuit", free));
    }
    roots.extend(super::cables::root(from, !roots.is_empty()));
    roots
}

fn is_battery(gear: &Gear) -> bool {
    matches!(gear.spec.electric, Some(Electric::Battery { .. }))
}

/// A battery ashore is told of only when something hangs on it.
fn counts(plan: &Plan, gear: &Gear) -> bool {
    let wiring = &plan.wiring;
    gear.is_placed() || wiring.main_of(gear.id).is_some() || wiring.circuits.iter().any(|c| c.battery == gear.id)
}

fn battery(from: Sources<'_>, gear: &Gear) -> Node {
    let wires = &from.study.wiring;
    let circuits: Vec<&Circuit> = from.plan.wiring.circuits.iter().filter(|c| c.battery == gear.id).collect();
    let mut units: Vec<GearId> = circuits.iter().filter_map(|c| c.channel).map(|(unit, _)| unit).collect();
    units.sort_unstable();
    units.dedup();
    let mut below: Vec<Node> = units.into_iter().map(|unit| switch(from, gear.id, unit, &circuits)).collect();
    below.extend(circuits.iter().filter(|c| c.channel.is_none()).map(|c| circuit(from, c, None)));
    let mut node = node(from, Item::Battery(gear.id), gear.label.as_str(), below);
    if let Some(Electric::Battery { volts, capacity, .. }) = &gear.spec.electric {
        node.line.about = format!("{}, {}", amount(*volts, 1), amount(capacity.value, 0));
    }
    if from.plan.wiring.main_of(gear.id).is_some_and(|main| main.breaker) {
        node.line.about.push_str(", breaker");
    }
    let before = from.before.map(|before| before.wiring.main(gear.id).map(|main| &main.run));
    let limit = from.study.power.battery(gear.id).and_then(|battery| battery.limit).map(Quantity::base);
    match wires.main(gear.id) {
        Some(main) => set_cells(from, &mut node.line, cells::of_run(&main.run, before, limit, from.tape)),
        None => {
            let peak = from.study.power.battery(gear.id).map_or(0.0, |battery| battery.peak.base());
            let typical = from.study.power.loads.iter().filter(|load| load.battery == Some(gear.id));
            let typical = typical.map(|load| load.typical.base()).sum();
            set_cells(from, &mut node.line, cells::of_currents(typical, peak, limit));
        }
    }
    node
}

/// A switch unit: its circuits by channel, then the channels that are free.
fn switch(from: Sources<'_>, battery: GearId, unit: GearId, circuits: &[&Circuit]) -> Node {
    let mut on: Vec<(u8, &Circuit)> = circuits
        .iter()
        .filter_map(|c| c.channel.filter(|(id, _)| *id == unit).map(|(_, channel)| (channel, *c)))
        .collect();
    on.sort_by_key(|(channel, circuit)| (*channel, circuit.id));
    let (count, each, total) = match from.plan.gear(unit).and_then(|gear| gear.spec.electric.as_ref()) {
        Some(Electric::Switch { channels, each, total, .. }) => (*channels, Some(each.base()), Some(total.base())),
        _ => (0, None, None),
    };
    let mut below: Vec<Node> = on.iter().map(|(_, c)| circuit(from, c, each)).collect();
    // Another battery's circuits may name a channel of it as well.
    let taken = |channel: &u8| from.plan.wiring.circuits.iter().any(|c| c.channel == Some((unit, *channel)));
    let spare: Vec<u8> = (1..=count).filter(|channel| !taken(channel)).collect();
    if let Some(first) = spare.first() {
        let numbers: Vec<String> = spare.iter().map(u8::to_string).collect();
        let item = Item::Spare { battery, unit, channel: *first };
        let mut free = node(from, item, &format!("{} free", numbers.join(", ")), Vec::new());
        free.line.idle = true;
        below.push(free);
    }
    let mut node = node(from, Item::Unit { battery, unit }, &label(from.plan, unit), below);
    node.line.about = format!("{count} channels");
    let uses = from.study.power.circuits.iter().filter(|use_| on.iter().any(|(_, c)| c.id == use_.circuit));
    let sums = uses.fold((0.0, 0.0), |sum, use_| (sum.0 + use_.typical.base(), sum.1 + use_.peak.base()));
    set_cells(from, &mut node.line, cells::of_currents(sums.0, sums.1, total));
    node
}

fn circuit(from: Sources<'_>, circuit: &Circuit, each_a: Option<f64>) -> Node {
    let mut below = Vec::new();
    let behind = |load: &&LoadUse, by: GearId| load.converter == Some(by);
    let converted = |gear: GearId| {
        let by = from.study.power.load(gear).and_then(|load| load.converter);
        by.is_some_and(|by| circuit.loads.contains(&by))
    };
    for gear in circuit.loads.iter().copied().filter(|gear| !converted(*gear)) {
        let mut node = load(from, gear, Item::Load(gear, Some(circuit.id)));
        let fed = from.study.power.loads.iter().filter(|load| behind(load, gear));
        node.below = fed.map(|fed| load(from, fed.gear, Item::Load(fed.gear, Some(circuit.id)))).collect();
        below.push(node);
    }
    let item = Item::Circuit(circuit.id);
    let mut node = node(from, item, circuit.name.as_str(), below);
    node.line.channel = circuit.channel.map(|(_, channel)| channel);
    let before = from.before.map(|before| before.wiring.circuit(circuit.id).map(|wire| &wire.run));
    if let Some(wire) = from.study.wiring.circuit(circuit.id) {
        node.line.idle = !wire.in_use;
        set_cells(from, &mut node.line, cells::of_run(&wire.run, before, each_a, from.tape));
    }
    node
}

fn load(from: Sources<'_>, gear: GearId, item: Item) -> Node {
    let mut node = node(from, item, &label(from.plan, gear), Vec::new());
    match from.study.power.load(gear) {
        Some(load) => {
            set_cells(from, &mut node.line, cells::of_currents(load.typical.base(), load.peak.base(), None));
        }
        None => {
            let ashore = from.plan.gear(gear).is_some_and(|gear| !gear.is_placed());
            node.line.about = if ashore { "ashore" } else { "draws nothing" }.into();
            node.line.idle = true;
        }
    }
    node
}

pub(super) fn node(from: Sources<'_>, item: Item, label: &str, below: Vec<Node>) -> Node {
    let finding = from.findings.iter().position(|finding| about(finding, item));
    let line = Line {
        item,
        stem: Vec::new(),
        channel: None,
        label: label.into(),
        about: String::new(),
        cells: Vec::new(),
        mark: finding.map(|index| from.findings[index].severity),
        finding,
        thing: thing(item),
        idle: false,
    };
    Node { line, below }
}

fn set_cells(from: Sources<'_>, line: &mut Line, cells: Vec<Cell>) {
    line.cells = cells;
    cells::judge(&mut line.cells, from.findings.iter().filter(|finding| about(finding, line.item)));
}

/// Whether a finding of wires, currents and cables belongs to a line.
pub(super) fn about(finding: &Finding, item: Item) -> bool {
    let subject = match item {
        Item::Cable(CableRef::Planned(id)) => return finding.subject == Subject::Cable(id),
        Item::Circuit(id) => Subject::Circuit(id),
        Item::Battery(gear) | Item::Load(gear, _) | Item::Unit { unit: gear, .. } => Subject::Gear(gear),
        _ => return false,
    };
    finding.subject == subject && OF_WIRES.iter().any(|words| finding.check.starts_with(words))
}

/// How the ids of checks start whose findings belong to the diagram; the day has its own panel.
const OF_WIRES: [&str; 7] = ["channel-", "converter-", "drop-", "fuse-", "motor-shares", "wire-", "wiring-"];

fn thing(item: Item) -> Option<Thing> {
    Some(match item {
        Item::Circuit(id) => Thing::Circuit(id),
        Item::Battery(gear) | Item::Load(gear, _) => Thing::Gear(gear),
        Item::Unit { unit, .. } | Item::Spare { unit, .. } => Thing::Gear(unit),
        Item::Cable(cable) => Thing::Cable(cable),
        Item::Free | Item::Lost | Item::Cables => return None,
    })
}
