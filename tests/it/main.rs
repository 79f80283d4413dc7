//! The whole program from outside: files, faults, terminals.

mod child;
mod published_power;
mod storage_faults;
mod storage_locks;
mod storage_saves;
mod study_power;
mod study_weights;
mod terminal_endings;

// Small plans, shared with the unit tests of the checks.
#[path = "../../src/checks/test_power.rs"]
mod test_power;
