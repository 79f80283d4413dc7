//! What a view shows, in millimetres of the boat: x forward, and port or up on the second axis.

use crate::geometry::{Outline, Point, Polygon, Solid, Spot};
use crate::plan::{Feature, FeatureKind, GearId, Level, Plan};
use crate::sheets::drawing::Pen;
use crate::sheets::wires::cable_ends;
use crate::study::Study;
use crate::study::holes::Hole;
use crate::study::rig::RigItem;

/// Gear further off the hull than this does not make the picture smaller, mm; the frame cuts it off.
const BESIDE_MM: f64 = 1000.0;

/// How far the waterline is drawn on beyond the hull, mm.
const BEYOND_MM: f64 = 120.0;

/// Width in which a track is drawn, mm.
const TRACK_MM: f64 = 24.0;

/// What a view shows.
#[derive(Debug, Default)]
pub(super) struct Picture {
    /// The name of the view.
    pub(super) title: &'static str,
    /// Straight strokes.
    pub(super) lines: Vec<(Spot, Spot, Pen)>,
    /// Circles of the hull: middle and radius.
    pub(super) rounds: Vec<(Spot, f64)>,
    /// Holes: middle and radius; without one the hole is seen edge on.
    pub(super) holes: Vec<(Spot, Option<f64>)>,
    /// Least and greatest coordinates of each body of the gear.
    pub(super) bodies: Vec<(Spot, Spot)>,
    /// Which gear is where.
    pub(super) tags: Vec<(Spot, GearId)>,
    /// The labels of both ends of each cable.
    pub(super) ends: Vec<(Spot, String)>,
    /// Words and where they begin.
    pub(super) words: Vec<(Spot, &'static str)>,
    /// What a stroke that is not explained by itself means.
    pub(super) legend: &'static str,
    /// Least and greatest coordinates of the hull.
    pub(super) hull: (Spot, Spot),
    /// The same with the gear at its side.
    pub(super) whole: (Spot, Spot),
}

impl Picture {
    pub(super) fn from_above(plan: &Plan, study: &Study) -> Self {
        let sections = &study.shape.form().sections;
        let port = sections.iter().map(|section| Spot::new(section.x_mm, section.gunwale().0));
        let starboard = sections.iter().rev().map(|section| Spot::new(section.x_mm, -section.gunwale().0));
        let mut picture = Self::around("Plan", port.chain(starboard).collect());
        picture.legend = "Dashed: inside or under the hull, and cables with the labels of their ends.";
        plan.hull.zones.iter().for_each(|zone| picture.closed(&zone.outline_mm, Pen::Faint));
        plan.hull.features.iter().for_each(|feature| picture.feature_from_above(feature));
        for item in &study.rig.items {
            picture.item(item, item.at.spot(), |solid| solid.outline.polygon());
        }
        for way in study.cables.runs.iter().filter_map(|run| run.way.as_ref().ok()) {
            let legs = way.steps.windows(2).map(|leg| (leg[0].at.spot(), leg[1].at.spot(), Pen::Dashed));
            picture.lines.extend(legs);
        }
        for (run, labels) in cable_ends(plan, study) {
            let Some([first, .., last]) = run.way.as_ref().ok().map(|way| way.steps.as_slice()) else { continue };
            for end in [first, last].map(|step| step.at.spot()).into_iter().zip(labels) {
                // Wires that part at their fed end have one label there.
                if !picture.ends.contains(&end) {
                    picture.ends.push(end);
                }
            }
        }
        let hole = |hole: &Hole| (hole.at.spot(), Some(hole.bore_mm / 2.0));
        picture.holes.extend(study.holes.holes.iter().map(hole));
        picture
    }

    pub(super) fn from_the_side(plan: &Plan, study: &Study) -> Self {
        let sections = &study.shape.form().sections;
        let rim = sections.iter().map(|section| Spot::new(section.x_mm, section.gunwale().1));
        let keel = sections.iter().rev().map(|section| Spot::new(section.x_mm, section.keel()));
        let mut picture = Self::around("Profile", rim.chain(keel).collect());
        picture.legend = "Dashed: inside or under the hull, and the water.";
        for zone in &plan.hull.zones {
            let ((low, high), z) = (zone.outline_mm.bounds(), zone.height.value.to_mm());
            picture.lines.push((Spot::new(low.x, z), Spot::new(high.x, z), Pen::Faint));
        }
        plan.hull.features.iter().for_each(|feature| picture.feature_from_the_side(feature));
        for item in &study.rig.items {
            let middle = Spot::new(item.at.x, f64::midpoint(item.bottom(), item.top()));
            picture.item(item, middle, silhouette);
        }
        // Only what goes through an upright wall is round from this side.
        let hole = |hole: &Hole| (from_the_side(hole.at), hole.upright.then_some(hole.bore_mm / 2.0));
        picture.holes.extend(study.holes.holes.iter().map(hole));
        picture.water(study);
        picture
    }

