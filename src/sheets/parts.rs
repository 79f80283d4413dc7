//! The parts list: what has to be on the bench before the first evening, counted, with what goes in reserve.
//!
//! What is bedded already is not bought again. Volumes and lengths are of the bead or strip round a base, common
//! practice, no source.

use std::collections::{BTreeMap, BTreeSet};

use super::number::with_unit;
use super::paper::{Section, Sheet, TO_DO};
use super::spares::{SPARE_FUSES, fuses, spare_fasteners};
use crate::checks::Subject;
use crate::plan::{BuildState, Carries, FeatureKind, Gear, GearId, Mount, Plan, Seal};
use crate::study::Study;
use crate::study::drilling::{Stop, Walk};
use crate::study::fastening::drills::{GLANDS, HOLE_SAW_FROM_MM, PILOT_MM, next_metric_drill, trimmed};
use crate::study::fastening::plug_for;
use crate::study::holes::{Hole, HoleState};
use crate::study::rig::{HoleRef, Support};
use crate::study::work::Work;
use crate::units::Price;

const COLUMNS: &[&str] = &["have", "part", "size", "count", "spare", "length mm", "volume ml", "for", "price"];

/// Cross-section of a bead of sealant, mm2: 4 mm thick. Common practice, no source.
const BEAD_MM2: f64 = 12.6;

/// Bead and strip are this much longer than what they go round. Common practice, no source.
const WASTE: f64 = 1.2;

/// The parts list of a plan.
pub fn parts_sheet(plan: &Plan, study: &Study) -> Sheet {
    let walk = Walk::of(plan, study);
    let list = List { plan, study, walk: &walk };
    let sections = [
        ("Gear", list.gear()),
        ("Gear in all", list.total()),
        ("Fasteners", list.fasteners()),
        ("Glands", list.glands()),
        ("Wire", list.wire()),
        ("Fuses", list.fuses()),
        ("Seal", list.seal()),
        ("Plugs for old holes", list.plugs()),
        ("Drills", list.drills()),
        ("Tools", list.tools()),
    ];
    let sections = sections.into_iter().filter(|(_, rows)| !rows.is_empty());
    Sheet {
        title: format!("Parts for {}", plan.name),
        cautions: vec![
            "Measure plugs and threads before you buy: a plug passes a hole or it does not.".into(),
            "Fasteners of stainless steel. A tenth more of each, at least two, and two fuses of each rating in reserve. \
             Lengths of wire have their slack; those of a straight way are the least."
                .into(),
        ],
        drawing: Vec::new(),
        columns: COLUMNS,
        sections: sections
            .map(|(heading, rows)| Section { heading: heading.into(), rows: rows.into_iter().map(Row::cells).collect() })
            .collect(),
    }
    .without_empty_end()
}

/// A line of the list.
#[derive(Default)]
struct Row {
    part: String,
    size: String,
    count: Option<usize>,
    spare: Option<usize>,
    length_mm: Option<f64>,
    volume_ml: Option<f64>,
    price: Option<Price>,
    for_what: String,
}

impl Row {
    fn cells(self) -> Vec<String> {
        let whole = |value: Option<f64>| value.map_or(String::new(), |value| format!("{:.0}", value.ceil()));
        let count = |count: Option<usize>| count.map_or(String::new(), |count| count.to_string());
        vec![
            TO_DO.into(),
            self.part,
            self.size,
            count(self.count),
            count(self.spare),
            whole(self.length_mm),
            whole(self.volume_ml),
            self.for_what,
            self.price.map_or(String::new(), |price| price.to_string()),
        ]
    }
}

struct List<'a> {
    plan: &'a Plan,
    study: &'a Study,
    walk: &'a Walk<'a>,
}

