//! A battery as numbers: what is in it, how it sags, when it cuts out.

use crate::plan::{Chemistry, Electric, Gear};
use crate::study::chemistry::{capacity_share, depth_of_discharge, peukert, volts};
use crate::units::{Charge, Quantity, Temperature, Voltage};

/// A battery as numbers. Ampere-hours, volts, ohms.
#[derive(Clone, Copy, Debug)]
pub(super) struct Cell {
    chemistry: Chemistry,
    nominal: Voltage,
    /// The label.
    pub label_ah: f64,
    /// What age left of it, 0 to 1.
    health: f64,
    /// Resistance inside at 25 C.
    ohms: f64,
    exponent: f64,
    rate_hours: f64,
    /// Voltage at which its own protection opens; none for lead.
    pub cut_out_v: Option<f64>,
    /// Share of what is there that may be planned with.
    pub depth: f64,
}

/// A battery at one temperature.
#[derive(Clone, Copy, Debug)]
pub(super) struct Chilled {
    /// What is there to take when full, Ah.
    pub capacity_ah: f64,
    /// Resistance inside.
    pub ohms: f64,
}

impl Cell {
    /// What the plan says of a battery, and what is usual where it says nothing.
    pub fn of(gear: &Gear) -> Option<Self> {
        let Some(Electric::Battery {
            chemistry,
            volts: nominal,
            capacity,
            resistance,
            health_percent,
            peukert: exponent,
            hour_rate,
            cut_out,
            ..
        }) = &gear.spec.electric
        else {
            return None;
        };
        let usual = || volts::usual_resistance(*chemistry, capacity.value);
        Some(Self {
            chemistry: *chemistry,
            nominal: *nominal,
            label_ah: capacity.value.base(),
            health: health_percent.unwrap_or(100.0) / 100.0,
            ohms: resistance.map_or_else(usual, |figure| figure.value).base(),
            exponent: exponent.unwrap_or_else(|| peukert::usual_exponent(*chemistry)),
            rate_hours: hour_rate.unwrap_or(peukert::HOUR_RATE).base(),
            cut_out_v: cut_out.or_else(|| volts::usual_cut_out(*chemistry, *nominal)).map(Voltage::to_volts),
            depth: depth_of_discharge(*chemistry),
        })
    }

    /// A new battery of its sort with another label. Resistance goes against the label: more plates side by side.
    pub fn with_label(self, label_ah: f64) -> Self {
        Self { label_ah, health: 1.0, ohms: self.ohms * self.label_ah / label_ah, ..self }
    }

    /// The battery at a temperature. Warmth above the label is not planned with.
    pub fn at(&self, air: Temperature) -> Chilled {
        Chilled {
            capacity_ah: self.label_ah * self.health * capacity_share(self.chemistry, air).min(1.0),
            ohms: self.ohms * volts::resistance_share(self.chemistry, air),
        }
    }

    /// The current that counts against the label.
    pub fn counted(&self, amps: f64) -> f64 {
        peukert::counted(self.label_ah * self.health, self.rate_hours, self.exponent, amps)
    }

    /// Terminal voltage at a state of charge, 0 to 1, and a current.
    pub fn volts(&self, charge: f64, amps: f64, chilled: Chilled) -> f64 {
        volts::rest_volts(self.chemistry, self.nominal, charge).to_volts() - amps * chilled.ohms
    }

    /// The state of charge, 0 to 1, at which the terminals fall to a voltage under this current.
    pub fn charge_at(&self, volts_v: f64, amps: f64, chilled: Chilled) -> f64 {
        volts::charge_at(self.chemistry, self.nominal, Voltage::volts(volts_v + amps * chilled.ohms))
    }

    /// Energy of a charge, as labels count it: at the nominal voltage.
    pub fn energy(&self, charge: Charge) -> crate::units::Energy {
        charge * self.nominal
    }
}
