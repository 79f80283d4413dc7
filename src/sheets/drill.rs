//! The drill sheet: every hole still to be drilled, from two edges, in the order of a walk round the boat.

use super::paper::{Section, Sheet, TO_DO};
use super::{hole_fate, hole_history, place};
use crate::checks::Subject;
use crate::plan::{Back, FeatureId, Hinge, Level, Plan, Side};
use crate::study::Study;
use crate::study::drilling::{Datum, Fastening, Mark, Stop, Walk, Way};
use crate::study::fastening::drills::{nearest_inch_drill, next_metric_drill, trimmed};
use crate::study::holes::hand::Hand;
use crate::study::holes::{Access, Beneath, Hole};
use crate::units::Measure;

const COLUMNS: &[&str] = &[
    "done",
    "no",
    "hole",
    "state",
    "first distance",
    "second distance",
    "place",
    "pilot mm",
    "final mm",
    "next drill mm",
    "inch drill",
    "stop at mm",
    "behind",
    "fastening",
    "seal",
    "mind",
];

/// The drill sheet of a plan.
pub fn drill_sheet(plan: &Plan, study: &Study, tape: Measure) -> Sheet {
    let walk = Walk::of(plan, study);
    let page = Page { plan, study, tape };
    let new = walk.stops.iter().enumerate().map(|(n, stop)| page.new_hole(n + 1, stop, &walk)).collect();
    let old = walk.old.iter().map(|hole| page.old_hole(hole)).collect();
    Sheet {
        title: format!("Holes of {}", plan.name),
        cautions: cautions(&walk),
        drawing: Vec::new(),
        columns: COLUMNS,
        sections: vec![
            Section { heading: format!("To drill: {}", walk.stops.len()), rows: new },
            Section { heading: format!("In the hull already: {}", walk.old.len()), rows: old },
        ],
    }
}

/// What the words of a row are made from.
struct Page<'a> {
    plan: &'a Plan,
    study: &'a Study,
    tape: Measure,
}

