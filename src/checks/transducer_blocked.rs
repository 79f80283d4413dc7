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
            format!("Lower it, at most by {:.0} mm to the lowest hull line, or move it aside.", head.over_hull_mm.ceil())
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
    Some(Finding { severity: Severity::Caution, value, limit, margin: value - limit, unit: "mm", says, remedy, ..found(head) })
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
