//! `glare`: a light that shines into the eyes of the person aboard.

use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::lights::glare::Glare;

/// The check.
pub const CHECK: Check = Check { id: "glare", title: "a light shines into your own eyes", doc: DOC, run };

const SOURCE: &str = "COLREG Annex I 8, note on glare; the field of view from memory";

const DOC: &str = "\
What it checks
Every light on deck that is not amber and has no shade or disc, seated as the seat is set: whether it is in the
field of view and shines at the eyes. What stands between is not counted. A torch in the hand is left out. It is
silent when no phase is dark and no craft state is chosen.

Why it matters
Eyes need half an hour to see in the dark and one look into a lamp to lose it.

Limit and source
Field of view 90 degrees to either side (`glare.side`), 50 up (`glare.up`), 70 down (`glare.down`): from memory.
That lights must not glare is a note of COLREG Annex I 8.

What to do
Put it behind you and over your head, fit an opaque disc below the lamp, or take a dim amber one for the deck.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    if case.study.lights.matter() {
        found.extend(case.study.lights.glare.iter().map(|glare| finding(case, glare)));
    }
}

fn finding(case: &Case<'_>, glare: &Glare) -> Finding {
    let (turn, limit) = (glare.look.turn_deg, case.limits.get("glare.side"));
    let side = match turn {
        turn if turn.abs() < 0.5 => "dead ahead".to_string(),
        turn if turn > 0.0 => format!("{turn:.0} deg to port"),
        turn => format!("{:.0} deg to starboard", -turn),
    };
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(glare.gear),
        at: Some(glare.at),
        value: turn.abs(),
        limit,
        margin: turn.abs() - limit,
        unit: "deg",
        says: format!(
            "{} shines into your eyes from {side}, {:.0} mm away",
            label(case.plan, glare.gear),
            glare.look.distance_mm
        ),
        remedy: "put it behind you and over your head, or fit an opaque disc below the lamp".into(),
        source: SOURCE,
    }
}
