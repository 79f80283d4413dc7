//! A compass near magnets.

use super::cable_words::mm;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{Gear, Kind, Magnetic, Plan};
use crate::study::rig::RigItem;

/// A compass near magnets.
pub const CHECK: Check = Check { id: "compass-near", title: "a heading sensor is near magnets", doc: DOC, run };

const DOC: &str = "\
What it checks
The distance from every heading sensor to what disturbs it: motors, radios with their speaker, and gear that its entry
says has magnets. From middle to middle.

Why it matters
A magnet beside a compass turns the chart on the screen by tens of degrees, and it does so differently when the motor
runs: at half a metre a single wire with 10 A turns it by 12 degrees.

Limit and source
Caution under 900 mm, or the distance that one of the two asks for in its entry. Common practice, no source; makers
print a safe distance found after ISO 694.

What to do
Move the sensor away from them, or them from it; twist supply pairs. Then check the heading against a hand-held compass
with everything on.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let placed: Vec<(&Gear, &RigItem)> =
        case.study.rig.items.iter().filter_map(|item| Some((case.plan.gear.get(item.index)?, item))).collect();
    for (sensor, here) in placed.iter().filter(|(gear, _)| gear.spec.magnetic == Some(Magnetic::Compass)) {
        let near = placed.iter().filter(|(gear, _)| disturbs(gear)).filter_map(|(gear, item)| {
            let (away, least) = (here.centre().distance(item.centre()), least(case, sensor, gear));
            (away < least).then_some((away, least, *gear))
        });
        let worst = near.min_by(|a, b| (a.0 - a.1).total_cmp(&(b.0 - b.1)));
        findings.extend(worst.map(|(away, least, gear)| Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Gear(sensor.id),
            at: Some(here.at),
            value: away,
            limit: least,
            margin: away - least,
            unit: "mm",
            says: format!("{} is {} from {}, which turns its compass.", sensor.label, mm(away), gear.label),
            remedy: format!("Move one of them {} away from the other.", mm(least - away)),
            source: COMMON_PRACTICE,
        }));
    }
}

fn disturbs(gear: &Gear) -> bool {
    gear.spec.magnetic == Some(Magnetic::Magnets) || matches!(gear.spec.kind, Kind::Motor | Kind::Radio)
}

/// The distance that one of the two asks for, or the limit.
fn least(case: &Case<'_>, sensor: &Gear, other: &Gear) -> f64 {
    let usual = case.limits.get("compass-near.least");
    let asks = |gear: &Gear, from: Kind| {
        gear.spec
            .keep_away
            .iter()
            .filter(move |keep| keep.from == from)
            .map(|keep| keep.distance.to_mm())
            .reduce(f64::max)
    };
    let set = |plan: &Plan| plan.limits.iter().any(|set| set.limit == "compass-near.least");
    if set(case.plan) {
        return usual;
    }
    asks(sensor, other.spec.kind).or(asks(other, sensor.spec.kind)).unwrap_or(usual)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{hull, on_deck};
    use crate::checks::test_power::findings;
    use crate::plan::KeepAway;
    use crate::units::Length;
    use std::sync::Arc;

    fn boat(kind: Kind, magnetic: Option<Magnetic>, away: f64) -> Plan {
        let mut plan = hull();
        let sensor = on_deck(&mut plan, "compass", Kind::Sensor, (500.0, 0.0));
        let other = on_deck(&mut plan, "other", kind, (500.0 + away, 0.0));
        Arc::make_mut(&mut plan.gear_mut(sensor).expect("gear").spec).magnetic = Some(Magnetic::Compass);
        Arc::make_mut(&mut plan.gear_mut(other).expect("gear").spec).magnetic = magnetic;
        plan
    }

    fn check(plan: &Plan, fires: bool) {
        let severities: Vec<Severity> = findings(plan, CHECK.id).iter().map(|f| f.severity).collect();
        assert_eq!(severities, if fires { vec![Severity::Caution] } else { vec![] });
    }

    #[test]
    fn cautions_under_the_distance() {
        check(&boat(Kind::Motor, None, 899.0), true);
        check(&boat(Kind::Motor, None, 901.0), false);
        check(&boat(Kind::Radio, None, 899.0), true);
        check(&boat(Kind::Storage, None, 100.0), false);
        check(&boat(Kind::Storage, Some(Magnetic::Magnets), 899.0), true);
    }

    #[test]
    fn what_an_entry_asks_for_counts_before_the_limit() {
        let keep = |plan: &mut Plan, mm| {
            let spec = Arc::make_mut(&mut plan.gear[0].spec);
            spec.keep_away.push(KeepAway { from: Kind::Storage, distance: Length::mm(mm) });
        };
        let mut plan = boat(Kind::Storage, Some(Magnetic::Magnets), 310.0);
        keep(&mut plan, 300.0);
        check(&plan, false);
        keep(&mut plan, 320.0);
        check(&plan, true);
    }
}
