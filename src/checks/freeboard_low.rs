//! `freeboard-low`: little gunwale over the water at rest.

use super::finding::COMMON_PRACTICE;
use super::float_words::{FLOAT_TEST, cases, opening, to_rise, under};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::float::{Afloat, Equilibrium, Freeboard};

/// The check.
pub const CHECK: Check = Check { id: "freeboard-low", title: "little gunwale over the water", doc: DOC, run };

const DOC: &str = "\
What it checks
The least height of the gunwale over the water at rest, port and starboard at every section, as planned
and with the livewell full; the lower of the two speaks.

Why it matters
It is what is left for a wave, a wake, a fish over the side and a lean. Under a hand's breadth amidships
the boat is wet all day, and the next heel puts the gunwale under.

Limit and source
Caution under 120 mm (`freeboard-low.caution`), stop under 60 mm (`freeboard-low.stop`). Common
practice, no source.

What to do
Leave weight ashore, or bring it away from the low end and the low side. Then mark the waterline with
the real load aboard.
";

const BANDS: [(&str, Severity); 2] =
    [("freeboard-low.stop", Severity::Stop), ("freeboard-low.caution", Severity::Caution)];

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let swamped = case.limits.get("floats-not.gunwale");
    let low = |afloat| Low::of(afloat).filter(|low| low.least.height_mm >= swamped);
    // The first of equals: where the livewell makes no difference it is not named.
    let Some(low) = cases(case).filter_map(low).reduce(|worst, low| if low.is_under(&worst) { low } else { worst })
    else {
        return;
    };
    let Freeboard { at, height_mm } = low.least;
    let Some((limit, severity)) = under(case, height_mm, &BANDS) else { return };
    findings.push(Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Plan,
        at: Some(at),
        value: height_mm,
        limit,
        margin: height_mm - limit,
        unit: "mm",
        says: format!(
            "{} the gunwale is only {height_mm:.0} mm over the water at its lowest, {}.",
            opening(low.afloat),
            where_low(low.rest, at.x, at.y)
        ),
        remedy: format!(
            "Leave {} ashore, or bring weight away from there. {FLOAT_TEST}",
            to_rise(limit - height_mm, low.rest.kg_per_cm)
        ),
        source: COMMON_PRACTICE,
    });
}

/// The lowest gunwale of a case.
struct Low<'a> {
    afloat: &'a Afloat,
    rest: &'a Equilibrium,
    least: Freeboard,
}

impl<'a> Low<'a> {
    fn of(afloat: &'a Afloat) -> Option<Self> {
        Some(Self { afloat, rest: afloat.rest.as_ref().ok()?, least: afloat.least_freeboard()? })
    }

    fn is_under(&self, other: &Self) -> bool {
        self.least.height_mm < other.least.height_mm - 0.5
    }
}

/// `aft`, `forward to port`.
fn where_low(rest: &Equilibrium, x: f64, y: f64) -> String {
    let along = if x < rest.flotation.x { "aft" } else { "forward" };
    // Both sides are as low while it lies upright.
    if rest.heel_deg.abs() < 0.05 {
        along.into()
    } else {
        format!("{along} to {}", if y > 0.0 { "port" } else { "starboard" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{DRAFT, boat, findings, livewell, middle, one};

    #[test]
    fn a_box_by_its_depth() {
        // By hand: freeboard of the level box is its depth less its draft.
        let over = |mm: f64| boat(DRAFT + mm, middle(150.0));
        assert!(findings(&over(120.01), CHECK.id).is_empty());
        let found = one(&over(119.99), CHECK.id, Severity::Caution);
        assert!(found.says.starts_with("As planned the gunwale is only 120 mm"), "{}", found.says);
        one(&over(60.01), CHECK.id, Severity::Caution);
        let found = one(&over(59.99), CHECK.id, Severity::Stop);
        // 28.77 kg a centimetre; 0.01 mm is less than a kilogram.
        assert!(found.remedy.starts_with("Leave about 1 kg ashore"), "{}", found.remedy);
        one(&over(0.01), CHECK.id, Severity::Stop);
        // Under water is the business of another check.
        assert!(findings(&over(-0.01), CHECK.id).is_empty());
    }

    #[test]
    fn a_full_livewell_is_named() {
        // By hand: the tank of 20 litres, three quarters full, brings 15 kg: 15/2.877 = 5.2 mm deeper.
        let mut plan = boat(DRAFT + 123.0, middle(150.0));
        livewell(&mut plan);
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(found.says.starts_with("With the livewell full the gunwale is only 118 mm"), "{}", found.says);
    }
}
