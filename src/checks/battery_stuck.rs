//! `battery-stuck`: a battery inside the hull that passes no opening.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{FeatureKind, Kind, Level, Opening};
use crate::units::Length;

/// The check.
pub const CHECK: Check = Check { id: "battery-stuck", title: "a battery does not pass any hatch", doc: DOC, run };

const DOC: &str = "\
What it checks
For each battery inside the hull: whether its two smallest sides, with 10 mm to spare, pass a hatch of
the hull or an inspection port that is placed. Side by side for a rectangular opening, corner to corner
for a round one. The way inside from the opening to the battery is not looked at.

Why it matters
A battery is charged off the boat, and a wet or hot one has to come out at once.

Limit and source
10 mm to spare (`battery-stuck.slack`). Common practice, no source.

What to do
Choose a flatter battery or two small ones, a larger hatch, or put it on deck in a box.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let openings = openings(case);
    for item in case.study.rig.items.iter().filter(|item| item.level == Level::Inside) {
        let Some(gear) = case.plan.gear.get(item.index).filter(|gear| gear.spec.kind == Kind::Battery) else {
            continue;
        };
        let (x, y, z) = gear.spec.size();
        let mut sides = [x, y, z];
        sides.sort_by(f64::total_cmp);
        let slack = case.limits.get("battery-stuck.slack");
        let tries = openings.iter().map(|opening| needs(sides[0], sides[1], slack, *opening));
        let best = tries.max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        let subject = Subject::Gear(item.gear);
        let label = subject.named(case.plan);
        let (value, limit, says) = match best {
            Some((needed, offered)) if needed > offered => (
                needed,
                offered,
                format!("{label} needs {needed:.0} mm to come out and the best opening has {offered:.0}"),
            ),
            Some(_) => continue,
            None => (sides[1] + slack, 0.0, format!("{label} is inside a hull that has no opening for it")),
        };
        found.push(Finding {
            check: CHECK.id,
            severity: Severity::Stop,
            subject,
            at: Some(item.at),
            value,
            limit,
            margin: limit - value,
            unit: "mm",
            says,
            remedy: "choose a flatter battery, a larger hatch, or put it on deck in a box".into(),
            source: COMMON_PRACTICE,
        });
    }
}

/// What passing takes and what the opening offers, mm, along the measure that is tighter.
fn needs(least: f64, middle: f64, slack: f64, opening: Opening) -> (f64, f64) {
    match opening {
        Opening::Round(bore) => (least.hypot(middle) + slack, bore.to_mm()),
        Opening::Rect(along, across) => {
            let (along, across) = (along.to_mm(), across.to_mm());
            let narrow = (least + slack, along.min(across));
            let wide = (middle + slack, along.max(across));
            if narrow.1 - narrow.0 < wide.1 - wide.0 { narrow } else { wide }
        }
    }
}

fn openings(case: &Case<'_>) -> Vec<Opening> {
    let hatches = case.plan.hull.features.iter().filter_map(|feature| match feature.kind {
        FeatureKind::Hatch { opening, .. } => Some(opening),
        _ => None,
    });
    let ports = case.study.rig.items.iter().filter_map(|item| {
        let spec = &case.plan.gear.get(item.index)?.spec;
        let access: Option<Length> = spec.access.filter(|_| spec.kind == Kind::InspectionPort);
        access.map(Opening::Round)
    });
    hatches.chain(ports).collect()
}
