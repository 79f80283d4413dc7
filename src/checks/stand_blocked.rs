//! `stand-blocked`: gear where a person stands.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "stand-blocked", title: "gear stands where feet have to be", doc: DOC, run };

const DOC: &str = "\
What it checks
Where some phase of the day is fished standing: gear on the floor for the feet before the seat, in the
room of the body over it, or where a step ahead would go.

Why it matters
A strap, a lever or a cable under a foot makes a person stumble, and who stumbles standing falls in.

Limit and source
Floor 400 mm long (`stand-blocked.length`) and 550 mm wide (`stand-blocked.width`), nothing over 10 mm
high on it (`stand-blocked.flat`); 300 mm more for a step. Feet and body are a stop, the step a caution.
Common practice, no source.

What to do
Clear the floor, or fish sitting and say so in the day. Stand first in shallow, calm water, with the life
jacket on.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Stand,
        |_, label, depth| format!("{label} stands {depth:.0} mm in the room of a standing person"),
        "fish sitting",
    );
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Step,
        |_, label, depth| format!("{label} stands {depth:.0} mm where a step ahead would go"),
        "fish sitting",
    );
}
