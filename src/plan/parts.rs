//! A plan taken apart: what two plans differ in, and a plan with parts of another put into it.
//!
//! A part is what changes as a whole when two plans are compared, merged or brought back: a piece of gear, a hole, a
//! circuit, the seat. Revisions and threads are no parts: they are about the plan.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{
    Act, Angler, Cable, CableId, Circuit, CircuitId, Gear, GearId, HoleId, Hull, LimitOverride, Main, Name, Note, On,
    Outing, Penetration, Plan, Reading, Seat, Tick, WorkLog, find_by_id,
};

/// Which part of a plan.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum PartKey {
    /// A piece of gear.
    Gear(GearId),
    /// A hole that no gear owns.
    Hole(HoleId),
    /// The main of this battery.
    Main(GearId),
    /// A circuit.
    Circuit(CircuitId),
    /// A cable.
    Cable(CableId),
    /// The seat's setting.
    Seat,
    /// The person, without the seat's setting.
    Angler,
    /// The bare boat.
    Hull,
    /// The day.
    Outing,
    /// All readings: they have no numbers of their own.
    Readings,
    /// When there is time for the work.
    Work,
    /// A task that was done.
    Tick(On, Act),
    /// A limit set otherwise, by its name.
    Limit(String),
    /// What the plan is called.
    Name,
    /// The free text.
    Notes,
}

/// A part and what it is; of what can be absent, `None` takes it out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[allow(missing_docs, reason = "each is described at its key")]
pub enum Part {
    Gear(GearId, Option<Box<Gear>>),
    Hole(HoleId, Option<Penetration>),
    Main(GearId, Option<Main>),
    Circuit(CircuitId, Option<Box<Circuit>>),
    Cable(CableId, Option<Cable>),
    Seat(Seat),
    /// Its seat is not looked at.
    Angler(Box<Angler>),
    Hull(Arc<Hull>),
    Outing(Box<Outing>),
    Readings(Vec<Reading>),
    /// Its ticks are not looked at.
    Work(Box<WorkLog>),
    Tick(On, Act, Option<Tick>),
    Limit(String, Option<LimitOverride>),
    Name(Name),
    Notes(Note),
}

impl Part {
    /// Which part it is.
    pub fn key(&self) -> PartKey {
        match self {
            Self::Gear(id, _) => PartKey::Gear(*id),
            Self::Hole(id, _) => PartKey::Hole(*id),
            Self::Main(battery, _) => PartKey::Main(*battery),
            Self::Circuit(id, _) => PartKey::Circuit(*id),
            Self::Cable(id, _) => PartKey::Cable(*id),
            Self::Seat(_) => PartKey::Seat,
            Self::Angler(_) => PartKey::Angler,
            Self::Hull(_) => PartKey::Hull,
            Self::Outing(_) => PartKey::Outing,
            Self::Readings(_) => PartKey::Readings,
            Self::Work(_) => PartKey::Work,
            Self::Tick(on, act, _) => PartKey::Tick(*on, *act),
            Self::Limit(name, _) => PartKey::Limit(name.clone()),
            Self::Name(_) => PartKey::Name,
            Self::Notes(_) => PartKey::Notes,
        }
    }
}

