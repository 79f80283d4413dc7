//! The day as the batteries live it: charge and voltage hour by hour, what stops and when, what to shed.
//!
//! Each battery begins full and is taken from change to change (`day/run.rs`) by the currents of the books
//! ([`super::power`]), at the air's temperature of each phase, with the losses of its chemistry, its age and
//! its resistance. A phase's currents are means over their share of the time; what a device takes at its peak
//! counts for the sag alone. Currents do not grow as the voltage falls: a converter's does by some percent.
//! Wires are not counted here. A device that stopped stays off. Nothing is put back by a phase that charges.

mod cell;
mod motor;
mod run;
mod series;
mod shed;
mod size;

pub use motor::{MotorDay, SettingDay};
pub use series::Moment;
pub use shed::{Shed, ShedLoad};

use self::cell::Cell;
use self::run::{Drain, Part, ROUNDING, Run, run};
use super::chosen;
use super::power::{BatteryUse, Power};
use crate::plan::{Electric, GearId, Plan};
use crate::units::{Charge, Duration, Energy, Temperature, Voltage};

/// What the plan wants left of the usable charge at the end of the day, percent. Common practice, no source.
pub const RESERVE_PERCENT: f64 = 20.0;

/// The day of every battery and motor aboard.
#[derive(Clone, Debug, Default)]
pub struct Day {
    /// Every placed battery, in the order of [`Power::batteries`].
    pub batteries: Vec<BatteryDay>,
    /// Every placed motor.
    pub motors: Vec<MotorDay>,
}

/// The day of one battery.
#[derive(Clone, Debug)]
pub struct BatteryDay {
    /// The battery.
    pub gear: GearId,
    /// Charge and voltage over the day.
    pub series: Vec<Moment>,
    /// Least state of charge, percent of what is there at that temperature, and when.
    pub lowest_charge: (f64, Duration),
    /// Least voltage at the terminals under ordinary currents while it gives any, and when.
    pub lowest_volts: (Voltage, Duration),
    /// Least voltage at the terminals were everything on it at its peak at once, while charge is left that may
    /// be planned with, and when; none where nothing draws.
    pub sag: Option<(Voltage, Duration)>,
    /// When what is left of what may be planned with is no more than the reserve that is wanted.
    pub into_reserve: Option<Duration>,
    /// When what may be planned with is gone; `None` when it sees the day out.
    pub used_up: Option<Duration>,
    /// When it gives nothing more and everything on it stops.
    pub empty: Option<Duration>,
    /// Devices that stop by their own limit of voltage before it is empty, first first.
    pub stops: Vec<(GearId, Duration)>,
    /// What is left at the end of what may be planned with, percent of it. Below nothing, as far as the day's
    /// need goes beyond it, whatever stops meanwhile.
    pub reserve_percent: f64,
    /// What each phase takes until it is empty.
    pub phases: Vec<(Charge, Energy)>,
    /// The label, new and of this sort, that just sees the day out; `None` where none does.
    pub smallest: Option<Charge>,
    /// The same with the reserve that is wanted, where this one falls short of it.
    pub enough: Option<Charge>,
    /// What could be left off where it falls short, the best first.
    pub shed: Shed,
}

impl Day {
    /// Lives the outing of a plan.
    pub fn of(plan: &Plan, power: &Power) -> Self {
        let parts = parts(plan);
        let wanted = chosen(plan, "battery-short.caution", RESERVE_PERCENT);
        let mut day = Self::default();
        let mut runs = Vec::new();
        for battery in &power.batteries {
            let Some(cell) = plan.gear(battery.gear).and_then(Cell::of) else { continue };
            let drains = drains(plan, power, battery.gear);
            let life = Life { plan, cell, parts: &parts, drains: &drains, wanted };
            let run = run(&cell, &parts, &drains, &[]);
            day.batteries.push(life.told(battery, &run));
            runs.push((battery.gear, cell, run));
        }
        day.motors = motor::motors(plan, power, &parts, &runs);
        day
    }

    /// The day of this battery, if it is placed.
    pub fn battery(&self, gear: GearId) -> Option<&BatteryDay> {
        self.batteries.iter().find(|battery| battery.gear == gear)
    }
}

impl BatteryDay {
    /// Whether it gives what may be planned with to the end, and nothing on it stops before.
    pub fn sees_it_out(&self) -> bool {
        self.used_up.is_none() && self.empty.is_none() && self.stops.is_empty()
    }
}

