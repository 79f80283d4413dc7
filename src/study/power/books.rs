//! Keeping the books: one line a load, booked to its phases, circuit, converter and battery at once.

use std::collections::BTreeMap;

use super::feed::{Feed, Feeds};
use super::{BatteryUse, CircuitUse, ConverterUse, Draws, LoadUse, PhaseUse, Power, share};
use crate::plan::{CircuitId, Electric, Gear, GearId, Phase, Plan, Setting};
use crate::study::chemistry::{needed_label, usable_share};
use crate::study::metered::{Drawn, Metered};
use crate::units::{Charge, Current, Duration, Energy, Origin, Power as Watts, Quantity, Temperature, Voltage};

/// The books while they are kept.
pub(super) struct Books<'a> {
    plan: &'a Plan,
    power: Power,
    circuits: BTreeMap<CircuitId, usize>,
    converters: BTreeMap<GearId, usize>,
    /// Ampere-hours by battery, then phase.
    taken: Vec<Vec<f64>>,
    /// Which phases are dark.
    dark: Vec<bool>,
}

/// A line of the books before its charge is known. Amperes of the battery.
struct Line {
    gear: GearId,
    draws: Draws,
    feed: Feed,
    /// Ordinary use; `None` takes the mean while it runs.
    typical: Option<f64>,
    peak: f64,
    origin: Origin,
    /// Ordinary use by the plan's own figure; `None` is the same as what is drawn.
    stated: Option<f64>,
    /// One standard deviation in ordinary use; `None` is what is usual for the origin.
    spread: Option<f64>,
}

impl<'a> Books<'a> {
    /// Opens empty books, every battery full.
    pub fn open(plan: &'a Plan) -> Self {
        let phases = &plan.outing.phases;
        let mut power = Power { hours: plan.outing.hours(), metered: Metered::of(plan), ..Power::default() };
        power.phases = (0..phases.len()).map(|phase| PhaseUse { phase, ..PhaseUse::default() }).collect();
        for (phase, entry) in phases.iter().zip(&mut power.phases) {
            entry.motor_unknown = phase.motor.is_some();
        }
        power.circuits = plan.wiring.circuits.iter().map(|circuit| CircuitUse::unused(circuit.id)).collect();
        for gear in plan.gear.iter().filter(|gear| gear.is_placed()) {
            power.batteries.extend(BatteryUse::full(gear, plan.outing.air));
            power.converters.extend(ConverterUse::unused(gear));
        }
        Self {
            circuits: power.circuits.iter().enumerate().map(|(index, entry)| (entry.circuit, index)).collect(),
            converters: power.converters.iter().enumerate().map(|(index, entry)| (entry.gear, index)).collect(),
            dark: (0..phases.len()).map(|phase| plan.outing.is_dark(phase)).collect(),
            taken: vec![vec![0.0; phases.len()]; power.batteries.len()],
            plan,
            power,
        }
    }

