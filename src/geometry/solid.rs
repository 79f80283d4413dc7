//! A body with a top and a bottom: what gear, people and envelopes are made of.

use super::{Outline, Point, Spot};

/// An upright prism: an outline between two heights over the baseline, millimetres.
///
/// A cylinder lying down is kept as the box around it: never smaller than the real thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Solid {
    /// The shape from above.
    pub outline: Outline,
    /// Height of the underside.
    pub low: f64,
    /// Height of the top.
    pub high: f64,
}

/// How two solids stand to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// The least shift that parts them, mm (positive: they overlap by this).
    pub depth: f64,
    /// The middle of where they meet.
    pub at: Point,
}

impl Solid {
    /// Whether and how deep two solids overlap. Touching faces do not count.
    pub fn overlap(&self, other: &Self) -> Option<Contact> {
        let upright = self.high.min(other.high) - self.low.max(other.low);
        if upright <= 0.0 {
            return None;
        }
        // A bounding box rules most pairs out before any axis is tried.
        let ((a_low, a_high), (b_low, b_high)) = (self.outline.bounds(), other.outline.bounds());
        if a_low.x > b_high.x || b_low.x > a_high.x || a_low.y > b_high.y || b_low.y > a_high.y {
            return None;
        }
        let sideways = -self.outline.gap(&other.outline);
        if sideways <= 0.0 {
            return None;
        }
        let at = Spot::new(
            f64::midpoint(a_low.x.max(b_low.x), a_high.x.min(b_high.x)),
            f64::midpoint(a_low.y.max(b_low.y), a_high.y.min(b_high.y)),
        )
        .at(f64::midpoint(self.low.max(other.low), self.high.min(other.high)));
        Some(Contact { depth: sideways.min(upright), at })
    }

    /// Free distance between two solids, mm; zero when they touch or overlap.
    pub fn distance(&self, other: &Self) -> f64 {
        let sideways = self.outline.gap(&other.outline).max(0.0);
        let upright = (self.low - other.high).max(other.low - self.high).max(0.0);
        sideways.hypot(upright)
    }

    /// Distance from the solid's surface to a point, mm; zero inside.
    pub fn distance_to(&self, point: Point) -> f64 {
        let sideways = self.outline.gap_to_spot(point.spot()).max(0.0);
        let upright = (self.low - point.z).max(point.z - self.high).max(0.0);
        sideways.hypot(upright)
    }

    /// The middle of the solid.
    pub fn middle(&self) -> Point {
        self.outline.middle().at(f64::midpoint(self.low, self.high))
    }

    /// Height from underside to top, mm.
    pub fn height(&self) -> f64 {
        self.high - self.low
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn crate_at(x: f64, low: f64) -> Solid {
        let outline = Outline::Rect { middle: Spot::new(x, 0.0), half_length: 150.0, half_width: 150.0, turn: 0.0 };
        Solid { outline, low, high: low + 300.0 }
    }

    #[test]
    fn stacked_is_not_overlapping() {
        assert_eq!(crate_at(0.0, 0.0).overlap(&crate_at(0.0, 300.0)), None);
        assert_eq!(crate_at(0.0, 0.0).distance(&crate_at(0.0, 300.0)), 0.0);
    }

    #[test]
    fn depth_is_the_least_shift() {
        let contact = crate_at(0.0, 0.0).overlap(&crate_at(280.0, 0.0));
        assert!(matches!(contact, Some(c) if (c.depth - 20.0).abs() < 1e-9 && c.at.x == 140.0));
        let low_step = crate_at(0.0, 0.0).overlap(&crate_at(0.0, 295.0));
        assert!(matches!(low_step, Some(c) if (c.depth - 5.0).abs() < 1e-9));
    }

    #[test]
    fn distance_goes_round_the_corner() {
        assert!((crate_at(0.0, 0.0).distance(&crate_at(330.0, 340.0)) - 50.0).abs() < 1e-9);
    }
}
