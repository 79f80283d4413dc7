//! Files: a plan on disk is always a complete old or a complete new version, and nothing that was done is lost.
//!
//! This folder knows bytes and text, not plans: the caller serialises, re-reads and compares before it saves.
//!
//! - [`paths`]: which folders belong to gunnel, and what a plan is called inside them.
//! - [`source`]: reads a file without ever blocking or being fooled, and remembers which version it saw.
//! - [`atomic`]: replaces a file, or says why it will not.
//! - [`backup`]: the last few versions, and the image that guards a write in place.
//! - [`holder`]: who is at work, for the others.
//! - [`journal`]: what was done since the last save.
//! - [`lock`]: one editor for a plan at a time.
//! - [`watch`]: tells when somebody else changed the plan.

pub mod atomic;
mod attributes;
pub mod backup;
pub mod holder;
mod in_place;
pub mod journal;
pub mod lock;
pub mod paths;
mod save_error;
pub mod source;
pub mod watch;

#[cfg(test)]
mod scratch;
