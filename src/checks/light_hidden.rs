//! `light-hidden`: bodies stand in the way of a light.

use super::light_words::{LAW, blockers, lantern, sectors, to_pass};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::lights::Shown;

/// The check.
pub const CHECK: Check = Check { id: "light-hidden", title: "a light is hidden on some bearings", doc: DOC, run };

const SOURCE: &str = "COLREG Annex I 9(b)(i), 10(a) and Rule 21; the law where you are decides";

const DOC: &str = "\
What it checks
Every light that is placed, over the arc of its role: on which bearings other gear or the person stands in its
way. A body counts wherever a part of it reaches between 5 degrees over and under the level through the light,
with trim and heel as the boat lies at rest. The person is taken as seated or standing as the dark phases say;
rods count where they are placed. The hull itself is not looked at. Overlapping shadows count once. It is
silent when no phase is dark and no craft state is chosen.

Why it matters
A head 600 mm from the lamp hides 17 degrees: a boat that comes from there sees nothing at all.

Limit and source
Note above 0 degrees (`light-hidden.note`), stop above 6 degrees together (`light-hidden.stop`): COLREG Annex I
9(b)(i), which names all-round lights; side, stern and masthead lights are asked to show an unbroken light
(Rule 21) and are held to the same figure here. Vertical sector: Annex I 10(a). The law where you are decides.

What to do
Raise it over what hides it, or move it away from it: a post hides no more than 6 degrees from ten times its
width. Beside a person no place aboard is far enough; over the head is.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    if case.study.lights.matter() {
        found.extend(case.study.lights.lanterns.iter().filter_map(|shown| finding(case, shown)));
    }
}

fn finding(case: &Case<'_>, shown: &Shown) -> Option<Finding> {
    let (stance, deg, parts) = shown.worst()?;
    let (note, stop) = (case.limits.get("light-hidden.note"), case.limits.get("light-hidden.stop"));
    // A hair of a degree is the rounding of an edge, no shadow.
    if deg <= note + 1.0e-6 {
        return None;
    }
    let stops = deg > stop + 1.0e-6;
    let borne = if stops { String::new() } else { format!(", {stop:.0} are borne") };
    let remedy = if stops { to_pass(shown.way.as_ref()) } else { "a little higher is better".into() };
    Some(Finding {
        check: CHECK.id,
        severity: if stops { Severity::Stop } else { Severity::Note },
        subject: Subject::Gear(shown.gear),
        at: Some(shown.at),
        value: deg,
        limit: if stops { stop } else { note },
        margin: if stops { stop - deg } else { note - deg },
        unit: "deg",
        says: format!(
            "{} is hidden {}, by {}: {deg:.1} deg together{borne}{}",
            lantern(case, shown),
            sectors(parts),
            blockers(case, shown, stance),
            otherwise(shown, stop)
        ),
        remedy: format!("{remedy}. {LAW}"),
        source: SOURCE,
    })
}

/// In which other stance it passes.
fn otherwise(shown: &Shown, stop: f64) -> String {
    let Some((worst, ..)) = shown.worst() else { return String::new() };
    let passes = shown
        .hidden
        .iter()
        .map(|(stance, _)| *stance)
        .find(|stance| *stance != worst && shown.hidden_deg(*stance) <= stop);
    passes.map_or(String::new(), |stance| format!(" ({}, it passes)", stance.word()))
}