    /// Books what a piece of placed gear draws; gear that draws nothing leaves no line.
    pub fn enter_gear(&mut self, gear: &Gear, feeds: &Feeds<'_>) {
        let always = |idle: f64| move |_: &Phase, _: bool| (1.0, idle);
        match &gear.spec.electric {
            Some(Electric::Load { volts, typical: stated, standby, runs, .. }) => {
                let Some(Drawn { typical, peak }) = self.power.metered.drawn(gear) else { return };
                let feed = feeds.of_load(gear.id, *volts);
                let battery_side = |current: Current| current.to_amps() * feed.factor;
                let (on, off) = (battery_side(typical.value), battery_side(standby.value));
                let (peak_side, feed_factor) = (battery_side(peak.value), feed.factor);
                if let Some(index) = feed.converter.and_then(|id| self.converters.get(&id)) {
                    let entry = &mut self.power.converters[*index];
                    entry.peak = entry.peak + peak.value * *volts;
                }
                let line = Line {
                    gear: gear.id,
                    draws: Draws::Load,
                    feed,
                    typical: Some(on),
                    peak: peak_side,
                    origin: typical.origin,
                    stated: Some(battery_side(stated.value)),
                    spread: Some(typical.spread_base() * feed_factor),
                };
                self.enter(line, |phase, dark| {
                    let share = share(phase, dark, gear.id, Some(*runs));
                    (share, share * on + (1.0 - share) * off)
                });
            }
            Some(Electric::Motor { settings, .. }) => self.enter_motor(gear, settings, feeds),
            Some(Electric::Converter { idle, .. }) => {
                let amps = idle.value.to_amps();
                let feed = feeds.of_converter(gear.id);
                self.enter(Line::own_draw(gear.id, Draws::Converter, feed, amps, idle.origin), always(amps));
            }
            Some(Electric::Switch { idle, .. }) => {
                let amps = idle.value.to_amps();
                let feed = feeds.of_unit(gear.id);
                self.enter(Line::own_draw(gear.id, Draws::SwitchUnit, feed, amps, idle.origin), always(amps));
            }
            Some(Electric::Battery { .. } | Electric::Protection { .. }) | None => {}
        }
    }

    fn enter_motor(&mut self, gear: &Gear, settings: &[Setting], feeds: &Feeds<'_>) {
        let set = |phase: &Phase| phase.motor.as_ref().and_then(|name| settings.iter().find(|s| s.name == *name));
        let mut origin = Origin::Measured;
        for (phase, entry) in self.plan.outing.phases.iter().zip(&mut self.power.phases) {
            if let Some(setting) = set(phase) {
                entry.motor_unknown = false;
                origin = origin.min(setting.current.origin);
            }
        }
        let peak = settings.iter().map(|s| s.current.value.to_amps()).fold(0.0, f64::max);
        let feed = feeds.of_motor(gear.id);
        let line =
            Line { gear: gear.id, draws: Draws::Motor, feed, typical: None, peak, origin, stated: None, spread: None };
        self.enter(line, |phase, dark| {
            set(phase).map_or((0.0, 0.0), |setting| {
                let share = share(phase, dark, gear.id, None);
                (share, share * setting.current.value.to_amps())
            })
        });
    }

    /// Books one line; `runs` gives, for a phase and whether it is dark, the share of it that it is on and
    /// its mean current over it.
    fn enter(&mut self, line: Line, runs: impl Fn(&Phase, bool) -> (f64, f64)) {
        let Line { gear, draws, feed, peak, .. } = line;
        let (mut hours, mut charge) = (0.0, 0.0);
        for (index, phase) in self.plan.outing.phases.iter().enumerate() {
            let long = phase.hours.to_hours();
            let (share, mean) = runs(phase, self.dark.get(index).copied().unwrap_or(phase.dark));
            self.power.means.push(mean);
            hours += share * long;
            charge += mean * long;
            let entry = &mut self.power.phases[index];
            entry.charge = entry.charge + Charge::amp_hours(mean * long);
            entry.energy = entry.energy + Energy::watt_hours(mean * long * feed.volts);
            if let Some(taken) = feed.battery.and_then(|battery| self.taken.get_mut(battery)) {
                taken[index] += mean * long;
            }
        }
        let typical = line.typical.unwrap_or(if hours > 0.0 { charge / hours } else { 0.0 });
        let stated = Current::amps(line.stated.unwrap_or(typical));
        let spread = Current::amps(line.spread.unwrap_or(typical * line.origin.usual_spread()));
        let (typical, peak, charge) = (Current::amps(typical), Current::amps(peak), Charge::amp_hours(charge));
        let energy = charge * Voltage::volts(feed.volts);
        if let Some(index) = feed.circuit.and_then(|id| self.circuits.get(&id)) {
            let entry = &mut self.power.circuits[*index];
            entry.typical = entry.typical + typical;
            entry.peak = entry.peak + peak;
            entry.charge = entry.charge + charge;
        }
        let battery = feed.battery.and_then(|index| self.power.batteries.get_mut(index));
        let battery = battery.map(|entry| {
            entry.peak = entry.peak + peak;
            entry.gear
        });
        let power = &mut self.power;
        power.total = power.total + charge;
        power.energy = power.energy + energy;
        power.typical = power.typical + typical;
        power.peak = power.peak + peak;
        power.loads.push(LoadUse {
            gear,
            draws,
            circuit: feed.circuit,
            battery,
            converter: feed.converter,
            lacks_converter: feed.lacks_converter,
            typical,
            peak,
            hours: Duration::hours(hours),
            charge,
            energy,
            origin: line.origin,
            catalogue: stated,
            spread,
        });
    }

