//! `hole-open`: an existing hole that nothing uses and nothing closes.

use super::hole_words::{Verdict, Voice, own_id, per_owner, waterline};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{Fate, Plug};
use crate::study::fastening::plug_for;
use crate::study::holes::{Hole, HoleState};

/// The check.
pub const CHECK: Check = Check { id: "hole-open", title: "an old hole that nothing closes", doc: DOC, run };

const DOC: &str = "\
What it checks
Every existing hole that is neither used again nor plugged, one that is said to be reused but meets no
hole of that gear, and one under the water, the boat as planned at rest, that is plugged with something
other than a weld.

Why it matters
Each open hole drinks a little of every wave, and inside the hull it is not seen until the boat is
heavy.

Limit and source
Open: caution. Open and below the loaded waterline (`hole-below-water.stop`, 0 mm): stop. Below the
waterline and closed otherwise than by plastic weld: caution. Common practice, no source. Where the boat
as planned finds no rest, the hull's stated waterline stands in, and the finding says so.

What to do
Use it for something, or close it. Up to 6 mm: a bolt with washers and gasket; to 13 mm an expanding
rubber plug; wider, a blanking plate of three times its diameter with a gasket, or a fitting that covers
it. At or below the waterline: weld it with parent plastic, or have the dealer do it. Not epoxy, not
silicone alone.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let water = case.limits.get("hole-below-water.stop");
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        let wet = hole.above_water_mm < water;
        let depth = water - hole.above_water_mm;
        match hole.state {
            HoleState::Open if wet => {
                let says = format!("{} {depth:.0} mm under {}", open_words(case, hole), waterline(case));
                let remedy = "weld it with parent plastic, or have the hull's dealer do it, before she floats".into();
                Some(Verdict::at_least(Severity::Stop, hole.above_water_mm, water, says, remedy))
            }
            HoleState::Open => {
                let plug = plug_for(hole.bore_mm, false).word();
                let remedy = format!("use it for something, or close it: {plug}");
                Some(Verdict::none_of(Severity::Caution, open_words(case, hole), remedy))
            }
            HoleState::Plugged(plug) if wet && plug != Plug::PlasticWeld => {
                let says = format!("closed with {} {depth:.0} mm under {}", plug.word(), waterline(case));
                let remedy = "weld it with parent plastic, or ask the hull's dealer".into();
                Some(Verdict::at_least(Severity::Caution, hole.above_water_mm, water, says, remedy))
            }
            _ => None,
        }
    });
}

fn open_words(case: &Case<'_>, hole: &Hole) -> String {
    let fate = own_id(hole).and_then(|id| case.plan.penetration(id)).map(|penetration| penetration.fate);
    match fate {
        Some(Fate::Reused(gear)) => {
            format!("meets no hole of {}, which is to reuse it, and is open", Subject::Gear(gear).named(case.plan))
        }
        _ => "an open hole".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::GearId;
    use crate::units::Length;

    #[test]
    fn open_is_a_caution_and_open_under_water_a_stop() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::Open);
        fires(&plan, CHECK, &[Severity::Caution]);
        set_deck(&mut plan, 0.01);
        fires(&plan, CHECK, &[Severity::Caution]);
        set_deck(&mut plan, -0.01);
        fires(&plan, CHECK, &[Severity::Stop]);
        plan.penetrations[0].fate = Fate::Plugged(Plug::RubberPlug);
        fires(&plan, CHECK, &[Severity::Caution]);
        plan.penetrations[0].fate = Fate::Plugged(Plug::PlasticWeld);
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn a_plugged_hole_over_water_is_done_with() {
        fires(&with_hole(1500.0, 0.0, 5.0, Fate::Plugged(Plug::RubberPlug)), CHECK, &[]);
    }

    #[test]
    fn a_hole_serves_within_5_mm_and_a_millimetre_of_bore() {
        // The plate has a hole at its middle, 5 mm wide.
        let mut plan = with_gear(plate(1500.0, 0.0));
        add_hole(&mut plan, 1495.0, 0.0, 6.0, Fate::Reused(GearId(1)));
        fires(&plan, CHECK, &[]);
        plan.penetrations[0].bore = Length::mm(6.1);
        fires(&plan, CHECK, &[Severity::Caution]);
        plan.penetrations[0].bore = Length::mm(4.0);
        plan.penetrations[0].x = Length::mm(1494.9);
        let found = fires(&plan, CHECK, &[Severity::Caution]);
        assert!(found[0].says.contains("meets no hole"), "{}", found[0].says);
    }
}
