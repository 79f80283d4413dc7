//! A point in the boat and a spot on its deck, both in millimetres.

use std::ops::{Add, Sub};

use serde::{Deserialize, Serialize};

/// A place seen from above: x forward from the aft end, y to port, in millimetres.
///
/// File form `(1220, 310)`.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(from = "(f64, f64)", into = "(f64, f64)")]
pub struct Spot {
    /// Millimetres forward of the aft end.
    pub x: f64,
    /// Millimetres to port of the centreline.
    pub y: f64,
}

/// A place in the boat: x forward, y to port, z over the keel baseline, in millimetres.
///
/// File form `(1220, 310, 330)`.
#[derive(Clone, Copy, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(from = "(f64, f64, f64)", into = "(f64, f64, f64)")]
pub struct Point {
    /// Millimetres forward of the aft end.
    pub x: f64,
    /// Millimetres to port of the centreline.
    pub y: f64,
    /// Millimetres over the keel baseline.
    pub z: f64,
}

impl From<(f64, f64)> for Spot {
    fn from((x, y): (f64, f64)) -> Self {
        Self { x, y }
    }
}
impl From<Spot> for (f64, f64) {
    fn from(spot: Spot) -> Self {
        (spot.x, spot.y)
    }
}
impl From<(f64, f64, f64)> for Point {
    fn from((x, y, z): (f64, f64, f64)) -> Self {
        Self { x, y, z }
    }
}
impl From<Point> for (f64, f64, f64) {
    fn from(point: Point) -> Self {
        (point.x, point.y, point.z)
    }
}

impl Spot {
    /// A spot from its coordinates in millimetres.
    pub const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }
    /// Distance to another spot, mm.
    pub fn distance(self, other: Self) -> f64 {
        let (x, y) = (self.x - other.x, self.y - other.y);
        // `hypot` guards against overflow, which no boat is long enough for, and costs ten times as much.
        (x * x + y * y).sqrt()
    }
    /// The same spot on the other side of the centreline.
    #[must_use]
    pub const fn mirrored(self) -> Self {
        Self { x: self.x, y: 0.0 - self.y }
    }
    /// The spot lifted to a height, mm.
    pub const fn at(self, z: f64) -> Point {
        Point { x: self.x, y: self.y, z }
    }
    /// Whether both coordinates are finite.
    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Point {
    /// A point from its coordinates in millimetres.
    pub const fn new(x: f64, y: f64, z: f64) -> Self {
        Self { x, y, z }
    }
    /// The spot under the point.
    pub const fn spot(self) -> Spot {
        Spot { x: self.x, y: self.y }
    }
    /// Distance to another point, mm.
    pub fn distance(self, other: Self) -> f64 {
        (self - other).length()
    }
    /// Length of the point taken as an arrow from the origin, mm.
    pub fn length(self) -> f64 {
        (self.x * self.x + self.y * self.y + self.z * self.z).sqrt()
    }
    /// The same point on the other side of the centreline.
    #[must_use]
    pub const fn mirrored(self) -> Self {
        Self { x: self.x, y: 0.0 - self.y, z: self.z }
    }
    /// Whether all coordinates are finite.
    pub fn is_finite(self) -> bool {
        self.spot().is_finite() && self.z.is_finite()
    }
}

impl Add for Spot {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y }
    }
}
impl Sub for Spot {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { x: self.x - other.x, y: self.y - other.y }
    }
}
impl Add for Point {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { x: self.x + other.x, y: self.y + other.y, z: self.z + other.z }
    }
}
impl Sub for Point {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { x: self.x - other.x, y: self.y - other.y, z: self.z - other.z }
    }
}

/// An arrow turned counter-clockwise by `deg`, seen from above. Quarter turns are exact.
pub fn turned(arrow: Spot, deg: f64) -> Spot {
    // Most things lie along the boat, and the remainder of a division is slow.
    if deg == 0.0 {
        return arrow;
    }
    let (sin, cos) = match deg.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        other => other.to_radians().sin_cos(),
    };
    Spot::new(arrow.x * cos - arrow.y * sin, arrow.x * sin + arrow.y * cos)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_quarter_turn_points_the_bow_to_port() {
        assert_eq!(turned(Spot::new(100.0, 0.0), 90.0), Spot::new(0.0, 100.0));
    }

    proptest! {
        #[test]
        fn turning_keeps_lengths(x in -1e4_f64..1e4, y in -1e4_f64..1e4, deg in -720_f64..720.0) {
            let before = Spot::new(x, y);
            let after = turned(before, deg);
            prop_assert!((before.distance(Spot::default()) - after.distance(Spot::default())).abs() < 1e-6);
        }

        #[test]
        fn mirroring_twice_changes_nothing(x in -1e4_f64..1e4, y in -1e4_f64..1e4) {
            let spot = Spot::new(x, y);
            prop_assert_eq!(spot.mirrored().mirrored(), spot);
        }
    }
}
