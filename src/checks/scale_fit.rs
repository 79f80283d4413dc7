//! `scale-fit`: what scales under the hull say against the plan's figures.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::{Aboard, Weighed};
use crate::units::{Length, amount};

/// The check.
pub const CHECK: Check = Check { id: "scale-fit", title: "scales against the masses of the plan", doc: DOC, run };

const DOC: &str = "\
What it checks
Scales under two stations or more give mass and balance of the boat that stands on them: the sum of what
they show, and the sum of each times its station over that. The check holds both against the figures: of
the bare hull, or of hull, gear and batteries together where the rigged boat was weighed. The value is
what is further beyond its limit.

Why it matters
Brackets, cables and a wet seat weigh, and nobody adds them up. What the scales say is used: it replaces
the hull's mass and balance, or is carried as a group of its own, unaccounted, with the rig.

Limit and source
Note what was found; caution when mass and figures are over 10 percent apart (`scale-fit.mass`) or the
centres over 100 mm (`scale-fit.centre`). Common practice, no source; moments are ordinary statics.

What to do
Weigh again with the boat level and touching nothing but the scales, and measure the stations from the
stern. If it stays so, look for what the plan leaves out. Switch off a reading that is wrong; the figures
of the plan are always kept. After correcting the mass of gear, add the readings of the rig anew.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let (hull, weights) = (&case.plan.hull, &case.study.weights);
    let bare = Aboard { mass: hull.mass.value, x: Length::mm(hull.centre_mm.x) };
    for (of, weighing) in weights.scales.all() {
        let figures = match of {
            Weighed::BareHull => Some(bare),
            Weighed::Rigged => weights.known,
        };
        findings.extend(figures.map(|figures| finding(case, of, weighing.found, figures)));
    }
}

fn finding(case: &Case<'_>, of: Weighed, found: Aboard, figures: Aboard) -> Finding {
    let (kg, figures_kg) = (found.mass.to_kg(), figures.mass.to_kg());
    let percent = if figures_kg > 0.0 { 100.0 * (kg - figures_kg) / figures_kg } else { 100.0 };
    let shift = found.x.to_mm() - figures.x.to_mm();
    let mass = (percent.abs(), case.limits.get("scale-fit.mass"), "percent");
    let centre = (shift.abs(), case.limits.get("scale-fit.centre"), "mm");
    let far = |(value, limit, _): (f64, f64, _)| value / limit.max(f64::MIN_POSITIVE);
    let (value, limit, unit) = if far(mass) >= far(centre) { mass } else { centre };
    let apart = value > limit;
    let remedy = if apart {
        "Weigh again with the boat touching nothing but the scales and measure their stations; if it stays so, look \
         for what the plan leaves out, else switch the wrong reading off."
    } else {
        "What the scales say is used, the figures are kept: switch the readings off to go by the figures."
    };
    Finding {
        check: CHECK.id,
        severity: if apart { Severity::Caution } else { Severity::Note },
        subject: Subject::Plan,
        at: Some(Point::new(found.x.to_mm(), 0.0, case.plan.hull.centre_mm.z)),
        value,
        limit,
        margin: limit - value,
        unit,
        says: format!(
            "The scales put the {} at {}, balanced {:.0} mm from the stern; its figures say {} at {:.0} mm: {}, {}.",
            of.word(),
            amount(found.mass, 1),
            found.x.to_mm(),
            amount(figures.mass, 1),
            figures.x.to_mm(),
            side(percent, "%", ["heavier", "lighter", "as heavy"]),
            side(shift, "mm", ["further forward", "further aft", "balanced the same"]),
        ),
        remedy: remedy.into(),
        source: COMMON_PRACTICE,
    }
}

fn side(value: f64, unit: &str, [more, less, same]: [&str; 3]) -> String {
    match value.abs().round() {
        0.0 => same.into(),
        by => format!("{by:.0} {unit} {}", if value > 0.0 { more } else { less }),
    }
}
