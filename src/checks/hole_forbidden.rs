//! `hole-forbidden`: a new hole where nothing may be drilled.

use super::hole_words::{Verdict, Voice, is_new, per_owner};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::geometry::{Outline, Spot};
use crate::plan::{Drilling, Feature, FeatureKind, Level, Opening};
use crate::study::holes::{Beneath, Hole};
use crate::study::rig::Support;

/// The check.
pub const CHECK: Check =
    Check { id: "hole-forbidden", title: "a new hole where nothing may be drilled", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether a new hole lies on a hatch lid or its sealing rim, in or close to a scupper or rod tube, just
over a foam block or over stowed gear, close to a factory insert or bolt, on a seat rail, in the range
the seat slides over, on a seam, or in a zone that the plan forbids to drill.

Why it matters
A scupper tube ties deck and bottom together: a hole at its foot leaks and cracks the boat. A lid's rim
must stay whole to seal. A screw under the seat slider stops the seat or tears the dry suit. Foam behind
a hole soaks up water for good.

Limit and source
Measured from the hole's rim: lid, the rim's width and at least 25 mm from the opening
(`hole-forbidden.rim`); tube wall 20 mm (`hole-forbidden.tube`); insert or bolt 25 mm to its middle
(`hole-forbidden.insert`); seam 20 mm (`hole-forbidden.seam`); foam or stowed gear nearer than 25 mm
behind the skin (`hole-forbidden.behind`). Stop. Common practice, no source.

What to do
Move the gear, or choose a mount without holes. Never drill a scupper or its fillet.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    let apart = Apart {
        rim: case.limits.get("hole-forbidden.rim"),
        tube: case.limits.get("hole-forbidden.tube"),
        insert: case.limits.get("hole-forbidden.insert"),
        seam: case.limits.get("hole-forbidden.seam"),
        behind: case.limits.get("hole-forbidden.behind"),
    };
    per_owner(case, findings, voice, |hole| if is_new(hole) { worst_fault(case, hole, &apart) } else { None });
}

/// The limits, looked up once: there are as many questions as holes times features.
struct Apart {
    rim: f64,
    tube: f64,
    insert: f64,
    seam: f64,
    behind: f64,
}

/// The fault of a hole that lies deepest in what is forbidden.
fn worst_fault(case: &Case<'_>, hole: &Hole, apart: &Apart) -> Option<Verdict> {
    let held_by = hole.owner.and_then(|gear| case.study.rig.item(gear)).and_then(|item| item.fit.support());
    let features = &case.plan.hull.features;
    features
        .iter()
        // A part held by a feature stands on it on purpose.
        .filter(|feature| held_by != Some(Support::Feature(feature.id)))
        .filter_map(|feature| at_feature(hole, feature, apart))
        .chain(behind(case, hole, apart.behind))
        .chain(under_seat(case, hole))
        .chain(in_zone(case, hole))
        .min_by(|a, b| a.margin.total_cmp(&b.margin))
}

