//! `landing-blocked`: gear on the stretch of gunwale where fish come aboard.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::plan::Side;
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "landing-blocked", title: "gear stands on the landing side", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear on 800 mm of gunwale beside the thigh, on the side where fish are landed: from 100 mm inside to 150
mm outside.

Why it matters
Net, fish and line pass there together. A holder, a cleat or a transducer arm snags the net or the line
at the worst moment.

Limit and source
Nothing over 20 mm high (`landing-blocked.height`) on 800 mm (`landing-blocked.length`). Common
practice, no source.

What to do
Move it to the other side or out of the stretch, or land on the other side and say so in the plan.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Landing,
        |envelope, label, depth| {
            let side = envelope.side.map_or("", Side::word);
            format!("{label} stands {depth:.0} mm in the landing side, {side}")
        },
        "land on the other side",
    );
}
