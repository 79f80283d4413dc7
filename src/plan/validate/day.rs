//! The door for what a day is reckoned with: the outing, what is inside a battery, a motor's speeds.

use super::{Door, Plan, Spec};
use crate::plan::Electric;
use crate::units::{Quantity, Temperature};

/// Air on the water, C. Common practice, no source: a wide frame.
const AIR_C: (f64, f64) = (-40.0, 60.0);

impl Door {
    /// A day may be nonsense, and then a check says so: a phase without length, more than 24 hours.
    pub(super) fn outing(&mut self, plan: &Plan) {
        self.air(plan.outing.air, "outing, air");
        self.range(plan.outing.water_temperature.to_celsius(), -3.0, 45.0, "outing, water_temperature", "C");
        if let Some(bilge) = plan.outing.bilge {
            self.range(bilge.to_kg(), 0.0, 100.0, "outing, bilge", "kg");
        }
        self.check(plan.outing.phases.len() <= 100, "outing", "an outing has at most 100 phases");
        for phase in &plan.outing.phases {
            let field = format!("phase \"{}\"", phase.name);
            self.range(phase.hours.to_hours(), 0.0, 48.0, &field, "h");
            if let Some(air) = phase.air {
                self.air(air, &format!("{field}, air"));
            }
            for duty in &phase.duties {
                self.range(duty.share, 0.0, 1.0, &format!("{field}, share of {}", duty.gear), "");
                self.check(plan.gear(duty.gear).is_some(), &field, &format!("{} is not in the plan", duty.gear));
            }
        }
    }

    pub(super) fn air(&mut self, air: Temperature, field: &str) {
        self.range(air.to_celsius(), AIR_C.0, AIR_C.1, field, "C");
    }

    /// What the day asks of a battery and a motor beyond voltage and current. Frames around what is sold,
    /// common practice, no source.
    pub(super) fn day_figures(&mut self, spec: &Spec, field: &str) {
        match &spec.electric {
            Some(Electric::Battery {
                resistance, health_percent, peukert, hour_rate, cut_out, charge_above, ..
            }) => {
                let rows = [
                    ("resistance", resistance.map(|r| r.value.base()), (0.0, 2.0), "ohm"),
                    ("health_percent", *health_percent, (10.0, 100.0), "percent"),
                    ("peukert", *peukert, (1.0, 2.0), ""),
                    ("hour_rate", hour_rate.map(|rate| rate.to_hours()), (0.1, 120.0), "h"),
                    ("cut_out", cut_out.map(|volts| volts.to_volts()), (0.5, 60.0), "V"),
                    ("charge_above", charge_above.map(|air| air.to_celsius()), AIR_C, "C"),
                ];
                for (name, value, (least, most), unit) in rows {
                    if let Some(value) = value {
                        self.range(value, least, most, &format!("{field}, {name}"), unit);
                    }
                }
            }
            Some(Electric::Motor { settings, .. }) => {
                for setting in settings {
                    if let Some(speed) = setting.speed_kmh {
                        self.range(speed, 0.0, 60.0, &format!("{field}, setting {}, speed_kmh", setting.name), "km/h");
                    }
                }
            }
            Some(Electric::Load { stops_below: Some(volts), .. }) => {
                self.range(volts.to_volts(), 0.0, 60.0, &format!("{field}, stops_below"), "V");
            }
            _ => {}
        }
    }
}
