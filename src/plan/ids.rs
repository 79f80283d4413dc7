//! Short, stable numbers by which the parts of a plan refer to each other.

use std::fmt;

use serde::{Deserialize, Serialize};

macro_rules! id {
    ($(#[$doc:meta])* $name:ident, $word:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub u32);

        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                write!(f, concat!($word, " {}"), self.0)
            }
        }
    };
}

id! {
    /// A piece of gear: `gear 7`.
    GearId, "gear"
}
id! {
    /// A hole that no gear owns: `hole 3`.
    HoleId, "hole"
}
id! {
    /// A zone of the deck: `zone 2`.
    ZoneId, "zone"
}
id! {
    /// A feature of the hull: `feature 12`.
    FeatureId, "feature"
}
id! {
    /// A fused set of loads: `circuit 1`.
    CircuitId, "circuit"
}
id! {
    /// A run of wire: `cable 4`.
    CableId, "cable"
}
id! {
    /// A review thread: `thread 2`.
    ThreadId, "thread"
}
