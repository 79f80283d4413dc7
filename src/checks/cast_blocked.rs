//! `cast-blocked`: gear where rod, line or elbows go.

use super::blocked::blocked;
use super::{Case, Check, Finding};
use crate::plan::Side;
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "cast-blocked", title: "gear stands where rod and elbows go", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear in the sweep of a cast on the side of the casting hand: the upright quarter circle behind the shoulder,
from level to straight up, and the level one over the water from straight aft to abeam, 0.9 to 1.3 m over
the waterline. And gear where the elbows go when the hook is set, on both sides.

Why it matters
A pole light, a flag or an upright rod behind the casting shoulder catches line and hook, and a hook that
stops there comes back to the face. An elbow that meets a holder misses the fish.

Limit and source
Overhead 2.7 m, 2.3 m of rod and 0.4 m of line (`cast-blocked.overhead`); aside 2.5 m
(`cast-blocked.side`); what stands within 250 mm of the centreline is passed by (`cast-blocked.centre`).
Elbows 350 mm behind the seat back (`cast-blocked.behind`) and 500 mm to each side
(`cast-blocked.aside`). A caution. Common practice, no source.

What to do
Move it to the other side or to the centreline, or choose one that is lower, folds or is put up at dusk.
Cast a few times on land with a weight and no hook.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let side = |side: Option<Side>| side.map_or("each side", Side::word);
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Cast,
        |envelope, label, depth| format!("{label} stands {depth:.0} mm in the cast to {}", side(envelope.side)),
        "choose one that is lower or folds",
    );
    blocked(
        case,
        found,
        CHECK.id,
        Motion::HookSet,
        |envelope, label, depth| {
            format!(
                "{label} stands {depth:.0} mm in the way of the elbow to {} when the hook is set",
                side(envelope.side)
            )
        },
        "choose one that is lower or folds",
    );
}