    /// Draws the batteries down and hands the report over.
    pub fn close(mut self) -> Power {
        let phases = &self.plan.outing.phases;
        for (phase, entry) in phases.iter().zip(&mut self.power.phases) {
            let long = phase.hours.to_hours();
            entry.mean = Current::amps(if long > 0.0 { entry.charge.to_amp_hours() / long } else { 0.0 });
        }
        let air = self.plan.outing.air;
        for (battery, taken) in self.power.batteries.iter_mut().zip(&self.taken) {
            battery.draw(taken, phases, air);
        }
        self.power
    }
}

impl Line {
    fn own_draw(gear: GearId, draws: Draws, feed: Feed, amps: f64, origin: Origin) -> Self {
        Self { gear, draws, feed, typical: Some(amps), peak: amps, origin, stated: None, spread: None }
    }
}

impl CircuitUse {
    fn unused(circuit: CircuitId) -> Self {
        Self { circuit, typical: Current::default(), peak: Current::default(), charge: Charge::default() }
    }
}

impl ConverterUse {
    fn unused(gear: &Gear) -> Option<Self> {
        match gear.spec.electric {
            Some(Electric::Converter { power, .. }) => {
                Some(Self { gear: gear.id, peak: Watts::default(), rating: power })
            }
            _ => None,
        }
    }
}

impl BatteryUse {
    fn full(gear: &Gear, air: Temperature) -> Option<Self> {
        let Some(Electric::Battery { chemistry, volts, capacity, limit, health_percent, .. }) = &gear.spec.electric
        else {
            return None;
        };
        let nominal = capacity.value;
        let health_percent = health_percent.unwrap_or(100.0);
        Some(Self {
            gear: gear.id,
            chemistry: *chemistry,
            volts: *volts,
            nominal,
            health_percent,
            usable: nominal.scaled(health_percent / 100.0 * usable_share(*chemistry, air)),
            drawn: Charge::default(),
            reserve_percent: 100.0,
            lasts: None,
            empty_after: None,
            smallest: Charge::default(),
            peak: Current::default(),
            limit: *limit,
        })
    }

    /// Takes the day's charge, phase by phase, out of the full battery.
    fn draw(&mut self, taken: &[f64], phases: &[Phase], air: Temperature) {
        let usable = self.usable.to_amp_hours();
        let (mut drawn, mut hours) = (0.0, 0.0);
        for (phase, amp_hours) in phases.iter().zip(taken) {
            let long = phase.hours.to_hours();
            if self.empty_after.is_none() && drawn + amp_hours > usable {
                self.empty_after = Some(Duration::hours(hours + long * (usable - drawn) / amp_hours));
            }
            drawn += amp_hours;
            hours += long;
        }
        self.drawn = Charge::amp_hours(drawn);
        self.smallest = needed_label(self.drawn, usable_share(self.chemistry, air));
        if usable > 0.0 {
            self.reserve_percent = 100.0 * (usable - drawn) / usable;
        }
        if drawn > 0.0 {
            self.lasts = Some(Duration::hours(hours * usable / drawn));
        }
    }
}
