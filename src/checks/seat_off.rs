//! `seat-off`: the seat is set where its rails do not hold it.

use super::reach_words::seat_stands;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};

/// The check.
pub const CHECK: Check = Check { id: "seat-off", title: "the seat stands off its rails", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether the seat back is set between the aftmost and the foremost setting of the rails.

Why it matters
Trim, reach, sight and every motion are counted from where the person sits. With the seat off its rails, or
outside the hull, all of them are about a boat that cannot be.

Limit and source
The rails of the hull, as catalogued or measured: common practice, no source.

What to do
Set the seat anew with `s`, or measure the rails again.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    if seat_stands(case.plan) {
        return;
    }
    let (rails, back) = (&case.plan.hull.seat, case.plan.angler.seat.back.to_mm());
    let (aft, fore) = (rails.back_aft.to_mm(), rails.back_fore.to_mm());
    let limit = if back < aft { aft } else { fore };
    found.push(Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Plan,
        at: None,
        value: back,
        limit,
        margin: -(back - limit).abs(),
        unit: "mm",
        says: format!("the seat back is set at {back:.0} mm, its rails go from {aft:.0} to {fore:.0}"),
        remedy: format!("set it at {limit:.0} mm, or measure the rails"),
        source: COMMON_PRACTICE,
    });
}
