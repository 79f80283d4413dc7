//! gunnel: plan the rig of a small fishing boat before a hole is drilled.

pub mod units;
pub mod geometry;
