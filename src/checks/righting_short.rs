//! `righting-short`: leaning out with a weight in hand uses up most of what rights the boat.

use super::finding::COMMON_PRACTICE;
use super::float_words::FLOAT_TEST;
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::float::leaning::{IN_HAND_KG, Leaning};

/// The check.
pub const CHECK: Check =
    Check { id: "righting-short", title: "leaning out with a weight leaves little to right the boat", doc: DOC, run };

const DOC: &str = "\
What it checks
How far the boat heels when the person leans to the gunwale with 10 kg in hand, to the worse side, against the
heel at which its righting lever is greatest.

Why it matters
Up to its greatest lever a boat gets stiffer the further it heels, beyond that weaker. A lean that takes more than
half of the way there leaves too little for a wave, a slip or a fish that pulls.

Limit and source
Caution when the lean heels it further than 50 percent of the heel of the greatest lever (`righting-short.share`),
or when it turns over. The lean of the upper body and the 10 kg over the gunwale: common practice, no source.

What to do
Keep the head inside the gunwale, lead the fish to the bow or lift it with a net on a long handle, sit low. Move
weight off the side you land on.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let float = &case.study.float;
    let Some(leaning) = &float.leaning else { return };
    let Some(greatest) = float.planned().and_then(|planned| planned.greatest_lever()) else { return };
    let greatest = greatest.heel_deg.abs();
    let limit = greatest * case.limits.get("righting-short.share") / 100.0;
    let (value, says) = match leaning.heel_deg() {
        None => (90.0, format!("{} turns it over.", lean(leaning))),
        Some(heel) if heel > limit => {
            let says = format!(
                "{} heels it {heel:.0} deg; its righting lever is greatest at {greatest:.0} deg.",
                lean(leaning)
            );
            (heel, says)
        }
        Some(_) => return,
    };
    findings.push(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: Some(leaning.load.centre),
        value,
        limit,
        margin: limit - value,
        unit: "deg",
        says,
        remedy: format!(
            "Keep the head inside the gunwale, land the fish from the bow or with a long net, sit low. {FLOAT_TEST}"
        ),
        source: COMMON_PRACTICE,
    });
}

fn lean(leaning: &Leaning) -> String {
    format!("Leaning to {} with {IN_HAND_KG:.0} kg in hand", leaning.side.word())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{METACENTRE, boat, findings, limited, middle, one};
    use crate::study::Study;

    #[test]
    fn half_of_the_way_to_the_greatest_lever_is_the_limit() {
        let plan = boat(300.0, middle(METACENTRE - 250.0));
        let float = Study::of(&plan).float;
        let heel = float.leaning.as_ref().and_then(Leaning::heel_deg).unwrap_or_default();
        let greatest = float.planned().and_then(|planned| planned.greatest_lever()).map_or(0.0, |arm| arm.heel_deg);
        let share = 100.0 * heel / greatest;
        assert!(findings(&limited(&plan, "righting-short.share", share + 0.1), CHECK.id).is_empty());
        let found = one(&limited(&plan, "righting-short.share", share - 0.1), CHECK.id, Severity::Caution);
        assert!((found.value - heel).abs() < 1e-9 && found.says.contains("with 10 kg in hand heels it"), "{found:?}");
    }

    #[test]
    fn a_stiff_box_bears_it_and_a_tender_one_does_not() {
        // By hand: trunk 0.678 x 0.626 x 0.288 x 1756 mm x cos 10 deg = 211 mm from the hip, leant 25 deg: 89 mm
        // aside for 80 kg, and 10 kg at 400 mm: 11 120 kg mm, 46.3 mm for 240 kg. With 507 mm of metacentric height
        // that is some 5 deg. Heeled beyond 11.3 deg the section under water is a triangle w wide, w² tan(heel) =
        // 128 000: lever (400 - w/3) cos + (w tan/3 - KG) sin. It is 128, 146, 154, 156, 154 mm at 15 to 35 deg.
        assert!(findings(&boat(300.0, middle(200.0)), CHECK.id).is_empty());
        // With 250 mm it is some 10 deg, and the levers are 45, 62, 59 mm at 10, 15, 20 deg.
        let found = one(&boat(300.0, middle(METACENTRE - 250.0)), CHECK.id, Severity::Caution);
        assert!((8.0..12.0).contains(&found.value) && found.limit == 7.5, "{found:?}");
        assert!(found.remedy.contains("life jacket"), "{}", found.remedy);
    }

    #[test]
    fn turning_over_has_its_own_words() {
        // With 60 mm no lever is over 13 mm, and 46 mm are asked.
        let found = one(&boat(300.0, middle(METACENTRE - 60.0)), CHECK.id, Severity::Caution);
        assert!(found.says.ends_with("with 10 kg in hand turns it over."), "{}", found.says);
    }
}