/// One battery, its day and what is wanted of it.
struct Life<'a> {
    plan: &'a Plan,
    cell: Cell,
    parts: &'a [Part],
    drains: &'a [Drain<'a>],
    /// Reserve wanted, percent.
    wanted: f64,
}

impl Life<'_> {
    fn told(&self, battery: &BatteryUse, run: &Run) -> BatteryDay {
        let short = !self.does(&self.cell, run, self.wanted);
        let hours = |hours: Option<f64>| hours.map(Duration::hours);
        BatteryDay {
            gear: battery.gear,
            series: series::series(&self.cell, self.parts, run),
            lowest_charge: series::lowest_charge(run),
            lowest_volts: series::lowest_volts(&self.cell, run),
            sag: series::sag(&self.cell, run, battery.peak),
            into_reserve: hours(run.passes(&self.cell, 1.0 - self.wanted / 100.0)),
            used_up: hours(run.used_up),
            empty: hours(run.empty),
            stops: self.stops(run),
            reserve_percent: self.reserve_percent(&self.cell, run),
            phases: self.phases(run),
            smallest: size::smallest(self, 0.0),
            enough: if short { size::smallest(self, self.wanted) } else { None },
            shed: if short { shed::shed(self, run) } else { Shed::default() },
        }
    }

    fn stops(&self, run: &Run) -> Vec<(GearId, Duration)> {
        let named = |at: &run::Dropped| Some((self.drains.get(at.drain)?.gear, Duration::hours(at.after)));
        run.dropped.iter().filter_map(named).collect()
    }

    fn phases(&self, run: &Run) -> Vec<(Charge, Energy)> {
        let mut taken = vec![0.0; self.parts.len()];
        for step in &run.steps {
            if let Some(entry) = taken.get_mut(step.part) {
                *entry += step.amps * (step.until - step.from);
            }
        }
        let charges = taken.into_iter().map(Charge::amp_hours);
        charges.map(|charge| (charge, self.cell.energy(charge))).collect()
    }

    /// The air at the end of the day.
    fn last_air(&self) -> Temperature {
        let last = self.parts.iter().rev().find(|part| part.hours > 0.0);
        last.map_or(self.plan.outing.air, |part| part.air)
    }

    /// Everything on in a part of the day, A.
    fn amps(&self, part: usize) -> f64 {
        self.drains.iter().filter_map(|drain| drain.amps.get(part)).sum()
    }

    /// What is left of what may be planned with, percent of it, had the whole day been served.
    fn reserve_percent(&self, cell: &Cell, run: &Run) -> f64 {
        let usable = cell.depth * cell.at(self.last_air()).capacity_ah;
        if usable > 0.0 { 100.0 * (usable - run.asked) / usable } else { 0.0 }
    }

    /// Whether a day lived so leaves the reserve, percent, and nothing stops in it.
    fn does(&self, cell: &Cell, run: &Run, reserve: f64) -> bool {
        let whole = run.used_up.is_none() && run.empty.is_none() && run.dropped.is_empty();
        whole && self.reserve_percent(cell, run) >= reserve - 100.0 * ROUNDING
    }
}

/// The phases as parts of the day.
fn parts(plan: &Plan) -> Vec<Part> {
    let part = |(index, phase): (usize, &crate::plan::Phase)| Part {
        hours: phase.hours.to_hours(),
        air: plan.outing.air_in(index),
    };
    plan.outing.phases.iter().enumerate().map(part).collect()
}

/// What draws on a battery.
fn drains<'a>(plan: &Plan, power: &'a Power, battery: GearId) -> Vec<Drain<'a>> {
    let drain = |(index, load): (usize, &super::power::LoadUse)| {
        // Behind a converter a device has the converter's voltage.
        let direct = load.converter.is_none() && !load.lacks_converter;
        let stops_below = match plan.gear(load.gear).and_then(|gear| gear.spec.electric.as_ref()) {
            Some(Electric::Load { stops_below, .. }) if direct => *stops_below,
            _ => None,
        };
        Drain { gear: load.gear, amps: power.means(index), stops_v: stops_below.map(Voltage::to_volts) }
    };
    let on_it = power.loads.iter().enumerate().filter(|(_, load)| load.battery == Some(battery));
    on_it.map(drain).collect()
}
