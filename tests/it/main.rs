//! The whole program from outside: files, faults, terminals; and the study against published figures.

mod assets;
mod boats;
mod child;
mod cli;
mod cli_float;
mod day_scipy;
mod edit_readings;
mod float_mesh;
mod float_properties;
mod home;
mod keys;
mod keys_everywhere;
mod keys_hand;
mod keys_lists;
mod keys_readings;
mod load;
mod picture;
mod properties;
mod published_body;
mod published_float;
mod published_holes;
mod published_power;
mod published_power_day;
mod published_waterplanes;
mod readme;
mod scenarios;
mod screens;
mod shape_fit;
mod stage;
mod storage_faults;
mod storage_kills;
mod storage_locks;
mod storage_reads;
mod storage_saves;
mod storage_stage;
mod study_day;
mod study_power;
mod study_scales;
mod study_shape;
mod study_weights;
mod terminal_endings;
mod terminal_show;
mod tidy;
mod whole_program;

// Small plans, shared with the unit tests of the checks.
#[path = "../../src/checks/test_power.rs"]
mod test_power;
