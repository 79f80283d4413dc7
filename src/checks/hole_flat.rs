//! `hole-flat`: a flat base on a crowned surface.

use super::hole_words::{Verdict, Voice};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{BuildState, Curve, Mount};
use crate::study::fastening::sagitta_gap;
use crate::study::rig::Support;

/// The check.
pub const CHECK: Check = Check { id: "hole-flat", title: "a flat base on a curved surface", doc: DOC, run };

const DOC: &str = "\
What it checks
The gap that opens under a bolted, riveted or flush base across a zone that is crowned: w squared over 8
R, w being the base across the boat and R the crown's radius.

Why it matters
A base that touches only in the middle rocks; drawn down hard it bends the hull or cracks at its ears,
and water gets under the gasket.

Limit and source
Caution over 1.5 mm (`hole-flat.caution`), what a gasket takes; stop over 3 mm (`hole-flat.stop`), what
thick closed-cell foam takes. Common practice, no source; the formula is the sagitta of a chord.

What to do
Choose a flatter place, turn the base so that its short side lies across, bed it on 3 mm closed-cell
neoprene, or shape a packer to the hull.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let (caution, stop) = (case.limits.get("hole-flat.caution"), case.limits.get("hole-flat.stop"));
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    for item in &case.study.rig.items {
        let Some(gear) = case.plan.gear.get(item.index) else { continue };
        let sits_on_skin = item.fit.support() == Some(Support::Skin)
            && matches!(gear.mount, Mount::Bolts | Mount::Rivets | Mount::Flush);
        let crown = item.zone.and_then(|id| case.plan.zone(id)).map(|zone| zone.curve);
        let (true, Some(Curve::Radius(radius))) = (sits_on_skin && gear.state < BuildState::Bedded, crown) else {
            continue;
        };
        let (low, high) = item.base.bounds();
        let width = high.y - low.y;
        let gap = sagitta_gap(width, radius.to_mm());
        let (severity, limit) = match gap {
            gap if gap > stop => (Severity::Stop, stop),
            gap if gap > caution => (Severity::Caution, caution),
            _ => continue,
        };
        let says =
            format!("{}: its base, {width:.0} mm across, leaves a gap of {gap:.1} mm on the crowned deck", gear.label);
        let remedy = if severity == Severity::Stop {
            "shape a packer to the hull, choose a smaller base or a flatter place"
        } else {
            "bed it on 3 mm closed-cell neoprene, or choose a flatter place"
        };
        let verdict = Verdict::at_most(severity, gap, limit, says, remedy.into());
        findings.push(verdict.finding(voice, Subject::Gear(gear.id), item.at));
    }
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::BuildState;
    use crate::units::{Angle, Length};

    /// The plate's base is 60 by 40 mm: across it measures 40 mm, turned a quarter 60 mm.
    fn on_crown(radius: f64, turn: f64) -> crate::plan::Plan {
        let mut plan = with_gear(plate(1500.0, 0.0));
        change_deck(&mut plan, |zone| zone.curve = Curve::Radius(Length::mm(radius)));
        if let Some(place) = &mut plan.gear[0].place {
            place.turn = Angle::deg(turn);
        }
        plan
    }

    #[test]
    fn the_gap_decides() {
        // 60^2 / (8 x 300) = 1.5 exactly; 60^2 / (8 x 150) = 3.0 exactly.
        fires(&on_crown(300.0, 90.0), CHECK, &[]);
        fires(&on_crown(299.0, 90.0), CHECK, &[Severity::Caution]);
        fires(&on_crown(150.0, 90.0), CHECK, &[Severity::Caution]);
        fires(&on_crown(149.0, 90.0), CHECK, &[Severity::Stop]);
        fires(&on_crown(149.0, 0.0), CHECK, &[]);
    }

    #[test]
    fn what_is_bedded_has_found_its_seat() {
        let mut plan = on_crown(149.0, 90.0);
        plan.gear[0].state = BuildState::Bedded;
        fires(&plan, CHECK, &[]);
    }
}
