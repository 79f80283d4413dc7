//! gunnel: plan the rig of a small fishing boat before a hole is drilled.
//!
//! In reading order, each layer knowing only those above it (a test holds the arrows):
//!
//! - [`units`], [`shown`], [`nearest`]: quantities with their unit, text made safe to show, "did you mean"
//! - [`geometry`]: the boat frame, outlines, solids, the hull's form
//! - [`plan`]: what the person decided and measured
//! - [`catalogue`]: generic gear and hull classes it starts from
//! - [`study`]: what follows from it, computed
//! - [`checks`]: the verdicts, with their working
//! - [`compare`]: two plans side by side; two made one again
//! - [`edit`]: every change as a value; undo and redo
//! - [`review`]: what two people say about a plan
//! - [`session`]: plan, history and study together
//! - [`storage`]: files, journal, lock, watch
//! - [`sheets`]: plan, study and findings as text, lines and JSON
//! - [`cli`]: the command line
//! - [`terminal`]: entering and leaving the terminal, signals, input
//! - [`tui`]: the screen

pub mod catalogue;
pub mod checks;
pub mod cli;
pub mod compare;
pub mod edit;
pub mod geometry;
pub mod nearest;
pub mod plan;
pub mod review;
pub mod scenarios;
pub mod session;
pub mod sheets;
pub mod shown;
pub mod storage;
pub mod study;
pub mod terminal;
pub mod tui;
pub mod units;

// Lets unit tests and the test program share helpers: both call the library by its outside name.
#[cfg(test)]
extern crate self as gunnel;
