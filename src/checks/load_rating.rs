//! Load over the hull's rating.

use super::finding::COMMON_PRACTICE;
use super::{Case, Check, Finding, Severity, Subject};
use crate::units::{Mass, amount};

/// Load over the hull's rating.
pub const CHECK: Check = Check { id: "load-rating", title: "too much aboard for the hull's rating", doc: DOC, run };

const DOC: &str = "\
What it checks
The mass of everything but the bare hull (angler, placed gear, batteries, water in livewells) over the
hull's rated load, in percent.

Why it matters
A rating is often what floats the boat with its deck awash, not what is comfortable. Near it scuppers
spout, the floor is wet and little is left for a wave, a fish or a lean.

Limit and source
Note over 65, caution over 80, stop over 100 percent. Common practice, no source; the rating itself is
the hull maker's. Person, gear, motor and battery count; ask the maker whether fitted accessories do.

What to do
Leave the heaviest things ashore, carry less water, choose a lighter battery. The rating is the hull
maker's word; only a float test with the real load decides.
";

const BANDS: [(&str, Severity); 3] = [
    ("load-rating.stop", Severity::Stop),
    ("load-rating.caution", Severity::Caution),
    ("load-rating.note", Severity::Note),
];

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let weights = &case.study.weights;
    let percent = weights.load_percent;
    let crossed = BANDS.iter().map(|(name, severity)| (case.limits.get(name), *severity));
    let Some((limit, severity)) = crossed.into_iter().find(|(limit, _)| percent > *limit) else { return };
    let rating = case.plan.hull.rating.value;
    let over = Mass::kg(weights.load.to_kg() - rating.to_kg() * limit / 100.0);
    let heaviest = case
        .study
        .rig
        .items
        .iter()
        .filter_map(|item| case.plan.gear.get(item.index))
        .max_by(|a, b| a.spec.mass.value.to_kg().total_cmp(&b.spec.mass.value.to_kg()))
        .map(|gear| format!("; the heaviest gear is {}, {}", gear.label, amount(gear.spec.mass.value, 1)))
        .unwrap_or_default();
    findings.push(Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Plan,
        at: Some(weights.centre()),
        value: percent,
        limit,
        margin: limit - percent,
        unit: "percent",
        says: format!(
            "Everything but the hull weighs {}: {percent:.0} % of the rated {}.",
            amount(weights.load, 1),
            amount(rating, 1)
        ),
        remedy: format!(
            "Leave {} ashore to come under {limit:.0} %{heaviest}. Float it with the real load before you rely on it.",
            amount(over, 1)
        ),
        source: COMMON_PRACTICE,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{findings, plan};
    use crate::units::Figure;

    /// An angler of this mass on a hull rated for 100 kg.
    fn check(kg: f64, severity: Option<Severity>) {
        let mut plan = plan();
        plan.angler.mass = Figure::measured(Mass::kg(kg));
        std::sync::Arc::make_mut(&mut plan.hull).rating = Figure::catalogue(Mass::kg(100.0));
        let found = findings(&plan, "load-rating");
        assert_eq!(found.first().map(|f| f.severity), severity, "{kg} kg: {found:?}");
        assert!(found.iter().all(|f| f.value == kg && f.margin < 0.0));
    }

    #[test]
    fn speaks_past_each_limit_and_not_at_it() {
        check(65.0, None);
        check(65.1, Some(Severity::Note));
        check(80.0, Some(Severity::Note));
        check(80.1, Some(Severity::Caution));
        check(100.0, Some(Severity::Caution));
        check(100.1, Some(Severity::Stop));
    }
}
