//! What runs into what: bodies against bodies, bodies against the space a motion needs.

use super::body::Seated;
use super::rig::{Rig, RigItem};
use crate::geometry::{Point, Solid, Spot};
use crate::plan::{FeatureId, GearId, Plan, Side};

/// What runs into what.
#[derive(Clone, Debug, Default)]
pub struct Clearance {
    /// Bodies that overlap.
    pub overlaps: Vec<Overlap>,
    /// The spaces that must stay free.
    pub envelopes: Vec<Envelope>,
    /// Gear inside them.
    pub intrusions: Vec<Intrusion>,
}

/// Two bodies in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Overlap {
    /// One of them.
    pub gear: GearId,
    /// The other.
    pub other: GearId,
    /// By how much, mm.
    pub depth_mm: f64,
    /// Where.
    pub at: Point,
}

/// A space that must stay free for a motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Envelope {
    /// Which motion.
    pub motion: Motion,
    /// On which side, if it has one.
    pub side: Option<Side>,
    /// The hatch whose lid moves, for lids.
    pub lid: Option<FeatureId>,
    /// Its solids, boat frame, mm.
    pub solids: Vec<Solid>,
    /// Hard: gear in it stops the motion. Soft: it only hinders.
    pub hard: bool,
}

/// A motion that needs space.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Motion {
    /// The paddle's stroke.
    Stroke,
    /// Feet on the pedals, knees above them.
    Pedals,
    /// A hatch lid.
    Lid,
    /// Bringing a fish aboard.
    Landing,
    /// Climbing back from the water.
    Reentry,
    /// The seat back.
    Recline,
}

impl Motion {
    /// The word on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Stroke => "stroke",
            Self::Pedals => "pedals",
            Self::Lid => "lid",
            Self::Landing => "landing",
            Self::Reentry => "re-entry",
            Self::Recline => "recline",
        }
    }
}

/// Gear inside an envelope.
#[derive(Clone, Debug, PartialEq)]
pub struct Intrusion {
    /// Index of the envelope.
    pub envelope: usize,
    /// The gear.
    pub gear: GearId,
    /// By how much, mm.
    pub depth_mm: f64,
    /// Where.
    pub at: Point,
    /// The shortest shift on deck that clears it.
    pub way_out: Option<Spot>,
}

impl Clearance {
    /// Looks for overlaps and intrusions.
    pub fn of(_plan: &Plan, _rig: &Rig, _body: &Seated) -> Self {
        Self::default()
    }

    /// The same for one more piece of gear, as the ghost in hand asks at each cell.
    pub fn of_one(
        _plan: &Plan,
        _rig: &Rig,
        _envelopes: &[Envelope],
        _item: &RigItem,
    ) -> (Vec<Overlap>, Vec<Intrusion>) {
        (Vec::new(), Vec::new())
    }
}
