//! `righting-short`: leaning out with a weight in hand uses up most of what rights the boat.

use super::finding::COMMON_PRACTICE;
use super::float_words::{FLOAT_TEST, gunwale};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::float::leaning::Leaning;

/// The check.
pub const CHECK: Check =
    Check { id: "righting-short", title: "leaning out with a weight leaves little to right the boat", doc: DOC, run };

const DOC: &str = "\
What it checks
How far the boat heels when the person leans to the gunwale with 10 kg in hand, to the worse side,
against the heel at which its righting lever is greatest. The sum keeps the hips still; people counter
with theirs, and slip.

Why it matters
Up to its greatest lever a boat gets stiffer the further it heels, beyond that weaker. A lean that takes
more than half of the way there leaves too little for a wave, a slip or a fish that pulls.

Limit and source
Caution when the lean heels it further than 50 percent of the heel of the greatest lever
(`righting-short.share`), or when it turns over. The lean of the upper body and the 10 kg over the
gunwale (`righting-short.in-hand`): common practice, no source.

What to do
Keep the head inside the gunwale, lead the fish to the bow or lift it with a net on a long handle, sit
low, put weight lower. Try it with a bucket in shallow water, life jacket on.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let float = &case.study.float;
    let Some(leaning) = &float.leaning else { return };
    let Some(greatest) = float.planned().and_then(|planned| planned.greatest_lever()) else { return };
    let greatest = greatest.heel_deg.abs();
    let limit = greatest * case.limits.get("righting-short.share") / 100.0;
    let (value, says) = match leaning.heel_deg() {
        None => (90.0, format!("{} turns it over.", lean(case, leaning))),
        Some(heel) if heel > limit => {
            let says = format!(
                "{} heels it {heel:.0} deg; its righting lever is greatest at {greatest:.0} deg.",
                lean(case, leaning)
            );
            (heel, says)
        }
        Some(_) => return,
    };
    findings.push(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: gunwale(case, leaning.load.centre.x, leaning.side.sign()),
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

fn lean(case: &Case<'_>, leaning: &Leaning) -> String {
    let in_hand_kg = case.limits.get("righting-short.in-hand");
    format!("Leaning to {} with {in_hand_kg:.0} kg in hand and the hips still", leaning.side.word())
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
        assert!(
            (found.value - heel).abs() < 1e-9 && found.says.contains("with 10 kg in hand and the hips still heels it"),
            "{found:?}"
        );
    }

    #[test]
    fn a_stiff_box_bears_it_and_a_tender_one_does_not() {
        // By hand: 10 kg held 400 mm out are 4000 kg mm, 17 mm of lever for 240 kg; with the trunk leant 25 deg (80 kg
        // x 211 mm x sin 25 deg more) it is 46 mm. With 507 mm of metacentric height that is 2 to 5 deg. Heeled
        // beyond 11.3 deg the section under water is a triangle w wide, w² tan(heel) = 128 000: lever
        // (400 - w/3) cos + (w tan/3 - KG) sin. It is 128, 146, 154, 156, 154 mm at 15 to 35 deg.
        assert!(findings(&boat(300.0, middle(200.0)), CHECK.id).is_empty());
        // With 100 mm the levers are 19, 23, 7 mm at 10, 15, 20 deg: 17 mm are some 10 deg, over half of 15.
        let found = one(&boat(300.0, middle(METACENTRE - 100.0)), CHECK.id, Severity::Caution);
        assert_eq!(found.limit, 7.5, "{found:?}");
        assert!(found.remedy.contains("life jacket"), "{}", found.remedy);
    }

    #[test]
    fn the_weight_in_hand_is_the_plans() {
        let plan = boat(300.0, middle(METACENTRE - 250.0));
        let heel = |kg: f64| {
            let leaning = Study::of(&limited(&plan, "righting-short.in-hand", kg)).float.leaning;
            leaning.as_ref().and_then(Leaning::heel_deg).unwrap_or(f64::NAN)
        };
        // By hand: nothing in hand and no lean is no heel; twice the weight asks twice the lever.
        assert!(heel(0.0).abs() < 1e-6 && heel(5.0) > 0.5, "{}", heel(5.0));
        assert!((heel(10.0) / heel(5.0) - 2.0).abs() < 0.2, "{}", heel(10.0) / heel(5.0));
    }

    #[test]
    fn turning_over_has_its_own_words() {
        // With 60 mm no lever is over 13 mm, and 17 mm or more are asked.
        let found = one(&boat(300.0, middle(METACENTRE - 60.0)), CHECK.id, Severity::Caution);
        assert!(found.says.ends_with("the hips still turns it over."), "{}", found.says);
    }
}