impl List<'_> {
    /// Gear that is ashore or only planned.
    fn gear(&self) -> Vec<Row> {
        let row = |gear: &Gear| Row {
            part: gear.label.to_string(),
            size: gear.spec.name.to_string(),
            count: Some(1),
            price: gear.spec.price,
            for_what: if gear.is_placed() { gear.mount.word().to_string() } else { "ashore".into() },
            ..Row::default()
        };
        self.wanted().map(row).collect()
    }

    fn wanted(&self) -> impl Iterator<Item = &Gear> {
        self.plan.gear.iter().filter(|gear| !gear.is_placed() || gear.state == BuildState::Planned)
    }

    /// What the gear with a price costs; what has none is counted, and nothing is made up for it.
    fn total(&self) -> Vec<Row> {
        let prices: Vec<Price> = self.wanted().filter_map(|gear| gear.spec.price).collect();
        if prices.is_empty() {
            return Vec::new();
        }
        let part = format!("{} of {} priced", prices.len(), self.wanted().count());
        vec![Row { part, price: Some(prices.into_iter().sum()), ..Row::default() }]
    }

    fn is_bedded(&self, gear: GearId) -> bool {
        self.plan.gear(gear).is_some_and(|gear| gear.state >= BuildState::Bedded)
    }

    /// What goes in holes that are not bedded yet, and screws for inserts, by size.
    fn fasteners(&self) -> Vec<Row> {
        let mut sizes: BTreeMap<(String, String), Vec<String>> = BTreeMap::new();
        let mut add = |part: &str, size: String, owner: String| {
            sizes.entry((part.to_string(), size)).or_default().push(owner);
        };
        for hole in &self.study.holes.holes {
            let waits = matches!(hole.state, HoleState::New | HoleState::Drilled | HoleState::Reused)
                && hole.carries == Carries::Fastener
                && !hole.owner.is_some_and(|owner| self.is_bedded(owner));
            if waits {
                let stop = self.walk.stops.iter().find(|stop| stop.hole.id == hole.id);
                let words = stop.map_or_else(|| hole.fastening(), |stop| stop.fastening.words.clone());
                add(&words, format!("through {} mm of skin", trimmed(hole.wall_mm)), self.owner(hole.owner, hole.id));
            }
        }
        for (gear, thread, count) in self.threaded() {
            (0..count).for_each(|_| add("screw and washer", thread.to_string(), gear.clone()));
        }
        let row = |((part, size), owners): ((String, String), Vec<String>)| Row {
            part,
            size,
            count: Some(owners.len()),
            spare: Some(spare_fasteners(owners.len())),
            for_what: once(owners),
            ..Row::default()
        };
        sizes.into_iter().map(row).collect()
    }

    fn owner(&self, owner: Option<GearId>, hole: HoleRef) -> String {
        owner.map_or_else(|| Subject::Hole(hole).named(self.plan), |gear| Subject::Gear(gear).named(self.plan))
    }

    /// Gear held by the hull's own threads and not fastened yet: what it is, the thread, how many.
    fn threaded(&self) -> Vec<(String, &'static str, usize)> {
        let waiting =
            self.plan.gear.iter().filter(|gear| {
                gear.state < BuildState::Bedded && matches!(gear.mount, Mount::Inserts | Mount::Existing)
            });
        let points = |gear: &Gear| {
            let Some(Support::Feature(id)) = self.study.rig.item(gear.id)?.fit.support() else { return None };
            match &self.plan.feature(id)?.kind {
                FeatureKind::Inserts { thread, offsets_mm, .. } => Some((thread.word(), offsets_mm.len())),
                FeatureKind::Handle { thread, bolts_mm } => Some((thread.word(), bolts_mm.len())),
                _ => None,
            }
        };
        waiting.filter_map(|gear| points(gear).map(|(thread, count)| (gear.label.to_string(), thread, count))).collect()
    }

    /// Glands for new holes of cables that no gear brings along.
    fn glands(&self) -> Vec<Row> {
        let own =
            self.walk.stops.iter().filter(|stop| stop.hole.owner.is_none() && stop.hole.carries == Carries::Cable);
        let row = |stop: &Stop<'_>| {
            let fits = GLANDS.iter().find(|gland| (gland.hole_mm - stop.hole.bore_mm).abs() <= 0.5);
            Row {
                part: fits.map_or("cable entry".to_string(), |gland| format!("gland {}", gland.name)),
                size: format!("hole of {} mm", trimmed(stop.hole.bore_mm)),
                count: Some(1),
                for_what: Subject::Hole(stop.hole.id).named(self.plan),
                ..Row::default()
            }
        };
        own.map(row).collect()
    }

    /// Both conductors of every wire that is not pulled yet, by size and colour, each piece by its name.
    fn wire(&self) -> Vec<Row> {
        let mains = self.study.wiring.mains.iter().filter(|main| !self.is_installed(&[main.battery]));
        let mains = mains.map(|main| (format!("M{}", main.battery.0), &main.run));
        let circuits = self.study.wiring.circuits.iter().filter(|wire| wire.in_use).filter(|wire| {
            let circuit = self.plan.wiring.circuit(wire.circuit);
            !circuit.is_some_and(|circuit| self.is_installed(&circuit.loads))
        });
        let circuits = circuits.map(|wire| (format!("W{}", wire.circuit.0), &wire.run));
        let mut sizes: BTreeMap<String, Vec<(String, Option<f64>)>> = BTreeMap::new();
        for (name, run) in mains.chain(circuits) {
            let size = run.gauge_awg.or(run.smallest_awg).map_or("size not stated".into(), |awg| format!("{awg} AWG"));
            sizes.entry(size).or_default().push((name, run.one_way.map(|way| cut_mm(way.mm))));
        }
        let mut rows = Vec::new();
        for (size, pieces) in sizes {
            for colour in ["red", "black or yellow"] {
                let piece = |(name, cut): &(String, Option<f64>)| match cut {
                    Some(mm) => format!("{name} {mm:.0} mm"),
                    None => format!("{name} of unknown length"),
                };
                rows.push(Row {
                    part: format!("wire, tinned, {colour}"),
                    size: size.clone(),
                    count: Some(pieces.len()),
                    length_mm: Some(pieces.iter().filter_map(|(_, cut)| *cut).sum()),
                    for_what: pieces.iter().map(piece).collect::<Vec<_>>().join(", "),
                    ..Row::default()
                });
            }
        }
        rows
    }

    /// Whether all of these that are aboard are connected.
    fn is_installed(&self, gear: &[GearId]) -> bool {
        let mut aboard = gear.iter().filter_map(|id| self.plan.gear(*id)).filter(|gear| gear.is_placed());
        aboard.all(|gear| gear.state >= BuildState::Installed)
    }

    fn fuses(&self) -> Vec<Row> {
        let row = |(rating, count): (f64, usize)| Row {
            part: "fuse with sealed holder".into(),
            size: with_unit(rating, "A"),
            count: Some(count),
            spare: Some(SPARE_FUSES),
            ..Row::default()
        };
        fuses(self.plan, self.study).into_iter().map(row).collect()
    }

    /// Sealing for every part with holes that is not bedded yet.
    fn seal(&self) -> Vec<Row> {
        let mut seals: Vec<(Seal, Vec<String>, f64)> = Vec::new();
        let mut add =
            |seal: Seal, name: String, round_mm: f64| match seals.iter_mut().find(|(other, ..)| *other == seal) {
                Some((_, names, sum)) => {
                    names.push(name);
                    *sum += round_mm;
                }
                None => seals.push((seal, vec![name], round_mm)),
            };
        for gear in self.plan.gear.iter().filter(|gear| gear.is_placed() && gear.state < BuildState::Bedded) {
            let has_holes = self.study.holes.of_gear(gear.id).next().is_some();
            if let Some(mounting) = gear.spec.mounting(gear.mount).filter(|_| has_holes) {
                add(gear.seal, gear.label.to_string(), 2.0 * (mounting.base_mm.0 + mounting.base_mm.1));
            }
        }
        for stop in self.walk.stops.iter().filter(|stop| stop.hole.owner.is_none()) {
            let round = std::f64::consts::PI * (stop.hole.bore_mm + 10.0);
            add(stop.hole.seal, Subject::Hole(stop.hole.id).named(self.plan), round);
        }
        let row = |(seal, names, round): (Seal, Vec<String>, f64)| {
            let strip = matches!(seal, Seal::Gasket | Seal::ButylTape);
            Row {
                part: if seal == Seal::Gasket { "closed-cell gasket strip".into() } else { seal.word().to_string() },
                length_mm: strip.then_some(round * WASTE),
                // 1 ml is 1000 mm3.
                volume_ml: (!strip).then_some(round * WASTE * BEAD_MM2 / 1000.0),
                for_what: once(names),
                ..Row::default()
            }
        };
        seals.into_iter().filter(|(seal, ..)| *seal != Seal::None).map(row).collect()
    }

    /// What closes the holes that are open.
    fn plugs(&self) -> Vec<Row> {
        let open = self.walk.old.iter().filter(|hole| hole.state == HoleState::Open);
        let row = |hole: &&Hole| Row {
            part: plug_for(hole.bore_mm, hole.above_water_mm < 0.0).word().to_string(),
            size: format!("hole of {} mm", trimmed(hole.bore_mm)),
            count: Some(1),
            for_what: Subject::Hole(hole.id).named(self.plan),
            ..Row::default()
        };
        open.map(row).collect()
    }

    /// The drills that the new holes want, the pilot first.
    fn drills(&self) -> Vec<Row> {
        let mut bores: Vec<(f64, usize)> = Vec::new();
        for stop in &self.walk.stops {
            match bores.iter_mut().find(|(bore, _)| *bore == stop.final_mm) {
                Some((_, count)) => *count += 1,
                None => bores.push((stop.final_mm, 1)),
            }
        }
        bores.sort_by(|a, b| a.0.total_cmp(&b.0));
        if !bores.is_empty() {
            bores.insert(0, (PILOT_MM, self.walk.stops.len()));
        }
        let row = |(bore, holes): (f64, usize)| Row {
            part: if bore >= HOLE_SAW_FROM_MM { "hole saw".into() } else { "drill".into() },
            size: next_metric_drill(bore)
                .map_or_else(|| format!("{} mm, cut by hand", trimmed(bore)), |drill| format!("{} mm", trimmed(drill))),
            count: Some(1),
            for_what: if holes == 1 { "1 hole".into() } else { format!("{holes} holes") },
            ..Row::default()
        };
        bores.into_iter().map(row).collect()
    }

    /// The tools of the tasks that are left.
    fn tools(&self) -> Vec<Row> {
        let work = Work::of(self.plan, self.study, None);
        let left = work.tasks.iter().filter(|task| !task.done);
        let tools: BTreeSet<&str> = left.flat_map(|task| task.act.tools()).copied().collect();
        tools.into_iter().map(|tool| Row { part: tool.to_string(), ..Row::default() }).collect()
    }
}

/// A length to cut, mm: up to the next 50.
fn cut_mm(mm: f64) -> f64 {
    (mm / 50.0).ceil() * 50.0
}

/// Names, each once, in their order.
fn once(names: Vec<String>) -> String {
    let mut seen: Vec<String> = Vec::new();
    for name in names {
        if !seen.contains(&name) {
            seen.push(name);
        }
    }
    seen.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wire_is_cut_to_the_next_fifty() {
        assert_eq!([3100.0, 3101.0, 49.0].map(cut_mm), [3100.0, 3150.0, 50.0]);
    }

    #[test]
    fn a_name_stands_once() {
        assert_eq!(once(vec!["a".into(), "b".into(), "a".into()]), "a, b");
    }
}
