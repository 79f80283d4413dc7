//! The shape a body shows from above: a turned rectangle or a circle.

use super::polygon::distance_to_edge;
use super::{Polygon, Spot, turned};

/// A convex shape seen from above, millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Outline {
    /// A rectangle: half its length along its own x, half its width, turned counter-clockwise.
    Rect {
        /// Middle of the rectangle.
        middle: Spot,
        /// Half the side along the turned x axis.
        half_length: f64,
        /// Half the side along the turned y axis.
        half_width: f64,
        /// Degrees counter-clockwise.
        turn: f64,
    },
    /// A circle.
    Circle {
        /// Middle of the circle.
        middle: Spot,
        /// Its radius.
        radius: f64,
    },
}

impl Outline {
    /// The middle of the shape.
    pub const fn middle(&self) -> Spot {
        match self {
            Self::Rect { middle, .. } | Self::Circle { middle, .. } => *middle,
        }
    }

    /// Corners of the rectangle, or of the circle's 16-sided stand-in.
    pub fn polygon(&self) -> Polygon {
        match *self {
            Self::Rect { middle, half_length: l, half_width: w, turn } => Polygon::new(
                [(l, w), (-l, w), (-l, -w), (l, -w)]
                    .into_iter()
                    .map(|(x, y)| middle + turned(Spot::new(x, y), turn))
                    .collect(),
            ),
            Self::Circle { middle, radius } => {
                Polygon::new((0..16).map(|i| middle + turned(Spot::new(radius, 0.0), f64::from(i) * 22.5)).collect())
            }
        }
    }

    /// Whether a spot lies in the shape.
    pub fn contains(&self, spot: Spot) -> bool {
        match *self {
            Self::Rect { middle, half_length, half_width, turn } => {
                let own = turned(spot - middle, -turn);
                own.x.abs() <= half_length && own.y.abs() <= half_width
            }
            Self::Circle { middle, radius } => spot.distance(middle) <= radius,
        }
    }

    /// Least and greatest coordinates.
    pub fn bounds(&self) -> (Spot, Spot) {
        match *self {
            Self::Circle { middle, radius } => (middle - Spot::new(radius, radius), middle + Spot::new(radius, radius)),
            Self::Rect { .. } => self.polygon().bounds(),
        }
    }

    /// How far two shapes are apart, mm: negative is the depth by which they run into each other
    /// (the least shift that parts them), positive the free gap.
    pub fn gap(&self, other: &Self) -> f64 {
        match (*self, *other) {
            (Self::Circle { middle: a, radius: r }, Self::Circle { middle: b, radius: s }) => a.distance(b) - r - s,
            (Self::Circle { middle, radius }, Self::Rect { .. }) => other.gap_to_spot(middle) - radius,
            (Self::Rect { .. }, Self::Circle { middle, radius }) => self.gap_to_spot(middle) - radius,
            (Self::Rect { .. }, Self::Rect { .. }) => rect_gap(&self.polygon(), &other.polygon()),
        }
    }

    /// Signed distance from the shape's edge to a spot, mm: negative inside.
    pub fn gap_to_spot(&self, spot: Spot) -> f64 {
        match *self {
            Self::Circle { middle, radius } => spot.distance(middle) - radius,
            Self::Rect { middle, half_length, half_width, turn } => {
                let own = turned(spot - middle, -turn);
                let (dx, dy) = (own.x.abs() - half_length, own.y.abs() - half_width);
                dx.max(0.0).hypot(dy.max(0.0)) + dx.max(dy).min(0.0)
            }
        }
    }

