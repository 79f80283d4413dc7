//! Wiring: the one-line diagram from each battery through its main, switch unit and circuits to the loads, as lines.

mod cables;
mod cells;
mod tree;

pub use cells::{Cell, HEADS};

use self::tree::Node;
use super::{Panel, PanelKind, PanelRow, Sources};
use crate::checks::{Finding, Severity};
use crate::plan::{CircuitId, GearId, Plan};
use crate::study::cables::CableRef;
use crate::study::wiring::Wiring;
use crate::study::wiring::cure::Cure;
use crate::tui::app::Thing;
use crate::units::{Current, amount};

/// What a line of the diagram stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Item {
    /// A battery with its main.
    Battery(GearId),
    /// A switch unit behind a battery.
    Unit {
        /// The battery that feeds it.
        battery: GearId,
        /// The unit.
        unit: GearId,
    },
    /// A circuit.
    Circuit(CircuitId),
    /// The channels of a unit that no circuit names, by the first of them.
    Spare {
        /// The battery that feeds the unit.
        battery: GearId,
        /// The unit.
        unit: GearId,
        /// The first free channel, counted from 1.
        channel: u8,
    },
    /// A load; the circuit it hangs on.
    Load(GearId, Option<CircuitId>),
    /// The heading of what is on no circuit.
    Free,
    /// The heading of circuits that no battery feeds.
    Lost,
    /// The heading of the cables.
    Cables,
    /// A cable.
    Cable(CableRef),
}

/// A piece of the line that leads to an item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Joint {
    /// The line above goes on below, past this row.
    Past,
    /// Nothing.
    Gap,
    /// A branch, and the line goes on.
    Fork,
    /// The last branch.
    End,
}

/// One line of the diagram.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// What it stands for.
    pub item: Item,
    /// What leads to it, from the left.
    pub stem: Vec<Joint>,
    /// The number of the channel, in front of its name.
    pub channel: Option<u8>,
    /// Its name.
    pub label: String,
    /// What it is, in few words.
    pub about: String,
    /// Its figures, in the order of [`HEADS`]; none for headings.
    pub cells: Vec<Cell>,
    /// The finding about it that weighs most.
    pub finding: Option<usize>,
    /// That finding's weight.
    pub mark: Option<Severity>,
    /// Where it is on the boat.
    pub thing: Option<Thing>,
    /// Nothing aboard draws here.
    pub idle: bool,
}

pub(super) fn panel(from: Sources<'_>) -> Panel {
    let wiring = &from.study.wiring;
    let headline = count(from.plan.wiring.circuits.len(), "circuit");
    let verdict = match wiring.free.len() {
        0 => count(wiring.mains.iter().filter(|main| main.stated).count(), "main"),
        free => format!("{free} on no circuit"),
    };
    let rows = lines(from)
        .into_iter()
        .map(|line| PanelRow { mark: line.mark, label: line.label, thing: line.thing, ..PanelRow::default() })
        .collect();
    Panel { kind: PanelKind::Wiring, headline, was: None, gauge: None, worst: None, verdict, rows }
}

fn count(number: usize, what: &str) -> String {
    format!("{number} {what}{}", if number == 1 { "" } else { "s" })
}

/// The diagram, from the first battery down to what hangs on nothing.
pub fn lines(from: Sources<'_>) -> Vec<Line> {
    let mut all = Vec::new();
    for root in tree::roots(from) {
        flatten(root, &mut Vec::new(), &mut all);
    }
    all
}

fn flatten(node: Node, stem: &mut Vec<Joint>, all: &mut Vec<Line>) {
    all.push(Line { stem: stem.clone(), ..node.line });
    // What led here with a branch leads on past what hangs on it, or ends.
    if let Some(joint) = stem.last_mut() {
        *joint = if *joint == Joint::Fork { Joint::Past } else { Joint::Gap };
    }
    let last = node.below.len().saturating_sub(1);
    for (index, below) in node.below.into_iter().enumerate() {
        stem.push(if index == last { Joint::End } else { Joint::Fork });
        flatten(below, stem, all);
        stem.pop();
    }
}

/// The name of the thing a line stands for, as it is said.
pub fn named(plan: &Plan, item: Item) -> String {
    let label = |gear| super::label(plan, gear);
    match item {
        Item::Battery(battery) => label(battery),
        Item::Unit { unit, .. } => label(unit),
        Item::Circuit(id) => plan.wiring.circuit(id).map_or_else(|| id.to_string(), |circuit| circuit.name.to_string()),
        Item::Spare { unit, channel, .. } => format!("channel {channel} of {}", label(unit)),
        Item::Load(gear, _) => label(gear),
        Item::Free => "no circuit".into(),
        Item::Lost => "no battery".into(),
        Item::Cables | Item::Cable(_) => "a cable".into(),
    }
}

/// What would cure the size and fuse of a circuit or a main, where a finding speaks against them.
pub fn cure(wiring: &Wiring, findings: &[Finding], item: Item) -> Option<Cure> {
    let speaks = |finding: &&Finding| {
        matches!(finding.check, "drop-over" | "wire-thin" | "fuse-wrong" | "channel-free") && tree::about(finding, item)
    };
    findings.iter().find(speaks)?;
    match item {
        Item::Circuit(id) => wiring.circuit(id)?.run.cure(),
        Item::Battery(battery) => wiring.main(battery)?.run.cure(),
        _ => None,
    }
}

/// A cure in words: `18 AWG and a fuse of 3 A`.
pub fn cure_words(cure: Cure, protection: &str) -> String {
    let gauge = cure.gauge_awg.map(|awg| format!("{awg} AWG"));
    let fuse = cure.fuse_a.map(|amps| format!("a {protection} of {amps} A"));
    gauge.into_iter().chain(fuse).collect::<Vec<_>>().join(" and ")
}

/// What a wire bears, in words: what it may carry, which fuses fit, which size would do.
pub fn room_words(wiring: &Wiring, item: Item) -> Option<String> {
    let run = match item {
        Item::Circuit(id) => &wiring.circuit(id)?.run,
        Item::Battery(battery) => &wiring.main(battery)?.run,
        _ => return None,
    };
    let amps = |amps: f64| amount(Current::amps(amps), 1);
    let carries = run.permitted_a.map(|permitted| format!("may carry {}", amps(permitted)));
    let fuses = match run.greatest_fuse_a {
        Some(greatest) => format!("fuses of {} to {} fit", amps(run.least_fuse_a), amps(greatest)),
        None => format!("fuses of {} or more fit", amps(run.least_fuse_a)),
    };
    let does = run.smallest_awg.map(|awg| format!("{awg} AWG and thicker does"));
    Some(carries.into_iter().chain([fuses]).chain(does).collect::<Vec<_>>().join(", "))
}
