//! The whole program from outside: files, faults, terminals; and the study against published figures.

mod assets;
mod boats;
mod child;
mod cli;
mod cli_float;
mod cli_level;
mod day_scipy;
mod edit_cables;
mod edit_readings;
mod edit_wiring;
mod float_findings;
mod float_mesh;
mod float_plans;
mod float_properties;
mod home;
mod keys;
mod keys_cables;
mod keys_day;
mod keys_everywhere;
mod keys_float;
mod keys_hand;
mod keys_interview;
mod keys_level;
mod keys_lights;
mod keys_lists;
mod keys_readings;
mod keys_wiring;
mod lights_properties;
mod lights_shapely;
mod load;
mod motion_shapely;
mod one_step;
mod picture;
mod properties;
mod published_body;
mod published_float;
mod published_holes;
mod published_lights;
mod published_power;
mod published_power_day;
mod published_waterplanes;
mod published_wire;
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
mod study_cables;
mod study_day;
mod study_level;
mod study_meter;
mod study_power;
mod study_scales;
mod study_shape;
mod study_weights;
mod study_wiring;
mod tape;
mod tape_files;
mod terminal_endings;
mod terminal_show;
mod tidy;
mod whole_program;

// Small plans, shared with the unit tests of the checks.
#[path = "../../src/checks/test_power.rs"]
mod test_power;
// Small boats with openings, the same.
#[path = "../../src/checks/test_cables.rs"]
mod test_cables;
