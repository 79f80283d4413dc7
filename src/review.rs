//! What two people say to each other about a plan: comments, suggestions, a checklist, a sign-off.
//! What their programs tell each other while both have it open is in [`company`].
//!
//! Each author has a file of [`entries`] that only grows, so that nothing two people do at once can collide. What
//! stands is folded from all of them by [`talk()`]: the order in which files are read changes nothing. Where an entry is
//! pinned to the boat of today is asked of [`whereabouts()`].

pub mod checklist;
pub mod company;
pub mod entries;
pub mod outlook;
pub mod talk;
pub mod whereabouts;

pub use checklist::{STOPS, Stop};
pub use entries::{Deed, Entry, NextNumbers, Pin, ThreadRef, Verdict};
pub use outlook::{Outlook, taken_over};
pub use talk::{Said, SignOff, Suggested, Suggestion, Talk, Thread, talk};
pub use whereabouts::{Whereabouts, whereabouts};
