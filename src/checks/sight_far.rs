//! `sight-far`: a screen further from the eye than its size is good for.

use super::sight_words::{Verdict, judge};
use super::{COMMON_PRACTICE, Case, Check, Finding};
use crate::study::sight::Fault;

/// The check.
pub const CHECK: Check = Check { id: "sight-far", title: "a screen is too far away for its size", doc: DOC, run };

const DOC: &str = "\
What it checks
The distance from the eye to the middle of each screen that must be seen: leaning against the seat back as
it is set, and in every posture that a phase of the day claims.

Why it matters
A screen that is too far is read by leaning forward, all day, or not at all in spray and sun.

Limit and source
700 mm for 7 inches (`sight-far.seven`), 850 mm for 9 to 10 (`sight-far.ten`), 1000 mm for 12
(`sight-far.twelve`), straight between; smaller and larger screens take the nearest of these. Caution
sitting, note standing. Common practice, no source.

What to do
Bring it nearer on an arm, or choose a larger screen. It must not come so near that the knees meet it.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    judge(case, CHECK.id, &[Fault::Far], found, |seen, view| {
        let gear = case.plan.gear(seen.gear)?;
        let inches = gear.spec.handling.as_ref()?.screen?.to_inches();
        let (value, limit) = (view.look.distance_mm, case.study.sight.bounds.furthest_mm(inches));
        Some(Verdict {
            value,
            limit,
            margin: limit - value,
            unit: "mm",
            source: COMMON_PRACTICE,
            says: format!("is {value:.0} mm from the eye, {limit:.0} is as far as its size is read"),
            remedy: format!("bring it {:.0} mm nearer, or choose a larger screen", (value - limit).ceil()),
        })
    });
}
