//! `sight-angle`: a screen for which the head turns too far, or whose glass is seen too much from the side.

use super::limits::{SLANT, TURN};
use super::sight_words::{Verdict, judge};
use super::{Case, Check, Finding};
use crate::plan::{Gear, Side};
use crate::study::sight::{Bounds, Fault, Seen, View};

/// The check.
pub const CHECK: Check = Check { id: "sight-angle", title: "a screen is seen from the side", doc: DOC, run };

const DOC: &str = "\
What it checks
For each thing that must be seen: how far the head turns from straight ahead to its middle, and, if it has
a screen, the angle between that line and the straight way out of the glass. Unturned, the glass faces
aft; it is taken as tilted back on its bail or ball as far as suits the eye on the seat, up to what the
gear says (else 30 deg). What the glass mirrors is told in the report and not judged: the sun's height and
the heading change all day. A hat's brim is taken as an edge 24 deg over level.

Why it matters
From the side a screen loses contrast, and polarised glasses may turn it black; a head that is turned far
does not look where the boat goes.

Limit and source
Caution sitting, note standing: over 60 deg of turn (`sight-angle.turn`; MIL-STD-1472 and ISO 11226, both
from memory), over 35 deg off the straight way out of the glass (`sight-angle.glass`; common practice, no
source; NUREG-0700 wants at least 45 deg between the line of sight and the face, which is 45 deg off).

What to do
Turn the mount toward the seat, take a bail or ball that tilts further, or bring the screen further
forward and toward the middle.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    judge(case, CHECK.id, &[Fault::Turned, Fault::Slanted], found, |seen, view| {
        let bounds = &case.study.sight.bounds;
        if view.faults.contains(&Fault::Turned) {
            return Some(turned(bounds, view));
        }
        case.plan.gear(seen.gear).and_then(|gear| slanted(bounds, gear, seen, view))
    });
}

fn turned(bounds: &Bounds, view: &View) -> Verdict {
    let (value, limit) = (view.look.turn_deg.abs(), bounds.turn_deg);
    let side = if view.look.turn_deg > 0.0 { Side::Port } else { Side::Starboard };
    Verdict {
        value,
        limit,
        margin: limit - value,
        unit: "deg",
        source: TURN,
        says: format!("stands {value:.0} deg to {} of straight ahead; a head turns {limit:.0}", side.word()),
        remedy: "bring it further forward or toward the middle".into(),
    }
}

fn slanted(bounds: &Bounds, gear: &Gear, seen: &Seen, view: &View) -> Option<Verdict> {
    let (value, limit) = (view.glass_deg?, bounds.glass_deg);
    let says = if value > 90.0 {
        "shows its back".to_string()
    } else {
        format!("is seen {value:.0} deg off the straight way out of its glass; {limit:.0} is as much as is read well")
    };
    let turn = gear.place.map_or(0.0, |place| place.turn.to_deg().rem_euclid(360.0));
    let remedy = match seen.glass {
        _ if turn != 0.0 => "turn its mount so that the glass faces the seat".into(),
        Some(glass) if view.look.down_deg - glass.tilt_deg > view.look.turn_deg.abs() => {
            format!("tilt it {:.0} deg further back, or mount it higher", (value - limit).ceil())
        }
        _ => "turn it toward the seat on a ball, or bring it toward the middle".into(),
    };
    Some(Verdict { value, limit, margin: limit - value, unit: "deg", source: SLANT, says, remedy })
}
