//! What a cable goes round, seen from above: foam blocks and tubes inside, wells and lids on deck.

use super::Passed;
use crate::geometry::{Polygon, Spot};
use crate::plan::{Feature, FeatureKind, Hull, Kind, Level, Opening, Plan, Zone};
use crate::study::rig::Rig;

/// How far a cable keeps off what it goes round, mm. Common practice, no source.
pub const CLEAR_MM: f64 = 10.0;

/// A zone whose surface lies this far under the gunwale is a well, mm. Common practice, no source.
pub const WELL_MM: f64 = 40.0;

/// Corners that stand for a round outline.
const ROUND_CORNERS: u32 = 8;

/// An outline that a cable goes round.
#[derive(Clone, Debug)]
pub(super) struct Obstacle {
    /// What it is, as a step of a way says it.
    pub what: Passed,
    outline: Polygon,
    low: Spot,
    high: Spot,
    /// Where a cable bends round it.
    pub bends: Vec<Spot>,
}

impl Obstacle {
    fn new(what: Passed, outline: Polygon) -> Self {
        let (low, high) = outline.bounds();
        Self { what, bends: pushed_out(&outline), outline, low, high }
    }

    /// An upright box, unturned.
    fn rect(what: Passed, middle: Spot, length: f64, width: f64) -> Self {
        let half = Spot::new(length / 2.0, width / 2.0);
        Self::new(what, Polygon::rect(middle - half, middle + half))
    }

    /// An upright tube: the outline that touches it from outside.
    fn round(what: Passed, middle: Spot, radius: f64) -> Self {
        let half = std::f64::consts::PI / f64::from(ROUND_CORNERS);
        let corner = |n: u32| {
            let (sin, cos) = (half * f64::from(2 * n + 1)).sin_cos();
            let reach = radius / half.cos();
            Spot::new(middle.x + reach * cos, middle.y + reach * sin)
        };
        Self::new(what, Polygon::new((0..ROUND_CORNERS).map(corner).collect()))
    }

    /// Whether a spot lies within it.
    pub fn holds(&self, spot: Spot) -> bool {
        spot.x >= self.low.x
            && spot.x <= self.high.x
            && spot.y >= self.low.y
            && spot.y <= self.high.y
            && self.outline.contains(spot)
    }

    /// Whether the straight way between two spots runs through it.
    pub fn stops(&self, a: Spot, b: Spot) -> bool {
        let apart = |a: f64, b: f64, low: f64, high: f64| a.max(b) <= low || a.min(b) >= high;
        if apart(a.x, b.x, self.low.x, self.high.x) || apart(a.y, b.y, self.low.y, self.high.y) {
            return false;
        }
        crosses(&self.outline, a, b)
    }
}

/// Whether the straight way between two spots runs through an outline.
pub(super) fn crosses(outline: &Polygon, a: Spot, b: Spot) -> bool {
    let middle = Spot::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
    outline.edges().any(|(c, d)| cross(a, b, c, d)) || outline.contains(middle)
}

/// Whether two segments cross, touching ends not counted.
fn cross(a: Spot, b: Spot, c: Spot, d: Spot) -> bool {
    turn(a, b, c) * turn(a, b, d) < 0.0 && turn(c, d, a) * turn(c, d, b) < 0.0
}

/// Twice the area of a triangle, positive when it runs counter-clockwise, mm2.
fn turn(a: Spot, b: Spot, c: Spot) -> f64 {
    (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x)
}

