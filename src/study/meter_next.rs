//! Which load is worth metering next: the one whose unsure current weighs most in the day, first those on which a
//! verdict hangs.
//!
//! The charge a load takes is known to `s h`, with the spread `s` of its current and the hours `h` it runs. A verdict
//! hangs on it where the margin to a limit is within that spread, whichever side it is on now. Fuses, channels and
//! drops are judged at the greatest current, taken to be unsure in the same proportion.

use super::chosen;
use super::day::{Day, RESERVE_PERCENT};
use super::power::{Draws, LoadUse, Power};
use super::wiring::Wiring;
use super::wiring::run::Run;
use crate::plan::{CircuitId, Electric, GearId, Plan};
use crate::units::{Charge, Current, Origin, Quantity};

/// What metering a load would settle.
#[derive(Clone, Debug, PartialEq)]
pub struct Worth {
    /// The load.
    pub gear: GearId,
    /// What it takes over the day.
    pub charge: Charge,
    /// One standard deviation of that.
    pub charge_spread: Charge,
    /// One standard deviation of its current in ordinary use, as the battery sees it.
    pub spread: Current,
    /// The verdicts that hang on it.
    pub hangs: Vec<Hangs>,
}

/// A verdict whose margin is within the spread of a load's current.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hangs {
    /// What the battery has left at the end.
    Reserve(GearId),
    /// What the circuit's wire takes of the voltage.
    Drop(CircuitId),
    /// What the channel of the circuit's switch unit gives.
    Channel(CircuitId),
    /// Whether the circuit's fuse holds.
    Fuse(CircuitId),
}

impl Hangs {
    /// In words: `the reserve of house battery`.
    pub fn words(self, plan: &Plan) -> String {
        let circuit = |id| plan.wiring.circuit(id).map_or("a circuit", |circuit| circuit.name.as_str());
        match self {
            Self::Reserve(gear) => {
                format!("the reserve of {}", plan.gear(gear).map_or("a battery", |battery| battery.label.as_str()))
            }
            Self::Drop(id) => format!("the drop in {}", circuit(id)),
            Self::Channel(id) => format!("the channel of {}", circuit(id)),
            Self::Fuse(id) => format!("the fuse of {}", circuit(id)),
        }
    }
}

/// Loads that no single reading has settled, the most worth first; of equal worth in the plan's order.
pub fn worth(plan: &Plan, power: &Power, day: &Day, wiring: &Wiring) -> Vec<Worth> {
    let open = |load: &&LoadUse| {
        load.draws == Draws::Load
            && load.spread.base() > 0.0
            && (load.origin != Origin::Measured || is_share(power, load))
    };
    let mut all: Vec<Worth> = power.loads.iter().filter(open).map(|load| of(plan, power, day, wiring, load)).collect();
    all.sort_by(|a, b| {
        let hangs = b.hangs.is_empty().cmp(&a.hangs.is_empty()).reverse();
        hangs.then(b.charge_spread.base().total_cmp(&a.charge_spread.base()))
    });
    all
}

fn is_share(power: &Power, load: &LoadUse) -> bool {
    power.metered.loads.get(&load.gear).is_some_and(|metered| metered.shared_over > 1)
}

fn of(plan: &Plan, power: &Power, day: &Day, wiring: &Wiring, load: &LoadUse) -> Worth {
    let charge_spread = load.spread * load.hours;
    let mut hangs = Vec::new();
    hangs.extend(reserve(plan, power, day, load, charge_spread).map(Hangs::Reserve));
    if let Some(circuit) = load.circuit {
        let spread_a = peak_spread(load);
        if let Some(wire) = wiring.circuit(circuit) {
            hangs.extend(drop_within(&wire.run, spread_a).then_some(Hangs::Drop(circuit)));
            hangs.extend(fuse_within(&wire.run, spread_a).then_some(Hangs::Fuse(circuit)));
        }
        hangs.extend(channel_within(plan, power, circuit, spread_a).then_some(Hangs::Channel(circuit)));
    }
    Worth { gear: load.gear, charge: load.charge, charge_spread, spread: load.spread, hangs }
}

/// The battery whose reserve is nearer to what is wanted than the load's charge is known.
fn reserve(plan: &Plan, power: &Power, day: &Day, load: &LoadUse, spread: Charge) -> Option<GearId> {
    let battery = power.battery(load.battery?)?;
    let left = day.battery(battery.gear)?.reserve_percent;
    let within = |limit: f64| (left - limit).abs() / 100.0 * battery.usable.base() <= spread.base();
    let wanted = chosen(plan, "battery-short.caution", RESERVE_PERCENT);
    (within(wanted) || within(chosen(plan, "battery-short.stop", 0.0))).then_some(battery.gear)
}

/// How far the greatest current may be off, A of the battery.
fn peak_spread(load: &LoadUse) -> f64 {
    let typical = load.typical.to_amps();
    if typical > 0.0 { load.peak.to_amps() * load.spread.to_amps() / typical } else { load.spread.to_amps() }
}

fn drop_within(run: &Run, spread_a: f64) -> bool {
    let margin_v = |lost: super::wiring::run::Lost| run.allowed_percent / 100.0 * run.nominal_v - lost.peak_v;
    run.lost.is_some_and(|lost| margin_v(lost).abs() <= lost.loop_ohm * spread_a)
}

fn fuse_within(run: &Run, spread_a: f64) -> bool {
    run.fuse_a.is_some_and(|fuse| (fuse - run.least_fuse_a).abs() <= spread_a)
}

/// The channel's limit against everything that hangs on it.
fn channel_within(plan: &Plan, power: &Power, circuit: CircuitId, spread_a: f64) -> bool {
    let Some(channel) = plan.wiring.circuit(circuit).and_then(|circuit| circuit.channel) else { return false };
    let unit = plan.gear(channel.0).filter(|unit| unit.is_placed()).and_then(|unit| unit.spec.electric.as_ref());
    let Some(Electric::Switch { each, .. }) = unit else { return false };
    let on_it = plan.wiring.circuits.iter().filter(|other| other.channel == Some(channel)).map(|other| other.id);
    let peak = |id| power.circuits.iter().find(|entry| entry.circuit == id).map_or(0.0, |entry| entry.peak.to_amps());
    let peak: f64 = on_it.map(peak).sum();
    (each.to_amps() - peak).abs() <= spread_a
}
