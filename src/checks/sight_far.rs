//! `sight-far`: a screen further from the eye than its size is good for.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::study::sight::Look;
use crate::units::Length;

/// The check.
pub const CHECK: Check = Check { id: "sight-far", title: "a screen is too far away for its size", doc: DOC, run };

const DOC: &str = "\
What it checks
The distance from the eye, leaning against the seat back as it is set, to the middle of each screen that
must be seen from the seat.

Why it matters
A screen that is too far is read by leaning forward, all day, or not at all in spray and sun.

Limit and source
700 mm for 7 inches (`sight-far.seven`), 850 mm for 9 to 10 (`sight-far.ten`), 1000 mm for 12
(`sight-far.twelve`), straight between; smaller and larger screens take the nearest of these. Common
practice, no source.

What to do
Bring it nearer on an arm, or choose a larger screen. It must not come so near that the knees meet it.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    for item in &case.study.rig.items {
        let handling = case.plan.gear.get(item.index).and_then(|gear| gear.spec.handling.as_ref());
        let Some(screen) = handling.filter(|h| h.seen).and_then(|h| h.screen) else { continue };
        let Some(at) = item.control else { continue };
        let distance = Look::from(case.study.reach.body.eye, at).distance_mm;
        let limit = furthest(case, screen);
        if distance <= limit {
            continue;
        }
        let label = Subject::Gear(item.gear).named(case.plan);
        found.push(Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Gear(item.gear),
            at: Some(at),
            value: distance,
            limit,
            margin: limit - distance,
            unit: "mm",
            says: format!("{label} is {distance:.0} mm from the eye, {limit:.0} is as far as its size is read"),
            remedy: format!("bring it {:.0} mm nearer, or choose a larger screen", (distance - limit).ceil()),
            source: COMMON_PRACTICE,
        });
    }
}

/// The furthest a screen of this diagonal is read from, mm.
fn furthest(case: &Case<'_>, screen: Length) -> f64 {
    let [seven, ten, twelve] = ["sight-far.seven", "sight-far.ten", "sight-far.twelve"].map(|l| case.limits.get(l));
    let inches = screen.to_inches();
    let between = |from: f64, to: f64, share: f64| from + (to - from) * share.clamp(0.0, 1.0);
    if inches < 10.0 { between(seven, ten, (inches - 7.0) / 2.0) } else { between(ten, twelve, (inches - 10.0) / 2.0) }
}
