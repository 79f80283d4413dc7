//! What the plan's wires lose, carry and need: a run of wire for each circuit and each main, and what of the wiring
//! runs in a circle.
//!
//! A circuit's wire and the main before it are in series: what a load misses is the drop in both. The main carries all
//! its circuits at once, so its share is taken with all of them in the same state: ordinary use with ordinary use,
//! greatest with greatest. That is the least voltage the load can meet in that state, not a likely one. A circuit is
//! counted from the switch unit that a main of known drop feeds, else from the battery by way of the unit, in the
//! circuit's own size; a measured length is taken as it was measured. Loads behind a converter count by the current
//! the converter takes.

pub mod length;
pub mod rings;
pub mod run;

use std::collections::BTreeMap;

use self::length::one_way_mm;
use self::rings::Rings;
use self::run::{Amps, Rules, Run};
use super::power::{Draws, LoadUse, Power};
use super::rig::Rig;
use crate::plan::{Circuit, CircuitId, Electric, GearId, Kind, Main, Plan};
use crate::units::{Quantity, Temperature};

/// How much warmer than the air copper gets under load, K. Common practice, no source.
pub const WARMER_K: f64 = 20.0;

/// The least temperature copper is counted with, deg C: a wire in a hull in the sun. Common practice, no source.
pub const LEAST_C: f64 = 30.0;

/// Supply assumed where no battery is aboard, V: the label of lead batteries, the larger share lost.
const NO_BATTERY_V: f64 = 12.0;

/// What the plan's wires lose, carry and need.
#[derive(Clone, Debug)]
pub struct Wiring {
    /// Temperature the copper is counted with.
    pub conductor: Temperature,
    /// Every circuit, in the plan's order.
    pub circuits: Vec<CircuitWire>,
    /// The main of each placed battery that has one or needs one.
    pub mains: Vec<MainWire>,
    /// What draws and is on no circuit.
    pub free: Vec<GearId>,
    /// What feeds itself, or is fed by no battery or twice.
    pub rings: Rings,
}

/// The wire of a circuit.
#[derive(Clone, Debug, PartialEq)]
pub struct CircuitWire {
    /// The circuit.
    pub circuit: CircuitId,
    /// Whether anything aboard draws through it.
    pub in_use: bool,
    /// Whether motors are all that draws through it.
    pub motors_only: bool,
    /// Whether the battery's main fuse already opens before this wire is overloaded.
    pub main_protects: bool,
    /// The wire.
    pub run: Run,
}

/// The wire between a battery and where its circuits part.
#[derive(Clone, Debug, PartialEq)]
pub struct MainWire {
    /// The battery.
    pub battery: GearId,
    /// Whether the plan has a main for it; if not, it needs one: its wire to a switch unit has no fuse.
    pub stated: bool,
    /// The circuits that hang on it. Motors that share the battery with other loads have a run of their own.
    pub carries: Vec<CircuitId>,
    /// The placed switch units it feeds.
    pub units: Vec<GearId>,
    /// The wire.
    pub run: Run,
}

impl Wiring {
    /// Studies the wires of a plan.
    pub fn of(plan: &Plan, rig: &Rig, power: &Power) -> Self {
        let wires = Wires::of(plan, rig, power);
        let mains: Vec<MainWire> = power.batteries.iter().filter_map(|battery| wires.main(battery.gear)).collect();
        Self {
            conductor: wires.rules.conductor,
            circuits: plan.wiring.circuits.iter().map(|circuit| wires.circuit(circuit, &mains)).collect(),
            free: power.loads.iter().filter(|load| is_free(load)).map(|load| load.gear).collect(),
            rings: Rings::of(plan, power),
            mains,
        }
    }

    /// The wire of this circuit.
    pub fn circuit(&self, id: CircuitId) -> Option<&CircuitWire> {
        self.circuits.iter().find(|wire| wire.circuit == id)
    }

    /// The main of this battery.
    pub fn main(&self, battery: GearId) -> Option<&MainWire> {
        self.mains.iter().find(|wire| wire.battery == battery)
    }
}

/// Temperature of the copper: warmer than the air, and never cool.
pub fn conductor(air: Temperature) -> Temperature {
    Temperature::celsius((air.to_celsius() + WARMER_K).max(LEAST_C))
}

/// Whether gear of this kind minds a low voltage: lights, sonar, radios, pumps.
///
/// Source: ISO 10133 lists navigation lights, pumps and safety equipment; sonar and radio are common practice.
pub fn minds_a_drop(kind: Kind) -> bool {
    use Kind::{BlackBox, Display, Light, Livewell, Pump, Radio, Sensor, Transducer};
    matches!(kind, BlackBox | Display | Light | Livewell | Pump | Radio | Sensor | Transducer)
}

/// Behind a converter the converter's wire counts, and it is listed itself; a switch unit's own draw is taken before
/// its channels.
fn is_free(load: &LoadUse) -> bool {
    let exempt = load.converter.is_some() || load.draws == Draws::SwitchUnit;
    load.circuit.is_none() && !exempt && load.peak.base() > 0.0
}

