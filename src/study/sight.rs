//! How the seated person looks at a point: how far, how far down, how far to the side.

use crate::geometry::Point;

/// A line of sight from the eye to a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Length of the line, mm.
    pub distance_mm: f64,
    /// Angle below level, degrees; negative looks up.
    pub down_deg: f64,
    /// Angle from straight ahead, degrees, positive to port.
    pub turn_deg: f64,
}

impl Look {
    /// From the eye to a point of the boat frame.
    pub fn from(eye: Point, at: Point) -> Self {
        let arrow = at - eye;
        Self {
            distance_mm: arrow.length(),
            down_deg: (-arrow.z).atan2(arrow.x.hypot(arrow.y)).to_degrees(),
            turn_deg: arrow.y.atan2(arrow.x).to_degrees(),
        }
    }
}
