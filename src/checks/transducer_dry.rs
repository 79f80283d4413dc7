//! `transducer-dry`: a sonar head whose face is out of the water.

use super::finding::COMMON_PRACTICE;
use super::hole_words::waterline;
use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};

/// The check.
pub const CHECK: Check = Check { id: "transducer-dry", title: "a sonar head out of the water", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether the face of each sonar head, the middle of its lowest body, lies under the water when the boat
as planned is at rest, with its trim and list.

Why it matters
Air does not carry the sound: a head that is dry at rest shows nothing at all, and one that is only just
wet goes blind with every wave.

Limit and source
Caution when the face is more than 0 mm over the water (`transducer-dry.over`). Common practice, no
source.

What to do
Mount it lower or nearer the deep end, or trim the boat. Look at it again with the real load aboard.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let limit = case.limits.get("transducer-dry.over");
    for head in &case.study.transducers.heads {
        let over = head.over_water_mm;
        if over <= limit {
            continue;
        }
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Gear(head.gear),
            at: Some(head.face),
            value: over,
            limit,
            margin: limit - over,
            unit: "mm",
            says: format!(
                "{}: its face is {over:.0} mm over {} at rest.",
                label(case.plan, head.gear),
                waterline(case)
            ),
            remedy: format!("Mount it {:.0} mm lower, or where the boat lies deeper.", (over - limit).ceil()),
            source: COMMON_PRACTICE,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{DRAFT, boat, findings, middle, one, sonar};

    #[test]
    fn a_face_by_its_height() {
        // By hand: the level box draws 80 mm.
        let head = |over: f64| {
            let mut plan = boat(300.0, middle(150.0));
            sonar(&mut plan, DRAFT + over);
            plan
        };
        assert!(findings(&head(-0.01), CHECK.id).is_empty());
        let found = one(&head(5.01), CHECK.id, Severity::Caution);
        assert_eq!(found.says, "sonar head: its face is 5 mm over the loaded waterline at rest.");
        assert!(found.remedy.starts_with("Mount it 6 mm lower"), "{}", found.remedy);
        one(&head(0.01), CHECK.id, Severity::Caution);
    }
}
