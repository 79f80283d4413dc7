//! Who else has the plan open now: where they are, whom this screen follows, what somebody points at.

use std::collections::BTreeMap;

use crate::geometry::Spot;
use crate::plan::Key;
use crate::review::company::Stand;

/// Who else has the plan open now.
#[derive(Clone, Debug, Default)]
pub struct Company {
    /// What this program is to the others.
    pub link: Link,
    /// The others, and where they are as far as they said.
    pub people: BTreeMap<Key, Option<Stand>>,
    /// Whose view is followed.
    pub follows: Option<Key>,
    /// Who asked last to be followed.
    pub leads: Option<Key>,
    /// What is pointed at now.
    pub points: Vec<Pointed>,
    /// How many marks there were.
    pub pointed: u64,
}

/// What this program is to the others.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Link {
    /// There is no link.
    #[default]
    None,
    /// The others look on here.
    Host,
    /// The plan is shown as its owner has it.
    Guest {
        /// How many of the owner's edits are not saved, if that is known.
        unsaved: Option<usize>,
    },
    /// The owner is gone without a word: the plan is shown as it was then.
    Gone {
        /// When, for people.
        since: String,
    },
}

/// A mark that somebody made; it goes by itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Pointed {
    /// Who.
    pub by: Key,
    /// Where, mm.
    pub spot: Spot,
    /// Counts the marks, so that each goes in its own time.
    pub nth: u64,
}

impl Company {
    /// What the title says of it; empty where nobody else is here.
    pub fn words(&self) -> String {
        let guests = self.people.keys().map(|name| name.as_str()).filter(|name| *name != "owner");
        let names = guests.collect::<Vec<_>>().join(", ");
        let follows = self.follows.as_ref().map(|name| format!(", following {name}")).unwrap_or_default();
        match &self.link {
            Link::None => String::new(),
            Link::Gone { since } => format!("a review, owner gone since {since}"),
            Link::Host if self.people.is_empty() => String::new(),
            Link::Host => format!("with {names}{follows}"),
            Link::Guest { unsaved } => {
                let unsaved = match unsaved {
                    Some(0) => String::new(),
                    Some(1) => ": 1 edit not saved".to_string(),
                    None => ": not saved".to_string(),
                    Some(n) => format!(": {n} edits not saved"),
                };
                let others = if names.is_empty() { names } else { format!(", with {names}") };
                format!("a review, live{unsaved}{others}{follows}")
            }
        }
    }

    /// Whether anybody would hear what is told.
    pub fn is_together(&self) -> bool {
        match self.link {
            Link::None | Link::Gone { .. } => false,
            Link::Host => !self.people.is_empty(),
            Link::Guest { .. } => true,
        }
    }

    /// Where each of the others is, with the first letter of the name.
    pub fn stands(&self) -> Vec<(char, Spot)> {
        let letter = |name: &Key| name.as_str().chars().next().unwrap_or('?').to_ascii_uppercase();
        self.people.iter().filter_map(|(name, stand)| Some((letter(name), stand.as_ref()?.spot))).collect()
    }
}
