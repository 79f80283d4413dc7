//! What gear draws or delivers.

use serde::{Deserialize, Serialize};

use crate::plan::Name;
use crate::units::{Charge, Current, Duration, Figure, Power, Resistance, Temperature, Voltage};

/// What gear draws or delivers.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Electric {
    /// Something that draws current.
    Load {
        /// Supply it wants: 12 for the battery, 5 for a converter's output.
        volts: Voltage,
        /// Current in ordinary use, at `volts`.
        typical: Figure<Current>,
        /// Greatest current, at `volts`.
        peak: Figure<Current>,
        /// Current when switched off but connected.
        standby: Figure<Current>,
        /// Voltage below which it stops.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        stops_below: Option<Voltage>,
        /// How much of the time it runs.
        runs: Runs,
    },
    /// A battery.
    Battery {
        /// What it is made of.
        chemistry: Chemistry,
        /// Nominal voltage.
        volts: Voltage,
        /// Capacity on the label.
        capacity: Figure<Charge>,
        /// Greatest current it gives.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        limit: Option<Current>,
        /// Resistance inside, full and at 25 C. Without it what is usual for its sort and size counts.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        resistance: Option<Figure<Resistance>>,
        /// What age has left of the label, percent. Without it the battery is as new.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        health_percent: Option<f64>,
        /// Peukert's exponent, 1 for none. Without it what is usual for its sort.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        peukert: Option<f64>,
        /// Hours over which the label was taken. Without it 20.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        hour_rate: Option<Duration>,
        /// Voltage at which its own protection opens. Without it what is usual for its sort.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        cut_out: Option<Voltage>,
        /// Coldest it may be charged at. Without it what is usual for its sort.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        charge_above: Option<Temperature>,
    },
    /// A step-down converter.
    Converter {
        /// Output voltage.
        volts: Voltage,
        /// Greatest output power.
        power: Power,
        /// Output power over input power, 0 to 1.
        efficiency: f64,
        /// Current it takes for itself.
        idle: Figure<Current>,
    },
    /// A module that switches several circuits.
    Switch {
        /// Number of outputs.
        channels: u8,
        /// Greatest current of one output.
        each: Current,
        /// Greatest current of all outputs together.
        total: Current,
        /// Current it takes for itself.
        idle: Figure<Current>,
    },
    /// A fuse block or breaker.
    Protection {
        /// Number of fused outputs.
        ways: u8,
        /// Greatest current.
        total: Current,
    },
    /// A motor, by its speed settings.
    Motor {
        /// Nominal voltage.
        volts: Voltage,
        /// Settings, slowest first.
        settings: Vec<Setting>,
    },
}

/// One speed setting of a motor.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Setting {
    /// `3`, `60 %`.
    pub name: Name,
    /// Current at this setting.
    pub current: Figure<Current>,
    /// Speed of the laden boat, km/h, if known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub speed_kmh: Option<f64>,
}

/// How much of the time a load runs, 0 to 1, by daylight and in the dark.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Runs {
    /// Share of daylight hours.
    pub day: f64,
    /// Share of dark hours.
    pub dark: f64,
}

/// What a battery is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Chemistry {
    /// Lithium iron phosphate.
    LithiumIronPhosphate,
    /// Absorbed-glass-mat lead.
    GlassMatLead,
    /// Flooded lead.
    FloodedLead,
}
