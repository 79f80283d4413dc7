//! `thermal`: a long metal part that the hull will grow away from.

use super::hole_words::{Verdict, Voice};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{BuildState, Mount};
use crate::study::fastening::movement_against_aluminium;
use crate::study::rig::Support;

/// The check.
pub const CHECK: Check = Check { id: "thermal", title: "a long metal part the hull grows away from", doc: DOC, run };

const DOC: &str = "\
What it checks
For a metal part that is bolted or riveted at both ends (a track, a rail): how far the skin moves against
it between a cold morning and a hot roof rack.

Why it matters
Polyethylene grows about eight times as much as aluminium. Fixed hard at both ends, the part shears its
rivets or the hull buckles between them, and the holes grow long and leak.

Limit and source
Span x 30 K (`thermal.kelvin`) x (180e-6 less 23.6e-6 per kelvin); note over 1 mm (`thermal.note`).
Coefficients: planning value for linear low-density polyethylene and handbook value for aluminium, from
memory.

What to do
Fix the middle firmly. Slot or oversize the end holes by half the movement each, with a wide washer.
";

const SOURCE: &str = "expansion coefficients of polyethylene and aluminium; limit common practice";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let (limit, kelvin) = (case.limits.get("thermal.note"), case.limits.get("thermal.kelvin"));
    let voice = Voice { check: CHECK.id, source: SOURCE };
    for item in &case.study.rig.items {
        let Some(gear) = case.plan.gear.get(item.index) else { continue };
        let fixed = item.fit.support() == Some(Support::Skin) && matches!(gear.mount, Mount::Bolts | Mount::Rivets);
        let Some(span) = gear.spec.metal_span.filter(|_| fixed && gear.state < BuildState::Bedded) else { continue };
        let movement = movement_against_aluminium(span.to_mm(), kelvin);
        if movement <= limit {
            continue;
        }
        let says = format!(
            "{}: over {kelvin:.0} K the hull moves {movement:.1} mm against its {:.0} mm of metal",
            gear.label,
            span.to_mm()
        );
        let remedy =
            format!("slot or oversize the end holes by {:.1} mm each and fix only the middle firmly", movement / 2.0);
        let verdict = Verdict::at_most(Severity::Note, movement, limit, says, remedy);
        findings.push(verdict.finding(voice, Subject::Gear(gear.id), item.at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::units::Length;

    fn rail(span: f64) -> crate::plan::Plan {
        let mut plan = with_gear(plate(1500.0, 0.0));
        std::sync::Arc::make_mut(&mut plan.gear[0].spec).metal_span = Some(Length::mm(span));
        plan
    }

    #[test]
    fn a_millimetre_is_passed_at_213_mm() {
        // 1 mm / (30 K x 156.4e-6 per K) = 213.1 mm.
        fires(&rail(213.0), CHECK, &[]);
        let found = fires(&rail(214.0), CHECK, &[Severity::Note]);
        assert!((found[0].value - 1.004).abs() < 0.001);
    }

    #[test]
    fn in_a_track_it_slides() {
        let mut plan = with_gear(plate_or_track(1500.0, 0.0));
        std::sync::Arc::make_mut(&mut plan.gear[0].spec).metal_span = Some(Length::mm(600.0));
        fires(&plan, CHECK, &[Severity::Note]);
        plan.gear[0].mount = Mount::Track;
        fires(&plan, CHECK, &[]);
    }
}
