//! Which parts can fail, and what stops with each.

use std::collections::{BTreeMap, BTreeSet};

use super::{Failure, Part, runs_alone};
use crate::plan::{CircuitId, Control, Electric, Gear, GearId, Kind, Plan};
use crate::study::power::{BatteryUse, Draws, LoadUse, Power};
use crate::study::wiring::Wiring;
use crate::units::{Current, Quantity};

/// Least share of the one's nominal voltage to the other's at which a battery can stand in for another: 12 V of lead for
/// 12.8 V of lithium, not 12 V for 24 V. Common practice, no source.
const SAME_VOLTAGE: f64 = 0.75;

/// Every part that takes something with it.
pub(super) fn failures(plan: &Plan, power: &Power, wiring: &Wiring) -> Vec<Failure> {
    let tree = Tree::of(plan, power);
    let placed = || plan.gear.iter().filter(|gear| gear.is_placed());
    let batteries = power.batteries.iter().map(|battery| Failure {
        other_battery: other_battery(power, battery),
        ..failure(Part::Battery(battery.gear), tree.loads(|load| load.battery == Some(battery.gear)))
    });
    let mains = wiring.mains.iter().filter_map(|main| {
        let planned = plan.wiring.main_of(main.battery).filter(|planned| !planned.breaker)?;
        Some(failure(Part::MainFuse(main.battery, planned.fuse?), tree.through(main.carries.iter().copied())))
    });
    let units = placed()
        .filter(|gear| matches!(gear.spec.electric, Some(Electric::Switch { .. })))
        .map(|unit| failure(Part::SwitchUnit(unit.id), tree.switched_by(unit)));
    let remotes = placed()
        .filter(|gear| gear.spec.control == Some(Control::Remote))
        .map(|gear| failure(Part::Remote(gear.id), tree.switched_by(gear)));
    let fuses = plan.wiring.circuits.iter().filter_map(|circuit| {
        let fuse: Current = circuit.fuse?;
        Some(failure(Part::Fuse(circuit.id, fuse), tree.through([circuit.id])))
    });
    let converters = power.converters.iter().map(|converter| {
        failure(Part::Converter(converter.gear), tree.loads(|load| load.converter == Some(converter.gear)))
    });
    let parts = batteries.chain(mains).chain(units).chain(remotes).chain(phone(plan, &tree)).chain(fuses);
    parts.chain(converters).filter(|failure| !failure.lost.is_empty()).collect()
}

fn failure(part: Part, lost: BTreeSet<GearId>) -> Failure {
    Failure { part, lost, needs: Vec::new(), other_battery: None }
}

/// The phone as a switch: with it goes what it switches, and the phone. One that only hangs in its holder is no part.
fn phone(plan: &Plan, tree: &Tree<'_>) -> Option<Failure> {
    let placed = || plan.gear.iter().filter(|gear| gear.is_placed());
    let switched: Vec<&Gear> = placed().filter(|gear| gear.spec.control == Some(Control::Phone)).collect();
    if switched.is_empty() {
        return None;
    }
    let phone = placed().find(|gear| gear.spec.kind == Kind::Phone).map(|gear| gear.id);
    let lost = switched.iter().flat_map(|gear| tree.switched_by(gear)).chain(phone).collect();
    Some(failure(Part::Phone(phone), lost))
}

/// A battery that can be plugged in for this one: of its voltage, with charge to use, and strong enough for what hangs
/// on it.
fn other_battery(power: &Power, failed: &BatteryUse) -> Option<GearId> {
    let can = |other: &&BatteryUse| {
        let (one, two) = (other.volts.to_volts(), failed.volts.to_volts());
        let strong = other.limit.is_none_or(|limit| limit.base() >= failed.peak.base());
        other.gear != failed.gear && one.min(two) >= SAME_VOLTAGE * one.max(two) && other.usable.base() > 0.0 && strong
    };
    power.batteries.iter().find(can).map(|other| other.gear)
}

/// What hangs on what: the loads that stop without the wiring, by circuit, and the circuits by switch unit.
struct Tree<'a> {
    stops: Vec<&'a LoadUse>,
    by_circuit: BTreeMap<CircuitId, Vec<GearId>>,
    by_unit: BTreeMap<GearId, Vec<CircuitId>>,
    plan: &'a Plan,
}

impl<'a> Tree<'a> {
    fn of(plan: &'a Plan, power: &'a Power) -> Self {
        let stops = |load: &&LoadUse| {
            matches!(load.draws, Draws::Load | Draws::Motor)
                && plan.gear(load.gear).is_some_and(|gear| !runs_alone(gear))
        };
        let stops: Vec<&LoadUse> = power.loads.iter().filter(stops).collect();
        let mut by_circuit: BTreeMap<CircuitId, Vec<GearId>> = BTreeMap::new();
        for load in &stops {
            if let Some(circuit) = load.circuit {
                by_circuit.entry(circuit).or_default().push(load.gear);
            }
        }
        let mut by_unit: BTreeMap<GearId, Vec<CircuitId>> = BTreeMap::new();
        for circuit in &plan.wiring.circuits {
            if let Some((unit, _)) = circuit.channel {
                by_unit.entry(unit).or_default().push(circuit.id);
            }
        }
        Self { stops, by_circuit, by_unit, plan }
    }

    fn loads(&self, which: impl Fn(&LoadUse) -> bool) -> BTreeSet<GearId> {
        self.stops.iter().filter(|load| which(load)).map(|load| load.gear).collect()
    }

    /// What goes off when this gear can no longer be switched on: itself if it is a load, what is behind it if a unit.
    fn switched_by(&self, gear: &Gear) -> BTreeSet<GearId> {
        let mut lost = self.through(self.by_unit.get(&gear.id).into_iter().flatten().copied());
        lost.extend(self.stops.iter().filter(|load| load.gear == gear.id).map(|load| load.gear));
        lost
    }

    /// What hangs on these circuits, and on those of switch units that they feed. A circuit is gone through once, so
    /// that wiring in a ring comes to an end.
    fn through(&self, circuits: impl IntoIterator<Item = CircuitId>) -> BTreeSet<GearId> {
        let (mut seen, mut lost) = (BTreeSet::new(), BTreeSet::new());
        let mut next: Vec<CircuitId> = circuits.into_iter().collect();
        while let Some(circuit) = next.pop() {
            if !seen.insert(circuit) {
                continue;
            }
            lost.extend(self.by_circuit.get(&circuit).into_iter().flatten());
            let fed = self.plan.wiring.circuit(circuit).map_or(&[][..], |circuit| &circuit.loads);
            next.extend(fed.iter().filter_map(|gear| self.by_unit.get(gear)).flatten());
        }
        lost
    }
}
