//! Masses and their centre, for the plan and for the load cases of a day.

use super::rig::Rig;
use crate::geometry::Point;
use crate::plan::Plan;
use crate::units::Mass;

/// Masses and their centre.
#[derive(Clone, Debug, Default)]
pub struct Weights {
    /// By group, in the order hull, angler, gear, battery, water aboard.
    pub groups: Vec<Group>,
    /// The load cases, *as planned* first.
    pub cases: Vec<LoadCase>,
    /// Load (all but the hull) over the rating, percent.
    pub load_percent: f64,
}

/// The mass of a group and where it acts.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// `hull`, `angler`, `gear`, `battery`, `water aboard`.
    pub name: &'static str,
    /// Its mass.
    pub mass: Mass,
    /// Its centre, mm.
    pub centre: Point,
}

/// A switch over the same plan: what is aboard in this case.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCase {
    /// `as planned`, `empty hull`, `angler only`, ...
    pub name: &'static str,
    /// Total mass.
    pub mass: Mass,
    /// Its centre, mm.
    pub centre: Point,
}

impl Weights {
    /// Adds up the plan.
    pub fn of(_plan: &Plan, _rig: &Rig) -> Self {
        Self::default()
    }
}
