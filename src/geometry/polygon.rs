//! A closed outline of straight edges, seen from above.

use serde::{Deserialize, Serialize};

use super::Spot;

/// A simple polygon in the deck plane; vertices in order, last joined to first, millimetres.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Polygon {
    /// The corners in order, either way round.
    pub corners: Vec<Spot>,
}

impl Polygon {
    /// A polygon through these corners.
    pub fn new(corners: Vec<Spot>) -> Self {
        Self { corners }
    }

    /// A rectangle by two opposite corners.
    pub fn rect(low: Spot, high: Spot) -> Self {
        Self::new(vec![low, Spot::new(high.x, low.y), high, Spot::new(low.x, high.y)])
    }

    /// Whether a spot is inside. Spots exactly on an edge may fall either way.
    pub fn contains(&self, spot: Spot) -> bool {
        let mut inside = false;
        for (a, b) in self.edges() {
            if (a.y > spot.y) != (b.y > spot.y) && spot.x < (b.x - a.x) * (spot.y - a.y) / (b.y - a.y) + a.x {
                inside = !inside;
            }
        }
        inside
    }

    /// Distance from a spot to the nearest edge, mm; negative when the spot is outside.
    pub fn depth_of(&self, spot: Spot) -> f64 {
        let nearest = self.edges().map(|(a, b)| distance_to_edge(spot, a, b)).fold(f64::INFINITY, f64::min);
        if self.contains(spot) { nearest } else { -nearest }
    }

    /// Area, mm2 (shoelace formula), never negative.
    pub fn area(&self) -> f64 {
        self.edges().map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>().abs() / 2.0
    }

    /// Mean of the corners: good enough for a label.
    pub fn middle(&self) -> Spot {
        let (low, high) = self.bounds();
        Spot::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y))
    }

    /// Least and greatest coordinates. Zero for an empty polygon.
    pub fn bounds(&self) -> (Spot, Spot) {
        let Some(&first) = self.corners.first() else { return Default::default() };
        self.corners.iter().fold((first, first), |(low, high), c| {
            (Spot::new(low.x.min(c.x), low.y.min(c.y)), Spot::new(high.x.max(c.x), high.y.max(c.y)))
        })
    }

    /// The same outline on the other side of the centreline.
    #[must_use]
    pub fn mirrored(&self) -> Self {
        Self::new(self.corners.iter().map(|c| c.mirrored()).collect())
    }

    /// The edges, each from one corner to the next.
    pub fn edges(&self) -> impl Iterator<Item = (Spot, Spot)> + '_ {
        let n = self.corners.len();
        (0..n).map(move |i| (self.corners[i], self.corners[(i + 1) % n]))
    }
}

/// Distance from a spot to the segment between `a` and `b`, mm.
pub(super) fn distance_to_edge(spot: Spot, a: Spot, b: Spot) -> f64 {
    let along = b - a;
    let length2 = along.x * along.x + along.y * along.y;
    if length2 == 0.0 {
        return spot.distance(a);
    }
    let t = (((spot - a).x * along.x + (spot - a).y * along.y) / length2).clamp(0.0, 1.0);
    spot.distance(Spot::new(a.x + t * along.x, a.y + t * along.y))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn square() -> Polygon {
        Polygon::rect(Spot::new(0.0, -50.0), Spot::new(100.0, 50.0))
    }

    #[test]
    fn inside_outside_and_how_far() {
        assert!(square().contains(Spot::new(50.0, 0.0)));
        assert!(!square().contains(Spot::new(150.0, 0.0)));
        assert_eq!(square().depth_of(Spot::new(80.0, 0.0)), 20.0);
        assert_eq!(square().depth_of(Spot::new(130.0, 0.0)), -30.0);
        assert_eq!(square().area(), 10_000.0);
    }

    #[test]
    fn an_empty_outline_contains_nothing() {
        assert!(!Polygon::default().contains(Spot::default()));
        assert_eq!(Polygon::default().area(), 0.0);
    }

    proptest! {
        #[test]
        fn a_mirrored_outline_contains_the_mirrored_spot(x in -20_f64..120.0, y in -70_f64..70.0) {
            let lopsided = Polygon::new(vec![Spot::new(0.0, -10.0), Spot::new(100.0, 5.0), Spot::new(60.0, 60.0)]);
            let spot = Spot::new(x, y);
            prop_assert!((lopsided.depth_of(spot) - lopsided.mirrored().depth_of(spot.mirrored())).abs() < 1e-9);
        }
    }
}
