//! `pedal-blocked`: gear where the feet and knees go.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "pedal-blocked", title: "gear stands where feet and knees go", doc: DOC, run };

const DOC: &str = "\
What it checks
With pedals: gear in the pedals' circle with 50 mm of room for shoes and for lifting the drive out, or
in the space the knees sweep. Without pedals: gear over or just before the knees as they rest.

Why it matters
A strap, a cable or a bracket in the pedals' circle stops the drive or takes a toe. A knee that meets a
screen on every turn breaks its mount.

Limit and source
75 mm free over and before the knees (`pedal-blocked.knee`); the knees from the segment ratios of
Drillis and Contini and the legs' two links. A stop with pedals, a caution without them. Common
practice, no source.

What to do
Move it forward or aside, or put it on an arm that swings away. Pedal a few turns dry before drilling.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Pedals,
        |envelope, label, depth| {
            let what = if envelope.hard { "the way of pedals and knees" } else { "the room of the knees" };
            format!("{label} stands {depth:.0} mm in {what}")
        },
        "put it on an arm that swings away",
    );
}
