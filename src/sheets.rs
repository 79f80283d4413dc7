//! Plan, study and findings on paper: text to read, lines to cut, JSON for programs.
//!
//! The study's own types are free to change; what other programs read is laid down here, with the unit of every
//! number in its key.

mod catalogue;
mod check;
mod compare;
mod explain;
mod float;
mod level;
mod notes;
mod number;
mod place;
mod readings;
mod show;
mod study;
mod wiring;

pub use catalogue::{catalogue_json, catalogue_text};
pub use check::{check_json, check_plain, check_text};
pub use compare::{Names, change_words, compare_json, compare_text, number_value, number_words, verdict_words};
pub use explain::{checks_text, explain_text};
pub use float::{float_json, float_text, list_words, trim_words};
pub use level::{level_json, level_text, lies, proposal_words, verdict};
pub use notes::{Markup, day, notes_json, notes_page, sign_off_lines, state_word, suggestion_lines, thread_title};
pub use place::{place, station};
pub use readings::outcome;
pub use show::{show_json, show_text};

/// A sheet as indented JSON with a line feed at its end.
fn json(sheet: &impl serde::Serialize) -> String {
    // Sheets have text keys and finite numbers only; were that ever wrong, the answer is still JSON.
    serde_json::to_string_pretty(sheet).unwrap_or_else(|_| "null".into()) + "\n"
}
