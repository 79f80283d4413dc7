//! `floats-not`: the boat sinks, turns over, or has its gunwale under water.

use super::finding::COMMON_PRACTICE;
use super::float_words::{FLOAT_TEST, cases, opening, to_rise};
use super::{Case, Check, Finding, Severity, Subject};
use crate::geometry::{BodyError, Point};
use crate::study::float::{Afloat, Equilibrium, Freeboard, NoFloat};
use crate::units::{Mass, amount};

/// The check.
pub const CHECK: Check = Check { id: "floats-not", title: "it does not float upright with this load", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether the boat comes to rest upright with its gunwale out of the water, as planned and with the
livewell full: whether the closed hull carries the load, whether it turns over, whether it stays where
it balances, and whether the hull's form is a body that can float at all.

Why it matters
Everything else said about water, trim and heel follows from a boat at rest. Where there is no rest, the
person goes into the water.

Limit and source
Stop when no rest is found; when the metacentric height is under 0 mm; when the lowest spot of the
gunwale lies under 0 mm over the water (`floats-not.gunwale`). The hull is taken as closed and decked
across its gunwale. Common practice, no source.

What to do
Take weight off, put it lower and to the middle, take the larger hull. Where the form is no body,
measure its sections again. Nothing here replaces a float test in shallow water with a life jacket on.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let verdict = match &case.study.float.cases {
        Err(error) => Some(no_body(*error)),
        Ok(_) => cases(case).find_map(|afloat| judge(case, afloat)),
    };
    findings.extend(verdict.map(|verdict| Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Plan,
        at: verdict.at,
        value: verdict.value,
        limit: verdict.limit,
        margin: verdict.margin,
        unit: verdict.unit,
        says: verdict.says,
        remedy: verdict.remedy,
        source: COMMON_PRACTICE,
    }));
}

struct Verdict {
    at: Option<Point>,
    value: f64,
    limit: f64,
    margin: f64,
    unit: &'static str,
    says: String,
    remedy: String,
}

impl Verdict {
    /// There should have been none of these.
    fn none_of(at: Option<Point>, says: String, remedy: String) -> Self {
        Self { at, value: 1.0, limit: 0.0, margin: -1.0, unit: "count", says, remedy }
    }

    /// The value should have been at least the limit, mm.
    fn at_least(at: Point, value: f64, limit: f64, says: String, remedy: String) -> Self {
        Self { at: Some(at), value, limit, margin: value - limit, unit: "mm", says, remedy }
    }
}

fn no_body(error: BodyError) -> Verdict {
    let says = format!("The hull's form is no body that floats: {error}.");
    let remedy = "Measure that section again, from the keel out to the gunwale; until then nothing about water can \
                  be told."
        .into();
    Verdict::none_of(None, says, remedy)
}

fn judge(case: &Case<'_>, afloat: &Afloat) -> Option<Verdict> {
    match &afloat.rest {
        Err(NoFloat::TooHeavy { most_kg }) => Some(too_heavy(case, afloat, *most_kg)),
        Err(error) => Some(no_rest(case, afloat, *error)),
        Ok(rest) => unstable(case, afloat).or_else(|| swamped(case, afloat, rest)),
    }
}

fn too_heavy(case: &Case<'_>, afloat: &Afloat, most_kg: f64) -> Verdict {
    let kg = afloat.load.mass_kg;
    let beside_hull = (most_kg - case.plan.hull.mass.value.to_kg()).max(0.0);
    Verdict {
        at: Some(afloat.load.centre),
        value: kg,
        limit: most_kg,
        margin: most_kg - kg,
        unit: "kg",
        says: format!(
            "{} it sinks: {} with the hull, and the closed hull put wholly under water carries {} at most, {} beside \
             its own weight.",
            opening(afloat),
            amount(Mass::kg(kg), 1),
            amount(Mass::kg(most_kg), 1),
            amount(Mass::kg(beside_hull), 1),
        ),
        remedy: format!(
            "Leave more than {} ashore, or take a larger hull. {FLOAT_TEST}",
            amount(Mass::kg(kg - most_kg), 1)
        ),
    }
}

fn no_rest(case: &Case<'_>, afloat: &Afloat, error: NoFloat) -> Verdict {
    let centre = afloat.load.centre;
    let says = match error {
        NoFloat::TurnsOver => format!("{} it turns over: no rest is found upright.", opening(afloat)),
        error => format!("{} no rest is found: {error}.", opening(afloat)),
    };
    let off = centre.y.abs();
    let side = if centre.y > 0.0 { "port" } else { "starboard" };
    let (over, out) = (centre.z, if off < 1.0 { String::new() } else { format!(" and {off:.0} mm to {side}") });
    let remedy = format!(
        "The centre of all weight is {over:.0} mm over the keel{out}: sit low, put the {heaviest} lower and to the \
         middle. {FLOAT_TEST}",
        heaviest = heaviest(case),
    );
    Verdict::none_of(Some(centre), says, remedy)
}

