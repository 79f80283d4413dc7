//! The tasks that a plan comes to, and what comes before what.
//!
//! Along each part runs mark, pilot, dry fit, drill, deburr, pull its cables, connect, try, bed, cure. Between the
//! parts stand the gates: the partner's yes before the first pilot, a second sit with everything dry-fitted before the
//! first hole to size, everything on at once before any sealant, all cures before the leak test, and that before the
//! float test. What a part's state says is done is done, and so is what was ticked off; a gate counts again when
//! something before it is to be done again.

use std::collections::BTreeMap;

use super::task::Task;
use super::{Rhythm, cure};
use crate::plan::{Act, BuildState, Cable, Electric, Gear, GearId, HoleId, On, Plan, Seal, Signal, Taken, Tick, Via};
use crate::study::Study;
use crate::study::drilling::on_the_way;
use crate::study::fastening::plug_for;
use crate::study::holes::{Access, Hole, HoleState};
use crate::study::rig::{HoleRef, RigItem, Support};

/// Lists the tasks of a plan.
pub(super) fn of(plan: &Plan, study: &Study, rhythm: &Rhythm) -> Vec<Task> {
    let mut list = List::new(plan, study, rhythm);
    let parts = list.parts();
    list.holes_of_parts(&parts);
    list.holes_of_their_own();
    list.sit_again();
    list.cables(&parts);
    list.connections(&parts);
    list.beds(&parts);
    list.last_gates();
    list.tasks
}

/// The list while it is made: tasks, and where those of each part are.
struct List<'a> {
    plan: &'a Plan,
    study: &'a Study,
    rhythm: &'a Rhythm,
    tasks: Vec<Task>,
    yes: Option<usize>,
    sit: usize,
    try_all: Option<usize>,
    /// Times that cures take longer in the cold.
    slower: f64,
    at: BTreeMap<(Act, On), usize>,
}

/// A piece of gear that is worked on.
#[derive(Clone, Copy)]
struct Part<'a> {
    gear: &'a Gear,
    /// Holes of its own that are or have to be drilled.
    holes: usize,
    support: Option<Support>,
}

impl Part<'_> {
    fn on(self) -> On {
        On::Gear(self.gear.id)
    }

    fn is(self, state: BuildState) -> bool {
        self.gear.state >= state
    }

    /// Whether wires end in it.
    fn is_connected(self) -> bool {
        self.gear.spec.electric.is_some() || !self.gear.spec.cables.is_empty()
    }

    fn is_battery(self) -> bool {
        matches!(self.gear.spec.electric, Some(Electric::Battery { .. }))
    }
}

impl<'a> List<'a> {
    fn new(plan: &'a Plan, study: &'a Study, rhythm: &'a Rhythm) -> Self {
        let slower = cure::slower(plan.work.garage.unwrap_or(plan.outing.air));
        let (tasks, at) = (Vec::new(), BTreeMap::new());
        let mut list = Self { plan, study, rhythm, tasks, yes: None, sit: 0, try_all: None, slower, at };
        let drilling = |tick: &Tick| matches!(tick.act, Act::PartnersYes | Act::Pilot | Act::Drill);
        let to_drill = study.holes.holes.iter().any(|hole| hole.state == HoleState::New);
        if to_drill || plan.work.ticks.iter().any(drilling) {
            list.yes = Some(list.add(Act::PartnersYes, On::Boat, 0, false, &[]));
        }
        let sat = plan.readings.iter().any(|reading| !reading.off && matches!(reading.taken, Taken::SeatTest { .. }));
        list.sit = list.add(Act::SitAgain, On::Boat, 0, sat, &[]);
        list
    }