fn at_feature(hole: &Hole, feature: &Feature, apart: &Apart) -> Option<Verdict> {
    let (spot, middle) = (hole.at.spot(), feature.at_mm.spot());
    let on_deck = hole.level == Level::Deck;
    // Free distance from the hole's rim, what it must be, and what is there.
    let (free, needed, what) = match &feature.kind {
        FeatureKind::Scupper { top, bottom, wall } => {
            let bore = if on_deck { top } else { bottom };
            let tube = bore.to_mm() / 2.0 + wall.to_mm();
            (spot.distance(middle) - tube, apart.tube, "the tube wall of")
        }
        FeatureKind::RodTube { bore } if on_deck => {
            (spot.distance(middle) - bore.to_mm() / 2.0, apart.tube, "the tube of")
        }
        FeatureKind::Hatch { opening, rim, .. } if on_deck => {
            let needed = rim.to_mm().max(apart.rim);
            (from_opening(spot, middle, *opening), needed, "the opening of")
        }
        FeatureKind::Inserts { offsets_mm: points, .. } | FeatureKind::Handle { bolts_mm: points, .. } if on_deck => {
            let nearest = points.iter().map(|offset| spot.distance(middle + *offset)).fold(f64::INFINITY, f64::min);
            (nearest, apart.insert, "a thread of")
        }
        FeatureKind::SeatRail { length, width } if on_deck => {
            (rect(middle, length.to_mm(), width.to_mm()).gap_to_spot(spot), 0.0, "the rail")
        }
        FeatureKind::Seam { length } if on_deck => {
            (rect(middle, length.to_mm(), 0.0).gap_to_spot(spot), apart.seam, "the seam")
        }
        _ => return None,
    };
    let free = free - hole.radius();
    if free >= needed {
        return None;
    }
    let name = &feature.name;
    let says = if free < 0.0 {
        format!("a new hole on {what} {name}")
    } else {
        format!("a new hole {free:.0} mm from {what} {name}; {needed:.0} mm are needed")
    };
    let remedy = format!("move it {:.0} mm away from {name}, or choose a mount without holes", needed - free);
    Some(Verdict::at_least(Severity::Stop, free, needed, says, remedy))
}

fn behind(case: &Case<'_>, hole: &Hole, needed: f64) -> Option<Verdict> {
    let what = match hole.beneath? {
        Beneath::Feature(id) if matches!(case.plan.feature(id)?.kind, FeatureKind::Foam { .. }) => Subject::Feature(id),
        Beneath::Feature(_) => return None,
        Beneath::Gear(id) => Subject::Gear(id),
    };
    let free = hole.inside_mm;
    if free >= needed {
        return None;
    }
    let name = what.named(case.plan);
    let says = format!("a new hole with {name} {free:.0} mm behind the skin; {needed:.0} mm are needed");
    let remedy = format!("move it clear of {name}");
    Some(Verdict::at_least(Severity::Stop, free, needed, says, remedy))
}

/// The floor that the seat slides over: between the rails where the plan has them, else as wide as
/// the seat; as long as its travel.
fn under_seat(case: &Case<'_>, hole: &Hole) -> Option<Verdict> {
    let hull = &case.plan.hull;
    let seat = &hull.seat;
    if hole.level != Level::Deck || hole.at.z > seat.low.value.to_mm() {
        return None;
    }
    let rails = hull.features.iter().filter(|feature| matches!(feature.kind, FeatureKind::SeatRail { .. }));
    let (mut starboard, mut port, mut count) = (f64::INFINITY, f64::NEG_INFINITY, 0);
    for rail in rails {
        (starboard, port, count) = (starboard.min(rail.at_mm.y), port.max(rail.at_mm.y), count + 1);
    }
    if count < 2 {
        (starboard, port) = (-seat.width.to_mm() / 2.0, seat.width.to_mm() / 2.0);
    }
    let (aft, fore) = (seat.back_aft.to_mm(), seat.back_fore.to_mm() + seat.depth.to_mm());
    let middle = Spot::new(f64::midpoint(aft, fore), f64::midpoint(starboard, port));
    let free = rect(middle, fore - aft, port - starboard).gap_to_spot(hole.at.spot()) - hole.radius();
    if free >= 0.0 {
        return None;
    }
    let says = format!("a new hole {:.0} mm inside the range the seat slides over", -free);
    let remedy = "move it out from under the seat's travel".into();
    Some(Verdict::at_least(Severity::Stop, free, 0.0, says, remedy))
}

fn in_zone(case: &Case<'_>, hole: &Hole) -> Option<Verdict> {
    let zone = case.plan.zone(hole.zone?)?;
    let Drilling::Forbidden(why) = &zone.drilling else { return None };
    let says = format!("a new hole in {}, which may not be drilled: {why}", zone.name);
    Some(Verdict::none_of(Severity::Stop, says, format!("move it out of {}", zone.name)))
}

