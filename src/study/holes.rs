//! Every hole through the skin, and what speaks for or against it.

use super::rig::{HoleRef, Rig};
use crate::geometry::Point;
use crate::plan::{Back, Carries, FeatureId, GearId, Plan, Plug, Seal, ZoneId};

/// Every hole through the skin.
#[derive(Clone, Debug, Default)]
pub struct Holes {
    /// The holes: of gear in the plan's order, then those no gear owns.
    pub holes: Vec<Hole>,
    /// How many of each sort.
    pub counts: HoleCounts,
}

/// One hole. Millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// Which hole.
    pub id: HoleRef,
    /// The gear it belongs to or serves.
    pub owner: Option<GearId>,
    /// Where.
    pub at: Point,
    /// Diameter.
    pub bore_mm: f64,
    /// What goes through.
    pub carries: Carries,
    /// What it needs behind the skin.
    pub back: Back,
    /// Whether it exists and what becomes of it.
    pub state: HoleState,
    /// The zone it is in.
    pub zone: Option<ZoneId>,
    /// Thickness of the skin there.
    pub wall_mm: f64,
    /// Height over the loaded waterline at rest.
    pub above_water_mm: f64,
    /// Distance from the hole's middle to the nearest edge of its zone that counts as one.
    pub edge_mm: Option<f64>,
    /// Clear depth behind the skin.
    pub inside_mm: f64,
    /// Depth the part needs behind the skin.
    pub behind_mm: f64,
    /// The nearest opening wide enough for a hand and the way from its rim to the hole's back.
    pub access: Option<(Access, f64)>,
    /// What seals it.
    pub seal: Seal,
}

/// An opening through which a hand reaches the inside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Access {
    /// A hatch of the hull.
    Feature(FeatureId),
    /// An inspection port that is gear.
    Gear(GearId),
}

/// Whether a hole exists and what becomes of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleState {
    /// Still to be drilled.
    New,
    /// An existing hole that serves.
    Reused,
    /// An existing hole, closed.
    Plugged(Plug),
    /// An existing hole, open and unused.
    Open,
}

/// How many holes of each sort.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub struct HoleCounts {
    /// New, for fasteners.
    pub new_fasteners: usize,
    /// New, up to 60 mm, through which cables or parts pass.
    pub new_passages: usize,
    /// New, over 60 mm.
    pub new_cutouts: usize,
    /// Below the loaded waterline, new or open.
    pub below_water: usize,
    /// Existing and used again.
    pub reused: usize,
    /// Existing and closed.
    pub plugged: usize,
    /// Existing and open.
    pub open: usize,
    /// New ones that another mount of the same gear would save.
    pub avoidable: usize,
}

impl HoleCounts {
    /// All new holes.
    pub fn new_total(&self) -> usize {
        self.new_fasteners + self.new_passages + self.new_cutouts
    }
}

impl Holes {
    /// Lists and measures every hole.
    pub fn of(_plan: &Plan, _rig: &Rig) -> Self {
        Self::default()
    }
}
