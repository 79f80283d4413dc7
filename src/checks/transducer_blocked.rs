//! `transducer-blocked`: something stands in the cone of a sonar head, or stirs the water before it.

use super::words::{label, list};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::GearId;
use crate::study::transducer::{Cutter, Head, Near};

/// The check.
pub const CHECK: Check =
    Check { id: "transducer-blocked", title: "a sonar head does not see past something", doc: DOC, run };

const DOC: &str = "\
What it checks
The cone of sound of each sonar head, straight down in the boat from the middle of its underside, against
the hull (its recess for the head left out) and all gear outside it, by 61 lines; and how near motors,
pedal drives and rudders are that reach under the hull. The angle of the cone is the gear's own figure,
else 20 deg, a guess. A head that looks ahead or aside by its bracket is not followed; one inside the hull
is taken to send through the skin.

Why it matters
What stands in the cone is all that the head shows: a bright band over a blind sector. Air and bubbles from
a propeller do the same, and a fin that meets the head breaks it.

Limit and source
Stop when more than 0 percent of the cone is cut (`transducer-blocked.share`). Caution when the face lies
aft of a motor less than 500 mm to the side of its wash (`transducer-blocked.wash`), or within 300 mm of a
pedal drive or rudder (`transducer-blocked.fins`). Common practice, no source.

What to do
Lower the head until it sees past the hull, move it or what stands below it aside, or mount it ahead of
the propeller.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for head in &case.study.transducers.heads {
        findings.extend(cut(case, head));
        findings.extend(stirred(case, head));
    }
}

fn cut(case: &Case<'_>, head: &Head) -> Option<Finding> {
    let (value, limit) = (head.cut_percent, case.limits.get("transducer-blocked.share"));
    if value <= limit {
        return None;
    }
    let name = |by: Cutter| match by {
        Cutter::Gear(gear) => label(case.plan, gear),
        Cutter::Hull => "the hull".into(),
    };
    let names: Vec<String> = head.cut.iter().map(|cut| name(cut.by)).collect();
    let (own, beam) = (label(case.plan, head.gear), head.beam.value.to_deg());
    let remedy = match head.cut.first()?.by {
        Cutter::Hull if head.over_hull_mm > 0.0 => {
            format!(
                "Lower it, at most by {:.0} mm to the lowest hull line, or move it aside.",
                head.over_hull_mm.ceil()
            )
        }
        by => format!("Move it or {} until they stand clear of each other.", name(by)),
    };
    Some(Finding {
        severity: Severity::Stop,
        value,
        limit,
        margin: limit - value,
        unit: "percent",
        says: format!("{own}: {} takes {value:.0} percent of its cone of {beam:.0} deg.", list(&names)),
        remedy,
        ..found(head)
    })
}

/// The worst of what stirs the water at a face.
fn stirred(case: &Case<'_>, head: &Head) -> Option<Finding> {
    let limits = ["transducer-blocked.wash", "transducer-blocked.fins"].map(|limit| case.limits.get(limit));
    let judged = head.near.iter().filter(|near| !(near.motor && near.ahead)).map(|near| {
        let (value, limit) = if near.motor { (near.aside_mm, limits[0]) } else { (near.distance_mm, limits[1]) };
        (near, value, limit)
    });
    let close = judged.filter(|(_, value, limit)| value < limit);
    let (near, value, limit) = close.min_by(|a, b| (a.1 - a.2).total_cmp(&(b.1 - b.2)))?;
    let (says, remedy) = words(case, head.gear, near, value, limit);
    Some(Finding {
        severity: Severity::Caution,
        value,
        limit,
        margin: value - limit,
        unit: "mm",
        says,
        remedy,
        ..found(head)
    })
}

fn words(case: &Case<'_>, own: GearId, near: &Near, value: f64, limit: f64) -> (String, String) {
    let (own, other) = (label(case.plan, own), label(case.plan, near.gear));
    let more = (limit - value).ceil();
    if near.motor {
        (
            format!("{own}: it lies aft of {other}, {value:.0} mm to the side of its wash."),
            format!("Mount it ahead of {other}, or {more:.0} mm further aside."),
        )
    } else {
        (
            format!("{own}: {other} moves {value:.0} mm from it."),
            format!("Mount it {more:.0} mm further away from {other}."),
        )
    }
}

