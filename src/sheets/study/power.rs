//! The power budget for other programs. Charges and currents are those the battery sees.

use serde::Serialize;

use super::day::{BatteryDaySheet, MotorSheet};
use super::label;
use crate::plan::{CircuitId, GearId, Plan};
use crate::sheets::number::{Number, base};
use crate::study::Study;
use crate::study::power::{Draws, Power};

#[derive(Serialize)]
pub(super) struct PowerSheet<'a> {
    hours: Number,
    charge_ah: Number,
    energy_wh: Number,
    typical_a: Number,
    peak_a: Number,
    loads: Vec<LoadSheet<'a>>,
    phases: Vec<PhaseSheet<'a>>,
    circuits: Vec<CircuitSheet<'a>>,
    batteries: Vec<BatterySheet<'a>>,
    motors: Vec<MotorSheet<'a>>,
    converters: Vec<ConverterSheet<'a>>,
    meter_next: Vec<WorthSheet<'a>>,
}

/// A load worth metering, the most worth first.
#[derive(Serialize)]
struct WorthSheet<'a> {
    gear: GearId,
    label: &'a str,
    charge_ah: Number,
    charge_spread_ah: Number,
    spread_a: Number,
    hangs_on_it: Vec<String>,
}

#[derive(Serialize)]
struct LoadSheet<'a> {
    gear: GearId,
    label: &'a str,
    draws_as: &'static str,
    circuit: Option<CircuitId>,
    battery: Option<GearId>,
    converter: Option<GearId>,
    lacks_converter: bool,
    typical_a: Number,
    peak_a: Number,
    hours: Number,
    charge_ah: Number,
    energy_wh: Number,
    origin: &'static str,
    catalogue_a: Number,
    spread_a: Number,
    shared_over: Option<usize>,
}

#[derive(Serialize)]
struct PhaseSheet<'a> {
    name: &'a str,
    hours: Option<Number>,
    mean_a: Number,
    charge_ah: Number,
    energy_wh: Number,
}

#[derive(Serialize)]
struct CircuitSheet<'a> {
    circuit: CircuitId,
    name: &'a str,
    fuse_a: Option<Number>,
    typical_a: Number,
    peak_a: Number,
    charge_ah: Number,
}

#[derive(Serialize)]
struct BatterySheet<'a> {
    gear: GearId,
    label: &'a str,
    nominal_v: Number,
    nominal_ah: Number,
    health_percent: Number,
    usable_ah: Number,
    drawn_ah: Number,
    lasts_hours: Option<Number>,
    peak_a: Number,
    limit_a: Option<Number>,
    #[serde(flatten)]
    day: Option<BatteryDaySheet<'a>>,
}

#[derive(Serialize)]
struct ConverterSheet<'a> {
    gear: GearId,
    label: &'a str,
    peak_w: Number,
    rating_w: Number,
}

impl<'a> PowerSheet<'a> {
    pub(super) fn of(plan: &'a Plan, study: &Study) -> Self {
        let power = &study.power;
        Self {
            hours: base(power.hours),
            charge_ah: base(power.total),
            energy_wh: base(power.energy),
            typical_a: base(power.typical),
            peak_a: base(power.peak),
            loads: loads(plan, power),
            phases: phases(plan, power),
            circuits: circuits(plan, power),
            batteries: batteries(plan, study),
            motors: study.day.motors.iter().map(|motor| MotorSheet::of(plan, motor)).collect(),
            converters: power
                .converters
                .iter()
                .map(|converter| ConverterSheet {
                    gear: converter.gear,
                    label: label(plan, converter.gear),
                    peak_w: base(converter.peak),
                    rating_w: base(converter.rating),
                })
                .collect(),
            meter_next: meter_next(plan, study),
        }
    }
}

fn meter_next<'a>(plan: &'a Plan, study: &Study) -> Vec<WorthSheet<'a>> {
    let sheet = |worth: &crate::study::meter_next::Worth| WorthSheet {
        gear: worth.gear,
        label: label(plan, worth.gear),
        charge_ah: base(worth.charge),
        charge_spread_ah: base(worth.charge_spread),
        spread_a: base(worth.spread),
        hangs_on_it: worth.hangs.iter().map(|hangs| hangs.words(plan)).collect(),
    };
    study.meter_next.iter().map(sheet).collect()
}

fn loads<'a>(plan: &'a Plan, power: &Power) -> Vec<LoadSheet<'a>> {
    let sheet = |load: &crate::study::power::LoadUse| LoadSheet {
        gear: load.gear,
        label: label(plan, load.gear),
        draws_as: match load.draws {
            Draws::Load => "load",
            Draws::Motor => "motor",
            Draws::Converter => "converter",
            Draws::SwitchUnit => "switch unit",
        },
        circuit: load.circuit,
        battery: load.battery,
        converter: load.converter,
        lacks_converter: load.lacks_converter,
        typical_a: base(load.typical),
        peak_a: base(load.peak),
        hours: base(load.hours),
        charge_ah: base(load.charge),
        energy_wh: base(load.energy),
        origin: load.origin.word(),
        catalogue_a: base(load.catalogue),
        spread_a: base(load.spread),
        shared_over: power.metered.loads.get(&load.gear).map(|metered| metered.shared_over),
    };
    power.loads.iter().map(sheet).collect()
}

fn phases<'a>(plan: &'a Plan, power: &Power) -> Vec<PhaseSheet<'a>> {
    let sheet = |phase: &crate::study::power::PhaseUse| {
        let planned = plan.outing.phases.get(phase.phase);
        PhaseSheet {
            name: planned.map_or("", |planned| planned.name.as_str()),
            hours: planned.map(|planned| base(planned.hours)),
            mean_a: base(phase.mean),
            charge_ah: base(phase.charge),
            energy_wh: base(phase.energy),
        }
    };
    power.phases.iter().map(sheet).collect()
}

fn circuits<'a>(plan: &'a Plan, power: &Power) -> Vec<CircuitSheet<'a>> {
    let sheet = |circuit: &crate::study::power::CircuitUse| {
        let planned = plan.wiring.circuits.iter().find(|planned| planned.id == circuit.circuit);
        CircuitSheet {
            circuit: circuit.circuit,
            name: planned.map_or("", |planned| planned.name.as_str()),
            fuse_a: planned.and_then(|planned| planned.fuse).map(base),
            typical_a: base(circuit.typical),
            peak_a: base(circuit.peak),
            charge_ah: base(circuit.charge),
        }
    };
    power.circuits.iter().map(sheet).collect()
}

fn batteries<'a>(plan: &'a Plan, study: &Study) -> Vec<BatterySheet<'a>> {
    let sheet = |battery: &crate::study::power::BatteryUse| BatterySheet {
        gear: battery.gear,
        label: label(plan, battery.gear),
        nominal_v: base(battery.volts),
        nominal_ah: base(battery.nominal),
        health_percent: battery.health_percent.into(),
        usable_ah: base(battery.usable),
        drawn_ah: base(battery.drawn),
        lasts_hours: battery.lasts.map(base),
        peak_a: base(battery.peak),
        limit_a: battery.limit.map(base),
        day: study.day.battery(battery.gear).map(|day| BatteryDaySheet::of(plan, battery, day)),
    };
    study.power.batteries.iter().map(sheet).collect()
}
