//! New numbers for parts of a plan, given everywhere the plan names them.

use std::collections::BTreeMap;

use super::{Anchor, CableId, CircuitId, Fate, GearId, HoleId, On, Plan, Taken, Via};

/// Which part gets which number; what is not in it keeps its own.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewNumbers {
    /// Of gear.
    pub gear: BTreeMap<GearId, GearId>,
    /// Of holes that no gear owns.
    pub holes: BTreeMap<HoleId, HoleId>,
    /// Of circuits.
    pub circuits: BTreeMap<CircuitId, CircuitId>,
    /// Of cables.
    pub cables: BTreeMap<CableId, CableId>,
}

impl NewNumbers {
    /// Gives the parts of a plan their new numbers. Its revisions are plans of their own and stay.
    pub fn give(&self, plan: &mut Plan) {
        let gear = |id: &mut GearId| renew(&self.gear, id);
        plan.gear.iter_mut().for_each(|item| gear(&mut item.id));
        for hole in &mut plan.penetrations {
            renew(&self.holes, &mut hole.id);
            hole.left.iter_mut().for_each(|left| gear(&mut left.by));
            if let Fate::Reused(by) = &mut hole.fate {
                gear(by);
            }
        }
        self.give_wiring(plan);
        plan.outing.phases.iter_mut().flat_map(|phase| &mut phase.duties).for_each(|duty| gear(&mut duty.gear));
        for reading in &mut plan.readings {
            match &mut reading.taken {
                Taken::Meter { loads, .. } => loads.iter_mut().for_each(gear),
                Taken::SeatTest { gear: seen, .. } => gear(seen),
                Taken::Scale { .. } | Taken::Waterline { .. } => {}
            }
        }
        for tick in &mut plan.work.ticks {
            match &mut tick.on {
                On::Gear(id) | On::Main(id) => gear(id),
                On::Hole(id) => renew(&self.holes, id),
                On::Circuit(id) => renew(&self.circuits, id),
                On::Cable(id) => renew(&self.cables, id),
                On::Boat => {}
            }
        }
        for thread in &mut plan.threads {
            match &mut thread.anchor {
                Anchor::Gear(id) => gear(id),
                Anchor::Hole(id) => renew(&self.holes, id),
                Anchor::Cable(id) => renew(&self.cables, id),
                Anchor::Plan | Anchor::Check(_) | Anchor::Spot(_) => {}
            }
        }
    }

    fn give_wiring(&self, plan: &mut Plan) {
        let gear = |id: &mut GearId| renew(&self.gear, id);
        plan.wiring.mains.iter_mut().for_each(|main| gear(&mut main.battery));
        for circuit in &mut plan.wiring.circuits {
            renew(&self.circuits, &mut circuit.id);
            gear(&mut circuit.battery);
            circuit.channel.iter_mut().for_each(|(unit, _)| gear(unit));
            circuit.loads.iter_mut().for_each(gear);
        }
        for cable in &mut plan.wiring.cables {
            renew(&self.cables, &mut cable.id);
            gear(&mut cable.from);
            gear(&mut cable.to);
            for via in &mut cable.via {
                match via {
                    Via::Hole(id) => renew(&self.holes, id),
                    Via::Gear(id) => gear(id),
                    Via::Feature(_) => {}
                }
            }
        }
    }
}

fn renew<I: Ord + Copy>(numbers: &BTreeMap<I, I>, id: &mut I) {
    if let Some(new) = numbers.get(id) {
        *id = *new;
    }
}
