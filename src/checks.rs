//! The checks: verdicts drawn from plan and study, one file a check.
//!
//! A check is a row of [`CHECKS`]: a stable id, a text that `gunnel explain` prints, and a function
//! that adds findings. Limits live in one table ([`limits`]), can be set otherwise per plan with a
//! reason, and are named in each finding.

mod battery_stuck;
mod blocked;
pub mod finding;
mod landing_blocked;
mod lid_blocked;
pub mod limits;
mod off_hull;
mod overlap;
mod pedal_blocked;
mod reach_over;
mod recline_blocked;
mod reentry_blocked;
mod sight_far;
mod stroke_blocked;
#[cfg(test)]
pub(crate) mod test_body;
#[cfg(test)]
mod test_motions;
mod way;
mod zone_wrong;

pub use finding::{COMMON_PRACTICE, Finding, Severity, Subject};
pub use limits::{LIMITS, Limit, Limits};

use crate::plan::Plan;
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
    // The body
    reach_over::CHECK,
    sight_far::CHECK,
    overlap::CHECK,
    zone_wrong::CHECK,
    off_hull::CHECK,
    stroke_blocked::CHECK,
    pedal_blocked::CHECK,
    landing_blocked::CHECK,
    reentry_blocked::CHECK,
    lid_blocked::CHECK,
    recline_blocked::CHECK,
    battery_stuck::CHECK,
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
