//! Names, notes, tags and keys: text that was checked at the door.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::shown::first_unsafe;

/// Why a text may not be a name.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NameFault {
    /// Nothing but blanks.
    Empty,
    /// Longer than this many characters.
    TooLong(usize),
    /// A control, direction or invisible character at this place (counted from 1).
    Unsafe(usize, char),
    /// A character that does not belong in a key.
    NotInKey(char),
}

impl fmt::Display for NameFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(f, "a name cannot be empty"),
            Self::TooLong(most) => write!(f, "text is longer than {most} characters"),
            Self::Unsafe(at, c) => write!(
                f,
                "character {at} is a control, direction or invisible character (U+{:04X}); delete it",
                *c as u32
            ),
            Self::NotInKey(c) => write!(f, "\"{}\" cannot stand in a key: use a-z, 0-9 and -", c.escape_default()),
        }
    }
}

macro_rules! text_type {
    ($(#[$doc:meta])* $name:ident, $check:expr) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(String);

        impl $name {
            /// Checks the text and wraps it.
            pub fn new(text: impl Into<String>) -> Result<Self, NameFault> {
                let text = text.into();
                let check: fn(&str) -> Result<(), NameFault> = $check;
                check(&text)?;
                Ok(Self(text))
            }
            /// The text itself: safe to show.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }

        impl TryFrom<String> for $name {
            type Error = NameFault;
            fn try_from(text: String) -> Result<Self, NameFault> {
                Self::new(text)
            }
        }
        impl From<$name> for String {
            fn from(name: $name) -> String {
                name.0
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.pad(&self.0)
            }
        }
    };
}

text_type! {
    /// One line of at most 80 characters, nothing unsafe, not empty.
    Name, |text| one_line(text, 80)
}
text_type! {
    /// Free text of at most 16 000 characters; line breaks are allowed.
    Note, |text| {
        if text.chars().count() > 16_000 { return Err(NameFault::TooLong(16_000)); }
        no_unsafe(&text.replace(['\n', '\t'], " "))
    }
}
text_type! {
    /// One to four characters drawn on the gear's shape on deck.
    Tag, |text| one_line(text, 4)
}
text_type! {
    /// A catalogue key: lower-case letters, digits and hyphens, at most 40.
    Key, |text| {
        one_line(text, 40)?;
        match text.chars().find(|c| !(c.is_ascii_lowercase() || c.is_ascii_digit() || *c == '-')) {
            Some(c) => Err(NameFault::NotInKey(c)),
            None => Ok(()),
        }
    }
}

#[allow(
    clippy::derivable_impls,
    reason = "an empty note is sound, an empty name is not: the shared macro derives neither"
)]
impl Default for Note {
    fn default() -> Self {
        Self(String::new())
    }
}

impl Note {
    /// Whether there is no text.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

fn one_line(text: &str, most: usize) -> Result<(), NameFault> {
    if text.trim().is_empty() {
        return Err(NameFault::Empty);
    }
    if text.chars().count() > most {
        return Err(NameFault::TooLong(most));
    }
    no_unsafe(text)
}

fn no_unsafe(text: &str) -> Result<(), NameFault> {
    match first_unsafe(text) {
        Some((at, c)) => Err(NameFault::Unsafe(at + 1, c)),
        None => Ok(()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_one_safe_line() {
        assert!(Name::new("9-inch display").is_ok());
        assert_eq!(Name::new("  "), Err(NameFault::Empty));
        assert_eq!(Name::new("a\u{1b}[2J"), Err(NameFault::Unsafe(2, '\u{1b}')));
        assert_eq!(Name::new("ab\u{202e}"), Err(NameFault::Unsafe(3, '\u{202e}')));
        assert_eq!(Name::new("x".repeat(81)), Err(NameFault::TooLong(80)));
        assert!(Note::new("two\nlines").is_ok());
    }

    #[test]
    fn keys_are_plain() {
        assert!(Key::new("display-9").is_ok());
        assert_eq!(Key::new("Display"), Err(NameFault::NotInKey('D')));
    }
}
