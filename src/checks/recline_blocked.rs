//! `recline-blocked`: gear where the seat back leans.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check =
    Check { id: "recline-blocked", title: "the seat back cannot lean as it is set", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear in the space behind the seat that the back takes when it leans as far as the plan says, with 50 mm
for its frame, the cushion and the life jacket.

Why it matters
A crate pushed against the back sits the person upright all day, and a back that cannot be lowered is in
the way when climbing back aboard.

Limit and source
The recline set in the plan. Common practice, no source.

What to do
Move it aft, or set the seat more upright or further forward.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Recline,
        |_, label, depth| format!("{label} stands {depth:.0} mm in the seat back's way"),
        "set the seat more upright or further forward",
    );
}
