//! `hole-splash`: a hole above the waterline but where water comes all day.

use super::hole_words::{Verdict, Voice, per_owner, waterline};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity};
use crate::plan::Carries;
use crate::study::holes::{HEEL_DEG, Hole, HoleState};

/// The check.
pub const CHECK: Check = Check { id: "hole-splash", title: "a hole close above the waterline", doc: DOC, run };

const DOC: &str = "\
What it checks
The height over the water, the boat as planned at rest, of every hole through which a cable or a part
passes, and of every hole in an upright wall. It tells as well where the hole is when the boat heels 15
degrees to its side, free to sink and trim.

Why it matters
A gland that is rinsed by every wave leaks one day, unseen. A side wall is under water whenever the boat
leans.

Limit and source
Passages: caution below 60 mm (`hole-splash.caution`), note below 100 mm (`hole-splash.note`). Any hole
in an upright wall: caution below 120 mm (`hole-splash.upright`). Common practice, no source. Where the
boat as planned finds no rest, the heights are those over the hull's stated waterline.

What to do
Move the hole up, to the top of a raised place, away from corners where puddles stand. Where it must
stay, use a fitting rated for immersion and look behind it after every trip.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let water = case.limits.get("hole-below-water.stop");
    let [caution, note, wall] =
        ["hole-splash.caution", "hole-splash.note", "hole-splash.upright"].map(|name| case.limits.get(name));
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        let height = hole.above_water_mm;
        if !matches!(hole.state, HoleState::New | HoleState::Reused) || height < water {
            return None;
        }
        let (severity, limit) = match hole.carries {
            _ if hole.upright && height < wall => (Severity::Caution, wall),
            Carries::Fastener => return None,
            _ if height < caution => (Severity::Caution, caution),
            _ if height < note => (Severity::Note, note),
            _ => return None,
        };
        let says = format!("only {height:.0} mm over {}; {}", waterline(case), heeled_words(hole));
        let remedy = format!("move it up by {:.0} mm or more, or onto a raised place", limit - height);
        Some(Verdict::at_least(severity, height, limit, says, remedy))
    });
}

fn heeled_words(hole: &Hole) -> String {
    let height = hole.above_water_heeled_mm;
    let side = if height < 0.0 { "under" } else { "over" };
    format!("at {HEEL_DEG:.0} deg of heel {:.0} mm {side} it", height.abs())
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::{Fate, Purpose};

    /// A cable hole in a deck this far over the waterline.
    fn cable_hole(above: f64) -> crate::plan::Plan {
        let mut plan = with_hole(1500.0, 0.0, 20.0, Fate::New);
        plan.penetrations[0].purpose = Purpose::Cable;
        set_deck(&mut plan, above);
        plan
    }

    #[test]
    fn a_passage_is_held_against_two_heights() {
        fires(&cable_hole(100.01), CHECK, &[]);
        fires(&cable_hole(99.99), CHECK, &[Severity::Note]);
        fires(&cable_hole(60.01), CHECK, &[Severity::Note]);
        fires(&cable_hole(59.99), CHECK, &[Severity::Caution]);
    }

    #[test]
    fn it_tells_the_height_at_15_degrees() {
        // By hand: the box of 800 mm puts 80 000 mm² of its section aside. At 15 degrees that is a triangle
        // w wide along the bottom with w² tan(15)/2 = 80 000: w = 772.7 mm, dry beyond 372.7 mm to the other
        // side. Over the bottom 300 mm out to starboard the water stands (372.7 + 300) tan(15) = 180.3 mm;
        // the hole 150 mm over the bottom is (180.3 - 150) cos(15) = 29.2 mm under it.
        for y in [-300.0, 300.0] {
            let mut plan = cable_hole(50.0);
            plan.penetrations[0].y = crate::units::Length::mm(y);
            let found = fires(&plan, CHECK, &[Severity::Caution]);
            assert!(found[0].says.ends_with("at 15 deg of heel 29 mm under it"), "{}", found[0].says);
        }
    }

    #[test]
    fn under_water_is_the_business_of_another_check() {
        fires(&cable_hole(0.01), CHECK, &[Severity::Caution]);
        fires(&cable_hole(-0.01), CHECK, &[]);
    }

    #[test]
    fn a_screw_only_matters_in_an_upright_wall() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        set_deck(&mut plan, 122.49);
        change_deck(&mut plan, |zone| zone.upright = true);
        fires(&plan, CHECK, &[Severity::Caution]);
        set_deck(&mut plan, 122.51);
        fires(&plan, CHECK, &[]);
        change_deck(&mut plan, |zone| zone.upright = false);
        set_deck(&mut plan, 10.0);
        fires(&plan, CHECK, &[]);
    }
}
