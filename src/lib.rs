//! gunnel.
pub mod storage;
pub mod terminal;
