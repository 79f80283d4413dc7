//! `seat-test-odd`: a seat test that no body explains, or that another one contradicts.

use super::words::label;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{GearId, Taken};
use crate::study::envelopes::Motion;
use crate::study::seat_test::Tried;

/// The check.
pub const CHECK: Check =
    Check { id: "seat-test-odd", title: "a seat test contradicts another, or the body", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether the body that explains the seat tests best explains each of them: what was touched is touched, what
was not is not, the eye is where the tape has it. Where two readings cannot both be so, both are named. Also
whether knees and strokes that were found not to be clear are so in the plan.

Why it matters
The seat tests decide what is in reach. One that was noted at the wrong control, or with the seat set
otherwise, bends the arm of every verdict.

Limit and source
15 mm for a touch (`seat-test-odd.touch`), 50 mm for the eye (`seat-test-odd.eye`): common practice, no source.
The arm is refit by at most 90 mm, the lean by 18 deg, the twist by 36, the eye by 75 mm: three times what
persons of one stature differ by.

What to do
Try both again in one sitting, life jacket on. Switch off or strike the reading that was wrong; correct
stature or arm if neither was. What was found in the boat counts more than the sum.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let tests = &case.study.seat_test;
    let (touch, eye) = (case.limits.get("seat-test-odd.touch"), case.limits.get("seat-test-odd.eye"));
    for tried in &tests.tried {
        let other = tried.against.and_then(|index| tests.reading(index));
        // A pair is told once.
        let told = other.is_some_and(|other| other.index < tried.index && other.is_odd(touch));
        if tried.is_odd(touch) && !told {
            found.push(contradiction(case, tried, other, touch));
        }
        if let Some((taped, after)) = tried.eye_mm.filter(|_| tried.off_eye_mm() > eye) {
            let says = format!(
                "by tape the eye is {taped:.0} mm from {}, by the body {after:.0}",
                label(case.plan, tried.gear)
            );
            let remedy =
                "measure it again, sitting as under way; correct the stature, or measure the eye over the seat";
            found.push(finding(tried, (tried.off_eye_mm(), eye), says, remedy.into()));
        }
    }
    for (gear, motion, word) in not_clear(case) {
        let Some(tried) = tests.of_gear(gear) else { continue };
        let clearance = &case.study.clearance;
        let known = clearance.intrusions.iter().any(|intrusion| {
            intrusion.gear == gear
                && clearance.envelopes.get(intrusion.envelope).is_some_and(|envelope| envelope.motion == motion)
        });
        if !known {
            let says = format!("{} was in the way of the {word}, which the plan does not show", label(case.plan, gear));
            let remedy = format!("move it out of the way of the {word}, or measure where it stands");
            found.push(finding(tried, (1.0, 0.0), says, remedy));
        }
    }
}

fn contradiction(case: &Case<'_>, tried: &Tried, other: Option<&Tried>, limit: f64) -> Finding {
    let one =
        |tried: &Tried| format!("reading {} ({} {})", tried.index + 1, label(case.plan, tried.gear), tried.said.word());
    let (says, remedy) = match other {
        Some(other) => (
            format!("{} and {} cannot both be: {:.0} mm apart", one(tried), one(other), tried.miss_mm),
            "try both again in one sitting, and switch off the reading that was wrong",
        ),
        None => (
            format!("{} is {:.0} mm more than any body of this stature explains", one(tried), tried.miss_mm),
            "try it again; correct stature or arm, or switch the reading off",
        ),
    };
    finding(tried, (tried.miss_mm, limit), says, remedy.into())
}

/// Gear that knees or strokes were noted not to be clear of.
fn not_clear(case: &Case<'_>) -> Vec<(GearId, Motion, &'static str)> {
    let mut all = Vec::new();
    for tried in &case.study.seat_test.tried {
        let Some(reading) = case.plan.readings.get(tried.index) else { continue };
        let Taken::SeatTest { knees, strokes, .. } = reading.taken else { continue };
        all.extend((knees == Some(false)).then_some((tried.gear, Motion::Pedals, "knees")));
        all.extend((strokes == Some(false)).then_some((tried.gear, Motion::Stroke, "stroke")));
    }
    all
}

fn finding(tried: &Tried, (value, limit): (f64, f64), says: String, remedy: String) -> Finding {
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(tried.gear),
        at: Some(tried.at),
        value,
        limit,
        margin: limit - value,
        unit: if limit == 0.0 { "count" } else { "mm" },
        says,
        remedy,
        source: COMMON_PRACTICE,
    }
}
