//! `stroke-blocked`: gear where the paddle's shaft and the hands go.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::plan::Side;
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "stroke-blocked", title: "gear stands where the paddle goes", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear inside the space of the paddle's stroke, to port and to starboard: from 150 mm aft of the seat back
to 850 mm ahead of it, from 100 mm inside the gunwale outward, from just over the gunwale to the height
of the hands. A paddle lying on deck does not count: it is in the hands then.

Why it matters
What the shaft or the knuckles meet on every stroke is hit, bent or left behind, and the boat cannot be
turned hard when it has to be. The paddle is the way home when the battery is flat.

Limit and source
Hardware may stand 50 mm over the gunwale, 80 mm in the first and last 150 mm of the stroke
(`stroke-blocked.hardware`, `stroke-blocked.inside`). Common practice, no source.

What to do
Move it inboard, ahead of the toes or behind the hip, or choose a lower or folding mount. Then sit in
the boat and take ten full strokes on each side, one hard turn among them.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Stroke,
        |envelope, label, depth| {
            let side = envelope.side.map_or("each side", Side::word);
            format!("{label} stands {depth:.0} mm in the paddle's stroke to {side}")
        },
        "choose a lower or folding mount",
    );
}
