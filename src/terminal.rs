//! The terminal: taken over in one place, given back from every way out, and never waited for.
//!
//! - [`guard`]: entering, leaving, suspending.
//! - [`screen`]: one frame, one write; `sparing` turns its cells into as few bytes as they take.
//! - [`signals`]: what happens when the process is told to go, or the terminal goes.
//! - [`input`]: keys, mouse and resizes as messages.
//! - [`frames`]: how often a frame is worth drawing.

pub mod frames;
pub mod guard;
pub mod input;
pub mod screen;
pub mod signals;
mod sparing;