    /// A picture of the hull alone.
    fn around(title: &'static str, hull: Vec<Spot>) -> Self {
        let hull = Polygon::new(hull);
        let bounds = hull.bounds();
        let mut picture = Self { title, hull: bounds, whole: bounds, ..Self::default() };
        picture.closed(&hull, Pen::Bold);
        picture
    }

    fn closed(&mut self, outline: &Polygon, pen: Pen) {
        self.lines.extend(outline.edges().map(|(from, to)| (from, to, pen)));
    }

    fn feature_from_above(&mut self, feature: &Feature) {
        let at = feature.at_mm.spot();
        match extent(&feature.kind) {
            Some(Extent::Round(bore)) => self.rounds.push((at, bore / 2.0)),
            Some(Extent::Rect(length, width)) => {
                let half = Spot::new(length / 2.0, width / 2.0);
                self.closed(&Polygon::rect(at - half, at + half), Pen::Fine);
            }
            None => {}
        }
    }

    /// From the side a feature is a stroke as long as it is, at its height.
    fn feature_from_the_side(&mut self, feature: &Feature) {
        let at = from_the_side(feature.at_mm);
        if let Some(Extent::Round(long) | Extent::Rect(long, _)) = extent(&feature.kind) {
            let half = Spot::new(long / 2.0, 0.0);
            self.lines.push((at - half, at + half, Pen::Fine));
        }
    }

    /// A piece of gear: its bodies, or its base where it has none.
    fn item(&mut self, item: &RigItem, tag: Spot, seen: impl Fn(&Solid) -> Polygon) {
        let pen = if item.level == Level::Deck { Pen::Fine } else { Pen::Dashed };
        let base = [Solid { outline: item.base, low: item.at.z, high: item.at.z }];
        let solids = if item.solids.is_empty() { &base } else { item.solids.as_slice() };
        for solid in solids {
            let outline = seen(solid);
            self.closed(&outline, pen);
            self.widen(&outline);
            self.bodies.push(outline.bounds());
        }
        self.tags.push((tag, item.gear));
    }

    /// Makes room for what stands off the hull.
    fn widen(&mut self, outline: &Polygon) {
        let ((low, high), (from, to)) = (outline.bounds(), self.hull);
        let (whole_low, whole_high) = &mut self.whole;
        whole_low.x = whole_low.x.min(low.x.max(from.x - BESIDE_MM));
        whole_low.y = whole_low.y.min(low.y.max(from.y - BESIDE_MM));
        whole_high.x = whole_high.x.max(high.x.min(to.x + BESIDE_MM));
        whole_high.y = whole_high.y.max(high.y.min(to.y + BESIDE_MM));
    }

    fn water(&mut self, study: &Study) {
        let levels = &study.float.levels;
        let at = |x: f64| Spot::new(x, levels.rest.draft(x));
        let (aft, fore) = (at(self.hull.0.x - BEYOND_MM), at(self.hull.1.x + BEYOND_MM));
        self.lines.push((aft, fore, Pen::Dashed));
        self.words.push((fore, if levels.stated { "water, as stated" } else { "water" }));
    }
}

/// How much of the deck a feature takes, mm.
enum Extent {
    Round(f64),
    Rect(f64, f64),
}

/// What is drawn of a feature; foam, seams and threads are not.
fn extent(kind: &FeatureKind) -> Option<Extent> {
    match kind {
        FeatureKind::Track { length, .. } => Some(Extent::Rect(length.to_mm(), TRACK_MM)),
        FeatureKind::Scupper { top, .. } => Some(Extent::Round(top.to_mm())),
        FeatureKind::Hatch { opening: crate::plan::Opening::Round(bore), .. } => Some(Extent::Round(bore.to_mm())),
        FeatureKind::Hatch { opening, .. } => {
            let (length, width) = opening.size();
            Some(Extent::Rect(length, width))
        }
        FeatureKind::WirePort { bore } | FeatureKind::DrainPlug { bore } | FeatureKind::RodTube { bore } => {
            Some(Extent::Round(bore.to_mm()))
        }
        FeatureKind::SeatRail { length, width }
        | FeatureKind::DriveWell { length, width }
        | FeatureKind::TransducerRecess { length, width, .. } => Some(Extent::Rect(length.to_mm(), width.to_mm())),
        FeatureKind::Inserts { .. }
        | FeatureKind::Handle { .. }
        | FeatureKind::Foam { .. }
        | FeatureKind::Seam { .. } => None,
    }
}

fn from_the_side(point: Point) -> Spot {
    Spot::new(point.x, point.z)
}

fn silhouette(solid: &Solid) -> Polygon {
    let (low, high) = Outline::bounds(&solid.outline);
    Polygon::rect(Spot::new(low.x, solid.low), Spot::new(high.x, solid.high))
}
