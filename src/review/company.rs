//! What programs that have one plan open at the same time tell each other: who is here, where, and what is meant.
//!
//! Nothing of it is kept: it is gone with the programs. What is to stay is an [`Entry`](super::Entry).

use serde::{Deserialize, Serialize};

use crate::geometry::Spot;
use crate::plan::{Key, Plan};

/// Version of the words below, and of the plan in them: raised with each field that a plan gets. A guest of another
/// version is not let in, and sees what is saved.
pub const VERSION: u32 = 1;

/// One thing that is told.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Word {
    /// A guest comes in: the first word, and by guests only.
    Hello {
        /// See [`VERSION`].
        v: u32,
        /// What the guest is called.
        name: Key,
    },
    /// Where somebody is now.
    Here {
        /// Who; what a guest says of that is not believed.
        who: Key,
        /// Where, and what is looked at.
        stand: Stand,
    },
    /// Somebody left.
    Left {
        /// Who.
        who: Key,
    },
    /// Somebody points at a spot.
    Point {
        /// Who.
        who: Key,
        /// Where, mm.
        spot: Spot,
    },
    /// Somebody asks everybody to follow.
    Lead {
        /// Who.
        who: Key,
    },
    /// The plan as its owner has it, saved or not: by the owner only.
    Plan {
        /// The plan.
        plan: Box<Plan>,
        /// How many of its edits are not saved; nothing where the saved state cannot be come back to.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        unsaved: Option<usize>,
    },
    /// The owner closes the plan: by the owner only.
    Bye,
}

/// Where somebody is and what they look at.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stand {
    /// The cursor, mm.
    pub spot: Spot,
    /// The middle of the view, mm, and millimetres a column; nothing where the whole boat is shown.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub close: Option<(Spot, f64)>,
    /// The action that laid over the deck what lies there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub overlay: Option<Key>,
}

/// No boat is as long as this, mm.
const FARTHEST_MM: f64 = 100_000.0;

impl Word {
    /// Whether it is within what the program itself would tell. Names are checked as they are read.
    pub fn is_sound(&self) -> bool {
        let near = |spot: &Spot| spot.x.abs() <= FARTHEST_MM && spot.y.abs() <= FARTHEST_MM;
        match self {
            Self::Here { stand, .. } => {
                near(&stand.spot)
                    && stand.close.is_none_or(|(middle, mm)| near(&middle) && (0.01..=FARTHEST_MM).contains(&mm))
            }
            Self::Point { spot, .. } => near(spot),
            Self::Plan { plan, .. } => plan.validate().is_ok(),
            Self::Hello { .. } | Self::Left { .. } | Self::Lead { .. } | Self::Bye => true,
        }
    }

    /// Whom it is about.
    pub fn who(&self) -> Option<&Key> {
        match self {
            Self::Here { who, .. } | Self::Left { who } | Self::Point { who, .. } | Self::Lead { who } => Some(who),
            Self::Hello { .. } | Self::Plan { .. } | Self::Bye => None,
        }
    }

    /// The same as a guest may tell it, said by `name`; nothing where guests have no say.
    #[must_use]
    pub fn by_guest(self, name: &Key) -> Option<Self> {
        let who = name.clone();
        match self {
            Self::Here { stand, .. } => Some(Self::Here { who, stand }),
            Self::Point { spot, .. } => Some(Self::Point { who, spot }),
            Self::Lead { .. } => Some(Self::Lead { who }),
            Self::Hello { .. } | Self::Left { .. } | Self::Plan { .. } | Self::Bye => None,
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;

    fn key(name: &str) -> Key {
        Key::new(name).unwrap()
    }

    fn here(x: f64, mm: f64) -> Word {
        let stand = Stand { spot: Spot::new(x, 0.0), close: Some((Spot::new(0.0, x), mm)), overlay: None };
        Word::Here { who: key("owner"), stand }
    }

    #[test]
    fn places_far_from_any_boat_are_not_believed() {
        assert!(here(3000.0, 12.0).is_sound());
        for unsound in [here(1e300, 12.0), here(f64::NAN, 12.0), here(0.0, 0.0), here(0.0, f64::INFINITY)] {
            assert!(!unsound.is_sound(), "{unsound:?}");
        }
        assert!(!Word::Point { who: key("a"), spot: Spot::new(0.0, -1e6) }.is_sound());
    }

    #[test]
    fn a_guest_speaks_for_itself_alone_and_not_of_the_plan() {
        let told = here(0.0, 1.0).by_guest(&key("mate")).unwrap();
        assert!(matches!(told, Word::Here { who, .. } if who == key("mate")));
        assert_eq!(Word::Bye.by_guest(&key("mate")), None);
        assert_eq!(Word::Left { who: key("owner") }.by_guest(&key("mate")), None);
    }

    #[test]
    fn a_word_is_a_line_and_comes_back_as_it_was() {
        let word = here(1220.0, 25.4);
        let line = serde_json::to_string(&word).unwrap();
        assert!(!line.contains('\n'));
        assert_eq!(serde_json::from_str::<Word>(&line).unwrap(), word);
        assert!(serde_json::from_str::<Word>("{\"Here\":{\"who\":\"Owner \\u001b\",\"stand\":{}}}").is_err());
    }
}
