//! The checks: verdicts drawn from plan and study, one file a check.
//!
//! A check is a row of [`CHECKS`]: a stable id, a text that `gunnel explain` prints, and a function
//! that adds findings. Limits live in one table ([`limits`]), can be set otherwise per plan with a
//! reason, and are named in each finding.

pub mod finding;
pub mod limits;

mod battery_current;
mod battery_short;
mod battery_stuck;
mod bilge_wire;
mod blocked;
mod cable_no_way;
mod cable_pinched;
mod cable_short;
mod cable_words;
mod cast_blocked;
mod channel_free;
mod channel_over;
mod cold_charge;
mod compass_near;
mod converter_over;
mod cure_late;
mod day_odd;
mod downflood;
mod drop_over;
mod float_words;
mod floats_not;
mod floor_wet;
mod freeboard_low;
mod fuse_far;
mod fuse_wrong;
mod glare;
mod hole_avoidable;
mod hole_below_water;
mod hole_blind;
mod hole_depth;
mod hole_edge;
mod hole_flat;
mod hole_forbidden;
mod hole_open;
mod hole_spacing;
mod hole_splash;
mod hole_words;
mod landing_blocked;
mod launch_late;
mod lean_heels;
mod lid_blocked;
mod lift_alone;
mod light_arc;
mod light_hidden;
mod light_low;
mod light_missing;
mod light_spare;
mod light_words;
mod list_off;
mod load_rating;
mod mass_unknown;
mod meter_fit;
mod motor_shares_battery;
mod noise_near;
mod off_hull;
mod order_broken;
mod overlap;
mod pedal_blocked;
mod plug_stuck;
mod reach_over;
mod reach_words;
mod recline_blocked;
mod reentry_blocked;
mod righting_short;
mod scale_fit;
mod seal_wrong;
mod seat_off;
mod seat_test_odd;
mod shift;
mod sight_angle;
mod sight_blocked;
mod sight_far;
mod sight_words;
mod single_control;
mod snag;
mod spares;
mod stand_blocked;
mod stiffness_low;
mod stow_blocked;
mod stroke_blocked;
mod tape_doubt;
mod text_small;
mod thermal;
mod transducer_blocked;
mod transducer_dry;
mod transducer_low;
mod trim_off;
mod voltage_sag;
mod waterline_fit;
mod way;
mod wire_thin;
mod wire_words;
mod wiring_loop;
mod words;
mod worse;
mod zone_wrong;

#[cfg(test)]
mod properties_holes;
#[cfg(test)]
mod properties_motions;
#[cfg(test)]
pub(crate) mod test_body;
#[cfg(test)]
pub(crate) mod test_cables;
#[cfg(test)]
mod test_envelopes;
#[cfg(test)]
mod test_float;
#[cfg(test)]
mod test_holes;
#[cfg(test)]
mod test_lights;
#[cfg(test)]
mod test_motions;
#[cfg(test)]
mod test_power;
#[cfg(test)]
mod test_seat;
#[cfg(test)]
mod test_sight;

pub use finding::{COMMON_PRACTICE, Finding, Severity, Subject};
pub use limits::{LIMITS, Limit, Limits};
pub use worse::no_worse;

use crate::geometry::Point;
use crate::plan::{GearId, Plan};
use crate::study::Study;

/// What a check looks at.
#[derive(Clone, Copy)]
pub struct Case<'a> {
    /// What the person decided.
    pub plan: &'a Plan,
    /// What follows from it.
    pub study: &'a Study,
    /// The limits in force.
    pub limits: &'a Limits,
}

impl Case<'_> {
    /// Where this gear is fixed, if it is placed.
    pub fn place(&self, gear: GearId) -> Option<Point> {
        self.study.rig.item(gear).map(|item| item.at)
    }
}

