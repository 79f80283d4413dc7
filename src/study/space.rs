//! Several solids taken together, with their bounds kept: overlaps and ways out, quickly.

use std::cmp::Ordering;

use crate::geometry::{Contact, Point, Solid, Spot};

/// The four ways along the boat and across it.
const WAYS: [Spot; 4] = [Spot::new(1.0, 0.0), Spot::new(-1.0, 0.0), Spot::new(0.0, 1.0), Spot::new(0.0, -1.0)];

/// Solids that move together. Millimetres.
#[derive(Clone, Debug)]
pub struct Space {
    /// Least coordinates over all solids.
    pub low: Point,
    /// Greatest coordinates over all solids.
    pub high: Point,
    parts: Vec<Part>,
}

#[derive(Clone, Copy, Debug)]
struct Part {
    solid: Solid,
    low: Point,
    high: Point,
}

impl Space {
    /// Takes the bounds of some solids. Without any, the space lies nowhere and meets nothing.
    pub fn of(solids: &[Solid]) -> Self {
        let parts: Vec<Part> = solids
            .iter()
            .map(|solid| {
                let (low, high) = solid.outline.bounds();
                Part { solid: *solid, low: low.at(solid.low), high: high.at(solid.high) }
            })
            .collect();
        let nowhere = Point::new(f64::INFINITY, f64::INFINITY, f64::INFINITY);
        let low = parts.iter().fold(nowhere, |a, b| pick(a, b.low, f64::min));
        let high = parts.iter().fold(Point::new(-nowhere.x, -nowhere.y, -nowhere.z), |a, b| pick(a, b.high, f64::max));
        Self { low, high, parts }
    }

    /// The deepest overlap of any two solids beyond the tolerance.
    pub fn deepest(&self, other: &Self, tolerance: f64) -> Option<Contact> {
        if !meet(self.low, self.high, other.low, other.high) {
            return None;
        }
        self.pairs(other)
            .filter(|(a, b)| meet(a.low, a.high, b.low, b.high))
            .filter_map(|(a, b)| a.solid.overlap(&b.solid))
            .filter(|contact| contact.depth > tolerance)
            .max_by(weightier)
    }

    /// How deep this space stands in another, and where: the least shift or lift that clears all of it.
    /// Unlike [`Self::deepest`] it sees a space that was cut into pieces as a whole.
    pub fn stands_in(&self, other: &Self, tolerance: f64) -> Option<Contact> {
        let contact = self.deepest(other, tolerance)?;
        let sideways = WAYS.iter().map(|way| self.clear_by(other, *way, tolerance)).fold(f64::INFINITY, f64::min);
        let upright = self
            .pairs(other)
            .filter(|(a, b)| meet(a.low, a.high, b.low, b.high))
            .map(|(a, b)| (a.high.z - b.low.z).min(b.high.z - a.low.z))
            .fold(0.0, f64::max);
        Some(Contact { depth: contact.depth.max(sideways.min(upright)), ..contact })
    }

    /// The shortest shift forward, aft or sideways after which no solid meets another, among those
    /// that `allowed` lets through. Turned gear is taken by its bounds: a shift never falls short.
    pub fn way_out(&self, other: &Self, tolerance: f64, allowed: impl Fn(Spot) -> bool) -> Option<Spot> {
        // Of two equal ways the one along the boat comes first, then the one toward the centreline.
        let ways = if self.low.y + self.high.y < 0.0 { WAYS } else { [WAYS[0], WAYS[1], WAYS[3], WAYS[2]] };
        ways.into_iter()
            .map(|way| (self.clear_by(other, way, tolerance), way))
            .map(|(by, way)| (by, Spot::new(way.x * by, way.y * by)))
            .filter(|(_, shift)| allowed(*shift))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, shift)| shift)
    }

    /// Whether the other space lies wholly within one of the solids' bounds.
    pub fn holds(&self, other: &Self) -> bool {
        let within = |low: Point, high: Point| {
            low.x <= other.low.x
                && low.y <= other.low.y
                && low.z <= other.low.z
                && high.x >= other.high.x
                && high.y >= other.high.y
                && high.z >= other.high.z
        };
        self.parts.iter().any(|part| within(part.low, part.high))
    }

    /// How far to go one way until nothing meets. Clearing one solid can run into the next, so the
    /// pairs are gone through until a round changes nothing; each round clears at least one pair for good.
    fn clear_by(&self, other: &Self, way: Spot, tolerance: f64) -> f64 {
        let mut by = 0.0;
        for _ in 0..=self.parts.len() * other.parts.len() {
            let before = by;
            for (a, b) in self.pairs(other) {
                let upright = a.high.z.min(b.high.z) - a.low.z.max(b.low.z);
                let shift = Point::new(way.x * by, way.y * by, 0.0);
                if upright <= tolerance || !meet(a.low + shift, a.high + shift, b.low, b.high) {
                    continue;
                }
                let clear = match (way.x, way.y) {
                    (1.0, _) => b.high.x - a.low.x,
                    (-1.0, _) => a.high.x - b.low.x,
                    (_, 1.0) => b.high.y - a.low.y,
                    _ => a.high.y - b.low.y,
                };
                by = f64::max(by, clear);
            }
            if by == before {
                break;
            }
        }
        by
    }

    fn pairs<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = (&'a Part, &'a Part)> {
        self.parts.iter().flat_map(move |a| other.parts.iter().map(move |b| (a, b)))
    }
}

