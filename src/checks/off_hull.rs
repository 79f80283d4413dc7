//! `off-hull`: gear placed where there is no hull.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};

/// The check.
pub const CHECK: Check = Check { id: "off-hull", title: "gear stands beside the hull", doc: DOC, run };

const DOC: &str = "\
What it checks
That the middle of each mount's face lies over the hull, seen from above. What the gear holds out over
the side (an arm, a rod) may reach beyond.

Why it matters
There is nothing to fasten it to.

Limit and source
The gunwale's outline. It follows from the geometry; there is nothing to set.

What to do
Move it inboard, or take it ashore in the plan.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let hull = &case.plan.hull;
    let edge = hull.form.deck_outline();
    for item in &case.study.rig.items {
        let spot = item.at.spot();
        if hull.form.bottom(spot).is_some() {
            continue;
        }
        let off = (-edge.depth_of(spot)).max(0.0);
        let subject = Subject::Gear(item.gear);
        found.push(Finding {
            check: CHECK.id,
            severity: Severity::Stop,
            subject,
            at: Some(item.at),
            value: off,
            limit: 0.0,
            margin: -off,
            unit: "mm",
            says: format!("{} stands {off:.0} mm outside the hull", subject.named(case.plan)),
            remedy: format!("move it {:.0} mm inboard, or take it ashore", off.ceil()),
            source: COMMON_PRACTICE,
        });
    }
}
