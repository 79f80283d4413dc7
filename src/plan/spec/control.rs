//! How gear is switched.

use serde::{Deserialize, Serialize};

use super::{Electric, Spec};

/// How gear is switched, and with that what has to work for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Control {
    /// By hand, at itself or at a box wired to it; also what has no switch and runs while it is fed.
    Buttons,
    /// By a remote with cells of its own; another way there may be is not counted on.
    Remote,
    /// By a phone; another way there may be is not counted on.
    Phone,
}

impl Spec {
    /// Whether it is something that one switches: a load, a motor, a switch unit, a light with cells of its own.
    pub(in crate::plan) fn is_switched(&self) -> bool {
        let electric =
            matches!(self.electric, Some(Electric::Load { .. } | Electric::Motor { .. } | Electric::Switch { .. }));
        electric || self.light.is_some()
    }
}
