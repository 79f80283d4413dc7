//! `list-off`: the boat leans to one side at rest.

use super::finding::COMMON_PRACTICE;
use super::float_words::{FLOAT_TEST, gunwale, list, over};
use super::shift;
use super::{Case, Check, Finding, Severity, Subject};
use crate::geometry::Spot;

/// The check.
pub const CHECK: Check = Check { id: "list-off", title: "it leans to one side at rest", doc: DOC, run };

const DOC: &str = "\
What it checks
The list at rest, as planned, the person sitting on the centreline.

Why it matters
Half a degree goes unnoticed, one shows in the seat, two tire the back and pull the bow to one side, and
what heels the boat further starts from there.

Limit and source
Note over 0.5 deg (`list-off.note`), caution over 1 deg (`list-off.caution`), stop over 3 deg
(`list-off.stop`). Common practice, no source.

What to do
Move one heavy thing across, towards the high side. The distance given brings the centre of all weight
to the middle line: moment = mass x its distance from there, which is displacement x metacentric height
x tangent of the list. Where the boat leans to a side of its own because it is tender, weight has to go
lower instead. Mind that a person sits a centimetre off the middle without noticing.
";

const BANDS: [(&str, Severity); 3] =
    [("list-off.stop", Severity::Stop), ("list-off.caution", Severity::Caution), ("list-off.note", Severity::Note)];

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some((planned, rest)) = case.study.float.planned().zip(case.study.float.rest()) else { return };
    let deg = rest.heel_deg.abs();
    let Some((limit, severity)) = over(case, deg, &BANDS) else { return };
    let off = -planned.load.mass_kg * planned.load.centre.y;
    let heeling = rest.displacement_kg * rest.gm_mm * rest.heel_deg.to_radians().tan();
    let to_move = if off.abs() < heeling.abs() / 2.0 {
        "It leans because it is tender, not because of what lies off the middle: put weight lower, sit low.".into()
    } else {
        shift::remedy(case, Spot::new(0.0, off))
    };
    findings.push(Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Plan,
        at: gunwale(case, case.study.weights.centre().x, -rest.heel_deg.signum()),
        value: deg,
        limit,
        margin: limit - deg,
        unit: "deg",
        says: format!("As planned it lists {} at rest.", list(rest.heel_deg)),
        remedy: if severity == Severity::Stop { format!("{to_move} {FLOAT_TEST}") } else { to_move },
        source: COMMON_PRACTICE,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{
        KG, METACENTRE, ballast, boat, distance, findings, listed, middle, one, pin, put_across,
    };
    use crate::checks::test_power::add;
    use crate::geometry::Point;
    use crate::plan::Kind;
    use crate::units::{Figure, Mass};

    /// The box listed by hand, positive to starboard.
    fn check(deg: f64, severity: Option<Severity>) {
        for deg in [deg, -deg] {
            let found = findings(&boat(300.0, listed(deg)), CHECK.id);
            assert_eq!(found.first().map(|f| f.severity), severity, "{deg} deg: {found:?}");
            assert!(found.iter().all(|f| (f.value - deg.abs()).abs() < 1e-6), "{deg} deg: {found:?}");
            let side = if deg > 0.0 { "to starboard" } else { "to port" };
            assert!(found.iter().all(|f| f.says.contains(side)), "{deg} deg: {found:?}");
        }
    }

    #[test]
    fn each_side_has_the_same_bands() {
        check(0.49, None);
        check(0.51, Some(Severity::Note));
        check(0.99, Some(Severity::Note));
        check(1.01, Some(Severity::Caution));
        check(2.99, Some(Severity::Caution));
        check(3.01, Some(Severity::Stop));
    }

    #[test]
    fn the_heaviest_piece_goes_to_the_high_side() {
        let mut plan = boat(300.0, middle(200.0));
        let crate_ = add(&mut plan, "crate", Kind::Storage, Figure::measured(Mass::kg(9.0)), None);
        put_across(&mut plan, crate_, -150.0);
        ballast(&mut plan, KG, listed(1.01));
        let found = one(&plan, CHECK.id, Severity::Caution);
        // By hand: 230.2 kg x 506.7 mm x tan 1.01 deg = 2056 kg mm, which is 230.2 kg x 8.9 mm; 228.5 mm for 9 kg.
        let (label, mm, way) = distance(&found.remedy);
        assert_eq!((label.as_str(), way.as_str()), ("crate", "to port"));
        assert!((mm - 229.0).abs() < 1.5, "{}", found.remedy);
        put_across(&mut plan, crate_, mm - 150.0);
        assert!(findings(&plan, CHECK.id).is_empty());
    }

    #[test]
    fn a_tender_boat_that_leans_has_nothing_to_move() {
        // By hand: 5 mm over the metacentre and 0.05 mm off the middle a wall-sided box leans by t = tan(list) with
        // 333.3 t³ - 5 t = 0.05: t = 0.1272, 7.25 deg.
        let found = one(&boat(300.0, Point { y: -0.05, ..middle(METACENTRE + 5.0) }), CHECK.id, Severity::Stop);
        assert!((found.value - 7.25).abs() < 0.02 && found.says.contains("to starboard"), "{found:?}");
        assert!(found.remedy.starts_with("It leans because it is tender"), "{}", found.remedy);
    }

    #[test]
    fn what_is_pinned_stays() {
        let mut plan = boat(300.0, middle(200.0));
        let crate_ = add(&mut plan, "crate", Kind::Storage, Figure::measured(Mass::kg(9.0)), None);
        ballast(&mut plan, KG, listed(1.01));
        pin(&mut plan, crate_);
        // By hand: 230.2 kg x 506.7 mm x tan 1.01 deg = 2056 kg mm over 300 mm.
        assert_eq!(one(&plan, CHECK.id, Severity::Caution).remedy, "Move 6.9 kg 300 mm to port.");
    }
}
