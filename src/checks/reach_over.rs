//! `reach-over`: a control that the person cannot touch from the seat, or only with a lean.

use super::reach_words::elsewhere;
use super::way::way;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::Often;
use crate::study::reach::{Band, ReachItem, way_into_reach};

/// The check.
pub const CHECK: Check = Check { id: "reach-over", title: "a control is out of reach or takes a lean", doc: DOC, run };

const DOC: &str = "\
What it checks
For all gear that is touched under way: the least lean about the hip, from upright, and the least twist
with which either hand gets to its control. In hand: the trunk upright or against the back, no twist. At
stretch: within the limits. Out of reach: beyond them.

Why it matters
A lean moves half the body's mass over the side. What is touched every few minutes has to be touched
without it; what is out of reach is not there when it is needed.

Limit and source
Lean 25 deg (`reach-over.lean`), twist 45 deg (`reach-over.twist`): common practice, no source. The body
from the segment ratios of Drillis and Contini, or as measured. Seat tests refit the arm and both limits.
Out of reach is a stop; at stretch is a caution for what is touched often and a note for what is touched
seldom.

What to do
Move it toward the seat, turn it, or choose a remote control. Sit in the boat and try: a seat test with
life jacket and cold-weather clothes counts more than this sum.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    for item in &case.study.reach.items {
        match item.touch.band {
            Band::InHand => {}
            Band::AtStretch => found.push(at_stretch(case, item)),
            Band::OutOfReach => found.push(out_of_reach(case, item)),
        }
    }
}

fn at_stretch(case: &Case<'_>, item: &ReachItem) -> Finding {
    let body = &case.study.reach.body;
    let (lean, twist) = (body.lean_limit_deg, body.twist_limit_deg);
    let touch = &item.touch;
    let leans = touch.lean_deg * twist >= touch.twist_deg * lean;
    let (value, limit) = if leans { (touch.lean_deg, lean) } else { (touch.twist_deg, twist) };
    let takes = match (touch.lean_deg >= 0.5, touch.twist_deg >= 0.5) {
        (true, true) => format!("a lean of {:.0} deg and a twist of {:.0}", touch.lean_deg, touch.twist_deg),
        (false, true) => format!("a twist of {:.0} deg", touch.twist_deg),
        _ => format!("a lean of {:.0} deg", touch.lean_deg),
    };
    let severity = if item.touched == Often::Often { Severity::Caution } else { Severity::Note };
    let remedy = if touch.short_mm > 0.0 {
        format!("bring it {:.0} mm nearer the {} shoulder", touch.short_mm.ceil(), touch.hand.word())
    } else {
        "bring it ahead of the shoulders".into()
    };
    let remedy = with(remedy, elsewhere(case, item));
    let says = format!("{} takes {takes}, {} hand", Subject::Gear(item.gear).named(case.plan), touch.hand.word());
    finding(item, severity, (value, limit, "deg"), says, remedy)
}

fn out_of_reach(case: &Case<'_>, item: &ReachItem) -> Finding {
    let touch = &item.touch;
    let label = Subject::Gear(item.gear).named(case.plan);
    let twist = case.study.reach.body.twist_limit_deg;
    let (numbers, why) = if touch.twist_deg > twist {
        ((touch.twist_deg, twist, "deg"), format!("{:.0} deg of twist behind the shoulders", touch.twist_deg))
    } else {
        let most = touch.distance_mm - touch.beyond_mm;
        let short = format!("{:.0} mm too far even with the lean and twist allowed", touch.beyond_mm.ceil());
        ((touch.distance_mm, most, "mm"), short)
    };
    // A crate has no remote control.
    let electric = case.plan.gear(item.gear).is_some_and(|gear| gear.spec.electric.is_some());
    let otherwise = if electric { "work it by a remote control" } else { "do without it under way" };
    let remedy = match way_into_reach(&case.study.reach.body, item.control, item.gripped) {
        Some(by) => format!("move it {}, or {otherwise}", way(by)),
        None => format!("choose another place, or {otherwise}"),
    };
    let remedy = with(remedy, elsewhere(case, item));
    // What is touched a few times a day can wait for the shore or a turn in the seat.
    let severity = if item.touched == Often::Often { Severity::Stop } else { Severity::Caution };
    finding(item, severity, numbers, format!("{label} is out of reach: {why}"), remedy)
}

/// A remedy, and where else it would pass.
fn with(remedy: String, elsewhere: Option<String>) -> String {
    elsewhere.map_or_else(|| remedy.clone(), |words| format!("{remedy}; {words}"))
}

fn finding(
    item: &ReachItem,
    severity: Severity,
    (value, limit, unit): (f64, f64, &'static str),
    says: String,
    remedy: String,
) -> Finding {
    Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Gear(item.gear),
        at: Some(item.control),
        value,
        limit,
        margin: limit - value,
        unit,
        says,
        remedy,
        source: COMMON_PRACTICE,
    }
}
