//! What the readers of RON and JSON complain about, in the words of a person who edits a plan by hand.

use ron::Error as Ron;

use super::short;
use crate::nearest::nearest;
use crate::shown::Shown;

/// More names than this are not listed.
const MOST_NAMES: usize = 16;

/// A reader's complaint.
pub(super) struct Words {
    pub(super) what: String,
    pub(super) hint: Option<String>,
    /// The name the complaint is about, as it stands in the text.
    pub(super) found: Option<String>,
    /// Whether it is about what follows the place the reader came to.
    pub(super) ahead: bool,
    /// Whether it is the reason for any bracket that stays open.
    pub(super) explains_itself: bool,
}

/// What a piece of text stands beside that is complained about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// The name of a unit, in JSON.
    Unit,
    /// The bracket of a unit: it is the number of a quantity.
    Quantity,
    /// Anything else.
    Other,
}

impl Words {
    fn plain(what: impl Into<String>, hint: &str) -> Self {
        Self { what: what.into(), hint: Some(hint.into()), found: None, ahead: false, explains_itself: false }
    }

    fn unknown_field(found: &str, known: &[&str]) -> Self {
        Self {
            what: format!("unknown field \"{}\"", Shown(short(found))),
            ..Self::unknown(found, known, "the fields here are")
        }
    }

    fn unknown_word(found: &str, known: &[&str]) -> Self {
        Self {
            what: format!("\"{}\" is not known here", Shown(short(found))),
            ..Self::unknown(found, known, "use one of")
        }
    }

    fn unknown(found: &str, known: &[&str], list: &str) -> Self {
        let meant = nearest(found, known.iter().copied()).map(|name| format!("did you mean \"{name}\"?"));
        let all = (known.len() <= MOST_NAMES && !known.is_empty()).then(|| format!("{list} {}", known.join(", ")));
        let hint = [meant, all].into_iter().flatten().collect::<Vec<_>>().join(" ");
        Self {
            what: String::new(),
            hint: (!hint.is_empty()).then_some(hint),
            found: Some(found.to_string()),
            ahead: false,
            explains_itself: false,
        }
    }

    fn missing(field: &str) -> Self {
        Self::plain(format!("the field \"{field}\" is missing"), "add it; the bracket that lacks it ends here")
    }

    fn twice(field: &str) -> Self {
        Self {
            found: Some(field.to_string()),
            ..Self::plain(format!("the field \"{field}\" stands twice"), "delete one of them")
        }
    }

    pub(super) fn of_ron(error: &Ron) -> Self {
        match error {
            Ron::NoSuchStructField { expected, found, .. } => Self::unknown_field(found, expected),
            Ron::NoSuchEnumVariant { expected, found, .. } => Self::unknown_word(found, expected),
            Ron::MissingStructField { field, .. } => Self::missing(field),
            Ron::DuplicateStructField { field, .. } => Self::twice(field),
            Ron::TrailingCharacters => Self {
                ahead: true,
                ..Self::plain(
                    "there is more text after the end of the plan",
                    "delete it, or look for a bracket closed too early",
                )
            },
            Ron::ExpectedIdentifier | Ron::InvalidIdentifier(_) | Ron::SuggestRawIdentifier(_) => {
                Self::plain("a name is expected here", "look at the line and the one before it")
            }
            Ron::ExpectedDifferentStructName { .. } => {
                Self::plain(lower(&error.to_string()), "a bracket before this may not be closed")
            }
            Ron::UnclosedBlockComment => {
                Self { explains_itself: true, ..Self::plain("a comment is never closed", "end it with */") }
            }
            Ron::ExpectedComma => Self::plain("a comma is missing before this", "put a comma after each field"),
            Ron::InvalidValueForType { expected, found } => Self::plain(
                format!("expected {}, found {}", Shown(short_list(expected)), Shown(short(found))),
                "look at the line",
            ),
            Ron::ExpectedDifferentLength { .. } => {
                Self::plain(lower(&error.to_string()), "count the numbers in the bracket")
            }
            Ron::Message(what) if what.contains("(U+000A)") => Self::plain(
                "a text goes on over the end of its line",
                "close its quotes; a line break in a note is written \\n",
            ),
            Ron::Message(what) => Self::plain(lower(what), "mend the text in the quotes"),
            other => Self::plain(lower(&other.to_string()), "look at the line and the one before it"),
        }
    }

    /// JSON errors come as text only; names in it stand between back quotes.
    pub(super) fn of_json(error: &serde_json::Error) -> Self {
        let says = error.to_string();
        let says = says.rsplit_once(" at line ").map_or(says.as_str(), |(says, _)| says);
        let names: Vec<&str> = says.split('`').skip(1).step_by(2).collect();
        match (names.split_first(), says) {
            (Some((found, known)), _) if says.starts_with("unknown field") => Self::unknown_field(found, known),
            (Some((found, known)), _) if says.starts_with("unknown variant") => Self::unknown_word(found, known),
            (Some((field, _)), _) if says.starts_with("missing field") => Self::missing(field),
            (Some((field, _)), _) if says.starts_with("duplicate field") => Self::twice(field),
            (_, "trailing characters") => Self::of_ron(&Ron::TrailingCharacters),
            (_, "expected value") => Self::plain("a value is expected here", "look at the line and the one before it"),
            (_, "number out of range") => Self::plain("this is not a number a boat can have", "write a finite number"),
            _ => Self::plain(lower(says), "look at the line and the one before it"),
        }
    }

    /// The same complaint, once it is known which piece of text it is about and what that stands beside.
    pub(super) fn at(self, piece: &str, beside: Beside) -> Self {
        let number = piece.starts_with(|c: char| c.is_ascii_digit() || "+-.".contains(c));
        let wants_name = self.what.starts_with("a name is expected") || self.what.starts_with("a value is expected");
        if !(number && wants_name) {
            return self;
        }
        match beside {
            Beside::Unit => Self::plain("a quantity has one unit", "delete the other one"),
            Beside::Quantity => {
                Self::plain("a reading stands in a list", "put its readings in square brackets: [Mm(840)]")
            }
            Beside::Other => Self::plain(
                "a number without its unit",
                "write what the tape or scale says: Mm(310), In(12.25), Kg(4.2)",
            ),
        }
    }
}

/// What serde expects, which can be a long list.
fn short_list(expected: &str) -> &str {
    expected.char_indices().nth(120).map_or(expected, |(at, _)| &expected[..at])
}

/// A sentence of a library as part of one of ours.
fn lower(says: &str) -> String {
    let says = Shown(says).to_string();
    let mut letters = says.chars();
    match letters.next() {
        // Not a name of our own: `Mm`, `JSON`.
        Some(first) if letters.as_str().starts_with(char::is_lowercase) => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => says,
    }
}
