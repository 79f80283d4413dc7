//! Heavy gear whose mass nobody weighed.

use super::finding::COMMON_PRACTICE;
use super::{Case, Check, Finding, Severity, Subject};
use crate::units::{Mass, Origin, amount};

/// Heavy gear whose mass nobody weighed.
pub const CHECK: Check = Check { id: "mass-unknown", title: "the mass of heavy gear is only a guess", doc: DOC, run };

const DOC: &str = "\
What it checks
Placed gear over one kilogram whose mass is a guess. The value is how far the guess may shift the trim,
stern to bow, in millimetres: the mass's spread times its distance forward or aft of the middle of the
waterplane, over the moment that trims the boat by a millimetre. Where the boat finds no rest it is that
mass times the distance from the boat's centre of mass, in kilogram-metres.

Why it matters
Trim is decided by three to five heavy things. A guess at the end of the boat counts for more than one
under the seat, so the list is ranked by that effect.

Limit and source
Note over 1 kg (`mass-unknown.least`). Common practice, no source. A guess is taken as good to a quarter
when no spread is given.

What to do
Weigh it with bracket, cables and contents, and enter the mass as measured. Start at the top of the
list.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let least = case.limits.get("mass-unknown.least");
    let rest = case.study.float.rest();
    let (pivot, of) = match rest {
        Some(rest) => (rest.flotation.x, "the middle of the waterplane"),
        None => (case.study.weights.centre().x, "the boat's centre of mass"),
    };
    for item in &case.study.rig.items {
        let Some(gear) = case.plan.gear.get(item.index) else { continue };
        let mass = gear.spec.mass;
        if mass.origin != Origin::Guess || mass.value.to_kg() <= least {
            continue;
        }
        let metres = (item.centre().x - pivot) / 1000.0;
        let spread = mass.spread_base();
        let moment = spread * metres.abs();
        let (effect, unit) = match rest {
            Some(rest) => (moment / rest.moment_to_trim_1cm_kgm * 10.0, "mm"),
            None => (moment, "kg m"),
        };
        let trim = rest.map(|_| format!(": {effect:.1} mm of trim, stern to bow")).unwrap_or_default();
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Note,
            subject: Subject::Gear(gear.id),
            at: Some(item.at),
            value: effect,
            limit: 0.0,
            margin: -effect,
            unit,
            says: format!(
                "The mass of {}, {}, is a guess: it may be off by {}, {:.1} m {} of {of}{trim}.",
                gear.label,
                amount(mass.value, 1),
                amount(Mass::kg(spread), 1),
                metres.abs(),
                if metres < 0.0 { "aft" } else { "forward" },
            ),
            remedy: format!("Weigh {} with bracket, cables and contents, and enter it as measured.", gear.label),
            source: COMMON_PRACTICE,
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add, findings, place, plan};
    use crate::plan::Kind;
    use crate::units::Figure;

    /// One crate of this mass: how often the check speaks.
    fn check(mass: Figure<Mass>, speaks: usize) {
        let mut plan = plan();
        add(&mut plan, "crate", Kind::Storage, mass, None);
        assert_eq!(findings(&plan, "mass-unknown").len(), speaks, "{mass:?}");
    }

    #[test]
    fn speaks_of_guesses_over_a_kilogram() {
        check(Figure::guess(Mass::kg(1.0)), 0);
        check(Figure::guess(Mass::kg(1.01)), 1);
        check(Figure::catalogue(Mass::kg(9.0)), 0);
        check(Figure::measured(Mass::kg(9.0)), 0);
    }

    #[test]
    fn it_tells_the_trim_in_millimetres() {
        // By hand, a box of 3.6 x 0.8 m in water of 999.1 kg/m³ under 25 + 80 + 8 kg: draft 39.3 mm, KB 20, BM
        // 3600²/(12 x 39.3) = 27 500 mm; KG some 410 mm: 113 x 27.11 m / 360 = 8.51 kg m a centimetre. A guess of
        // 8 kg is off by 2 kg, 1.2 m aft of the middle: 2.4 kg m, 2.8 mm.
        let mut plan = plan();
        let cooler = add(&mut plan, "cooler", Kind::Cooler, Figure::guess(Mass::kg(8.0)), None);
        place(&mut plan, cooler, 600.0);
        let found = findings(&plan, "mass-unknown");
        let [found] = &found[..] else { panic!("{found:?}") };
        assert!((found.value - 2.8).abs() < 0.05 && found.unit == "mm", "{found:?}");
        assert!(
            found.says.ends_with("1.2 m aft of the middle of the waterplane: 2.8 mm of trim, stern to bow."),
            "{}",
            found.says
        );
    }

    #[test]
    fn what_moves_the_trim_most_comes_first() {
        let mut plan = plan();
        let near = add(&mut plan, "cooler", Kind::Cooler, Figure::guess(Mass::kg(8.0)), None);
        let far = add(&mut plan, "crate", Kind::Storage, Figure::guess(Mass::kg(4.0)), None);
        place(&mut plan, near, 1800.0);
        place(&mut plan, far, 300.0);
        let order: Vec<Subject> = findings(&plan, "mass-unknown").iter().map(|f| f.subject).collect();
        assert_eq!(order, [Subject::Gear(far), Subject::Gear(near)]);
    }
}
