//! `downflood`: water comes in at a small heel.

use super::float_words::{FLOAT_TEST, under};
use super::limits::DOWNFLOODING;
use super::{Case, Check, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::Plan;
use crate::study::float::flooding::{Flooding, Inlet};
use crate::study::rig::HoleRef;

/// The check.
pub const CHECK: Check = Check { id: "downflood", title: "water comes in at a small heel", doc: DOC, run };

const DOC: &str = "\
What it checks
The least heel, as planned and free to trim, at which water comes in: over the gunwale, through a hatch
or through a hole that nothing closes.

Why it matters
From there on it fills: every litre is a kilogram that does not stay where it is, and the boat rights
itself less and less.

Limit and source
Caution under 30 deg (`downflood.caution`), stop under 20 deg (`downflood.stop`). Common practice, no
source; the concept is the downflooding angle of ISO 12217. A hatch counts as open, because on the water
it is opened.

What to do
Close the hole, keep that hatch latched on its gasket under way, leave weight ashore or bring it to the
middle.
";

const BANDS: [(&str, Severity); 2] = [("downflood.stop", Severity::Stop), ("downflood.caution", Severity::Caution)];

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(flooding) = case.study.float.planned().and_then(|planned| planned.flooding) else { return };
    let deg = flooding.heel_deg.abs();
    let Some((limit, severity)) = under(case, deg, &BANDS) else { return };
    let Flooding { inlet, at, .. } = flooding;
    findings.push(Finding {
        check: CHECK.id,
        severity,
        subject: subject(inlet),
        at: Some(at),
        value: deg,
        limit,
        margin: deg - limit,
        unit: "deg",
        says: format!("As planned water comes in {} from {deg:.0} deg of heel.", way_in(case.plan, inlet, at)),
        remedy: format!("{} {FLOAT_TEST}", remedy(inlet)),
        source: DOWNFLOODING,
    });
}

fn subject(inlet: Inlet) -> Subject {
    match inlet {
        Inlet::Gunwale => Subject::Plan,
        Inlet::Hatch(feature) => Subject::Feature(feature),
        Inlet::Hole(hole) => Subject::Hole(HoleRef::Own(hole)),
    }
}

fn way_in(plan: &Plan, inlet: Inlet, at: Point) -> String {
    match inlet {
        Inlet::Gunwale => format!("over the gunwale {:.0} mm from the stern", at.x),
        Inlet::Hatch(_) | Inlet::Hole(_) => format!("through {}", subject(inlet).named(plan)),
    }
}

fn remedy(inlet: Inlet) -> &'static str {
    match inlet {
        Inlet::Gunwale => "Leave weight ashore, sit low, bring what is heavy to the middle.",
        Inlet::Hatch(_) => "Keep it latched on its gasket under way and open it in flat water only, sitting still.",
        Inlet::Hole(_) => "Close it, or seal what goes through it, before the boat is afloat.",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{DRAFT, boat, findings, hatch, middle, one, open_hole, well};

    /// By hand: 64 000 mm² of the section lie under water. Heeled so far that the bottom is partly dry they are
    /// a triangle w wide along the bottom, w² tan(heel)/2 = 64 000, and the water reaches w tan(heel) up the side.
    fn side(deg: f64) -> f64 {
        (2.0 * 800.0 * DRAFT * deg.to_radians().tan()).sqrt()
    }

    #[test]
    fn a_gunwale_by_its_height() {
        assert!((side(30.0) - 271.8).abs() < 0.1 && (side(20.0) - 215.8).abs() < 0.1);
        assert!(findings(&boat(side(30.0) + 0.1, middle(150.0)), CHECK.id).is_empty());
        let found = one(&boat(side(30.0) - 0.1, middle(150.0)), CHECK.id, Severity::Caution);
        assert!(found.says.starts_with("As planned water comes in over the gunwale"), "{}", found.says);
        one(&boat(side(20.0) + 0.1, middle(150.0)), CHECK.id, Severity::Caution);
        one(&boat(side(20.0) - 0.1, middle(150.0)), CHECK.id, Severity::Stop);
    }

    #[test]
    fn a_hatch_and_an_open_hole_are_named() {
        // By hand: gunwales 400 mm high go under at 51 deg; the side of the hatch, 150 mm over the bottom and
        // 350 mm out, before 12 deg.
        let mut plan = boat(400.0, middle(150.0));
        assert!(findings(&plan, CHECK.id).is_empty());
        hatch(&mut plan, Point::new(1800.0, -250.0, 150.0));
        let found = one(&plan, CHECK.id, Severity::Stop);
        assert!(found.says.contains("through day hatch from") && found.remedy.contains("latched"), "{found:?}");
        // In the floor of a well 150 mm over the bottom, 240 mm out: at 17.36 deg the triangle is 639.8 mm wide and the
        // water stands (639.8 - 160) tan(17.36 deg) = 150.0 mm over the bottom there.
        let mut plan = boat(400.0, middle(150.0));
        well(&mut plan, 150.0);
        open_hole(&mut plan, 1800.0, -240.0);
        let found = one(&plan, CHECK.id, Severity::Stop);
        assert!(found.says.contains("through old hole from 17 deg") && found.remedy.contains("Close it"), "{found:?}");
    }
}