impl Plan {
    /// The parts of `other` that turn this plan into it: gear first, in the order of the keys. Empty for plans that
    /// say the same; the order in which a file lists things says nothing.
    pub fn differences(&self, other: &Self) -> Vec<Part> {
        let (from, to) = (&self.wiring, &other.wiring);
        let gear = changed(&self.gear, &other.gear, |gear| gear.id);
        let holes = changed(&self.penetrations, &other.penetrations, |hole| hole.id);
        let mains = changed(&from.mains, &to.mains, |main| main.battery);
        let circuits = changed(&from.circuits, &to.circuits, |circuit| circuit.id);
        let cables = changed(&from.cables, &to.cables, |cable| cable.id);
        let limits = changed(&self.limits, &other.limits, |limit| limit.limit.clone());
        let mut parts: Vec<Part> = gear.into_iter().map(|(id, gear)| Part::Gear(id, gear.map(Box::new))).collect();
        parts.extend(holes.into_iter().map(|(id, hole)| Part::Hole(id, hole)));
        parts.extend(mains.into_iter().map(|(battery, main)| Part::Main(battery, main)));
        parts.extend(circuits.into_iter().map(|(id, circuit)| Part::Circuit(id, circuit.map(Box::new))));
        parts.extend(cables.into_iter().map(|(id, cable)| Part::Cable(id, cable)));
        parts.extend((self.angler.seat != other.angler.seat).then(|| Part::Seat(other.angler.seat.clone())));
        let other_angler = Angler { seat: self.angler.seat.clone(), ..other.angler.clone() };
        parts.extend((self.angler != other_angler).then(|| Part::Angler(Box::new(other_angler))));
        parts.extend((self.hull != other.hull).then(|| Part::Hull(Arc::clone(&other.hull))));
        parts.extend((self.outing != other.outing).then(|| Part::Outing(Box::new(other.outing.clone()))));
        parts.extend((self.readings != other.readings).then(|| Part::Readings(other.readings.clone())));
        let other_work = WorkLog { ticks: self.work.ticks.clone(), ..other.work.clone() };
        parts.extend((self.work != other_work).then(|| Part::Work(Box::new(other_work))));
        let ticks = changed(&self.work.ticks, &other.work.ticks, Tick::task);
        parts.extend(ticks.into_iter().map(|((on, act), tick)| Part::Tick(on, act, tick)));
        parts.extend(limits.into_iter().map(|(name, limit)| Part::Limit(name, limit)));
        parts.extend((self.name != other.name).then(|| Part::Name(other.name.clone())));
        parts.extend((self.notes != other.notes).then(|| Part::Notes(other.notes.clone())));
        parts
    }

    /// Puts a part in, instead of the one with its key. What the part refers to need not be there: whoever puts parts
    /// in has the whole validated.
    pub fn put(&mut self, part: &Part) {
        let wiring = &mut self.wiring;
        match part {
            Part::Gear(id, gear) => put_into(&mut self.gear, *id, gear.as_deref(), |gear| gear.id),
            Part::Hole(id, hole) => put_into(&mut self.penetrations, *id, hole.as_ref(), |hole| hole.id),
            Part::Main(battery, main) => put_into(&mut wiring.mains, *battery, main.as_ref(), |main| main.battery),
            Part::Circuit(id, circuit) => {
                put_into(&mut wiring.circuits, *id, circuit.as_deref(), |circuit| circuit.id);
            }
            Part::Cable(id, cable) => put_into(&mut wiring.cables, *id, cable.as_ref(), |cable| cable.id),
            Part::Seat(seat) => self.angler.seat = seat.clone(),
            Part::Angler(angler) => {
                self.angler = Angler { seat: self.angler.seat.clone(), ..(**angler).clone() };
            }
            Part::Hull(hull) => self.hull = Arc::clone(hull),
            Part::Outing(outing) => self.outing = (**outing).clone(),
            Part::Readings(readings) => self.readings.clone_from(readings),
            Part::Work(work) => self.work = WorkLog { ticks: self.work.ticks.clone(), ..(**work).clone() },
            Part::Tick(on, act, tick) => put_into(&mut self.work.ticks, (*on, *act), tick.as_ref(), Tick::task),
            Part::Limit(name, limit) => {
                put_into(&mut self.limits, name.clone(), limit.as_ref(), |limit| limit.limit.clone());
            }
            Part::Name(name) => self.name = name.clone(),
            Part::Notes(notes) => self.notes = notes.clone(),
        }
    }
}

/// The items of `to` that are new or different, in their order, then a `None` for each that is gone.
fn changed<T: Clone + PartialEq, I: Ord + Clone>(from: &[T], to: &[T], id_of: impl Fn(&T) -> I) -> Vec<(I, Option<T>)> {
    let counterpart = |items: &[T], id: &I| find_by_id(items, id.clone(), &id_of);
    let differs = |item: &&T| counterpart(from, &id_of(item)).is_none_or(|at| from[at] != **item);
    let gone = from.iter().map(&id_of).filter(|id| counterpart(to, id).is_none());
    to.iter().filter(differs).map(|item| (id_of(item), Some(item.clone()))).chain(gone.map(|id| (id, None))).collect()
}

/// Replaces, adds or takes out the item of this id. A new one goes where its id belongs.
fn put_into<T: Clone, I: Ord + Clone>(items: &mut Vec<T>, id: I, item: Option<&T>, id_of: impl Fn(&T) -> I) {
    match (find_by_id(items, id.clone(), &id_of), item) {
        (Some(at), Some(item)) => items[at] = item.clone(),
        (Some(at), None) => drop(items.remove(at)),
        (None, Some(item)) => {
            let at = items.partition_point(|other| id_of(other) < id);
            items.insert(at, item.clone());
        }
        (None, None) => {}
    }
}
