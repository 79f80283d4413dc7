//! `waterline-fit`: what marked waterlines say against the tape.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::Taken;
use crate::study::shape::{Fitted, Shape};
use crate::units::amount;

/// The check.
pub const CHECK: Check =
    Check { id: "waterline-fit", title: "marked waterlines against the hull as measured", doc: DOC, run };

const DOC: &str = "\
What it checks
Waterlines marked with a known load, against the height at which the hull floats by the tape. The form
that floats is bent until it agrees: the bottom fuller or leaner, the keel higher or lower, beam, gunwale
and all above the greatest width as they are. The value is the most that remains on one reading.

Why it matters
A bottom is hard to measure with a tape, and a few millimetres of it are ten kilograms. The water knows
the volume. Readings that cannot all be right say that a mark, a load or a station is wrong.

Limit and source
Caution when more than 10 mm remain on a reading, when a figure would have to go beyond three times its
spread, or when the hull does not float with the load stated. The fullness is believed to 5 percent, the
keel to 10 mm, a mark to 3 mm; marks 500 mm or more apart give the trim. Least squares; common practice,
no source.

What to do
Mark again in still water, on both sides, and take the mean. Weigh the load with everything that was in
the boat. Switch off the reading that does not fit; the figures of the tape are always kept.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let shape = &case.study.shape;
    findings.extend(shape.unused.iter().filter_map(|index| too_heavy(case, *index)));
    let worst = |of: fn(&Fitted) -> f64| {
        shape.readings.iter().max_by(|a, b| of(a).abs().total_cmp(&of(b).abs())).map(|fitted| (fitted, of(fitted)))
    };
    let (Some((reading, remains)), Some((_, before))) = (worst(Fitted::residual_mm), worst(Fitted::before_residual_mm))
    else {
        return;
    };
    let limit = case.limits.get("waterline-fit.caution");
    let over = remains.abs() > limit;
    let doubtful = over || shape.at_bound;
    let remedy = if doubtful {
        "The readings contradict each other, or a load was another: weigh the load, mark again in still water, or \
         switch off the reading that does not fit."
    } else {
        "The figures of the tape are kept: switch the reading off to float the hull as measured."
    };
    findings.push(Finding {
        check: CHECK.id,
        severity: if doubtful { Severity::Caution } else { Severity::Note },
        subject: Subject::Plan,
        at: place(case, reading.index),
        value: remains.abs(),
        limit,
        margin: limit - remains.abs(),
        unit: "mm",
        says: format!(
            "{}: {}; {:.0} mm {}{}.",
            against_the_tape(before, shape.readings.len()),
            changed(shape),
            remains.abs().round(),
            if remains.abs().round() == 1.0 { "remains" } else { "remain" },
            if shape.at_bound { ", and no more is believed" } else { "" },
        ),
        remedy: remedy.into(),
        source: COMMON_PRACTICE,
    });
}

fn too_heavy(case: &Case<'_>, index: usize) -> Option<Finding> {
    let Taken::Waterline { load, .. } = case.plan.readings.get(index)?.taken else { return None };
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: place(case, index),
        value: 1.0,
        limit: 0.0,
        margin: -1.0,
        unit: "count",
        says: format!(
            "The waterline marked with {} is not used: the hull as measured does not float with that load.",
            amount(load, 1)
        ),
        remedy: "Weigh the load, and see whether the sections are right; or switch the reading off.".into(),
        source: COMMON_PRACTICE,
    })
}

/// Where a waterline was marked.
fn place(case: &Case<'_>, index: usize) -> Option<Point> {
    match case.plan.readings.get(index)?.taken {
        Taken::Waterline { x, height, .. } => Some(Point::new(x.to_mm(), 0.0, height.to_mm())),
        _ => None,
    }
}

fn against_the_tape(mm: f64, marks: usize) -> String {
    let (subject, at_most) =
        if marks == 1 { ("The marked waterline is", "") } else { ("The marked waterlines are", "up to ") };
    match mm.abs().round() {
        0.0 => format!("{subject} where the hull floats as measured"),
        most => {
            let way = if mm > 0.0 { "deeper" } else { "shallower" };
            format!("{subject} {at_most}{most:.0} mm {way} than the hull floats as measured")
        }
    }
}

/// What was changed: "the bottom is taken 1.3 % leaner and 13 mm higher".
fn changed(shape: &Shape) -> String {
    let percent = 100.0 * (shape.fullness - 1.0);
    let mut parts = Vec::new();
    if percent.abs() >= 0.05 {
        parts.push(format!("{:.1} % {}", percent.abs(), if percent > 0.0 { "fuller" } else { "leaner" }));
    }
    if shape.keel_mm.abs() >= 0.5 {
        let way = if shape.keel_mm > 0.0 { "higher" } else { "lower" };
        parts.push(format!("{:.0} mm {way}", shape.keel_mm.abs()));
    }
    if parts.is_empty() { "the form stays".into() } else { format!("the bottom is taken {}", parts.join(" and ")) }
}
