//! Who feeds whom: the battery, circuit and converter behind each load.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::{Circuit, CircuitId, Electric, Gear, GearId, Plan};
use crate::units::{Quantity, Voltage};

/// Efficiency of a step-down converter when none is placed.
/// Source: a seller's worked page gives 0.877 (12 V 0.95 A in, 5 V 2 A out); usual range 0.85 to 0.95.
pub const USUAL_EFFICIENCY: f64 = 0.87;

/// Supply assumed where nothing feeds a load, V: the label of lead batteries, the larger current.
const NO_BATTERY_V: f64 = 12.0;

/// A load whose voltage is below this share of the battery's needs a converter: 5 V and 9 V on 12 V do,
/// 12 V on 12.8 V does not. Common practice, no source.
const DIRECT_FROM: f64 = 0.75;

/// How far a converter's output may be from what the load wants, as a share. Common practice, no
/// source: 5.1 and 5.25 V outputs serve 5 V devices.
const SAME_VOLTAGE: f64 = 0.1;

/// What stands behind a load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Feed {
    /// The circuit whose wire carries it.
    pub circuit: Option<CircuitId>,
    /// Index of the placed battery.
    pub battery: Option<usize>,
    /// The converter it goes through.
    pub converter: Option<GearId>,
    /// Whether it needs a converter and none is placed.
    pub lacks_converter: bool,
    /// Battery amperes for one ampere of the load.
    pub factor: f64,
    /// Voltage of the battery.
    pub volts: f64,
}

/// The placed sources and the circuits of a plan, looked up once.
pub(super) struct Feeds<'a> {
    circuits: BTreeMap<GearId, &'a Circuit>,
    units: BTreeMap<GearId, &'a Circuit>,
    batteries: BTreeMap<GearId, (usize, f64)>,
    volts: Vec<f64>,
    converters: Vec<(GearId, f64, f64)>,
    /// Feeds what is on no circuit.
    house: Option<usize>,
    /// Feeds a motor that is on no circuit.
    drive: Option<usize>,
}

impl<'a> Feeds<'a> {
    /// Looks the plan's wiring up.
    pub fn of(plan: &'a Plan) -> Self {
        let (mut circuits, mut units) = (BTreeMap::new(), BTreeMap::new());
        for circuit in &plan.wiring.circuits {
            for load in &circuit.loads {
                circuits.entry(*load).or_insert(circuit);
            }
            if let Some((unit, _)) = circuit.channel {
                units.entry(unit).or_insert(circuit);
            }
        }
        let placed: Vec<&Gear> = plan.gear.iter().filter(|gear| gear.is_placed()).collect();
        let sources: Vec<(GearId, f64)> = placed.iter().filter_map(|gear| battery_volts(gear)).collect();
        let converters = placed.iter().filter_map(|gear| converter(gear)).collect();
        let solely_motors = solely_motors(plan);
        let house = sources.iter().position(|(id, _)| !solely_motors.contains(id));
        let drive = sources.iter().position(|(id, _)| solely_motors.contains(id));
        let any = (!sources.is_empty()).then_some(0);
        Self {
            circuits,
            units,
            batteries: sources.iter().enumerate().map(|(index, (id, volts))| (*id, (index, *volts))).collect(),
            volts: sources.iter().map(|(_, volts)| *volts).collect(),
            converters,
            house: house.or(any),
            drive: drive.or(house).or(any),
        }
    }

    /// Behind a load that wants this voltage.
    pub fn of_load(&self, load: GearId, wants: Voltage) -> Feed {
        let own = self.circuits.get(&load).copied();
        let direct = self.direct(own, self.house);
        let wants = wants.to_volts();
        if wants >= DIRECT_FROM * direct.volts {
            return direct;
        }
        let Some((converter, _, efficiency)) = self.converter_for(wants, own) else {
            return Feed { lacks_converter: true, factor: wants / (USUAL_EFFICIENCY * direct.volts), ..direct };
        };
        // The wire that carries the current is the converter's.
        let feed = self.direct(self.circuits.get(&converter).copied().or(own), self.house);
        Feed { converter: Some(converter), factor: wants / (efficiency * feed.volts), ..feed }
    }

    /// Behind a motor.
    pub fn of_motor(&self, motor: GearId) -> Feed {
        self.direct(self.circuits.get(&motor).copied(), self.drive)
    }

    /// Behind a converter's own draw.
    pub fn of_converter(&self, converter: GearId) -> Feed {
        self.direct(self.circuits.get(&converter).copied(), self.house)
    }

    /// Behind a switch unit's own draw: the battery of the circuits it switches.
    pub fn of_unit(&self, unit: GearId) -> Feed {
        match (self.circuits.get(&unit), self.units.get(&unit)) {
            (Some(own), _) => self.direct(Some(own), self.house),
            // Upstream of the circuit's fuse, so no circuit carries it.
            (None, Some(switched)) => Feed { circuit: None, ..self.direct(Some(switched), self.house) },
            (None, None) => self.direct(None, self.house),
        }
    }

    /// Straight from a circuit's battery, or from `otherwise` when on no circuit. A circuit whose
    /// battery is ashore feeds nothing.
    fn direct(&self, circuit: Option<&Circuit>, otherwise: Option<usize>) -> Feed {
        let battery = match circuit {
            Some(circuit) => self.batteries.get(&circuit.battery).map(|(index, _)| *index),
            None => otherwise,
        };
        let volts = battery.and_then(|index| self.volts.get(index)).copied().unwrap_or(NO_BATTERY_V);
        Feed { circuit: circuit.map(|c| c.id), battery, converter: None, lacks_converter: false, factor: 1.0, volts }
    }

    /// The converter for a voltage: one on the load's own circuit first, else the first placed.
    fn converter_for(&self, wants: f64, own: Option<&Circuit>) -> Option<(GearId, f64, f64)> {
        let fits = || self.converters.iter().copied().filter(|c| (c.1 - wants).abs() <= SAME_VOLTAGE * wants);
        own.and_then(|circuit| fits().find(|c| circuit.loads.contains(&c.0))).or_else(|| fits().next())
    }
}

/// Batteries whose circuits feed motors and nothing else.
fn solely_motors(plan: &Plan) -> BTreeSet<GearId> {
    let motors: BTreeSet<GearId> = plan
        .gear
        .iter()
        .filter(|gear| matches!(gear.spec.electric, Some(Electric::Motor { .. })))
        .map(|gear| gear.id)
        .collect();
    let mut only = BTreeMap::new();
    for circuit in plan.wiring.circuits.iter().filter(|circuit| !circuit.loads.is_empty()) {
        *only.entry(circuit.battery).or_insert(true) &= circuit.loads.iter().all(|load| motors.contains(load));
    }
    only.into_iter().filter(|(_, solely)| *solely).map(|(battery, _)| battery).collect()
}

fn battery_volts(gear: &Gear) -> Option<(GearId, f64)> {
    match &gear.spec.electric {
        Some(Electric::Battery { volts, .. }) => Some((gear.id, volts.base())),
        _ => None,
    }
}

fn converter(gear: &Gear) -> Option<(GearId, f64, f64)> {
    match &gear.spec.electric {
        Some(Electric::Converter { volts, efficiency, .. }) => Some((gear.id, volts.base(), *efficiency)),
        _ => None,
    }
}
