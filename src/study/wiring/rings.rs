//! What feeds itself, what is fed by no battery, what is fed twice.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::{CircuitId, Electric, GearId, Plan};
use crate::study::power::Power;

/// Wiring in which current finds no sensible way. All lists by number.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Rings {
    /// Gear that feeds itself, straight or by way of others; what lies between two such rings is among it.
    pub fed_by_itself: Vec<GearId>,
    /// Circuits whose source is no battery.
    pub no_battery: Vec<CircuitId>,
    /// Mains of gear that is no battery.
    pub main_of_no_battery: Vec<GearId>,
    /// Loads that hang on two circuits or more: their fuses and batteries meet there.
    pub fed_twice: Vec<GearId>,
}

impl Rings {
    /// Looks the whole plan through, gear that is ashore too: it is a mistake there as well.
    pub fn of(plan: &Plan, power: &Power) -> Self {
        let is_battery = |gear: GearId| {
            plan.gear(gear).is_some_and(|gear| matches!(gear.spec.electric, Some(Electric::Battery { .. })))
        };
        let circuits = &plan.wiring.circuits;
        let mains = plan.wiring.mains.iter().map(|main| main.battery);
        Self {
            fed_by_itself: on_rings(feeds(plan, power)),
            no_battery: circuits.iter().filter(|c| !is_battery(c.battery)).map(|c| c.id).collect(),
            main_of_no_battery: mains.filter(|gear| !is_battery(*gear)).collect(),
            fed_twice: fed_twice(plan),
        }
    }
}

/// Who feeds whom: battery to switch unit to load, converter to what is behind it.
fn feeds(plan: &Plan, power: &Power) -> BTreeSet<(GearId, GearId)> {
    let mut feeds = BTreeSet::new();
    for circuit in &plan.wiring.circuits {
        let unit = circuit.channel.map(|(unit, _)| unit);
        feeds.extend(unit.map(|unit| (circuit.battery, unit)));
        let from = unit.unwrap_or(circuit.battery);
        feeds.extend(circuit.loads.iter().map(|load| (from, *load)));
    }
    feeds.extend(power.loads.iter().filter_map(|load| Some((load.converter?, load.gear))));
    feeds
}

/// What is left when everything that nothing feeds, or that feeds nothing, is taken away again and again.
fn on_rings(feeds: BTreeSet<(GearId, GearId)>) -> Vec<GearId> {
    let mut down: BTreeMap<GearId, Vec<GearId>> = BTreeMap::new();
    let mut up: BTreeMap<GearId, Vec<GearId>> = BTreeMap::new();
    for (from, to) in feeds {
        down.entry(from).or_default().push(to);
        up.entry(to).or_default().push(from);
    }
    let mut left: BTreeSet<GearId> = down.keys().chain(up.keys()).copied().collect();
    take_away_ends(&mut left, &up, &down);
    take_away_ends(&mut left, &down, &up);
    left.into_iter().collect()
}

/// Takes away what nothing that is left feeds, then what hung on that alone, and so on.
fn take_away_ends(
    left: &mut BTreeSet<GearId>,
    up: &BTreeMap<GearId, Vec<GearId>>,
    down: &BTreeMap<GearId, Vec<GearId>>,
) {
    let fed_by = |gear: &GearId| up.get(gear).map_or(0, |from| from.iter().filter(|from| left.contains(from)).count());
    let mut fed: BTreeMap<GearId, usize> = left.iter().map(|gear| (*gear, fed_by(gear))).collect();
    let mut ends: Vec<GearId> = fed.iter().filter(|(_, count)| **count == 0).map(|(gear, _)| *gear).collect();
    while let Some(gear) = ends.pop() {
        left.remove(&gear);
        for to in down.get(&gear).into_iter().flatten() {
            if let Some(count) = fed.get_mut(to).filter(|count| **count > 0) {
                *count -= 1;
                if *count == 0 {
                    ends.push(*to);
                }
            }
        }
    }
}

fn fed_twice(plan: &Plan) -> Vec<GearId> {
    let mut on: BTreeMap<GearId, CircuitId> = BTreeMap::new();
    let mut twice = BTreeSet::new();
    for circuit in &plan.wiring.circuits {
        for load in &circuit.loads {
            if *on.entry(*load).or_insert(circuit.id) != circuit.id {
                twice.insert(*load);
            }
        }
    }
    twice.into_iter().collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(feeds: &[(u32, u32)], ring: &[u32]) {
        let feeds = feeds.iter().map(|(from, to)| (GearId(*from), GearId(*to))).collect();
        assert_eq!(on_rings(feeds), ring.iter().map(|id| GearId(*id)).collect::<Vec<_>>());
    }

    #[test]
    fn only_rings_are_left() {
        check(&[], &[]);
        check(&[(1, 2), (2, 3), (1, 3), (2, 4)], &[]);
        check(&[(1, 1)], &[1]);
        check(&[(1, 2), (2, 3), (3, 2), (3, 4)], &[2, 3]);
        check(&[(1, 2), (2, 1), (3, 4), (4, 5)], &[1, 2]);
    }
}