    /// The direction in which `self` gets clear of `other` soonest, as a shift in millimetres.
    /// `None` when they do not touch.
    pub fn way_out(&self, other: &Self) -> Option<Spot> {
        let depth = -self.gap(other);
        if depth <= 0.0 {
            return None;
        }
        let tried = (0..8).map(|i| turned(Spot::new(1.0, 0.0), f64::from(i) * 45.0));
        let shifted = |way: Spot, by: f64| self.moved(Spot::new(way.x * by, way.y * by));
        let clear_by = |way: Spot| {
            // Doubling then halving: monotone enough for convex shapes, and bounded.
            let mut high = depth.max(1.0);
            while shifted(way, high).gap(other) < 0.0 && high < 10_000.0 {
                high *= 2.0;
            }
            let mut low = 0.0;
            for _ in 0..24 {
                let middle = f64::midpoint(low, high);
                if shifted(way, middle).gap(other) < 0.0 { low = middle } else { high = middle }
            }
            high
        };
        tried
            .map(|way| (clear_by(way), way))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(by, way)| Spot::new(way.x * by, way.y * by))
    }

    /// The shape shifted.
    #[must_use]
    pub fn moved(&self, by: Spot) -> Self {
        match *self {
            Self::Rect { middle, half_length, half_width, turn } => {
                Self::Rect { middle: middle + by, half_length, half_width, turn }
            }
            Self::Circle { middle, radius } => Self::Circle { middle: middle + by, radius },
        }
    }
}

/// Gap between two convex polygons: separating axes for the overlap, edge distances for the gap.
fn rect_gap(a: &Polygon, b: &Polygon) -> f64 {
    let mut deepest = f64::NEG_INFINITY;
    for (from, to) in a.edges().take(2).chain(b.edges().take(2)) {
        let edge = to - from;
        let length = edge.x.hypot(edge.y);
        if length == 0.0 {
            continue;
        }
        let axis = Spot::new(-edge.y / length, edge.x / length);
        let span = |p: &Polygon| {
            p.corners
                .iter()
                .map(|c| c.x * axis.x + c.y * axis.y)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)))
        };
        let ((a_low, a_high), (b_low, b_high)) = (span(a), span(b));
        deepest = deepest.max((b_low - a_high).max(a_low - b_high));
    }
    if deepest <= 0.0 {
        return deepest;
    }
    let corner_gaps = |p: &Polygon, q: &Polygon| {
        p.corners
            .iter()
            .flat_map(|&c| q.edges().map(move |(from, to)| distance_to_edge(c, from, to)))
            .fold(f64::INFINITY, f64::min)
    };
    corner_gaps(a, b).min(corner_gaps(b, a))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn rect(x: f64, y: f64, turn: f64) -> Outline {
        Outline::Rect { middle: Spot::new(x, y), half_length: 50.0, half_width: 20.0, turn }
    }

    #[test]
    fn gaps_and_depths() {
        assert!((rect(0.0, 0.0, 0.0).gap(&rect(110.0, 0.0, 0.0)) - 10.0).abs() < 1e-9);
        assert!((rect(0.0, 0.0, 0.0).gap(&rect(90.0, 0.0, 0.0)) + 10.0).abs() < 1e-9);
        let post = Outline::Circle { middle: Spot::new(0.0, 40.0), radius: 15.0 };
        assert!((rect(0.0, 0.0, 0.0).gap(&post) - 5.0).abs() < 1e-9);
    }

    #[test]
    fn the_way_out_is_the_short_one() {
        let out = rect(0.0, 30.0, 0.0).way_out(&rect(0.0, 0.0, 0.0));
        assert!(matches!(out, Some(s) if (s.y - 10.0).abs() < 0.01 && s.x.abs() < 0.01), "{out:?}");
    }

    proptest! {
        #[test]
        fn gap_is_symmetric(x in -150_f64..150.0, y in -150_f64..150.0, t in 0_f64..360.0, u in 0_f64..360.0) {
            let (a, b) = (rect(0.0, 0.0, t), rect(x, y, u));
            prop_assert!((a.gap(&b) - b.gap(&a)).abs() < 1e-9);
        }

        #[test]
        fn the_way_out_parts_them(x in -40_f64..40.0, y in -15_f64..15.0, t in 0_f64..360.0) {
            let (a, b) = (rect(x, y, t), rect(0.0, 0.0, 0.0));
            if let Some(by) = a.way_out(&b) {
                prop_assert!(a.moved(by).gap(&b) > -0.01);
            }
        }
    }
}
