//! Which cables there are, and what comes with the gear at their ends.

use super::CableRef;
use crate::plan::{CableTail, Gear, GearId, Kind, Plan, Signal, Via};
use crate::study::power::Power;

/// A cable that comes with a piece of gear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tail {
    /// The gear; its plug at the other end passes every opening on the way.
    pub gear: GearId,
    /// Largest diameter of the plug, collar included, mm.
    pub plug_mm: f64,
    /// Diameter of the cable, mm.
    pub cable_mm: f64,
    /// Length supplied, mm.
    pub length_mm: f64,
}

/// A cable to find a way for.
#[derive(Clone, Debug)]
pub(super) struct Wanted<'a> {
    pub id: CableRef,
    pub from: GearId,
    pub to: GearId,
    pub signal: Signal,
    pub via: &'a [Via],
    pub measured_mm: Option<f64>,
}

/// Diameter of a cable that comes with no gear, mm. Common practice, no source.
pub fn usual_mm(signal: Signal) -> f64 {
    match signal {
        Signal::Power | Signal::Data => 6.0,
        Signal::Sonar => 8.0,
        Signal::MotorPower => 9.0,
    }
}

/// The planned cables, then what the circuits need beside them: battery to switch unit, and on to each load; behind a
/// converter from the converter. Nothing that a planned cable between the same two does already.
pub(super) fn wanted<'a>(plan: &'a Plan, power: &Power) -> Vec<Wanted<'a>> {
    let mut all: Vec<Wanted<'a>> = plan.wiring.cables.iter().map(planned).collect();
    for circuit in &plan.wiring.circuits {
        let unit = circuit.channel.map(|(unit, _)| unit).filter(|unit| aboard(plan, *unit));
        let source = unit.unwrap_or(circuit.battery);
        let supply = unit.map(|unit| (circuit.battery, unit));
        let loads = circuit.loads.iter().map(|load| {
            let converter = power.load(*load).and_then(|load| load.converter);
            (converter.unwrap_or(source), *load)
        });
        for (from, to) in supply.into_iter().chain(loads) {
            let same = |old: &Wanted<'_>| {
                is_supply(old.signal) && ((old.from, old.to) == (from, to) || (old.from, old.to) == (to, from))
            };
            if from == to || !aboard(plan, from) || !aboard(plan, to) || all.iter().any(same) {
                continue;
            }
            let motor = plan.gear(to).is_some_and(|gear| gear.spec.kind == Kind::Motor);
            let signal = if motor { Signal::MotorPower } else { Signal::Power };
            let id = CableRef::Implied(circuit.id, to);
            all.push(Wanted { id, from, to, signal, via: &[], measured_mm: None });
        }
    }
    all
}

/// Whether a cable feeds something.
pub fn is_supply(signal: Signal) -> bool {
    matches!(signal, Signal::Power | Signal::MotorPower)
}

fn planned(cable: &crate::plan::Cable) -> Wanted<'_> {
    Wanted {
        id: CableRef::Planned(cable.id),
        from: cable.from,
        to: cable.to,
        signal: cable.signal,
        via: &cable.via,
        measured_mm: cable.length.map(crate::units::Length::to_mm),
    }
}

fn aboard(plan: &Plan, gear: GearId) -> bool {
    plan.gear(gear).is_some_and(Gear::is_placed)
}

/// The supplied cable of this signal that serves between two pieces of gear: that of the end further from the battery,
/// of two alike the longer one.
pub(super) fn tail(plan: &Plan, from: GearId, to: GearId, signal: Signal) -> Option<Tail> {
    let of = |gear: GearId| {
        let gear = plan.gear(gear)?;
        let tails = gear.spec.cables.iter().filter(|tail| tail.signal == signal);
        let longest = tails.max_by(|a, b| a.length.to_mm().total_cmp(&b.length.to_mm()))?;
        Some((rank(gear.spec.kind), longest.length.to_mm(), taken(gear.id, longest)))
    };
    let better = |a: &(u8, f64, Tail), b: &(u8, f64, Tail)| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1));
    [of(from), of(to)].into_iter().flatten().max_by(better).map(|(_, _, tail)| tail)
}

fn taken(gear: GearId, tail: &CableTail) -> Tail {
    Tail { gear, plug_mm: tail.plug.to_mm(), cable_mm: tail.cable.to_mm(), length_mm: tail.length.to_mm() }
}

/// How far from the battery gear stands in the order of feeding.
fn rank(kind: Kind) -> u8 {
    match kind {
        Kind::Battery => 0,
        Kind::Protection => 1,
        Kind::SwitchUnit => 2,
        Kind::Converter => 3,
        Kind::Display => 4,
        Kind::BlackBox => 5,
        _ => 6,
    }
}