/// It balances upright, and falls over at the first touch.
fn unstable(case: &Case<'_>, afloat: &Afloat) -> Option<Verdict> {
    let gm = afloat.gm_mm().filter(|gm| *gm < 0.0)?;
    let says = format!(
        "{} it does not stay upright: the metacentre is {:.0} mm under the centre of all weight.",
        opening(afloat),
        -gm
    );
    let remedy = format!(
        "Bring the centre of all weight down by more than {:.0} mm: sit low, put the {} lower. {FLOAT_TEST}",
        -gm,
        heaviest(case)
    );
    Some(Verdict::at_least(afloat.load.centre, gm, 0.0, says, remedy))
}

fn swamped(case: &Case<'_>, afloat: &Afloat, rest: &Equilibrium) -> Option<Verdict> {
    let limit = case.limits.get("floats-not.gunwale");
    let Freeboard { at, height_mm } = afloat.least_freeboard().filter(|low| low.height_mm < limit)?;
    let off = to_rise(limit - height_mm, rest.kg_per_cm);
    let carries = (afloat.load.mass_kg - (limit - height_mm) / 10.0 * rest.kg_per_cm).max(0.0);
    let says = format!(
        "{} the gunwale lies {:.0} mm {} the water at rest; short of that it carries about {carries:.0} kg, the hull \
         counted.",
        opening(afloat),
        height_mm.abs(),
        if height_mm < 0.0 { "under" } else { "over" },
    );
    let remedy = format!("Leave {off} ashore, or bring the weight towards the other end and side. {FLOAT_TEST}");
    Some(Verdict::at_least(at, height_mm, limit, says, remedy))
}

fn heaviest(case: &Case<'_>) -> String {
    let gear = case.study.rig.items.iter().filter_map(|item| case.plan.gear.get(item.index));
    let heaviest = gear.max_by(|a, b| a.spec.mass.value.to_kg().total_cmp(&b.spec.mass.value.to_kg()));
    heaviest.map_or_else(|| "weight".into(), |gear| gear.label.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{DRAFT, KG, ballast, boat, findings, middle, one};
    use crate::geometry::Section;
    use std::sync::Arc;

    #[test]
    fn a_box_that_carries_as_much_as_it_weighs_sinks() {
        // By hand: the box of the load's draft is full to the brim; a hair deeper it floats, its gunwale out.
        let says = one(&boat(DRAFT - 0.01, middle(30.0)), CHECK.id, Severity::Stop);
        assert!(says.says.contains("carries 230.2 kg at most, 80.0 kg beside"), "{}", says.says);
        assert_eq!(says.unit, "kg");
        assert!(findings(&boat(DRAFT + 0.01, middle(30.0)), CHECK.id).is_empty());
    }

    #[test]
    fn a_gunwale_under_water_stops() {
        // By hand: a centre that trims it 1 deg by the stern lowers the stern's gunwale 1800 tan(1 deg) = 31.4 mm beyond the draft.
        let depth = |over: f64| DRAFT + 1800.0 * 1_f64.to_radians().tan() + over;
        let stern_heavy = |over: f64| boat(depth(over), crate::checks::test_float::trimmed(-1.0));
        assert!(findings(&stern_heavy(0.1), CHECK.id).is_empty());
        let found = one(&stern_heavy(-0.6), CHECK.id, Severity::Stop);
        assert!(found.says.starts_with("As planned the gunwale lies 1 mm under the water"), "{}", found.says);
        assert_eq!(found.at.map(|at| at.x), Some(0.0));
    }

    #[test]
    fn what_balances_without_staying_turns_over() {
        // By hand: metacentre of the box 40 + 800²/(12 x 80) = 706.7 mm over the keel.
        assert!(findings(&boat(300.0, middle(706.5)), CHECK.id).is_empty());
        let found = one(&boat(300.0, middle(706.9)), CHECK.id, Severity::Stop);
        assert!(found.says.contains("does not stay upright"), "{}", found.says);
        let mut aside = boat(300.0, middle(1500.0));
        ballast(&mut aside, KG, Point { y: 200.0, ..middle(1500.0) });
        let found = one(&aside, CHECK.id, Severity::Stop);
        assert!(found.says.contains("turns over") && found.remedy.contains("200 mm to port"), "{found:?}");
    }

    #[test]
    fn sections_that_fold_are_no_body() {
        let mut plan = boat(300.0, middle(200.0));
        let folded = |x_mm| Section { x_mm, points_mm: vec![(0.0, 0.0), (400.0, 300.0), (400.0, 0.0), (0.0, 300.0)] };
        Arc::make_mut(&mut plan.hull).form =
            crate::geometry::Form { sections: vec![folded(0.0), folded(3600.0)] }.into();
        let found = one(&plan, CHECK.id, Severity::Stop);
        assert!(found.says.contains("crosses itself"), "{}", found.says);
    }
}
