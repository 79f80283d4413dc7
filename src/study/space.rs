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
        let mut best: Option<Contact> = None;
        for (a, b) in self.pairs(other).filter(|(a, b)| meet(a.low, a.high, b.low, b.high)) {
            // No pair is deeper than its bounds: what cannot matter is not looked at closely.
            let least = best.map_or(tolerance, |best| best.depth - ROUNDING);
            let Some(contact) = (bound(a, b) >= least).then(|| a.solid.overlap(&b.solid)).flatten() else { continue };
            if contact.depth > tolerance && best.is_none_or(|best| weightier(&best, &contact).is_le()) {
                best = Some(contact);
            }
        }
        best
    }

    /// How deep this space stands in another, and where: the least shift or lift that clears all of it.
    /// Unlike [`Self::deepest`] it sees a space that was cut into pieces as a whole.
    pub fn stands_in(&self, other: &Self, tolerance: f64) -> Option<Contact> {
        let contact = self.deepest(other, tolerance)?;
        let sideways = self.clear_by(other, tolerance).into_iter().fold(f64::INFINITY, f64::min);
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
        let order = if self.low.y + self.high.y < 0.0 { [0, 1, 2, 3] } else { [0, 1, 3, 2] };
        let by = self.clear_by(other, tolerance);
        let ways = order.map(|way| (by[way], Spot::new(WAYS[way].x * by[way], WAYS[way].y * by[way])));
        let open = ways.into_iter().filter(|(_, shift)| allowed(*shift));
        open.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, shift)| shift)
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

    /// How far to go each of the four [`WAYS`] until nothing meets. Clearing one solid can run into the next: each
    /// pair that lies in the way stops a span of shifts, and the first shift in none of them is far enough.
    fn clear_by(&self, other: &Self, tolerance: f64) -> [f64; 4] {
        let (mut along, mut across) = (Vec::new(), Vec::new());
        for (a, b) in self.pairs(other) {
            if a.high.z.min(b.high.z) - a.low.z.max(b.low.z) <= tolerance {
                continue;
            }
            if !apart(a.low.y, a.high.y, b.low.y, b.high.y) {
                along.push((b.low.x - a.high.x, b.high.x - a.low.x));
            }
            if !apart(a.low.x, a.high.x, b.low.x, b.high.x) {
                across.push((b.low.y - a.high.y, b.high.y - a.low.y));
            }
        }
        let back = |spans: &[(f64, f64)]| spans.iter().map(|(from, to)| (-to, -from)).collect();
        let (aft, starboard) = (back(&along), back(&across));
        [along, aft, across, starboard].map(first_free)
    }

    fn pairs<'a>(&'a self, other: &'a Self) -> impl Iterator<Item = (&'a Part, &'a Part)> {
        self.parts.iter().flat_map(move |a| other.parts.iter().map(move |b| (a, b)))
    }
}

/// The least shift along an axis that parts two boxes that meet.
fn bound(a: &Part, b: &Part) -> f64 {
    let shared = |al: f64, ah: f64, bl: f64, bh: f64| (ah - bl).min(bh - al);
    shared(a.low.x, a.high.x, b.low.x, b.high.x)
        .min(shared(a.low.y, a.high.y, b.low.y, b.high.y))
        .min(shared(a.low.z, a.high.z, b.low.z, b.high.z))
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

/// The least shift, from none on, that lies in no span.
fn first_free(mut spans: Vec<(f64, f64)>) -> f64 {
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut by = 0.0;
    for (from, to) in spans {
        if from + ROUNDING >= by {
            break;
        }
        if by < to - ROUNDING {
            by = to;
        }
    }
    by
}

/// Touching faces, within this, do not meet, mm.
const ROUNDING: f64 = 1e-6;

/// Whether two boxes share some room.
fn meet(a_low: Point, a_high: Point, b_low: Point, b_high: Point) -> bool {
    !(apart(a_low.x, a_high.x, b_low.x, b_high.x)
        || apart(a_low.y, a_high.y, b_low.y, b_high.y)
        || apart(a_low.z, a_high.z, b_low.z, b_high.z))
}

/// Whether two stretches do not meet.
fn apart(a_low: f64, a_high: f64, b_low: f64, b_high: f64) -> bool {
    a_low >= b_high - ROUNDING || b_low >= a_high - ROUNDING
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
