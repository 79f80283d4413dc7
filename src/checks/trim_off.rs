//! `trim-off`: one end lies too deep.

use super::finding::COMMON_PRACTICE;
use super::float_words::{FLOAT_TEST, gunwale, over, trim};
use super::shift;
use super::{Case, Check, Finding, Severity, Subject};
use crate::geometry::Spot;

/// The check.
pub const CHECK: Check = Check { id: "trim-off", title: "one end lies too deep at rest", doc: DOC, run };

const DOC: &str = "\
What it checks
The trim at rest, as planned: how far the boat lies by the stern or bow down.

Why it matters
Bow down she digs in and suddenly veers. Far by the stern the bow slaps and blows off, the well behind
the seat floods, and a stern motor at power pulls the stern deeper still. Small plastic boats run best
level to half a degree by the stern.

Limit and source
Level to 0.5 deg by the stern is right (`trim-off.right`). Caution over 1 deg by the stern
(`trim-off.stern`) or 0.2 deg bow down (`trim-off.bow`), stop over 2 deg either way (`trim-off.stop`).
Common practice, no source.

What to do
Move the heaviest thing that can be moved towards the high end, or the seat by a notch or two. The
distance given brings the trim back to what is right: moment = displacement x longitudinal metacentric
height x tangent of the trim.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(rest) = case.study.float.rest() else { return };
    let form = &case.plan.hull.form;
    let (deg, bow_down) = (rest.trim_deg.abs(), rest.trim_deg > 0.0);
    let side = if bow_down { "trim-off.bow" } else { "trim-off.stern" };
    let bands = [("trim-off.stop", Severity::Stop), (side, Severity::Caution)];
    let Some((limit, severity)) = over(case, deg, &bands) else { return };
    let right = if bow_down { 0.0 } else { case.limits.get("trim-off.right") };
    let tangent = deg.to_radians().tan() - right.to_radians().tan();
    let moment = rest.displacement_kg * rest.gm_long_mm * tangent;
    let to_move = shift::remedy(case, Spot::new(if bow_down { -moment } else { moment }, 0.0));
    let higher = (rest.draft_fore_mm - rest.draft_aft_mm).abs();
    let (deep, other) = if bow_down { ("bow", "stern") } else { ("stern", "bow") };
    findings.push(Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Plan,
        at: if bow_down { form.sections.last() } else { form.sections.first() }
            .and_then(|deep| gunwale(case, deep.x_mm, 0.0)),
        value: deg,
        limit,
        margin: limit - deg,
        unit: "deg",
        says: format!(
            "As planned it lies {}: the water stands {higher:.0} mm higher at the {deep} than at the {other}.",
            trim(rest.trim_deg)
        ),
        remedy: if severity == Severity::Stop { format!("{to_move} {FLOAT_TEST}") } else { to_move },
        source: COMMON_PRACTICE,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{KG, ballast, boat, distance, findings, one, trimmed};
    use crate::checks::test_power::{add, place};
    use crate::plan::Kind;
    use crate::units::{Figure, Mass};

    /// The box trimmed by hand, positive bow down.
    fn check(deg: f64, severity: Option<Severity>) {
        let found = findings(&boat(300.0, trimmed(deg)), CHECK.id);
        assert_eq!(found.first().map(|f| f.severity), severity, "{deg} deg: {found:?}");
        assert!(found.iter().all(|f| (f.value - deg.abs()).abs() < 1e-6 && f.margin < 0.0), "{deg} deg: {found:?}");
    }

    #[test]
    fn the_bow_has_less_room_than_the_stern() {
        check(-2.01, Some(Severity::Stop));
        check(-1.99, Some(Severity::Caution));
        check(-1.01, Some(Severity::Caution));
        check(-0.99, None);
        check(0.0, None);
        check(0.19, None);
        check(0.21, Some(Severity::Caution));
        check(1.99, Some(Severity::Caution));
        check(2.01, Some(Severity::Stop));
    }

    #[test]
    fn the_heaviest_piece_goes_forward_by_as_much_as_is_needed() {
        let mut plan = boat(300.0, trimmed(0.0));
        let cooler = add(&mut plan, "cooler", Kind::Cooler, Figure::measured(Mass::kg(40.0)), None);
        add(&mut plan, "crate", Kind::Storage, Figure::measured(Mass::kg(9.0)), None);
        place(&mut plan, cooler, 500.0);
        ballast(&mut plan, KG, trimmed(-1.2));
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(
            found.says.contains("1.2 deg by the stern: the water stands 75 mm higher at the stern"),
            "{}",
            found.says
        );
        // By hand: 230.2 kg x 13 340 mm x (tan 1.2 - tan 0.5 deg) = 37 528 kg mm, 938.2 mm for 40 kg.
        let (label, mm, way) = distance(&found.remedy);
        assert_eq!((label.as_str(), way.as_str()), ("cooler", "forward"));
        assert!((mm - 938.5).abs() < 1.5, "{}", found.remedy);
        // The seat would have to go 469 mm, beyond its rails.
        assert!(!found.remedy.contains("seat"), "{}", found.remedy);
        place(&mut plan, cooler, 500.0 + mm);
        assert!(findings(&plan, CHECK.id).is_empty());
    }

    #[test]
    fn the_seat_goes_in_notches() {
        // By hand: 230.2 kg x 13 340 mm x tan 0.25 deg = 13 398 kg mm, 167 mm for an angler of 80 kg: 7 x 25 mm.
        let found = one(&boat(300.0, trimmed(0.25)), CHECK.id, Severity::Caution);
        assert_eq!(found.remedy, "Move the seat 175 mm aft.");
    }

    #[test]
    fn where_nothing_can_be_moved_a_mass_is_named() {
        // By hand: 230.2 kg x 13 340 mm x (tan 1.5 - tan 0.5 deg) = 53 612 kg mm; the seat would go 670 mm.
        let found = one(&boat(300.0, trimmed(-1.5)), CHECK.id, Severity::Caution);
        let kg = found.remedy.strip_prefix("Move ").and_then(|text| text.strip_suffix(" kg 1000 mm forward."));
        let kg: f64 = kg.and_then(|kg| kg.parse().ok()).unwrap_or_default();
        assert!((kg - 53.6).abs() < 0.2, "{}", found.remedy);
    }
}
