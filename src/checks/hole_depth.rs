//! `hole-depth`: the part behind the skin is deeper than the room there.

use super::hole_words::{Verdict, Voice, is_still_to_fasten, per_owner};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::study::holes::Beneath;

/// The check.
pub const CHECK: Check = Check { id: "hole-depth", title: "no room behind the skin for the part", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether what stands behind the skin (the body of a flush part, the end of a bolt) fits into the clear
depth there. Foam blocks, scupper tubes, rod tubes and gear stowed inside shorten that depth.

Why it matters
A socket that meets a foam block, or a bolt that meets the battery, shows after the hole is cut.

Limit and source
Needed depth at most the clear depth: stop. Plain geometry. The clear depth is the zone's figure: feel
for it through the nearest hatch and write down what you find.

What to do
Move the part, choose a shallower one, raise it on a spacer, or measure the depth if it is only a guess.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        if !is_still_to_fasten(case, hole) || hole.behind_mm <= hole.inside_mm {
            return None;
        }
        let met = match hole.beneath {
            Some(Beneath::Feature(id)) => format!(" before {}", Subject::Feature(id).named(case.plan)),
            Some(Beneath::Gear(id)) => format!(" before {}", Subject::Gear(id).named(case.plan)),
            None => String::new(),
        };
        let (needs, clear) = (hole.behind_mm, hole.inside_mm);
        let says = format!("needs {needs:.0} mm behind the skin, {clear:.0} mm are clear{met}");
        let remedy = format!("move it, or raise it on a spacer of {:.0} mm; measure the depth first", needs - clear);
        Some(Verdict::at_most(Severity::Stop, needs, clear, says, remedy))
    });
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::geometry::Point;
    use crate::plan::{BuildState, FeatureKind};
    use crate::units::Length;

    #[test]
    fn the_zone_tells_the_depth() {
        let depth = |behind| with_gear(socket(1500.0, 0.0, behind));
        fires(&depth(INSIDE), CHECK, &[]);
        fires(&depth(INSIDE + 1.0), CHECK, &[Severity::Stop]);
        let mut plan = depth(INSIDE + 1.0);
        plan.gear[0].state = BuildState::Bedded;
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn foam_below_shortens_it() {
        let mm = Length::mm;
        let mut plan = with_gear(socket(1500.0, 0.0, 50.0));
        // Its top is 50 mm under the back of the skin.
        let top = DECK - WALL - 50.0;
        let foam = FeatureKind::Foam { length: mm(400.0), width: mm(200.0), height: mm(100.0) };
        add_feature(&mut plan, Point::new(1500.0, 0.0, top - 50.0), foam.clone());
        fires(&plan, CHECK, &[]);
        add_feature(&mut plan, Point::new(1500.0, 0.0, top - 49.0), foam);
        fires(&plan, CHECK, &[Severity::Stop]);
    }
}
