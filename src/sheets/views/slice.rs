//! What one section shows, in millimetres of the boat: to starboard, and up from the keel baseline.

use super::section::NEAR_MM;
use crate::geometry::{Polygon, Spot, WaterPlane};
use crate::plan::{GearId, Plan};
use crate::sheets::drawing::Pen;
use crate::study::Study;
use crate::study::holes::Hole;
use crate::study::rig::{HoleRef, RigItem};
use crate::study::section::{HullCut, Place, Seen, from_aft, meets};
use crate::units::Measure;

/// How far water is drawn beside the hull, mm.
const BESIDE_MM: f64 = 60.0;

/// Gear higher over the gunwale than this does not make the picture smaller, mm; the frame cuts it off.
const ABOVE_MM: f64 = 170.0;

/// One section.
pub(super) struct Slice {
    pub(super) x_mm: f64,
    /// What it cuts, where it was not chosen by a person.
    pub(super) what: String,
    pub(super) hull: HullCut,
    /// Straight strokes.
    pub(super) lines: Vec<(Spot, Spot, Pen)>,
    /// Bodies that are cut, by two opposite corners.
    pub(super) cut: Vec<(Spot, Spot)>,
    pub(super) gear: Vec<GearSeen>,
    pub(super) holes: Vec<HoleSeen>,
    /// Words and where they begin.
    pub(super) words: Vec<(Spot, &'static str)>,
    /// Height of the deck on the centreline, mm.
    pub(super) floor: Option<f64>,
    /// Height of the water at rest on the centreline, mm.
    pub(super) water: Option<f64>,
    /// Least and greatest coordinates of what has to be on the page.
    pub(super) whole: (Spot, Spot),
}

/// A piece of gear in a section.
pub(super) struct GearSeen {
    pub(super) gear: GearId,
    pub(super) tag: Spot,
    /// Least and greatest coordinates of what is seen of it.
    bounds: (Spot, Spot),
    cut: bool,
}

/// A hole in a section.
pub(super) struct HoleSeen {
    pub(super) tag: String,
    pub(super) at: Spot,
    id: HoleRef,
    bore_mm: f64,
    state: &'static str,
}

impl Slice {
    /// The section at a place; `None` off the hull.
    pub(super) fn of(plan: &Plan, study: &Study, place: &Place) -> Option<Self> {
        let (form, x) = (study.shape.form(), place.x_mm);
        let hull = HullCut::of(form, &plan.hull, x)?;
        let bounds = hull.outline().bounds();
        let mut slice = Self {
            x_mm: x,
            what: place.what.clone(),
            lines: Vec::new(),
            cut: Vec::new(),
            gear: Vec::new(),
            holes: Vec::new(),
            words: Vec::new(),
            floor: plan.hull.surface(Spot::new(x, 0.0)),
            water: None,
            whole: (bounds.0 - Spot::new(BESIDE_MM, 0.0), bounds.1 + Spot::new(BESIDE_MM, 0.0)),
            hull,
        };
        slice.hull_lines();
        slice.water_lines(study);
        study.rig.items.iter().for_each(|item| slice.item(item));
        let met = study.holes.holes.iter().filter(|hole| meets(x, hole.at, hole.bore_mm));
        slice.holes = met.enumerate().map(|(n, hole)| HoleSeen::of(n, hole)).collect();
        Some(slice)
    }

    fn hull_lines(&mut self) {
        let joined = |line: &[Spot], pen: Pen| line.windows(2).map(|leg| (leg[0], leg[1], pen)).collect::<Vec<_>>();
        self.lines.extend(joined(&self.hull.skin, Pen::Bold));
        self.lines.extend(joined(&self.hull.deck, Pen::Fine));
        let (low, high) = (self.hull.keel - 30.0, self.hull.gunwale.1 + 60.0);
        self.lines.push((Spot::new(0.0, low), Spot::new(0.0, high), Pen::Chain));
    }

