//! Who feeds whom: circuits with their fuse and wire, and the cables that run between parts.

use serde::{Deserialize, Serialize};

use super::{CableId, CircuitId, FeatureId, GearId, HoleId, Name, Signal};
use crate::units::{Current, Length};

/// The electrical side of the plan.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Wiring {
    /// Fused sets of loads.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub circuits: Vec<Circuit>,
    /// Runs of wire.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cables: Vec<Cable>,
}

/// A fused set of loads.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Circuit {
    /// Stable number.
    pub id: CircuitId,
    /// `sonar`, `lights`.
    pub name: Name,
    /// The battery that feeds it.
    pub battery: GearId,
    /// Its fuse; `None` is a finding, not a default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fuse: Option<Current>,
    /// Wire size, American wire gauge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gauge_awg: Option<u8>,
    /// The switch unit and its output (counted from 1) that switches it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub channel: Option<(GearId, u8)>,
    /// The loads on it.
    pub loads: Vec<GearId>,
}

/// A run of wire.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cable {
    /// Stable number.
    pub id: CableId,
    /// From this gear.
    pub from: GearId,
    /// To this gear.
    pub to: GearId,
    /// What runs in it.
    pub signal: Signal,
    /// Openings it must pass, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub via: Vec<Via>,
    /// Length, if measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
}

/// An opening on a cable's way.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Via {
    /// A feature of the hull.
    Feature(FeatureId),
    /// A hole that no gear owns.
    Hole(HoleId),
    /// A fitting that is gear.
    Gear(GearId),
}

impl Wiring {
    /// The circuit a load is on.
    pub fn circuit_of(&self, load: GearId) -> Option<&Circuit> {
        self.circuits.iter().find(|c| c.loads.contains(&load))
    }
}
