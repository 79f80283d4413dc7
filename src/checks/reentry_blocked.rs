//! `reentry-blocked`: gear in the way of a swimmer who climbs back.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::plan::Side;
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check =
    Check { id: "reentry-blocked", title: "gear stands where a swimmer climbs back", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear over one metre of gunwale at the seat, on the side chosen for climbing back: from the seat's edge
to 150 mm outside.

Why it matters
The swimmer slides across chest first. What stands up there hooks the life jacket, and cold water gives
about ten minutes of useful hands.

Limit and source
Nothing over 30 mm high (`reentry-blocked.height`) on 1000 mm (`reentry-blocked.length`). Common
practice, no source.

What to do
Move it to the other side or out of the stretch, or choose the other side for climbing back. A free side
on paper proves nothing: practise in shallow, warm water with a certified instructor, with the gear
aboard or dummies of it.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Reentry,
        |envelope, label, depth| {
            let side = envelope.side.map_or("", Side::word);
            format!("{label} stands {depth:.0} mm in the way back aboard, {side}")
        },
        "choose the other side for climbing back; practise it in shallow water with a certified instructor",
    );
}
