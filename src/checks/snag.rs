//! `snag`: exposed points near the landing side, counted.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject, words};
use crate::plan::GearId;

/// The check.
pub const CHECK: Check = Check { id: "snag", title: "line and net catch near the landing side", doc: DOC, run };

const DOC: &str = "\
What it checks
Exposed points near the stretch of gunwale where fish are landed: one for each holder, cleat or trolley,
eye, base, boom, socket, gland and sonar head on deck, and each bolt head that no body covers.

Why it matters
Each is a place where line, net or lure hangs up with a fish alongside. Knobs and glands are the usual
ones.

Limit and source
Counted within 600 mm (`snag.within`); none is the aim. Common practice, no source.

What to do
Move what can go to the other side, cap or tape over the rest, and lay cords in tubes.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let snags = &case.study.clearance.snags;
    let Some(first) = snags.first() else { return };
    let mut gear: Vec<GearId> = snags.iter().map(|snag| snag.gear).collect();
    gear.dedup();
    let (count, side) = (snags.len(), case.plan.angler.landing.word());
    let within = case.limits.get("snag.within");
    let names: Vec<String> = gear.iter().map(|gear| words::label(case.plan, *gear)).collect();
    found.push(Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: Subject::Gear(first.gear),
        at: Some(first.at),
        value: count as f64,
        limit: 0.0,
        margin: -(count as f64),
        unit: "count",
        says: format!(
            "{count} exposed {} within {within:.0} mm of the landing side, {side}: {}",
            if count == 1 { "point" } else { "points" },
            words::list(&names)
        ),
        remedy: "cap or cover them, or move them to the other side".into(),
        source: COMMON_PRACTICE,
    });
}
