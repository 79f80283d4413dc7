//! `overlap`: two bodies in one place.

use super::way::way;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{GearId, Kind};
use crate::study::clearance::{Overlap, way_apart};
use crate::study::obstacles::{HullContact, HullPart};

/// The check.
pub const CHECK: Check = Check { id: "overlap", title: "two things are in one place", doc: DOC, run };

const DOC: &str = "\
What it checks
Gear that takes the same space as other gear, as the seat or the seated person; gear inside the hull
that is too tall for the deck, sticks through the skin, or sits in flotation foam. Gear that carries
other gear is left out: a track and its feet, a base and what is raised on it, a boom and what hangs on
it, a holder and its rod, a box and what lies in it.

Why it matters
It will not go in. Found on paper, that costs nothing.

Limit and source
2 mm count as touching (overlap.tolerance); a base inside may bridge 25 mm with pads (overlap.pads).
Common practice, no source.

What to do
Move one of the two, raise what stands on the other, or take the tape: a body from the catalogue is
rounded up.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let clearance = &case.study.clearance;
    found.extend(clearance.overlaps.iter().map(|overlap| gear_and_gear(case, overlap)));
    found.extend(clearance.against_hull.iter().map(|contact| gear_and_hull(case, contact)));
}

fn gear_and_gear(case: &Case<'_>, overlap: &Overlap) -> Finding {
    let pinned = |id: GearId| case.plan.gear(id).is_some_and(|gear| gear.pinned);
    // The one that may be moved is told to move.
    let (gear, other) = if pinned(overlap.gear) && !pinned(overlap.other) {
        (overlap.other, overlap.gear)
    } else {
        (overlap.gear, overlap.other)
    };
    let name = |id: GearId| Subject::Gear(id).named(case.plan);
    let rig = &case.study.rig;
    let apart = rig.item(gear).zip(rig.item(other)).and_then(|(item, fixed)| way_apart(case.plan, item, fixed));
    let mut remedy = match apart {
        Some(by) => format!("move {} {}", name(gear), way(by)),
        None => "move one of them to another place".into(),
    };
    for (upper, under) in [(gear, other), (other, gear)] {
        if let Some(by) = rise(case, upper, under) {
            remedy.push_str(&format!(", or raise {} {by:.0} mm to stand on {}", name(upper), name(under)));
        }
    }
    let says = format!("{} and {} overlap by {:.0} mm", name(overlap.gear), name(overlap.other), overlap.depth_mm);
    Finding { at: Some(overlap.at), ..finding(Subject::Gear(gear), overlap.depth_mm, says, remedy) }
}

/// How far gear must be raised to stand on a base or track that lies under it.
fn rise(case: &Case<'_>, upper: GearId, under: GearId) -> Option<f64> {
    let carries = |id| matches!(case.plan.gear(id).map(|gear| gear.spec.kind), Some(Kind::Base | Kind::Track));
    let (upper_item, under_item) = (case.study.rig.item(upper)?, case.study.rig.item(under)?);
    let stands = carries(under) && !carries(upper) && under_item.covers(upper_item.at.spot());
    let by = (under_item.top() - upper_item.bottom()).ceil();
    (stands && by > 0.0).then_some(by)
}

fn gear_and_hull(case: &Case<'_>, contact: &HullContact) -> Finding {
    let subject = Subject::Gear(contact.gear);
    let (label, depth) = (subject.named(case.plan), contact.depth_mm);
    let says = match contact.part {
        HullPart::Deck => format!("{label} is {depth:.0} mm too tall for the deck over it"),
        HullPart::Skin => format!("{label} sticks {depth:.0} mm through the skin of the hull"),
        HullPart::Foam(id) => format!("{label} sits {depth:.0} mm in {}", Subject::Feature(id).named(case.plan)),
        HullPart::Seat | HullPart::Person => format!("{label} is {depth:.0} mm in the {}", contact.part.word()),
    };
    let remedy = match (contact.way_out, contact.part) {
        (Some(by), _) => format!("move it {}", way(by)),
        (None, HullPart::Skin) => format!("move it toward the centreline, or raise it {:.0} mm", depth.ceil()),
        (None, HullPart::Deck) => "move it where the inside is deeper, or lay it down".into(),
        (None, _) => "move it to another place".into(),
    };
    Finding { at: Some(contact.at), ..finding(subject, depth, says, remedy) }
}

fn finding(subject: Subject, depth: f64, says: String, remedy: String) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject,
        at: None,
        value: depth,
        limit: 0.0,
        margin: -depth,
        unit: "mm",
        says,
        remedy,
        source: COMMON_PRACTICE,
    }
}
