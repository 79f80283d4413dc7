//! `hole-edge`: a new hole too close to an edge.

use super::hole_words::{Verdict, Voice, is_new, per_owner};
use super::{Case, Check, Finding, Severity};
use crate::study::fastening::{Apart, lost_edge, minimum_edge};

/// The check.
pub const CHECK: Check = Check { id: "hole-edge", title: "a new hole too close to an edge", doc: DOC, run };

const DOC: &str = "\
What it checks
The distance from the middle of each new hole to the nearest edge: the deck's own, and the outline of
every zone that is marked as a real edge or radius. On an upright wall it cannot be measured from above
and is not checked.

Why it matters
The plastic between hole and edge carries the load. Where it is thin the hull flexes, the hole grows
long, and a crack starts at it. Edges are also where the wall is thinnest, and a base over a radius does
not seal.

Limit and source
2 diameters (`hole-edge.diameters`; AC 43.13-1B, sheet metal), at least 20 mm (`hole-edge.least`), but
never more than 40 mm of plastic outside the rim (`hole-edge.cutout`): the last two are common practice,
no source. Stop when less than half of that plastic is left, else caution.

What to do
Move the gear inboard, turn its base, or choose a mount without holes there.
";

const SOURCE: &str = "AC 43.13-1B, rivet edge distance 2 D; floor and ceiling for plastic common practice";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let rule = Apart {
        diameters: case.limits.get("hole-edge.diameters"),
        least_mm: case.limits.get("hole-edge.least"),
        cutout_mm: case.limits.get("hole-edge.cutout"),
    };
    let voice = Voice { check: CHECK.id, source: SOURCE };
    per_owner(case, findings, voice, |hole| {
        let edge = hole.edge_mm.filter(|_| is_new(hole))?;
        let needed = minimum_edge(hole.bore_mm, rule);
        if edge >= needed {
            return None;
        }
        let severity = if edge < lost_edge(hole.bore_mm, rule) { Severity::Stop } else { Severity::Caution };
        let says = if edge < 0.0 {
            format!("a new hole {:.0} mm beside the deck", -edge)
        } else {
            format!("a new hole with its middle {edge:.0} mm from an edge; {needed:.0} mm are needed")
        };
        let remedy = format!("move it {:.0} mm away from the edge, or choose a mount without holes", needed - edge);
        Some(Verdict::at_least(severity, edge, needed, says, remedy))
    });
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::Fate;

    fn from_edge(distance: f64, bore: f64) -> crate::plan::Plan {
        with_hole(1500.0, HALF_BEAM - distance, bore, Fate::New)
    }

    #[test]
    fn a_screw_needs_20_mm_and_half_its_plastic() {
        fires(&from_edge(20.0, 5.0), CHECK, &[]);
        fires(&from_edge(19.0, 5.0), CHECK, &[Severity::Caution]);
        fires(&from_edge(11.25, 5.0), CHECK, &[Severity::Caution]);
        fires(&from_edge(11.0, 5.0), CHECK, &[Severity::Stop]);
        fires(&from_edge(-10.0, 5.0), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn a_wide_opening_needs_40_mm_of_plastic() {
        fires(&from_edge(110.0, 140.0), CHECK, &[]);
        fires(&from_edge(109.0, 140.0), CHECK, &[Severity::Caution]);
        fires(&from_edge(89.0, 140.0), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn a_zone_that_only_divides_a_surface_has_no_edge() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        add_zone(&mut plan, (1000.0, 10.0), (2000.0, 200.0), |zone| zone.edge = false);
        fires(&plan, CHECK, &[]);
        change_zone(&mut plan, 1, |zone| zone.edge = true);
        fires(&plan, CHECK, &[Severity::Stop]);
    }

    #[test]
    fn an_edge_under_another_zone_is_not_there() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        add_zone(&mut plan, (1000.0, 10.0), (2000.0, 200.0), |_| ());
        add_zone(&mut plan, (500.0, -300.0), (2500.0, 300.0), |_| ());
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn an_existing_hole_is_past_helping() {
        fires(&with_hole(1500.0, HALF_BEAM - 5.0, 5.0, Fate::Open), CHECK, &[]);
    }
}
