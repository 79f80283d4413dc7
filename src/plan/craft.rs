//! What the boat counts as in the dark: the rule it shows its lights by, chosen by the person.

use serde::{Deserialize, Serialize};

/// What the boat counts as, and the rule it shows lights by.
///
/// The rules are those of the Convention on the International Regulations for Preventing Collisions at Sea; the
/// law of the place decides whether they hold there. What each of them asks for is in the study of lights.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Craft {
    /// Paddled or pedalled, a white torch ready.
    OarsTorch,
    /// Paddled or pedalled, with the lights of a sailing boat.
    OarsLit,
    /// Under power, under 7 m and no faster than 7 knots: one all-round white light.
    PowerSlow,
    /// Under power, under 12 m: all-round white light and side lights.
    PowerShort,
    /// Under power, with the lights of any power-driven boat: masthead, sides and stern.
    PowerFull,
    /// At anchor.
    Anchored,
}

impl Craft {
    /// All of them, in the order of the list.
    pub const ALL: [Self; 6] =
        [Self::OarsTorch, Self::OarsLit, Self::PowerSlow, Self::PowerShort, Self::PowerFull, Self::Anchored];

    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::OarsTorch => "under oars, torch ready",
            Self::OarsLit => "under oars, lights of a sailing boat",
            Self::PowerSlow => "under power, under 7 m and 7 knots at most",
            Self::PowerShort => "under power, under 12 m",
            Self::PowerFull => "under power, all lights",
            Self::Anchored => "at anchor",
        }
    }
}
