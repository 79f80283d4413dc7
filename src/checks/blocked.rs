//! What the checks of motions share: gear inside a space, by how much, the nearest way out.

use super::way::way;
use super::{COMMON_PRACTICE, Case, Finding, Severity, Subject};
use crate::study::clearance::{Envelope, Intrusion, Motion};

/// A finding for each piece of gear in the way of a motion: stop in a hard space, caution in a soft one.
///
/// `says` puts into words what is blocked, given the gear's label and its depth in mm; `else_do` is what
/// helps besides moving it.
pub(super) fn blocked(
    case: &Case<'_>,
    found: &mut Vec<Finding>,
    check: &'static str,
    motion: Motion,
    says: impl Fn(&Envelope, &str, f64) -> String,
    else_do: &str,
) {
    let clearance = &case.study.clearance;
    let of_motion = |i: &&Intrusion| clearance.envelopes.get(i.envelope).is_some_and(|e| e.motion == motion);
    for intrusion in clearance.intrusions.iter().filter(of_motion) {
        let envelope = &clearance.envelopes[intrusion.envelope];
        let subject = Subject::Gear(intrusion.gear);
        let depth = intrusion.depth_mm;
        let remedy = match intrusion.way_out {
            Some(by) => format!("move it {}, or {else_do}", way(by)),
            None => format!("no short way out stays aboard: {else_do}"),
        };
        found.push(Finding {
            check,
            severity: if envelope.hard { Severity::Stop } else { Severity::Caution },
            subject,
            at: Some(intrusion.at),
            value: depth,
            limit: 0.0,
            margin: -depth,
            unit: "mm",
            says: says(envelope, &subject.named(case.plan), depth),
            remedy,
            source: COMMON_PRACTICE,
        });
    }
}
