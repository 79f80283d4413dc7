//! Files: a plan on disk is always a complete old or a complete new version, and nothing that was done is lost.
//!
//! Most of this folder knows bytes and text, not plans; the six named last know plans.
//!
//! - [`paths`]: which folders belong to gunnel, and what a plan is called inside them.
//! - [`source`]: reads a file without ever blocking or being fooled, and remembers which version it saw.
//! - [`atomic`]: replaces a file, or says why it will not.
//! - [`backup`]: the last few versions, and the image that guards a write in place.
//! - [`holder`]: who is at work, for the others.
//! - [`journal`]: what was done since the last save.
//! - [`lock`]: one editor for a plan at a time.
//! - [`watch`]: tells when somebody else changed the plan.
//! - [`load`]: text to plan, or what is wrong with the text and where.
//! - [`mod@write`]: plan to text, read back and compared before anything may be saved.
//! - [`library`]: a person's own catalogue entries and hull classes.
//! - [`comments`]: what is said about a plan, one file an author.
//! - [`live`]: programs that have one plan open tell each other what is not saved yet.
//! - [`document`]: one open plan: its file, lock, journal and saves.

pub mod atomic;
mod attributes;
pub mod backup;
pub mod comments;
pub mod document;
pub mod holder;
mod in_place;
pub mod journal;
pub mod library;
pub mod live;
pub mod load;
pub mod lock;
pub mod paths;
pub mod recent;
mod save_error;
pub mod source;
pub mod watch;
pub mod write;

#[cfg(test)]
mod scratch;
