//! `floor-wet`: a floor that drains through scuppers, close over the water or under it.

use super::finding::COMMON_PRACTICE;
use super::float_words::to_rise;
use super::words::list;
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::float::levels::Floor;

/// The check.
pub const CHECK: Check = Check { id: "floor-wet", title: "a floor close over the water, or under it", doc: DOC, run };

const DOC: &str = "\
What it checks
How high each floor with scuppers lies over the water at rest, as planned, at its lowest corner; how
much water stands on it where it lies under; and which scuppers let it in.

Why it matters
A scupper is open both ways. Over the water it drains, under it the lake stands in the well: wet feet,
gear that floats about, and a loose surface of water that takes away stiffness.

Limit and source
Caution under 20 mm (`floor-wet.caution`); under 0 mm water stands there, and the finding says how much.
Common practice, no source.

What to do
Leave weight ashore, or move it away from the low end. Plugs keep the water out only for as long as they
are in: what comes over the side then stays aboard, and they have to come out before anything drains. A
floor under the water with its plugs out fills to the level of the lake.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let levels = &case.study.float.levels;
    let Some(rest) = case.study.float.rest().filter(|_| !levels.stated) else { return };
    let limit = case.limits.get("floor-wet.caution");
    for floor in levels.floors.iter().filter(|floor| floor.height_mm < limit) {
        let short = limit - floor.height_mm;
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Zone(floor.zone),
            at: Some(floor.at),
            value: floor.height_mm,
            limit,
            margin: -short,
            unit: "mm",
            says: says(case, floor),
            remedy: format!(
                "Leave {} ashore, or move weight towards the other end. Plugs do not cure it: they keep the water \
                 out only while they are in, and have to come out to drain what comes aboard.",
                to_rise(short, rest.kg_per_cm)
            ),
            source: COMMON_PRACTICE,
        });
    }
}

fn says(case: &Case<'_>, floor: &Floor) -> String {
    let name = Subject::Zone(floor.zone).named(case.plan);
    if floor.height_mm >= 0.0 {
        return format!("{name} is only {:.0} mm over the water at rest: the next lean wets it.", floor.height_mm);
    }
    let stands = if floor.standing_l >= 0.05 {
        format!("{:.1} litres stand on it at rest", floor.standing_l)
    } else {
        "water stands on it at rest".into()
    };
    let inlets = inlets(case, floor);
    let through = if inlets.is_empty() { String::new() } else { format!(", in through {}", list(&inlets)) };
    format!("{name} is {:.0} mm under the water: {stands}{through}.", -floor.height_mm)
}

/// The scuppers of a floor whose upper end lies under the water, lowest first.
fn inlets(case: &Case<'_>, floor: &Floor) -> Vec<String> {
    let of_floor = |spot| case.plan.hull.zone_at(spot).is_some_and(|zone| zone.id == floor.zone);
    let scuppers = case.study.float.levels.scuppers.iter();
    let mut wet: Vec<_> = scuppers.filter(|s| s.height_mm < 0.0 && of_floor(s.at.spot())).collect();
    wet.sort_by(|a, b| a.height_mm.total_cmp(&b.height_mm));
    wet.into_iter().map(|scupper| Subject::Feature(scupper.feature).named(case.plan)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_float::{DRAFT, boat, findings, middle, one, trimmed, well};

    #[test]
    fn a_floor_by_its_height() {
        // By hand: over the level box's water by its height less the draft.
        let floor = |over: f64| {
            let mut plan = boat(300.0, middle(150.0));
            well(&mut plan, DRAFT + over);
            plan
        };
        assert!(findings(&floor(20.01), CHECK.id).is_empty());
        let found = one(&floor(19.99), CHECK.id, Severity::Caution);
        assert_eq!(found.says, "well is only 20 mm over the water at rest: the next lean wets it.");
        one(&floor(0.01), CHECK.id, Severity::Caution);
    }

    #[test]
    fn a_floor_under_water_names_its_scuppers() {
        // 1 deg by the stern about the middle of the box: the well from 1000 to 2600 mm is lowest at its aft
        // corners, (1800 - 1000) tan(1 deg) = 14.0 mm, and its aft scupper, at 1100, 12.2 mm deeper than level.
        let mut plan = boat(300.0, trimmed(-1.0));
        well(&mut plan, DRAFT + 12.5);
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(
            found.says.starts_with("well is 1 mm under the water: ") && !found.says.contains("through"),
            "{found:?}"
        );
        well(&mut plan, DRAFT + 11.9);
        let found = one(&plan, CHECK.id, Severity::Caution);
        assert!(
            found.says.contains("in through scupper, aft.") && found.remedy.contains("come out to drain"),
            "{found:?}"
        );
        assert_eq!(found.at.map(|at| at.x), Some(1000.0));
    }
}