    /// The water at rest as dashes, heeled to either side as thin lines.
    fn water_lines(&mut self, study: &Study) {
        let levels = &study.float.levels;
        let wide = self.hull.gunwale.0 + BESIDE_MM;
        let x_mm = self.x_mm;
        let ends = |water: &WaterPlane| [wide, -wide].map(|y| Spot::new(-y, water.level_at(x_mm, y)));
        let rest = ends(&levels.rest);
        self.lines.push((rest[0], rest[1], Pen::Dashed));
        self.words.push((rest[1], if levels.stated { "water, as stated" } else { "water at rest" }));
        self.water = Some(levels.rest.level_at(self.x_mm, 0.0));
        if levels.stated {
            return;
        }
        for (water, says) in levels.heeled.iter().zip(["heeled to port", "heeled to starboard"]) {
            let ends = ends(water);
            self.lines.push((ends[0], ends[1], Pen::Faint));
            self.words.push((ends[1], says));
        }
    }

    /// What is seen of a piece of gear; it has one tag, where most of it is cut.
    fn item(&mut self, item: &RigItem) {
        let mut found: Vec<Seen> = item.solids.iter().filter_map(|solid| Seen::of(solid, self.x_mm, NEAR_MM)).collect();
        let cut = found.iter().any(|seen| matches!(seen, Seen::Cut(_)));
        // What stands ahead or behind is told of only where nothing of the same gear is cut.
        found.retain(|seen| !cut || matches!(seen, Seen::Cut(_)));
        let largest = found.iter().max_by(|a, b| a.shape().area().total_cmp(&b.shape().area()));
        let Some(tag) = largest.map(|seen| seen.shape().middle()) else { return };
        for seen in &found {
            let pen = if cut { Pen::Fine } else { Pen::Dashed };
            self.lines.extend(seen.shape().edges().map(|(from, to)| (from, to, pen)));
            if cut {
                self.cut.push(seen.shape().bounds());
            }
        }
        let corners = found.iter().flat_map(|seen| seen.shape().corners.iter().copied()).collect();
        let bounds = Polygon::new(corners).bounds();
        self.widen(bounds);
        let top = self.hull.gunwale.1 + ABOVE_MM - 20.0;
        self.gear.push(GearSeen { gear: item.gear, tag: Spot::new(tag.x, tag.y.min(top)), bounds, cut });
    }

    fn widen(&mut self, (low, high): (Spot, Spot)) {
        let ((from, to), beside) = (self.whole, 2.0 * self.hull.gunwale.0);
        let least = Spot::new(from.x.min(low.x.max(-beside)), from.y.min(low.y.max(self.hull.keel - ABOVE_MM)));
        let most = Spot::new(to.x.max(high.x.min(beside)), to.y.max(high.y.min(self.hull.gunwale.1 + ABOVE_MM)));
        self.whole = (least, most);
    }

    /// A line for each piece of gear and each hole.
    pub(super) fn list(&self, plan: &Plan, tape: Measure) -> Vec<String> {
        let gear = self.gear.iter().map(|seen| {
            let name = plan.gear(seen.gear).map_or_else(|| seen.gear.to_string(), |gear| gear.label.to_string());
            let (low, high) = (seen.bounds.0 - Spot::new(0.0, self.hull.keel), seen.bounds.1.y - self.hull.keel);
            let (from, to) = (tape.bare(low.y), tape.length(high));
            let from = if low.y < -0.5 { format!("{from} below") } else { from };
            let near = if seen.cut { "" } else { ", near" };
            let middle = tape.across(-f64::midpoint(seen.bounds.0.x, seen.bounds.1.x));
            format!("{}  {name}{near}: {from} to {to} over keel, {middle}", seen.gear.0)
        });
        let holes = self.holes.iter().map(|hole| {
            let owner = match hole.id {
                HoleRef::Gear(gear, _) => plan.gear(gear).map(|gear| gear.label.to_string()),
                HoleRef::Own(id) => plan.penetrations.iter().find(|own| own.id == id).map(|own| own.name.to_string()),
            };
            let (owner, bore) = (owner.unwrap_or_default(), tape.length(hole.bore_mm));
            let (across, up) = (tape.across(-hole.at.x), tape.length(hole.at.y - self.hull.keel));
            format!("{}  {owner}, {}, bore {bore}: {across}, {up} over keel", hole.tag, hole.state)
        });
        gear.chain(holes).collect()
    }
}

impl HoleSeen {
    fn of(number: usize, hole: &Hole) -> Self {
        Self {
            tag: format!("h{}", number + 1),
            at: from_aft(hole.at),
            id: hole.id,
            bore_mm: hole.bore_mm,
            state: hole.state.word(),
        }
    }
}