/// The corners, each moved outward so that both its edges are [`CLEAR_MM`] away.
fn pushed_out(outline: &Polygon) -> Vec<Spot> {
    let corners = &outline.corners;
    let n = corners.len();
    let signed: f64 = outline.edges().map(|(a, b)| a.x * b.y - b.x * a.y).sum();
    let outward = |a: Spot, b: Spot| {
        let (along, length) = (b - a, a.distance(b).max(f64::MIN_POSITIVE));
        let side = signed.signum() / length;
        Spot::new(along.y * side, -along.x * side)
    };
    let corner = |i: usize| {
        let (before, here, after) = (corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
        let (p, q) = (outward(before, here), outward(here, after));
        let by = CLEAR_MM / (1.0 + p.x * q.x + p.y * q.y).max(0.1);
        Spot::new(here.x + (p.x + q.x) * by, here.y + (p.y + q.y) * by)
    };
    (0..n).map(corner).collect()
}

/// What stands inside the hull, from bottom to deck.
pub(super) fn inside(plan: &Plan) -> Vec<Obstacle> {
    let standing = |feature: &Feature| {
        let (what, middle) = (Passed::Round(feature.id), feature.at_mm.spot());
        match feature.kind {
            FeatureKind::Foam { length, width, .. } | FeatureKind::DriveWell { length, width } => {
                Some(Obstacle::rect(what, middle, length.to_mm(), width.to_mm()))
            }
            FeatureKind::Scupper { top, bottom, wall } => {
                let radius = top.to_mm().max(bottom.to_mm()) / 2.0 + wall.to_mm();
                Some(Obstacle::round(what, middle, radius))
            }
            FeatureKind::RodTube { bore } => Some(Obstacle::round(what, middle, bore.to_mm() / 2.0)),
            _ => None,
        }
    };
    plan.hull.features.iter().filter_map(standing).collect()
}

/// What a cable on deck goes round: wells, lids, the drive's well.
pub(super) fn on_deck(plan: &Plan, rig: &Rig) -> Vec<Obstacle> {
    let wells = wells(&plan.hull).map(|zone| Obstacle::new(Passed::Zone(zone.id), zone.outline_mm.clone()));
    let features = plan.hull.features.iter().filter_map(|feature| {
        let (what, middle) = (Passed::Round(feature.id), feature.at_mm.spot());
        match feature.kind {
            FeatureKind::Hatch { opening: Opening::Round(bore), .. } => {
                Some(Obstacle::round(what, middle, bore.to_mm() / 2.0))
            }
            FeatureKind::Hatch { opening: Opening::Rect(length, width), .. }
            | FeatureKind::DriveWell { length, width } => {
                Some(Obstacle::rect(what, middle, length.to_mm(), width.to_mm()))
            }
            _ => None,
        }
    });
    let ports = rig.items.iter().filter_map(|item| {
        let spec = &plan.gear.get(item.index)?.spec;
        let lid = spec.kind == Kind::InspectionPort && item.level == Level::Deck;
        let radius = spec.access.filter(|_| lid)?.to_mm() / 2.0;
        Some(Obstacle::round(Passed::RoundLid(item.gear), item.at.spot(), radius))
    });
    wells.chain(features).chain(ports).collect()
}

/// The outermost outlines of the deck's wells.
fn wells(hull: &Hull) -> impl Iterator<Item = &Zone> {
    let deep = |zone: &&Zone| {
        let rim = hull.form.gunwale(zone.outline_mm.middle().x);
        rim.is_some_and(|(_, rim)| rim - zone.height.value.to_mm() >= WELL_MM)
    };
    let deep: Vec<&Zone> = hull.zones.iter().filter(deep).collect();
    let within = |inner: &Zone, outer: &Zone| {
        let covered = |spot: &Spot| outer.outline_mm.contains(*spot);
        inner.id != outer.id && inner.outline_mm.corners.iter().all(covered)
    };
    let outermost: Vec<&Zone> =
        deep.iter().copied().filter(|zone| !deep.iter().any(|other| within(zone, other))).collect();
    outermost.into_iter()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::FeatureId;

    const BLOCK: Passed = Passed::Round(FeatureId(1));

    #[test]
    fn a_way_through_is_stopped_and_one_along_the_face_is_not() {
        let block = Obstacle::rect(BLOCK, Spot::new(500.0, 0.0), 200.0, 100.0);
        let check = |a: (f64, f64), b: (f64, f64), stops| assert_eq!(block.stops(a.into(), b.into()), stops);
        check((0.0, 0.0), (1000.0, 0.0), true);
        check((0.0, 50.0), (1000.0, 50.0), false);
        check((0.0, 49.0), (1000.0, 49.0), true);
        check((400.0, -50.0), (600.0, 50.0), true);
        check((0.0, 0.0), (390.0, 0.0), false);
    }

    #[test]
    fn bends_keep_clear_of_both_faces() {
        let block = Obstacle::rect(BLOCK, Spot::new(500.0, 0.0), 200.0, 100.0);
        let corners = [(390.0, -60.0), (610.0, -60.0), (610.0, 60.0), (390.0, 60.0)];
        assert_eq!(block.bends, corners.map(Spot::from));
        let tube = Obstacle::round(BLOCK, Spot::new(0.0, 0.0), 24.0);
        // The faces of the octagon touch a circle of 24 + 10 mm.
        for (a, b) in tube.bends.iter().zip(tube.bends.iter().cycle().skip(1)) {
            let face = Spot::new(f64::midpoint(a.x, b.x), f64::midpoint(a.y, b.y));
            assert!((face.distance(Spot::default()) - 34.0).abs() < 1e-9);
        }
    }
}
