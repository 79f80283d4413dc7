//! Holes that no gear owns: cable entries, spare holes, old holes and what becomes of them.

use serde::{Deserialize, Serialize};

use super::{Day, GearId, HoleId, Name};
use crate::geometry::Spot;
use crate::units::Length;

/// How far an old hole may be from the middle of the new one to serve it, mm. Common practice, no source: a hole can
/// be dressed by a few millimetres, not walked.
pub const REUSE_WITHIN_MM: f64 = 5.0;

/// How much wider than what it serves an old hole may be, mm. Common practice, no source: a washer covers it.
pub const REUSE_WIDER_MM: f64 = 1.0;

/// An opening through the hull's skin that belongs to no gear.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Penetration {
    /// Stable number.
    pub id: HoleId,
    /// `cable entry, bow`, `old rod holder screw`.
    pub name: Name,
    /// Forward of the aft end.
    pub x: Length,
    /// To port of the centreline.
    pub y: Length,
    /// Diameter.
    pub bore: Length,
    /// What it is for.
    pub purpose: Purpose,
    /// Whether it exists and what becomes of it.
    pub fate: Fate,
    /// What seals it.
    #[serde(default)]
    pub seal: Seal,
    /// Which gear left it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub left: Option<Left>,
}

/// Where a hole comes from that gear left behind.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Left {
    /// The gear; it may be struck since.
    pub by: GearId,
    /// What it was called then.
    pub name: Name,
    /// When it was drilled, if that was ticked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drilled: Option<Day>,
}

/// What a hole is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Purpose {
    /// Cables pass.
    Cable,
    /// A bolt, screw or rivet.
    Fastener,
    /// A part stands in it.
    Fitting,
}

/// Whether a hole exists and what becomes of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Fate {
    /// Still to be drilled.
    New,
    /// There already, and open.
    Open,
    /// There already, and used by this gear.
    Reused(GearId),
    /// There already, and closed for good.
    Plugged(Plug),
}

/// How a hole is closed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Plug {
    /// A bolt with washers and a gasket.
    BoltAndGasket,
    /// An expanding rubber plug.
    RubberPlug,
    /// A blanking plate with a gasket.
    BlankingPlate,
    /// Parent plastic welded in.
    PlasticWeld,
}

impl Plug {
    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::BoltAndGasket => "bolt and gasket",
            Self::RubberPlug => "rubber plug",
            Self::BlankingPlate => "blanking plate",
            Self::PlasticWeld => "plastic weld",
        }
    }
}

/// What seals a hole. On polyethylene the clamped gasket seals; the rest is back-up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Seal {
    /// Closed-cell gasket or O-ring, clamped.
    #[default]
    Gasket,
    /// Butyl tape.
    ButylTape,
    /// Flexible solvent-based clear adhesive.
    FlexibleAdhesive,
    /// Clear synthetic-rubber sealant.
    SyntheticRubber,
    /// Hybrid (silane-modified) sealant.
    Hybrid,
    /// Polyurethane.
    Polyurethane,
    /// General silicone.
    Silicone,
    /// Polysulfide.
    Polysulfide,
    /// Epoxy or polyester.
    Epoxy,
    /// Nothing.
    #[serde(rename = "Nothing", alias = "None")]
    None,
}

impl Seal {
    /// All of them, best first.
    pub const ALL: [Self; 10] = [
        Self::Gasket,
        Self::ButylTape,
        Self::FlexibleAdhesive,
        Self::SyntheticRubber,
        Self::Hybrid,
        Self::Polyurethane,
        Self::Silicone,
        Self::Polysulfide,
        Self::Epoxy,
        Self::None,
    ];

    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Gasket => "gasket",
            Self::ButylTape => "butyl tape",
            Self::FlexibleAdhesive => "flexible adhesive",
            Self::SyntheticRubber => "synthetic rubber",
            Self::Hybrid => "hybrid sealant",
            Self::Polyurethane => "polyurethane",
            Self::Silicone => "silicone",
            Self::Polysulfide => "polysulfide",
            Self::Epoxy => "epoxy",
            Self::None => "nothing",
        }
    }
}

impl Penetration {
    /// Its spot, mm.
    pub fn spot(&self) -> Spot {
        Spot::new(self.x.to_mm(), self.y.to_mm())
    }
}
