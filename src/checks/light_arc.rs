//! `light-arc`: a light that does not shine over the whole arc of its role, or over the wrong side of the bow.

use super::light_words::{LAW, lantern, sectors};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::lights::Shown;
use crate::study::lights::sector::sum;

/// The check.
pub const CHECK: Check = Check { id: "light-arc", title: "a light shines over the wrong arc", doc: DOC, run };

const ARC: &str = "COLREG Rule 21; the law where you are decides";
const CUT_OFF: &str = "COLREG Annex I 9(a)(i); the law where you are decides";

const DOC: &str = "\
What it checks
The sector in which each light shines, turned as its mount is turned, against the arc of its role: side lights
from dead ahead to 112.5 degrees on their side, stern light over 135 degrees astern, masthead light over the 225
ahead of it, all-round light over all. And how far a side light is seen across the bow. It is silent when no
phase is dark and no craft state is chosen.

Why it matters
Others read from red, green and white which way you go. A side light that is turned shows them another course.

Limit and source
Nothing of the arc may be missing (`light-arc.missing`, 0 degrees): COLREG Rule 21. Seen at most 3 degrees across
the bow (`light-arc.ahead`): Annex I 9(a)(i), where it is to fade between 1 and 3. The law where you are decides.

What to do
Turn it until its mark looks dead ahead; put it on a level base; take one made for its side.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    if !case.study.lights.matter() {
        return;
    }
    for shown in &case.study.lights.lanterns {
        found.extend(missing(case, shown));
        found.extend(across_bow(case, shown));
    }
}

fn missing(case: &Case<'_>, shown: &Shown) -> Option<Finding> {
    let (limit, deg) = (case.limits.get("light-arc.missing"), sum(&shown.missing));
    if deg <= limit + 1.0e-6 {
        return None;
    }
    let says = format!(
        "{} does not shine {}: {deg:.1} deg of the arc of a {} are missing",
        lantern(case, shown),
        sectors(&shown.missing),
        shown.role.word()
    );
    Some(finding(shown, (deg, limit), says, "turn it to look dead ahead, or take one with the whole arc", ARC))
}

fn across_bow(case: &Case<'_>, shown: &Shown) -> Option<Finding> {
    let limit = case.limits.get("light-arc.ahead");
    let deg = shown.across_bow_deg.filter(|deg| *deg > limit + 1.0e-6)?;
    let says = format!("{} is seen {deg:.1} deg across the bow, {limit:.0} at most", lantern(case, shown));
    Some(finding(shown, (deg, limit), says, "turn it outward, or fit a screen that cuts it off at the bow", CUT_OFF))
}

fn finding(shown: &Shown, (value, limit): (f64, f64), says: String, remedy: &str, source: &'static str) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Gear(shown.gear),
        at: Some(shown.at),
        value,
        limit,
        margin: limit - value,
        unit: "deg",
        says,
        remedy: format!("{remedy}. {LAW}"),
        source,
    }
}