/// The deeper contact; of equal ones, within rounding, the one nearest the centreline and then foremost, so that a
/// mirrored boat is told the same.
fn weightier(a: &Contact, b: &Contact) -> Ordering {
    let rounded = |mm: f64| (mm * 1e6).round();
    let key = |c: &Contact| [rounded(c.depth), -rounded(c.at.y.abs()), rounded(c.at.x)];
    let pairs = key(a).into_iter().zip(key(b));
    pairs.map(|(a, b)| a.total_cmp(&b)).find(|order| order.is_ne()).unwrap_or(Ordering::Equal)
}

fn pick(a: Point, b: Point, which: fn(f64, f64) -> f64) -> Point {
    Point::new(which(a.x, b.x), which(a.y, b.y), which(a.z, b.z))
}

/// Whether two boxes share some room; touching faces, within rounding, do not.
fn meet(a_low: Point, a_high: Point, b_low: Point, b_high: Point) -> bool {
    const ROUNDING: f64 = 1e-6;
    let apart = |al: f64, ah: f64, bl: f64, bh: f64| al >= bh - ROUNDING || bl >= ah - ROUNDING;
    !(apart(a_low.x, a_high.x, b_low.x, b_high.x)
        || apart(a_low.y, a_high.y, b_low.y, b_high.y)
        || apart(a_low.z, a_high.z, b_low.z, b_high.z))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::envelopes::block;
    use proptest::prelude::*;

    fn boxes(at: &[(f64, f64)]) -> Space {
        let solids: Vec<Solid> =
            at.iter().map(|(x, y)| block((x - 50.0, x + 50.0), (y - 20.0, y + 20.0), (0.0, 100.0))).collect();
        Space::of(&solids)
    }

    #[test]
    fn a_way_out_clears_every_solid_on_its_way() {
        let wall = boxes(&[(0.0, 0.0), (0.0, 40.0), (0.0, 80.0)]);
        let way = boxes(&[(0.0, 60.0)]).way_out(&wall, 2.0, |_| true);
        assert_eq!(way, Some(Spot::new(0.0, 60.0)), "outboard, past the last one");
        let no_outboard = boxes(&[(0.0, 60.0)]).way_out(&wall, 2.0, |by| by.y <= 0.0);
        assert_eq!(no_outboard, Some(Spot::new(100.0, 0.0)));
        assert_eq!(boxes(&[(0.0, 60.0)]).way_out(&wall, 2.0, |_| false), None);
    }

    #[test]
    fn a_space_in_pieces_is_seen_as_a_whole() {
        // A post of 40 astride two pieces of 100: out of each it is 20, out of both 120.
        let pieces =
            [block((0.0, 100.0), (-200.0, 200.0), (0.0, 500.0)), block((100.0, 200.0), (-200.0, 200.0), (0.0, 500.0))];
        let post = Space::of(&[block((80.0, 120.0), (-20.0, 20.0), (0.0, 400.0))]);
        assert!(matches!(post.stands_in(&Space::of(&pieces), 2.0), Some(c) if (c.depth - 120.0).abs() < 1e-9));
    }

    #[test]
    fn an_empty_space_meets_nothing() {
        assert!(Space::of(&[]).deepest(&boxes(&[(0.0, 0.0)]), 0.0).is_none());
    }

    proptest! {
        #[test]
        fn overlap_is_symmetric(x in -120_f64..120.0, y in -60_f64..60.0, z in -120_f64..120.0) {
            let a = boxes(&[(0.0, 0.0), (30.0, 30.0)]);
            let b = Space::of(&[block((x, x + 80.0), (y, y + 30.0), (z, z + 90.0))]);
            prop_assert_eq!(a.deepest(&b, 2.0).map(|c| c.depth), b.deepest(&a, 2.0).map(|c| c.depth));
        }

        #[test]
        fn the_way_out_is_out(x in -120_f64..120.0, y in -60_f64..60.0, z in -90_f64..90.0) {
            let solid = block((x, x + 80.0), (y, y + 30.0), (z, z + 90.0));
            let fixed = boxes(&[(0.0, 0.0), (60.0, 30.0), (90.0, -10.0)]);
            let moving = Space::of(&[solid]);
            if let Some(by) = moving.way_out(&fixed, 2.0, |_| true) {
                let moved = Solid { outline: solid.outline.moved(by), ..solid };
                prop_assert!(Space::of(&[moved]).deepest(&fixed, 2.0).is_none());
            }
        }
    }
}
