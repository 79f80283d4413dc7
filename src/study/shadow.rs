//! Which bodies stand before a net of points, seen from one point. Each line is exact; shares count points.

use crate::geometry::{Point, Solid};

/// Most points of a net: one bit each.
pub(super) const MOST_POINTS: usize = 64;

/// How much nearer than a point a body must be met, as a share of the way: what the point lies on does not hide it.
const BEFORE: f64 = 1.0 - 1e-6;

/// Bodies by whose they are, with their bounds.
pub(super) struct Bodies<T> {
    parts: Vec<Part<T>>,
}

struct Part<T> {
    of: T,
    solid: Solid,
    low: Point,
    high: Point,
}

/// Points hidden by each of some owners, one bit a point.
pub(super) struct Shadows<T> {
    points: usize,
    by: Vec<(T, u64)>,
}

impl<T: Copy + Ord> Bodies<T> {
    pub(super) fn of(solids: impl Iterator<Item = (T, Solid)>) -> Self {
        let part = |(of, solid): (T, Solid)| {
            let (low, high) = solid.outline.bounds();
            Part { of, solid, low: low.at(solid.low), high: high.at(solid.high) }
        };
        Self { parts: solids.map(part).collect() }
    }

    /// The lowest point of any of them, mm.
    pub(super) fn lowest(&self) -> f64 {
        self.parts.iter().map(|part| part.low.z).fold(f64::INFINITY, f64::min)
    }

    /// Which of the points are hidden from one by the bodies of those owners that count. Of more than
    /// [`MOST_POINTS`] the rest is not looked at.
    pub(super) fn hide(&self, from: Point, points: &[Point], counts: impl Fn(T) -> bool) -> Shadows<T> {
        let reached = points.iter().fold((from, from), |(low, high), p| (least(low, *p), greatest(high, *p)));
        let mut shadows = Shadows { points: points.len().min(MOST_POINTS), by: Vec::new() };
        for part in self.parts.iter().filter(|part| part.meets(reached) && counts(part.of)) {
            shadows.add(part.of, points, |point| part.solid.pierced(from, point).is_some_and(|(at, _)| at < BEFORE));
        }
        shadows
    }
}

impl<T> Part<T> {
    fn meets(&self, (low, high): (Point, Point)) -> bool {
        let apart = |al: f64, ah: f64, bl: f64, bh: f64| al >= bh || bl >= ah;
        !(apart(self.low.x, self.high.x, low.x, high.x)
            || apart(self.low.y, self.high.y, low.y, high.y)
            || apart(self.low.z, self.high.z, low.z, high.z))
    }
}

impl<T: Copy + Ord> Shadows<T> {
    /// Adds the points that one owner hides.
    pub(super) fn add(&mut self, of: T, points: &[Point], hides: impl Fn(Point) -> bool) {
        let points = points.iter().take(MOST_POINTS).enumerate();
        let bits = points.filter(|(_, point)| hides(**point)).fold(0, |bits, (bit, _)| bits | 1 << bit);
        match self.by.iter_mut().find(|(owner, _)| *owner == of) {
            _ if bits == 0 => {}
            Some((_, all)) => *all |= bits,
            None => self.by.push((of, bits)),
        }
    }

    /// The share of each owner that hides any, most first, percent.
    pub(super) fn shares(&self) -> Vec<(T, f64)> {
        let mut shares: Vec<(T, f64)> = self.by.iter().map(|(of, bits)| (*of, self.percent(*bits))).collect();
        shares.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
        shares
    }

    /// The share of all of them together, percent.
    pub(super) fn together(&self) -> f64 {
        self.percent(self.by.iter().fold(0, |all, (_, bits)| all | bits))
    }

    fn percent(&self, bits: u64) -> f64 {
        100.0 * f64::from(bits.count_ones()) / self.points.max(1) as f64
    }
}

fn least(a: Point, b: Point) -> Point {
    Point::new(a.x.min(b.x), a.y.min(b.y), a.z.min(b.z))
}

fn greatest(a: Point, b: Point) -> Point {
    Point::new(a.x.max(b.x), a.y.max(b.y), a.z.max(b.z))
}
