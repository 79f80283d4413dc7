//! Who sits in the boat: size, sides, seat setting.

use serde::{Deserialize, Serialize};

use crate::units::{Angle, Figure, Length, Mass};

/// Port or starboard, left or right of someone facing forward.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Side {
    /// Left facing forward, y positive.
    Port,
    /// Right facing forward, y negative.
    Starboard,
}

impl Side {
    /// +1 to port, -1 to starboard: the sign of y on that side.
    pub fn sign(self) -> f64 {
        match self {
            Self::Port => 1.0,
            Self::Starboard => -1.0,
        }
    }
    /// `port`, `starboard`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Port => "port",
            Self::Starboard => "starboard",
        }
    }
    /// The other side.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::Port => Self::Starboard,
            Self::Starboard => Self::Port,
        }
    }
}

/// The person the boat is rigged for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Angler {
    /// Mass as dressed for the water, life jacket included.
    pub mass: Figure<Mass>,
    /// Height standing, without shoes.
    pub stature: Figure<Length>,
    /// Lengths measured on the person; each wins over the segment ratios.
    #[serde(default)]
    pub measured: MeasuredBody,
    /// The side of the hand that casts and works controls.
    pub hand: Side,
    /// The side on which fish are landed.
    pub landing: Side,
    /// The side on which the swimmer climbs back.
    pub reentry: Side,
    /// How the seat is set.
    pub seat: Seat,
}

/// Lengths measured on the person, each optional.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct MeasuredBody {
    /// Eye over the seat's surface.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub eye_height: Option<Length>,
    /// Shoulder over the seat's surface.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shoulder_height: Option<Length>,
    /// Shoulder to the middle of the grip, arm stretched.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub arm_to_grip: Option<Length>,
    /// Shoulder to shoulder joint.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shoulder_width: Option<Length>,
    /// Seat back to the front of the knee.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub knee_forward: Option<Length>,
    /// Knee over the seat's surface.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub knee_height: Option<Length>,
}

/// How the seat is set.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Seat {
    /// Front of the seat back, forward of the aft end.
    pub back: Length,
    /// Low or high.
    #[serde(default)]
    pub height: SeatHeight,
    /// How far the back leans aft of upright.
    #[serde(default = "ten_degrees")]
    pub recline: Angle,
}

fn ten_degrees() -> Angle {
    Angle::deg(10.0)
}

/// The seat's height setting.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum SeatHeight {
    /// Close to the floor.
    #[default]
    Low,
    /// Raised.
    High,
}

impl SeatHeight {
    /// `low`, `high`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Low => "low",
            Self::High => "high",
        }
    }
}
