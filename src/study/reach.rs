//! What can be touched from the seat: the least lean and twist for either hand.

use super::body::Seated;
use super::rig::Rig;
use crate::geometry::Point;
use crate::plan::{GearId, Often, Plan, Side};

/// What can be touched from the seat.
#[derive(Clone, Debug, Default)]
pub struct Reach {
    /// The seated person.
    pub body: Seated,
    /// Every placed piece of gear that is touched under way.
    pub items: Vec<ReachItem>,
}

/// How one piece of gear is reached.
#[derive(Clone, Debug, PartialEq)]
pub struct ReachItem {
    /// The gear.
    pub gear: GearId,
    /// How often it is touched.
    pub touched: Often,
    /// Its control point.
    pub control: Point,
    /// What it takes.
    pub touch: Touch,
}

/// What it takes to touch a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// The band it falls in.
    pub band: Band,
    /// The hand that reaches it with less effort.
    pub hand: Side,
    /// Least lean about the hip, degrees from the seat's rest posture.
    pub lean_deg: f64,
    /// Least twist of the trunk, degrees.
    pub twist_deg: f64,
    /// Distance from that hand's shoulder, upright, mm.
    pub distance_mm: f64,
    /// How far the hand falls short without lean or twist, mm; negative is to spare.
    pub short_mm: f64,
}

/// The band a point falls in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Band {
    /// Touched upright.
    InHand,
    /// With a lean or a twist.
    AtStretch,
    /// Not safely.
    OutOfReach,
}

impl Band {
    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::InHand => "in hand",
            Self::AtStretch => "at stretch",
            Self::OutOfReach => "out of reach",
        }
    }
}

impl Reach {
    /// Tries every control of the placed gear.
    pub fn of(plan: &Plan, _rig: &Rig) -> Self {
        Self { body: Seated::of(plan), items: Vec::new() }
    }
}

/// What it takes to touch a point with a fingertip (`gripped`: with the middle of the grip).
pub fn touch(_body: &Seated, _point: Point, _gripped: bool) -> Touch {
    Touch { band: Band::OutOfReach, hand: Side::Port, lean_deg: 0.0, twist_deg: 0.0, distance_mm: 0.0, short_mm: 0.0 }
}