/// One check.
pub struct Check {
    /// Stable id, used on screen, in JSON and by `explain`.
    pub id: &'static str,
    /// One line: what is wrong when it speaks.
    pub title: &'static str,
    /// The whole text: what it checks, why it matters, limit and source, what to do.
    pub doc: &'static str,
    /// Adds its findings.
    pub run: fn(&Case<'_>, &mut Vec<Finding>),
}

/// All checks, in the order of the reference page.
pub static CHECKS: &[Check] = &[
    tape_doubt::CHECK,
    load_rating::CHECK,
    mass_unknown::CHECK,
    lift_alone::CHECK,
    scale_fit::CHECK,
    // Float
    floats_not::CHECK,
    freeboard_low::CHECK,
    floor_wet::CHECK,
    trim_off::CHECK,
    list_off::CHECK,
    stiffness_low::CHECK,
    righting_short::CHECK,
    downflood::CHECK,
    transducer_dry::CHECK,
    transducer_low::CHECK,
    transducer_blocked::CHECK,
    waterline_fit::CHECK,
    // Power
    battery_short::CHECK,
    day_odd::CHECK,
    meter_fit::CHECK,
    voltage_sag::CHECK,
    battery_current::CHECK,
    cold_charge::CHECK,
    motor_shares_battery::CHECK,
    channel_over::CHECK,
    channel_free::CHECK,
    converter_over::CHECK,
    // Wiring
    wiring_loop::CHECK,
    drop_over::CHECK,
    wire_thin::CHECK,
    fuse_wrong::CHECK,
    fuse_far::CHECK,
    cable_no_way::CHECK,
    cable_short::CHECK,
    plug_stuck::CHECK,
    cable_pinched::CHECK,
    noise_near::CHECK,
    compass_near::CHECK,
    bilge_wire::CHECK,
    // Control and back-up
    single_control::CHECK,
    spares::CHECK,
    // Penetrations
    hole_below_water::CHECK,
    hole_splash::CHECK,
    hole_edge::CHECK,
    hole_spacing::CHECK,
    hole_forbidden::CHECK,
    hole_blind::CHECK,
    hole_depth::CHECK,
    hole_flat::CHECK,
    hole_avoidable::CHECK,
    hole_open::CHECK,
    seal_wrong::CHECK,
    thermal::CHECK,
    // The body
    seat_off::CHECK,
    seat_test_odd::CHECK,
    reach_over::CHECK,
    lean_heels::CHECK,
    sight_far::CHECK,
    sight_angle::CHECK,
    sight_blocked::CHECK,
    text_small::CHECK,
    overlap::CHECK,
    zone_wrong::CHECK,
    off_hull::CHECK,
    stroke_blocked::CHECK,
    pedal_blocked::CHECK,
    landing_blocked::CHECK,
    reentry_blocked::CHECK,
    lid_blocked::CHECK,
    recline_blocked::CHECK,
    cast_blocked::CHECK,
    stow_blocked::CHECK,
    stand_blocked::CHECK,
    snag::CHECK,
    battery_stuck::CHECK,
    // Lights
    light_missing::CHECK,
    light_hidden::CHECK,
    light_low::CHECK,
    light_arc::CHECK,
    glare::CHECK,
    light_spare::CHECK,
    // Work
    order_broken::CHECK,
    cure_late::CHECK,
    launch_late::CHECK,
];

/// Runs every check; findings come back by weight, then place from the bow aft.
pub fn run(plan: &Plan, study: &Study) -> Vec<Finding> {
    let limits = Limits::for_plan(plan);
    let case = Case { plan, study, limits: &limits };
    let mut findings = Vec::new();
    for check in CHECKS {
        (check.run)(&case, &mut findings);
    }
    for finding in &mut findings {
        finding.note_override(plan);
    }
    findings.sort_by(Finding::by_weight);
    findings
}

/// The check with this id.
pub fn by_id(id: &str) -> Option<&'static Check> {
    CHECKS.iter().find(|check| check.id == id)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_has_its_own_id_and_a_whole_text() {
        for (i, check) in CHECKS.iter().enumerate() {
            assert!(CHECKS[..i].iter().all(|other| other.id != check.id), "{} twice", check.id);
            for heading in ["What it checks", "Why it matters", "Limit and source", "What to do"] {
                assert!(check.doc.lines().any(|line| line == heading), "{}: no \"{heading}\"", check.id);
            }
        }
    }
}
