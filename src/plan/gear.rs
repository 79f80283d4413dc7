//! A piece of gear in a plan: its spec, how and where it is held, its build state.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::{GearId, Mount, Name, Seal, Spec};
use crate::geometry::Spot;
use crate::units::{Angle, Length, Quantity};

/// A piece of gear, placed on the hull or still ashore.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Gear {
    /// Stable number.
    pub id: GearId,
    /// What the person calls it; starts as the spec's name.
    pub label: Name,
    /// What it is; a copy of the catalogue entry, so the plan is whole by itself.
    /// Shared between the states of a history.
    pub spec: Arc<Spec>,
    /// How it is held; one of the spec's mounts.
    pub mount: Mount,
    /// Where it is, or `None` while ashore.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<Placement>,
    /// What seals its holes.
    #[serde(default)]
    pub seal: Seal,
    /// How far the work on it has come.
    #[serde(default)]
    pub state: BuildState,
    /// Whether a search may move it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub pinned: bool,
}

/// Where a piece of gear sits.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Placement {
    /// Forward of the aft end.
    pub x: Length,
    /// To port of the centreline.
    pub y: Length,
    /// Lifted by this over the surface it is mounted on.
    #[serde(default)]
    pub raise: Length,
    /// Counter-clockwise seen from above.
    #[serde(default = "no_turn")]
    pub turn: Angle,
    /// Which surface it is mounted on.
    #[serde(default)]
    pub level: Level,
}

fn no_turn() -> Angle {
    Angle::deg(0.0)
}

/// Which surface gear is mounted on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Level {
    /// On the deck.
    #[default]
    Deck,
    /// Inside the hull, on its bottom.
    Inside,
    /// Under the hull.
    Under,
}

impl Level {
    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Deck => "on deck",
            Self::Inside => "inside the hull",
            Self::Under => "under the hull",
        }
    }
}

/// How far the work on a piece of gear has come.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, PartialOrd, Ord, Serialize, Deserialize)]
pub enum BuildState {
    /// Only on paper.
    #[default]
    Planned,
    /// Tried in place without sealant.
    DryFitted,
    /// Its holes exist.
    Drilled,
    /// Bedded and fastened.
    Bedded,
    /// Connected.
    Installed,
    /// Shown to work.
    Tested,
}

impl BuildState {
    /// All of them, in their order.
    pub const ALL: [Self; 6] =
        [Self::Planned, Self::DryFitted, Self::Drilled, Self::Bedded, Self::Installed, Self::Tested];

    /// The word on screen and on paper.
    pub fn word(self) -> &'static str {
        match self {
            Self::Planned => "planned",
            Self::DryFitted => "dry-fitted",
            Self::Drilled => "drilled",
            Self::Bedded => "bedded",
            Self::Installed => "installed",
            Self::Tested => "tested",
        }
    }
}

impl Placement {
    /// On the deck at a spot, unturned, written in millimetres.
    pub fn at(x_mm: f64, y_mm: f64) -> Self {
        Self {
            x: Length::mm(x_mm),
            y: Length::mm(y_mm),
            raise: Length::mm(0.0),
            turn: Angle::deg(0.0),
            level: Level::Deck,
        }
    }

    /// The spot, mm.
    pub fn spot(&self) -> Spot {
        Spot::new(self.x.to_mm(), self.y.to_mm())
    }
}

impl Gear {
    /// Whether it is on the hull.
    pub fn is_placed(&self) -> bool {
        self.place.is_some()
    }

    /// The mirror image in the boat's middle plane: place, turn, and what of the gear itself is one-sided.
    /// `None` while it is ashore, and where it is its own mirror image.
    pub fn mirrored(&self) -> Option<Self> {
        let place = self.place?;
        let spec = self.spec.mirrored();
        let one_sided = spec.bodies != self.spec.bodies || spec.handling != self.spec.handling;
        if place.y.to_mm() == 0.0 && place.turn.to_deg() % 180.0 == 0.0 && !one_sided {
            return None;
        }
        let spec = if spec == *self.spec { Arc::clone(&self.spec) } else { Arc::new(spec) };
        let y = if place.y.to_mm() == 0.0 { place.y } else { place.y.scaled(-1.0) };
        let turn = Angle::deg((-place.turn.to_deg()).rem_euclid(360.0));
        Some(Self { spec, place: Some(Placement { y, turn, ..place }), ..self.clone() })
    }
}
