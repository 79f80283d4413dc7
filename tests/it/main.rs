//! Tests of the program as a whole and of the data it ships.

#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

mod assets;
