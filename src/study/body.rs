//! The seated person as points and lengths: ratios of stature, or lengths measured.

use crate::geometry::Point;
use crate::plan::Plan;

/// The seated person. Points in the boat frame, lengths in millimetres.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Seated {
    /// Middle between the hip joints.
    pub hip: Point,
    /// Shoulder joints, port then starboard.
    pub shoulders: [Point; 2],
    /// Middle between the eyes.
    pub eye: Point,
    /// Top of the head with a cap.
    pub head_top: Point,
    /// Middle between the knees.
    pub knee: Point,
    /// Middle between the feet.
    pub foot: Point,
    /// Shoulder to the middle of the grip.
    pub grip: f64,
    /// Shoulder to fingertip.
    pub fingertip: f64,
    /// Height of the seat's surface.
    pub seat: f64,
}

impl Seated {
    /// Sits the plan's angler on the plan's seat.
    pub fn of(_plan: &Plan) -> Self {
        Self::default()
    }
}
