//! `transducer-low`: a sonar head that is the lowest part of the boat.

use super::finding::COMMON_PRACTICE;
use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};

/// The check.
pub const CHECK: Check = Check { id: "transducer-low", title: "a sonar head below the hull", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether the face of each sonar head lies below the lowest line of the hull.

Why it matters
The head lands first: on the beach, on the ramp, on the bunk of a trailer, on every stone. It also drags
weed and is torn off with the scupper or bolts that hold it.

Limit and source
Caution when the face is less than 0 mm over the lowest hull line (`transducer-low.over`). Common
practice, no source (usual is a face 3 to 5 mm higher than the hull).

What to do
Use a recess, or a mount that swings up or breaks away, and lift it before the boat lands or is loaded.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let limit = case.limits.get("transducer-low.over");
    for head in &case.study.transducers.heads {
        let over = head.over_hull_mm;
        if over >= limit || !over.is_finite() {
            continue;
        }
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Gear(head.gear),
            at: Some(head.face),
            value: over,
            limit,
            margin: over - limit,
            unit: "mm",
            says: format!(
                "{}: its face hangs {:.0} mm below the lowest line of the hull.",
                label(case.plan, head.gear),
                -over
            ),
            remedy: format!(
                "Raise it by {:.0} mm, use a recess, or a mount that swings up, and lift it before landing or loading.",
                (limit - over).ceil()
            ),
            source: COMMON_PRACTICE,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{boat, findings, middle, one, recess, sonar, under_the_hull};

    #[test]
    fn a_face_against_the_keel() {
        let head = |over: f64| {
            let mut plan = boat(300.0, middle(150.0));
            sonar(&mut plan, over);
            plan
        };
        assert!(findings(&head(0.01), CHECK.id).is_empty());
        let found = one(&head(-12.01), CHECK.id, Severity::Caution);
        assert_eq!(found.says, "sonar head: its face hangs 12 mm below the lowest line of the hull.");
        assert!(found.remedy.starts_with("Raise it by 13 mm"), "{}", found.remedy);
    }

    #[test]
    fn a_recess_takes_it_in_when_it_is_deep_enough() {
        // The head is 30 mm high and hangs from the bottom.
        let mut plan = boat(300.0, middle(150.0));
        under_the_hull(&mut plan);
        assert!((one(&plan, CHECK.id, Severity::Caution).value + 30.0).abs() < 1e-9);
        recess(&mut plan, 25.0);
        assert!((one(&plan, CHECK.id, Severity::Caution).value + 5.0).abs() < 1e-9);
        let mut plan = boat(300.0, middle(150.0));
        under_the_hull(&mut plan);
        recess(&mut plan, 30.0);
        assert!(findings(&plan, CHECK.id).is_empty());
    }
}
