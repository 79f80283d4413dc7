//! gunnel.
pub mod storage;