/// The plan with its uses by circuit, looked up once.
struct Wires<'a> {
    plan: &'a Plan,
    rig: &'a Rig,
    power: &'a Power,
    rules: Rules,
    uses: BTreeMap<CircuitId, Vec<&'a LoadUse>>,
}

impl<'a> Wires<'a> {
    fn of(plan: &'a Plan, rig: &'a Rig, power: &'a Power) -> Self {
        let mut uses: BTreeMap<CircuitId, Vec<&LoadUse>> = BTreeMap::new();
        for load in power.loads.iter().filter(|load| load.peak.base() > 0.0) {
            if let Some(circuit) = load.circuit {
                uses.entry(circuit).or_default().push(load);
            }
        }
        Self { plan, rig, power, rules: Rules::of(plan), uses }
    }

    fn circuit(&self, circuit: &Circuit, mains: &[MainWire]) -> CircuitWire {
        let uses = self.uses(circuit.id);
        // What hangs behind a converter hangs on a lead of its own.
        let behind = |gear: GearId| uses.iter().any(|load| load.gear == gear && load.converter.is_some());
        let ends: Vec<GearId> = circuit.loads.iter().copied().filter(|gear| !behind(*gear)).collect();
        let main = mains.iter().find(|main| main.carries.contains(&circuit.id));
        let before = main.filter(|main| main.stated).and_then(|main| main.run.lost).map(|lost| lost.volts());
        let unit = circuit.channel.map(|(unit, _)| unit);
        let fed_at = unit.filter(|unit| before.is_some() && main.is_some_and(|main| main.units.contains(unit)));
        let one_way = one_way_mm(self.rig, &circuit.wire(), fed_at.unwrap_or(circuit.battery), unit, &ends);
        let strict = ends.iter().any(|gear| self.minds(*gear));
        let volts = self.volts(circuit.battery);
        let run = Run::of(&circuit.wire(), Amps::of(uses), volts, one_way, strict, before, &self.rules);
        let main_fuse = main.and_then(|main| main.run.fuse_a);
        CircuitWire {
            circuit: circuit.id,
            in_use: !uses.is_empty(),
            motors_only: motors_only(uses),
            main_protects: main_fuse.zip(run.permitted_a).is_some_and(|(fuse, permitted)| fuse <= permitted),
            run,
        }
    }

    fn main(&self, battery: GearId) -> Option<MainWire> {
        let stated = self.plan.wiring.main_of(battery);
        let circuits = self.plan.wiring.circuits.iter().filter(|circuit| circuit.battery == battery);
        let mut carried: Vec<&Circuit> = circuits.filter(|circuit| !self.uses(circuit.id).is_empty()).collect();
        if carried.iter().any(|circuit| !motors_only(self.uses(circuit.id))) {
            carried.retain(|circuit| !motors_only(self.uses(circuit.id)));
        }
        let mut units: Vec<GearId> =
            carried.iter().filter_map(|circuit| circuit.channel).map(|(unit, _)| unit).collect();
        units.retain(|unit| self.is_switch_aboard(*unit));
        units.sort_unstable();
        units.dedup();
        if stated.is_none() && units.is_empty() {
            return None;
        }
        let own_draw = |load: &&LoadUse| load.draws == Draws::SwitchUnit && units.contains(&load.gear);
        let uses = carried.iter().flat_map(|circuit| self.uses(circuit.id)).copied();
        let uses: Vec<&LoadUse> = uses.chain(self.power.loads.iter().filter(own_draw)).collect();
        let wire = stated.map_or_else(|| Main::new(battery).wire(), Main::wire);
        let one_way = one_way_mm(self.rig, &wire, battery, None, &units);
        // Feeders of panels belong to the strict class whatever hangs on them.
        let strict = !motors_only(&uses);
        Some(MainWire {
            battery,
            stated: stated.is_some(),
            carries: carried.iter().map(|circuit| circuit.id).collect(),
            run: Run::of(&wire, Amps::of(&uses), self.volts(battery), one_way, strict, None, &self.rules),
            units,
        })
    }

    fn uses(&self, circuit: CircuitId) -> &[&'a LoadUse] {
        self.uses.get(&circuit).map_or(&[], Vec::as_slice)
    }

    fn volts(&self, battery: GearId) -> f64 {
        self.power.battery(battery).map_or(NO_BATTERY_V, |battery| battery.volts.to_volts())
    }

    fn minds(&self, gear: GearId) -> bool {
        self.plan.gear(gear).is_some_and(|gear| minds_a_drop(gear.spec.kind))
    }

    fn is_switch_aboard(&self, unit: GearId) -> bool {
        let unit = self.plan.gear(unit);
        unit.is_some_and(|unit| unit.is_placed() && matches!(unit.spec.electric, Some(Electric::Switch { .. })))
    }
}

fn motors_only(uses: &[&LoadUse]) -> bool {
    !uses.is_empty() && uses.iter().all(|load| load.draws == Draws::Motor)
}
