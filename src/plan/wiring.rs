//! Who feeds whom: main fuses, circuits with their fuse and wire, and the cables that run between parts.

use serde::{Deserialize, Serialize};

use super::{CableId, CircuitId, FeatureId, GearId, HoleId, Name, Signal, find_by_id};
use crate::units::{Current, Length, Temperature};

/// The electrical side of the plan.
#[derive(Clone, Debug, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Wiring {
    /// Main fuses and breakers, at most one a battery.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub mains: Vec<Main>,
    /// Fused sets of loads.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub circuits: Vec<Circuit>,
    /// Runs of wire.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cables: Vec<Cable>,
}

/// The main fuse or breaker of a battery, and the wire from the battery to where its circuits part.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Main {
    /// The battery it stands behind.
    pub battery: GearId,
    /// Its rating; `None` is a finding, not a default.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fuse: Option<Current>,
    /// Whether it is a breaker that can be set again, not a fuse.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub breaker: bool,
    /// Wire size, American wire gauge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gauge_awg: Option<u8>,
    /// What the insulation of its wire stands; `None` is the usual of boat cable.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insulation: Option<Temperature>,
    /// Wire between the battery and the fuse.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fuse_at: Option<Length>,
    /// Whether the wire runs in a sheath or conduit.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub sheathed: bool,
    /// Length of the wire one way, if measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
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
    /// What the insulation of its wire stands; `None` is the usual of boat cable.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insulation: Option<Temperature>,
    /// Wire between the battery, or what feeds the circuit behind the main fuse, and its fuse.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fuse_at: Option<Length>,
    /// Whether the wire runs in a sheath with others (a jacketed cable) or in a conduit.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub sheathed: bool,
    /// Length of the wire one way, from the battery to the furthest load, if measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
    /// The switch unit and its output (counted from 1) that switches it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub channel: Option<(GearId, u8)>,
    /// The loads on it.
    pub loads: Vec<GearId>,
}

/// What is known of a wire and its fuse: the part that mains and circuits have in common.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    /// Its fuse or breaker.
    pub fuse: Option<Current>,
    /// Wire size, American wire gauge.
    pub gauge_awg: Option<u8>,
    /// What the insulation stands.
    pub insulation: Option<Temperature>,
    /// Wire up to the fuse.
    pub fuse_at: Option<Length>,
    /// Whether it runs in a sheath or conduit.
    pub sheathed: bool,
    /// Length one way, if measured.
    pub length: Option<Length>,
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

impl Circuit {
    /// A circuit of which only the battery and the loads are known.
    pub fn new(id: CircuitId, name: Name, battery: GearId, loads: Vec<GearId>) -> Self {
        Self {
            id,
            name,
            battery,
            fuse: None,
            gauge_awg: None,
            insulation: None,
            fuse_at: None,
            sheathed: false,
            length: None,
            channel: None,
            loads,
        }
    }

    /// Its wire and fuse.
    pub fn wire(&self) -> Wire {
        let Self { fuse, gauge_awg, insulation, fuse_at, sheathed, length, .. } = *self;
        Wire { fuse, gauge_awg, insulation, fuse_at, sheathed, length }
    }
}

impl Main {
    /// A main of which only the battery is known.
    pub fn new(battery: GearId) -> Self {
        Self {
            battery,
            fuse: None,
            breaker: false,
            gauge_awg: None,
            insulation: None,
            fuse_at: None,
            sheathed: false,
            length: None,
        }
    }

    /// Its wire and fuse.
    pub fn wire(&self) -> Wire {
        let Self { fuse, gauge_awg, insulation, fuse_at, sheathed, length, .. } = *self;
        Wire { fuse, gauge_awg, insulation, fuse_at, sheathed, length }
    }

    /// `breaker` or `fuse`.
    pub fn word(&self) -> &'static str {
        if self.breaker { "breaker" } else { "fuse" }
    }
}

impl Wiring {
    /// The circuit with this id.
    pub fn circuit(&self, id: CircuitId) -> Option<&Circuit> {
        self.circuits.get(find_by_id(&self.circuits, id, |c| c.id)?)
    }

    /// The main of a battery.
    pub fn main_of(&self, battery: GearId) -> Option<&Main> {
        self.mains.iter().find(|main| main.battery == battery)
    }

    /// An id no circuit has: one past the greatest.
    pub fn next_circuit_id(&self) -> CircuitId {
        CircuitId(self.circuits.iter().map(|c| c.id.0).max().unwrap_or(0) + 1)
    }

    /// An id no cable has: one past the greatest.
    pub fn next_cable_id(&self) -> CableId {
        CableId(self.cables.iter().map(|c| c.id.0).max().unwrap_or(0).saturating_add(1))
    }

    /// The circuit a load is on.
    pub fn circuit_of(&self, load: GearId) -> Option<&Circuit> {
        self.circuits.iter().find(|c| c.loads.contains(&load))
    }
}
