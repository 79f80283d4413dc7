//! Plan, study and findings on paper: text to read, lines to cut, JSON for programs.
//!
//! The study's own types are free to change; what other programs read is laid down here, with the unit of every
//! number in its key.

mod backup;
mod catalogue;
mod check;
mod checklist;
mod compare;
mod day;
mod drawing;
mod drill;
mod explain;
mod float;
mod level;
mod lights;
mod notes;
mod number;
mod old_hole;
mod paper;
mod parts;
mod place;
mod readings;
mod show;
mod spares;
mod study;
mod templates;
mod views;
mod wires;
mod wiring;
mod work;

pub use catalogue::{catalogue_json, catalogue_text};
pub use check::{check_json, check_plain, check_text, counted};
pub use checklist::checklist_sheet;
pub use compare::{Names, change_words, compare_json, compare_text, number_value, number_words, verdict_words};
pub use day::{day_words, remedy_words};
pub use drawing::{Drawing, DrawingForm, Frame, Group, Mark, Page, Paper, Pen};
pub use drill::drill_sheet;
pub use explain::{checks_text, explain_text};
pub use float::{float_json, float_text, list_words, trim_words};
pub use level::{level_json, level_text, lies, proposal_words, verdict};
pub use lights::{asked_line, craft_words, night_words, shown_lines};
pub use notes::{Markup, day, notes_json, notes_page, sign_off_lines, state_word, suggestion_lines, thread_title};
pub use old_hole::{hole_fate, hole_history};
pub use paper::{Sheet, SheetForm};
pub use parts::parts_sheet;
pub use place::{place, station};
pub use readings::{outcome, refit_words};
pub use show::{show_json, show_text};
pub use study::{bands_words, fault_words, posture_word};
pub use templates::templates;
pub use views::{MOST_SECTIONS, plan_view, profile_view, section_view};
pub use wires::wiring_sheet;
pub use work::{task_on, work_sheet};

/// A sheet as indented JSON with a line feed at its end.
fn json(sheet: &impl serde::Serialize) -> String {
    // Sheets have text keys and finite numbers only; were that ever wrong, the answer is still JSON.
    serde_json::to_string_pretty(sheet).unwrap_or_else(|_| "null".into()) + "\n"
}