fn found(head: &Head) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: Subject::Gear(head.gear),
        at: Some(head.face),
        value: 0.0,
        limit: 0.0,
        margin: 0.0,
        unit: "",
        says: String::new(),
        remedy: String::new(),
        source: COMMON_PRACTICE,
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::checks::test_float::{boat, findings, middle, one, recess, under_the_hull};
    use crate::checks::test_power;
    use crate::geometry::Point;
    use crate::plan::{Body, Kind, Level, Plan, Shape};
    use crate::units::{Angle, Figure, Length, Mass};

    /// A head 30 mm high under the hull amidships, its face 30 below the keel.
    fn head() -> Plan {
        let mut plan = boat(300.0, middle(150.0));
        under_the_hull(&mut plan);
        plan
    }

    fn beam(plan: &mut Plan, deg: f64) {
        let head = plan.gear.iter_mut().find(|gear| gear.spec.kind == Kind::Transducer).unwrap();
        Arc::make_mut(&mut head.spec).beam = Some(Figure::measured(Angle::deg(deg)));
    }

    /// Something 100 mm long and wide hanging under the hull by a height, its side so far before the head's middle.
    fn hang(plan: &mut Plan, kind: Kind, high: f64, before: f64) {
        let id = test_power::add(plan, "thing", kind, Figure::measured(Mass::kg(0.0)), None);
        let gear = plan.gear_mut(id).unwrap();
        let shape = Shape::Box(100.0, 100.0, high);
        Arc::make_mut(&mut gear.spec).bodies = vec![Body { middle_mm: Point::new(0.0, 0.0, high / 2.0), shape }];
        let place = gear.place.as_mut().unwrap();
        (place.level, place.x, place.y) = (Level::Under, Length::mm(1850.0 + before), Length::mm(0.0));
    }

    #[test]
    fn what_stands_in_the_cone_stops() {
        // By hand: 100 mm under the face half of 20 degrees reach 100 tan 10 = 17.63 mm.
        let beside = |before: f64| {
            let mut plan = head();
            hang(&mut plan, Kind::Hardware, 130.0, before);
            plan
        };
        assert!(findings(&beside(17.7), CHECK.id).is_empty());
        let found = one(&beside(17.5), CHECK.id, Severity::Stop);
        // One line of 61 is cut.
        assert!((found.value - 100.0 / 61.0).abs() < 1e-9, "{}", found.value);
        assert!(found.says.contains("thing takes 2 percent of its cone of 20 deg"), "{}", found.says);
        assert!(found.remedy.contains("Move it or thing"), "{}", found.remedy);
    }

    #[test]
    fn what_hangs_no_lower_than_the_face_is_no_matter() {
        let mut plan = head();
        hang(&mut plan, Kind::Hardware, 30.0, 90.0);
        beam(&mut plan, 170.0);
        assert!(findings(&plan, CHECK.id).is_empty());
    }

    #[test]
    fn a_recess_is_open_below_and_its_walls_are_the_hull() {
        // The face lies 30 mm up in a recess 110 mm wide: its edge is at atan(55 / 30) = 61.4 degrees.
        let sunk = |deg: f64| {
            let mut plan = head();
            recess(&mut plan, 60.0);
            beam(&mut plan, deg);
            plan
        };
        assert!(findings(&sunk(118.0), CHECK.id).is_empty());
        let found = one(&sunk(134.0), CHECK.id, Severity::Stop);
        assert!(found.says.contains("the hull takes"), "{}", found.says);
        assert!(found.remedy.starts_with("Lower it, at most by 30 mm"), "{}", found.remedy);
    }

    #[test]
    fn fins_stay_300_mm_away() {
        let from = |before: f64| {
            let mut plan = head();
            hang(&mut plan, Kind::Other, 30.0, before);
            plan
        };
        assert!(findings(&from(300.1), CHECK.id).is_empty());
        let found = one(&from(299.0), CHECK.id, Severity::Caution);
        assert!(found.says.ends_with("thing moves 299 mm from it."), "{}", found.says);
    }

    #[test]
    fn the_wash_of_a_propeller_matters_aft_of_it() {
        let at = |before: f64, aside: f64| {
            let mut plan = head();
            hang(&mut plan, Kind::Motor, 30.0, before);
            plan.gear.last_mut().unwrap().place.as_mut().unwrap().y = Length::mm(aside);
            plan
        };
        let found = one(&at(600.0, 0.0), CHECK.id, Severity::Caution);
        assert!(found.says.contains("aft of thing, 0 mm to the side of its wash"), "{}", found.says);
        // The thing is 100 mm wide.
        assert!(findings(&at(600.0, 551.0), CHECK.id).is_empty());
        one(&at(600.0, 549.0), CHECK.id, Severity::Caution);
        // The face lies ahead of what ends at its own station.
        assert!(findings(&at(-100.0, 0.0), CHECK.id).is_empty());
    }
}
