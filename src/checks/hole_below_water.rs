//! `hole-below-water`: a hole under the loaded waterline.

use super::hole_words::{Verdict, Voice, is_new, per_owner, waterline};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity};

/// The check.
pub const CHECK: Check = Check { id: "hole-below-water", title: "a hole under the loaded waterline", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether a hole that is to be drilled, or is in use, lies under the water when the boat as planned is at
rest, with its trim and list. On an upright wall the lowest point of the hole counts.

Why it matters
Above the water a bad seal lets in spray. Under it, it lets in the lake, for as long as the boat floats.
People who rig many boats drill no holes there at all and use the moulded scuppers and recesses.

Limit and source
Height over the loaded waterline: 0 mm (`hole-below-water.stop`). New holes: stop. Holes that exist and
are used: caution. Common practice, no source. The waterline is computed from the hull's form and the
masses in the plan: mark it on the loaded boat before you trust it. Where the boat as planned finds no
rest, the hull's stated waterline stands in, and the finding says so.

What to do
Move the gear up, or hold it in a scupper, a recess or with an arm over the side. Nothing below the
waterline without the hull's maker or dealer. A hole that is there already: test it wet and loaded
before you go out.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let limit = case.limits.get("hole-below-water.stop");
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        if !hole.state.in_use() || hole.above_water_mm >= limit {
            return None;
        }
        let depth = -hole.above_water_mm;
        Some(if is_new(hole) {
            Verdict::at_least(
                Severity::Stop,
                hole.above_water_mm,
                limit,
                format!("a new hole {depth:.0} mm under {}", waterline(case)),
                "move it up, or use a scupper or recess; nothing below the waterline without the hull's maker or dealer"
                    .into(),
            )
        } else {
            Verdict::at_least(
                Severity::Caution,
                hole.above_water_mm,
                limit,
                format!("the hole in use lies {depth:.0} mm under {}", waterline(case)),
                "test it loaded in shallow water first; ask the hull's maker or dealer before you change it".into(),
            )
        })
    });
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::{BuildState, Curve, Fate};

    /// A plan whose water stands this far over the deck.
    fn drowned(by: f64) -> crate::plan::Plan {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        set_deck(&mut plan, -by);
        plan
    }

    #[test]
    fn at_the_waterline_is_not_under_it() {
        fires(&drowned(-0.01), CHECK, &[]);
        fires(&drowned(0.01), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn a_hole_that_is_there_is_cautioned() {
        let mut plan = with_gear(plate(1500.0, 0.0));
        set_deck(&mut plan, -10.0);
        fires(&plan, CHECK, &[Severity::Stop]);
        plan.gear[0].state = BuildState::Drilled;
        fires(&plan, CHECK, &[Severity::Caution]);
    }

    #[test]
    fn where_the_boat_finds_no_rest_the_stated_waterline_stands_in() {
        // 50 mm over the computed water is 0.01 mm under or over the stated 150 mm.
        let mut plan = drowned(-49.99);
        fires(&plan, CHECK, &[]);
        turn_over(&mut plan);
        let found = fires(&plan, CHECK, &[Severity::Stop]);
        assert!(found[0].says.contains("stated waterline (as planned the boat finds no rest)"), "{}", found[0].says);
        set_deck(&mut plan, 50.01);
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn on_an_upright_wall_the_lowest_point_counts() {
        let mut plan = with_hole(1500.0, 0.0, 20.0, Fate::New);
        set_deck(&mut plan, 9.0);
        fires(&plan, CHECK, &[]);
        change_deck(&mut plan, |zone| {
            zone.upright = true;
            zone.curve = Curve::Flat;
        });
        fires(&plan, CHECK, &[Severity::Stop]);
    }
}
