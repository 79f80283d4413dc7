//! `lean-heels`: reaching a control heels the boat too far.

use super::reach_words::elsewhere;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::study::float::heel_way;

/// The check.
pub const CHECK: Check = Check { id: "lean-heels", title: "reaching a control heels the boat too far", doc: DOC, run };

const DOC: &str = "\
What it checks
For all gear that is touched with a lean: the heel at which the boat rests while head, arms and trunk lean
toward it by the least that will do, the list it has anyway included.

Why it matters
A lean is over in a second, and a wave comes in that second. Who leans to one side while the boat is at five
degrees has little left to hold it with, and a rod, a fish or a wake adds to it.

Limit and source
5 deg (`lean-heels.caution`): common practice, no source. Mass and centre of the trunk from Winter's table,
the heel from the righting levers of the boat as planned.

What to do
Bring it nearer, so that it takes no lean to the side, or load the other side. Try it in shallow water with a
helper standing beside the boat.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let limit = case.limits.get("lean-heels.caution");
    for item in &case.study.reach.items {
        let Some(heel) = item.heel_deg.filter(|heel| heel.abs() > limit) else { continue };
        let label = Subject::Gear(item.gear).named(case.plan);
        found.push(Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Gear(item.gear),
            at: Some(item.control),
            value: heel.abs(),
            limit,
            margin: limit - heel.abs(),
            unit: "deg",
            says: format!("the boat heels {:.1} deg {} while {label} is reached", heel.abs(), heel_way(heel)),
            remedy: elsewhere(case, item)
                .unwrap_or_else(|| "bring it nearer the middle, or load the other side".into()),
            source: COMMON_PRACTICE,
        });
    }
}
