//! The door for mains, circuits and cables: what they name exists, their numbers are in range.
//!
//! A battery that feeds itself, a channel named twice and other nonsense of who feeds whom passes: the checks say so.

use std::collections::BTreeSet;

use super::{Door, MOST_AMPS, MOST_ITEMS};
use crate::plan::{GearId, Plan, Via, Wire};

impl Door {
    pub(super) fn wiring(&mut self, plan: &Plan) {
        let wiring = &plan.wiring;
        let counts =
            [(wiring.mains.len(), "mains"), (wiring.circuits.len(), "circuits"), (wiring.cables.len(), "cables")];
        for (count, field) in counts {
            self.check(count <= MOST_ITEMS, field, &format!("{count} entries; a plan holds at most {MOST_ITEMS}"));
        }
        self.unique(wiring.circuits.iter().map(|c| c.id));
        self.unique(wiring.cables.iter().map(|c| c.id));
        let mut batteries = BTreeSet::new();
        for main in &wiring.mains {
            let field = format!("main of {}", main.battery);
            self.aboard(plan, [&main.battery], &field);
            self.check(batteries.insert(main.battery), &field, "a battery has one main; strike the other");
            self.wire(&main.wire(), &field);
        }
        for circuit in &wiring.circuits {
            let field = format!("{} \"{}\"", circuit.id, circuit.name);
            let unit = circuit.channel.as_ref().map(|(unit, _)| unit);
            self.aboard(plan, circuit.loads.iter().chain([&circuit.battery]).chain(unit), &field);
            self.wire(&circuit.wire(), &field);
        }
        for cable in &wiring.cables {
            let field = cable.id.to_string();
            self.aboard(plan, [&cable.from, &cable.to], &field);
            self.check(cable.from != cable.to, &field, "both its ends are the same gear");
            for via in &cable.via {
                let (known, what) = match *via {
                    Via::Feature(id) => (plan.feature(id).is_some(), id.to_string()),
                    Via::Hole(id) => (plan.penetration(id).is_some(), id.to_string()),
                    Via::Gear(id) => (plan.gear(id).is_some(), id.to_string()),
                };
                self.check(known, &field, &format!("it passes {what}, which is not in the plan"));
            }
            if let Some(length) = cable.length {
                self.range(length.to_mm(), 0.0, 20_000.0, &format!("{field}, length"), "mm");
            }
        }
    }

    fn aboard<'a>(&mut self, plan: &Plan, gear: impl IntoIterator<Item = &'a GearId>, field: &str) {
        for gear in gear {
            self.check(plan.gear(*gear).is_some(), field, &format!("{gear} is not in the plan"));
        }
    }

    fn wire(&mut self, wire: &Wire, field: &str) {
        if let Some(fuse) = wire.fuse {
            self.range(fuse.to_amps(), 0.1, MOST_AMPS, &format!("{field}, fuse"), "A");
        }
        if let Some(awg) = wire.gauge_awg {
            let good = (4..=22).contains(&awg) && awg % 2 == 0;
            let what = format!("{awg} AWG is not one of 4, 6, 8 and so on to 22");
            self.check(good, &format!("{field}, gauge_awg"), &what);
        }
        if let Some(stands) = wire.insulation {
            self.range(stands.to_celsius(), 60.0, 200.0, &format!("{field}, insulation"), "C");
        }
        for (length, what) in [(wire.fuse_at, "fuse_at"), (wire.length, "length")] {
            if let Some(length) = length {
                self.range(length.to_mm(), 0.0, 20_000.0, &format!("{field}, {what}"), "mm");
            }
        }
    }
}