impl Page<'_> {
    fn new_hole(&self, number: usize, stop: &Stop<'_>, walk: &Walk<'_>) -> Vec<String> {
        let hole = stop.hole;
        let [first, second] = match &stop.datums {
            Some(pair) => [0, 1].map(|n| self.distance(&pair[n], hole)),
            None => ["off the hull: no edge to measure from".to_string(), String::new()],
        };
        vec![
            TO_DO.into(),
            number.to_string(),
            Subject::Hole(hole.id).named(self.plan),
            hole.state.word().into(),
            first,
            second,
            place(self.plan, hole.at.spot(), self.tape),
            trimmed(stop.pilot_mm),
            trimmed(stop.final_mm),
            next_metric_drill(stop.final_mm).map_or(String::new(), trimmed),
            nearest_inch_drill(stop.final_mm),
            format!("{:.0}", stop.stop_mm),
            self.behind(hole),
            self.fastening(&stop.fastening),
            hole.seal.word().into(),
            self.mind(stop, walk),
        ]
    }

    /// A hole that exists: where it is and what becomes of it.
    fn old_hole(&self, hole: &Hole) -> Vec<String> {
        let mut row = vec![String::new(); COLUMNS.len()];
        row[2] = Subject::Hole(hole.id).named(self.plan);
        row[3] = hole.state.word().into();
        row[6] = place(self.plan, hole.at.spot(), self.tape);
        row[8] = trimmed(hole.bore_mm);
        row[13] = hole_fate(self.plan, self.study, hole);
        row[14] = hole.seal.word().into();
        row[15] = hole_history(self.plan, hole.id).unwrap_or_default();
        row
    }

    /// `412 mm forward of the forward edge of bow hatch`, `96 mm in from the port gunwale`.
    fn distance(&self, datum: &Datum, hole: &Hole) -> String {
        let off = hole.at.spot() - datum.origin;
        let along = if off.x >= 0.0 { "forward of" } else { "aft of" };
        let across = if off.y >= 0.0 { "to port of" } else { "to starboard of" };
        let way = match (datum.way, datum.from) {
            (Way::Across, Mark::Gunwale(_)) => "in from".to_string(),
            (Way::Along, _) => along.into(),
            (Way::Across, _) => across.into(),
            (Way::Down, _) => "below".into(),
            (Way::Straight, _) => straight_words(off.x, off.y),
        };
        let plumb = if hole.level == Level::Deck { "" } else { ", with a plumb line" };
        format!("{} {way} {}{plumb}", self.tape.length(datum.mm), self.mark(datum.from))
    }

    fn mark(&self, mark: Mark) -> String {
        let named = |id: FeatureId| Subject::Feature(id).named(self.plan);
        match mark {
            Mark::Stern => "the stern edge".into(),
            Mark::Gunwale(Side::Port) => "the port gunwale".into(),
            Mark::Gunwale(Side::Starboard) => "the starboard gunwale".into(),
            Mark::Hatch(id, side) => {
                let edge = match side {
                    None | Some(Hinge::None) => "rim",
                    Some(Hinge::Aft) => "aft edge",
                    Some(Hinge::Fore) => "forward edge",
                    Some(Hinge::Port) => "port edge",
                    Some(Hinge::Starboard) => "starboard edge",
                };
                format!("the {edge} of {}", named(id))
            }
            Mark::Seam(id) => named(id),
            Mark::Scupper(id) => format!("the middle of {}", named(id)),
            Mark::Insert(id, n) => format!("insert {} of {}", n + 1, named(id)),
        }
    }

    /// `250 mm clear`, `40 mm, then foam block, bow`.
    fn behind(&self, hole: &Hole) -> String {
        let clear = self.tape.length(hole.inside_mm);
        match hole.beneath {
            None => format!("{clear} clear"),
            Some(Beneath::Feature(id)) => format!("{clear}, then {}", Subject::Feature(id).named(self.plan)),
            Some(Beneath::Gear(id)) => format!("{clear}, then {}", Subject::Gear(id).named(self.plan)),
        }
    }

    /// `M5 rubber expanding nut, long grip: blind, as day hatch is 740 mm away and a hand reaches 500 mm`.
    fn fastening(&self, fastening: &Fastening) -> String {
        let opening = |access| match access {
            Access::Feature(id) => Subject::Feature(id).named(self.plan),
            Access::Gear(id) => Subject::Gear(id).named(self.plan),
        };
        let why = match fastening.instead_of_nut {
            Some(Hand::TooFar { through, way_mm, reach_mm }) => {
                let (way, reach) = (self.tape.length(way_mm), self.tape.length(reach_mm));
                format!(": blind, as it is {way} from the rim of {} and a hand reaches {reach}", opening(through))
            }
            Some(_) => ": blind, as the hull has no opening for a hand".into(),
            None => String::new(),
        };
        format!("{}{why}", fastening.words)
    }

    /// What is particular about this hole.
    fn mind(&self, stop: &Stop<'_>, walk: &Walk<'_>) -> String {
        let mut mind = Vec::new();
        if stop.hole.above_water_mm < 0.0 {
            mind.push("below the loaded waterline: do not drill, ask the hull's maker".to_string());
        }
        if !stop.fastening.holds {
            mind.push("put in an inspection port first, or move it".into());
        }
        if stop.hole.beneath.is_some() {
            mind.push("pull what is behind aside, or keep to the stop".into());
        }
        let pair = stop.mirror.and_then(|id| walk.stops.iter().position(|other| other.hole.id == id));
        mind.extend(pair.map(|n| format!("mirrors no. {}: measure both, no hull is the same on both sides", n + 1)));
        if let Hand::PastFoam { .. } | Hand::TooNear { .. } = Hand::of(self.plan, &self.study.rig, stop.hole)
            && stop.hole.back == Back::Nut
        {
            mind.push("try first whether a hand holds the nut".into());
        }
        mind.join("; ")
    }
}

/// Where a hole lies from a mark: `forward and to port of`.
fn straight_words(x: f64, y: f64) -> String {
    let along = if x >= 0.0 { "forward" } else { "aft" };
    let across = if y >= 0.0 { "to port" } else { "to starboard" };
    match (x.abs() < 0.5, y.abs() < 0.5) {
        (true, _) => format!("straight {across} of"),
        (_, true) => format!("straight {along} of"),
        _ => format!("straight, {along} and {across}, from"),
    }
}

fn cautions(walk: &Walk<'_>) -> Vec<String> {
    let mut cautions = vec![
        "A hole cannot be taken back. Ask the hull's maker whether and where it may be drilled: the warranty may end. \
         What the maker and local rules say goes before this sheet."
            .to_string(),
        "Eyes covered, battery out of the boat. Pilot first, then look and feel behind the skin.".into(),
        "Slowly, 300 to 800 turns a minute, and let it cool. Not below 5 C, where a notch cracks, nor in hot sun. \
         Deburr both sides; take up all swarf: it blocks pumps and scuppers."
            .into(),
        "Distances are level ones, along the boat or square to it unless they say straight. Check each against its place."
            .into(),
    ];
    let wet = walk.stops.iter().filter(|stop| stop.hole.above_water_mm < 0.0).count();
    if wet > 0 {
        cautions.insert(0, format!("{wet} of these holes would be below the loaded waterline. Do not drill there."));
    }
    cautions
}
