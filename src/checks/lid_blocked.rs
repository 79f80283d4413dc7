//! `lid-blocked`: gear over a lid that has to open.

use super::blocked::blocked;
use super::{Case, Check, Finding, Subject};
use crate::study::clearance::Motion;

/// The check.
pub const CHECK: Check = Check { id: "lid-blocked", title: "a lid cannot open", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear in the quarter circle of a hinged hatch lid, over a twist lid (the opening and 30 mm round it, 150
mm high), or over the lid of a crate, cooler or box on deck.

Why it matters
Behind the lid are the battery, the fuses and the dry clothes. A lid that opens only after gear is taken
off is not opened on the water.

Limit and source
A hinged lid opens to upright; a hand needs 150 mm over a twist lid (`lid-blocked.column`). A hatch is a
stop, a crate's lid a caution. Common practice, no source.

What to do
Move it off the lid, or put it on an arm that swings clear.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    blocked(
        case,
        found,
        CHECK.id,
        Motion::Lid,
        |envelope, label, depth| {
            let lid = envelope.lid.map(Subject::Feature).or(envelope.owner.map(Subject::Gear));
            let lid = lid.map_or_else(|| "a hatch".into(), |lid| lid.named(case.plan));
            format!("{label} keeps the lid of {lid} from opening, by {depth:.0} mm")
        },
        "put it on an arm that swings clear",
    );
}