    /// What is aboard and held, in the order of the walk round the boat.
    fn parts(&self) -> Vec<Part<'a>> {
        let held = self.study.rig.items.iter().filter(|item| item.fit.is_held());
        let mut items: Vec<_> = held.collect();
        items.sort_by(|a, b| on_the_way(a.at).total_cmp(&on_the_way(b.at)).then_with(|| a.gear.cmp(&b.gear)));
        let drilled = |gear: GearId| {
            let own = self.study.holes.of_gear(gear);
            own.filter(|hole| matches!(hole.state, HoleState::New | HoleState::Drilled)).count()
        };
        let part = |item: &RigItem| {
            let gear = self.plan.gear.get(item.index)?;
            Some(Part { gear, holes: drilled(item.gear), support: item.fit.support() })
        };
        items.into_iter().filter_map(part).collect()
    }

    /// Adds a task that comes after these.
    fn add(&mut self, act: Act, on: On, holes: usize, done: bool, after: &[Option<usize>]) -> usize {
        let number = self.tasks.len();
        let after = after.iter().flatten().copied().collect();
        let ticked = self.plan.work.tick(act, on).map(|tick| tick.date);
        let done = done || ticked.is_some();
        self.tasks.push(Task { act, on, holes, minutes: act.minutes(holes), wait_h: 0.0, done, ticked, after });
        self.at.insert((act, on), number);
        number
    }

    fn find(&self, act: Act, on: On) -> Option<usize> {
        self.at.get(&(act, on)).copied()
    }

    /// Lets a task wait for others.
    fn wait(&mut self, task: usize, after: impl IntoIterator<Item = usize>) {
        let known = &mut self.tasks[task].after;
        for other in after {
            if other != task && !known.contains(&other) {
                known.push(other);
            }
        }
    }

    /// A gate that was passed counts again when something before it is to be done again.
    fn counts_again(&mut self, gate: usize) {
        let passed = self.tasks[gate].after.iter().all(|before| self.tasks[*before].done);
        self.tasks[gate].done &= passed;
    }

    fn all(&self, acts: &[Act]) -> Vec<usize> {
        (0..self.tasks.len()).filter(|task| acts.contains(&self.tasks[*task].act)).collect()
    }

    fn holes_of_parts(&mut self, parts: &[Part<'_>]) {
        for part in parts {
            let (on, holes) = (part.on(), part.holes);
            let fitted = part.is(BuildState::DryFitted);
            let pilot = (holes > 0).then(|| {
                let mark = self.add(Act::Mark, on, holes, fitted, &[]);
                self.add(Act::Pilot, on, holes, fitted, &[Some(mark), self.yes])
            });
            let dry = self.add(Act::DryFit, on, holes, fitted, &[pilot]);
            if holes > 0 {
                let drilled = part.is(BuildState::Drilled);
                let drill = self.add(Act::Drill, on, holes, drilled, &[Some(dry), Some(self.sit)]);
                // A state of its own says nothing of swarf; where the drill alone was ticked it is still to be taken up.
                let clean = drilled && (!self.is_ticked(Act::Drill, on) || part.is(BuildState::Bedded));
                self.add(Act::Deburr, on, holes, clean, &[Some(drill)]);
            }
        }
        // A track comes before what slides in it.
        for part in parts {
            let Some(Support::Gear(below)) = part.support else { continue };
            let (below, dry) = (self.find(Act::DryFit, On::Gear(below)), self.find(Act::DryFit, part.on()));
            if let (Some(below), Some(dry)) = (below, dry) {
                self.wait(dry, [below]);
            }
        }
    }

    /// Holes that no gear owns: the new ones are drilled, the open ones closed.
    fn holes_of_their_own(&mut self) {
        for hole in &self.study.holes.holes {
            let HoleRef::Own(id) = hole.id else { continue };
            let on = On::Hole(id);
            if self.is_in_work(hole) {
                let mark = self.add(Act::Mark, on, 1, false, &[]);
                let pilot = self.add(Act::Pilot, on, 1, false, &[Some(mark), self.yes]);
                let drill = self.add(Act::Drill, on, 1, false, &[Some(pilot), Some(self.sit)]);
                self.add(Act::Deburr, on, 1, false, &[Some(drill)]);
            } else if hole.state == HoleState::Open || self.is_ticked(Act::Patch, on) {
                let patch = self.add(Act::Patch, on, 1, false, &[Some(self.sit)]);
                self.tasks[patch].wait_h = cure::plug_hours(plug_for(hole.bore_mm, hole.above_water_mm < 0.0));
            }
        }
    }

    fn is_ticked(&self, act: Act, on: On) -> bool {
        self.plan.work.tick(act, on).is_some()
    }

    /// Whether a hole that no gear owns is drilled by this plan: it is new, or its drilling was ticked off.
    fn is_in_work(&self, hole: &Hole) -> bool {
        let HoleRef::Own(id) = hole.id else { return false };
        hole.state == HoleState::New || (hole.state == HoleState::Open && self.is_ticked(Act::Drill, On::Hole(id)))
    }

    /// The second sit comes when everything is in place, and counts again when something was added since.
    fn sit_again(&mut self) {
        let fits = self.all(&[Act::DryFit]);
        self.wait(self.sit, fits);
        self.counts_again(self.sit);
    }

    /// Where a cable can be pulled to: its part is deburred, or in place.
    fn open_way(&self, gear: GearId) -> Option<usize> {
        self.find(Act::Deburr, On::Gear(gear)).or_else(|| self.find(Act::DryFit, On::Gear(gear)))
    }

    fn cables(&mut self, parts: &[Part<'_>]) {
        let aboard = |gear: GearId| parts.iter().any(|part| part.gear.id == gear);
        let connected = |gear: GearId| {
            parts.iter().find(|part| part.gear.id == gear).is_some_and(|part| part.is(BuildState::Installed))
        };
        let mut pulls: Vec<(On, Vec<GearId>)> = Vec::new();
        for main in &self.study.wiring.mains {
            pulls
                .push((On::Main(main.battery), [main.battery].into_iter().chain(main.units.iter().copied()).collect()));
        }
        for wire in self.study.wiring.circuits.iter().filter(|wire| wire.in_use) {
            let Some(circuit) = self.plan.wiring.circuit(wire.circuit) else { continue };
            let ends = [circuit.battery].into_iter().chain(circuit.loads.iter().copied()).collect();
            pulls.push((On::Circuit(circuit.id), ends));
        }
        let cables = self.plan.wiring.cables.iter().filter(|cable| aboard(cable.from) && aboard(cable.to));
        for cable in cables.filter(|cable| !carries_power(cable)) {
            pulls.push((On::Cable(cable.id), vec![cable.from, cable.to]));
        }
        for (on, mut ends) in pulls {
            ends.retain(|end| aboard(*end));
            let done = ends.iter().all(|end| connected(*end));
            let pull = self.add(Act::Fish, on, 0, done, &[Some(self.sit)]);
            let cables = self.plan.wiring.cables.iter().filter(|cable| self.pulled_as(cable) == Some(on));
            let through = cables.flat_map(|cable| &cable.via).filter_map(|via| match via {
                Via::Gear(gear) => self.open_way(*gear),
                Via::Hole(hole) => self.find(Act::Deburr, On::Hole(*hole)),
                Via::Feature(_) => None,
            });
            let ways: Vec<usize> = ends.iter().filter_map(|end| self.open_way(*end)).chain(through).collect();
            self.wait(pull, ways);
        }
    }

    /// The wire that a cable of the plan is: one that carries power is its circuit's, or its battery's main.
    fn pulled_as(&self, cable: &Cable) -> Option<On> {
        if !carries_power(cable) {
            return Some(On::Cable(cable.id));
        }
        let circuit = [cable.to, cable.from].into_iter().find_map(|end| self.plan.wiring.circuit_of(end));
        let main =
            || [cable.from, cable.to].into_iter().map(On::Main).find(|on| self.at.contains_key(&(Act::Fish, *on)));
        circuit.map(|circuit| On::Circuit(circuit.id)).or_else(main)
    }

    /// The cables that end in a part.
    fn pulls_of(&self, gear: GearId) -> Vec<usize> {
        let circuits = self.plan.wiring.circuits.iter().filter(|circuit| circuit.loads.contains(&gear));
        let circuits = circuits.map(|circuit| On::Circuit(circuit.id));
        let cables = self.plan.wiring.cables.iter().filter(|cable| cable.from == gear || cable.to == gear);
        let cables = cables.map(|cable| On::Cable(cable.id));
        circuits.chain(cables).chain([On::Main(gear)]).filter_map(|on| self.find(Act::Fish, on)).collect()
    }

    /// Batteries come last: nothing is live while it is worked on.
    fn connections(&mut self, parts: &[Part<'_>]) {
        let wired: Vec<Part<'_>> = parts.iter().copied().filter(|part| part.is_connected()).collect();
        for part in wired.iter().filter(|part| !part.is_battery()) {
            self.connect(*part);
        }
        let others = self.all(&[Act::Connect]);
        for part in wired.iter().filter(|part| part.is_battery()) {
            let connect = self.connect(*part);
            self.wait(connect, others.iter().copied());
        }
        let batteries: Vec<usize> = wired
            .iter()
            .filter(|part| part.is_battery())
            .filter_map(|part| self.find(Act::Connect, part.on()))
            .collect();
        for part in wired.iter().filter(|part| !part.is_battery()) {
            let done = part.is(BuildState::Tested) || is_metered(self.plan, part.gear.id);
            let test = self.add(Act::TryIt, part.on(), 0, done, &[self.find(Act::Connect, part.on())]);
            self.wait(test, batteries.iter().copied());
        }
        let before = self.all(&[Act::Connect, Act::TryIt]);
        if !before.is_empty() {
            // Where every part is connected in its place it was tried long ago.
            let done = wired.iter().all(|part| part.is(BuildState::Installed));
            let all = self.add(Act::TryAll, On::Boat, 0, done, &[]);
            self.wait(all, before);
            self.counts_again(all);
            self.try_all = Some(all);
        }
    }

    fn connect(&mut self, part: Part<'_>) -> usize {
        let way = self.open_way(part.gear.id);
        let connect = self.add(Act::Connect, part.on(), 0, part.is(BuildState::Installed), &[way, Some(self.sit)]);
        let pulls = self.pulls_of(part.gear.id);
        self.wait(connect, pulls);
        connect
    }

    fn beds(&mut self, parts: &[Part<'_>]) {
        for part in parts {
            let done = part.is(BuildState::Bedded);
            let act = if part.holes > 0 { Act::Bed } else { Act::Fasten };
            let ready = self.open_way(part.gear.id);
            let before = [ready, Some(self.sit), self.try_all.filter(|_| part.holes > 0)];
            let bed = self.add(act, part.on(), part.holes, done, &before);
            let first: Vec<usize> =
                self.openings_for(part.gear.id).chain(self.through(Via::Gear(part.gear.id))).collect();
            self.wait(bed, first);
            if part.holes > 0 {
                let settled = part.is(BuildState::Installed) && !self.is_ticked(Act::Bed, part.on());
                self.cure(bed, part.gear.seal, settled);
            }
        }
        for part in parts {
            let Some(Support::Gear(below)) = part.support else { continue };
            let fixed = |on: On| self.find(Act::Bed, on).or_else(|| self.find(Act::Fasten, on));
            if let (Some(below), Some(above)) = (fixed(On::Gear(below)), fixed(part.on())) {
                self.wait(above, [below]);
            }
        }
        let new = self.study.holes.holes.iter().filter(|hole| self.is_in_work(hole));
        let new: Vec<(HoleId, Seal)> = new
            .filter_map(|hole| match hole.id {
                HoleRef::Own(id) => Some((id, hole.seal)),
                HoleRef::Gear(..) => None,
            })
            .collect();
        for (id, seal) in new {
            let on = On::Hole(id);
            let before = [self.find(Act::Deburr, on), self.try_all];
            let bed = self.add(Act::Bed, on, 1, false, &before);
            let pulled: Vec<usize> = self.through(Via::Hole(id)).collect();
            self.wait(bed, pulled);
            self.cure(bed, seal, false);
        }
    }

    /// Inspection ports through which the nuts of a part are reached: they are cut first.
    fn openings_for(&self, gear: GearId) -> impl Iterator<Item = usize> + '_ {
        self.study.holes.of_gear(gear).filter_map(|hole| match hole.access {
            Some((Access::Gear(port), _)) => self.find(Act::Deburr, On::Gear(port)),
            _ => None,
        })
    }

    /// The cables that pass an opening: they are pulled before it is sealed.
    fn through(&self, opening: Via) -> impl Iterator<Item = usize> + '_ {
        let cables = self.plan.wiring.cables.iter().filter(move |cable| cable.via.contains(&opening));
        cables.filter_map(|cable| self.find(Act::Fish, self.pulled_as(cable)?))
    }

    fn cure(&mut self, bed: usize, seal: Seal, done: bool) {
        let hours = cure::hours(seal) * self.slower;
        if hours > 0.0 {
            let on = self.tasks[bed].on;
            let left = self.tasks[bed].ticked.map_or(hours, |since| hours - self.rhythm.hours_since(since));
            let cure = self.add(Act::Cure, on, 0, done || left <= 0.0, &[Some(bed)]);
            self.tasks[cure].wait_h = left.max(0.0);
        }
    }

    fn last_gates(&mut self) {
        let sealed = self.all(&[Act::Bed, Act::Fasten, Act::Cure, Act::Patch]);
        let leak = (!self.study.holes.holes.is_empty()).then(|| self.add(Act::LeakTest, On::Boat, 0, false, &[]));
        if let Some(leak) = leak {
            self.wait(leak, sealed.iter().copied());
        }
        let float = self.add(Act::FloatTest, On::Boat, 0, false, &[leak, self.try_all, Some(self.sit)]);
        if leak.is_none() {
            self.wait(float, sealed);
        }
        leak.into_iter().chain([float]).for_each(|gate| self.counts_again(gate));
    }
}

fn carries_power(cable: &Cable) -> bool {
    matches!(cable.signal, Signal::Power | Signal::MotorPower)
}

/// Whether a meter stood in the wire of a part.
pub fn is_metered(plan: &Plan, gear: GearId) -> bool {
    plan.readings
        .iter()
        .any(|reading| !reading.off && matches!(&reading.taken, Taken::Meter { loads, .. } if loads.contains(&gear)))
}