fn from_opening(spot: Spot, middle: Spot, opening: Opening) -> f64 {
    match opening {
        Opening::Round(bore) => spot.distance(middle) - bore.to_mm() / 2.0,
        Opening::Rect(length, width) => rect(middle, length.to_mm(), width.to_mm()).gap_to_spot(spot),
    }
}

fn rect(middle: Spot, length: f64, width: f64) -> Outline {
    Outline::Rect { middle, half_length: length / 2.0, half_width: width / 2.0, turn: 0.0 }
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::geometry::Point;
    use crate::plan::{Fate, Hinge, Plan, Thread};
    use crate::units::Length;

    /// A hole of 10 mm bore whose rim is this far from where the feature begins.
    fn check(kind: FeatureKind, begins: f64, free: f64, expected: &[Severity]) {
        let mut plan = with_hole(1500.0, 0.0, 10.0, Fate::New);
        add_feature(&mut plan, Point::new(1500.0, begins + 5.0 + free, DECK), kind);
        fires(&plan, CHECK, expected);
    }

    #[test]
    fn each_feature_keeps_its_distance() {
        let mm = Length::mm;
        let stop = [Severity::Stop];
        let scupper = FeatureKind::Scupper { top: mm(40.0), bottom: mm(30.0), wall: mm(5.0) };
        check(scupper.clone(), 25.0, 20.0, &[]);
        check(scupper, 25.0, 19.0, &stop);
        let hatch = |rim| FeatureKind::Hatch {
            opening: Opening::Round(mm(200.0)),
            rim: mm(rim),
            hinge: Hinge::None,
            reach: mm(500.0),
        };
        check(hatch(15.0), 100.0, 25.0, &[]);
        check(hatch(15.0), 100.0, 24.0, &stop);
        check(hatch(40.0), 100.0, 40.0, &[]);
        check(hatch(40.0), 100.0, 39.0, &stop);
        let inserts = FeatureKind::Inserts { thread: Thread::M6, offsets_mm: vec![Spot::default()], depth: mm(12.0) };
        check(inserts.clone(), 0.0, 25.0, &[]);
        check(inserts, 0.0, 24.0, &stop);
        let rail = FeatureKind::SeatRail { length: mm(600.0), width: mm(40.0) };
        check(rail.clone(), 20.0, 0.0, &[]);
        check(rail, 20.0, -1.0, &stop);
        let seam = FeatureKind::Seam { length: mm(2000.0) };
        check(seam.clone(), 0.0, 20.0, &[]);
        check(seam, 0.0, 19.0, &stop);
    }

    fn over_foam(depth: f64) -> Plan {
        let mm = Length::mm;
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        let foam = FeatureKind::Foam { length: mm(400.0), width: mm(200.0), height: mm(100.0) };
        add_feature(&mut plan, Point::new(1500.0, 0.0, DECK - WALL - depth - 50.0), foam);
        plan
    }

    #[test]
    fn foam_just_behind_the_skin_is_not_drilled_into() {
        fires(&over_foam(25.0), CHECK, &[]);
        fires(&over_foam(24.0), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn nothing_is_drilled_under_the_seat() {
        let at = |x| with_hole(x, 0.0, 10.0, Fate::New);
        fires(&at(SEAT_FORE + 5.0), CHECK, &[]);
        fires(&at(SEAT_FORE + 4.0), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn a_forbidden_zone_says_why() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        change_deck(&mut plan, |zone| zone.drilling = Drilling::Forbidden(name("thin wall")));
        let found = fires(&plan, CHECK, &[Severity::Stop]);
        assert!(found[0].says.contains("thin wall"), "{}", found[0].says);
        plan.penetrations[0].fate = Fate::Open;
        fires(&plan, CHECK, &[]);
    }
}
