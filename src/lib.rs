//! gunnel.
