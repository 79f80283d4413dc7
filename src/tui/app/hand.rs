//! What is in hand, and what setting it down would change.

use std::sync::Arc;

use crate::checks::Finding;
use crate::geometry::Spot;
use crate::plan::{CircuitId, Gear, GearId, Mount, Placement, Spec};
use crate::study::float::Equilibrium;
use crate::study::rig::RigItem;

/// Gear in hand: not on the plan yet, or lifted from its place.
#[derive(Clone, Debug)]
pub struct Hand {
    /// What it is.
    pub held: Held,
    /// How it would be held.
    pub mount: Mount,
    /// Where it would be; x and y follow the cursor.
    pub place: Placement,
    /// What would change.
    pub preview: Option<Preview>,
    /// Picked up by the mouse, set down when the button is let go: from where it was gripped to its
    /// middle, mm.
    pub dragging: Option<Spot>,
}

/// What is in hand.
#[derive(Clone, Debug)]
pub enum Held {
    /// A catalogue entry.
    New(Arc<Spec>),
    /// Gear of the plan.
    Gear(GearId),
}

/// What setting down would change.
#[derive(Clone, Debug, Default)]
pub struct Preview {
    /// Whether it is held there, and why not.
    pub refused: Option<String>,
    /// The heaviest finding it would get.
    pub worst: Option<Finding>,
    /// The change each panel would see, in words: `+0.9 A`, `+4 holes`.
    pub changes: Vec<String>,
    /// How the boat would float.
    pub rest: Option<Equilibrium>,
    /// The gear as it would be, and the same in the boat frame.
    pub ghost: Option<(Gear, RigItem)>,
}

/// What was picked up in the diagram of the wires, to hang it elsewhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Carried {
    /// A load.
    Load(GearId),
    /// A circuit with all its loads.
    Circuit(CircuitId),
}
