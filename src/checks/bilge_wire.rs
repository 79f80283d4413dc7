//! A joint or fuse where bilge water stands.

use super::cable_words::{mm, planned, the_cable};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::{Kind, Level};
use crate::study::cables::Runs;

/// A joint or fuse where bilge water stands.
pub const CHECK: Check = Check { id: "bilge-wire", title: "a joint or fuse lies in the bilge", doc: DOC, run };

const DOC: &str = "\
What it checks
How high over the lowest place inside the hull the underside of every fuse, switch unit, converter and processor stands
that is mounted inside, and every joint by which a planned supply is lengthened inside.

Why it matters
Some water is always there. A fuse holder or a crimp that stands in it corrodes within weeks, and feeds a leak of
current that empties the battery.

Limit and source
Caution under 40 mm. Common practice, no source.

What to do
Raise it on a board or a block, or hang it under the deck; let the cable come up to it from below, with a loop under
the entry. Lead joints high and tie them up.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let Some(bilge) = bilge(case) else { return };
    let limit = case.limits.get("bilge-wire.least");
    let low = |subject: Subject, at: Point, underside: f64, says: String, remedy: &str| {
        let height = underside - bilge;
        (height < limit).then(|| Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject,
            at: Some(at),
            value: height,
            limit,
            margin: height - limit,
            unit: "mm",
            says: format!("{says} {} over the bilge.", mm(height)),
            remedy: remedy.into(),
            source: COMMON_PRACTICE,
        })
    };
    for item in case.study.rig.items.iter().filter(|item| item.level == Level::Inside) {
        let Some(gear) = case.plan.gear.get(item.index) else { continue };
        if matches!(gear.spec.kind, Kind::Protection | Kind::SwitchUnit | Kind::Converter | Kind::BlackBox) {
            let says = format!("{} stands", gear.label);
            findings.extend(low(
                Subject::Gear(gear.id),
                item.at,
                item.bottom(),
                says,
                "Raise it on a board or a block.",
            ));
        }
    }
    for (id, run) in planned(case) {
        let inside = run.way.iter().any(|way| way.steps.iter().any(|step| step.runs == Runs::Inside));
        let Some(joint) = run.joint.filter(|_| inside) else { continue };
        let says = format!("{} is lengthened", the_cable(case.plan, run));
        findings.extend(low(Subject::Cable(id), joint, joint.z, says, "Tie the joint up under the deck."));
    }
}

/// Height of the lowest place inside the hull: the keel and the usual wall over it, mm.
fn bilge(case: &Case<'_>) -> Option<f64> {
    let hull = &case.plan.hull;
    let keels = hull.form.sections.iter().map(crate::geometry::Section::keel);
    let wall = hull.zones.iter().map(|zone| zone.wall.value.to_mm()).reduce(f64::max).unwrap_or(WALL_MM);
    keels.reduce(f64::min).map(|keel| keel + wall)
}

/// Wall where no zone tells it, mm: the same the rig assumes.
const WALL_MM: f64 = 6.0;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{cable, hull, inside, put, tail};
    use crate::checks::test_power::findings;
    use crate::plan::{Placement, Signal};
    use crate::units::Length;

    #[test]
    fn cautions_for_a_fuse_that_stands_low() {
        let check = |kind, raise: f64, expected: &[Severity]| {
            let mut plan = hull();
            let place = Placement { level: Level::Inside, raise: Length::mm(raise), ..Placement::at(1000.0, 0.0) };
            put(&mut plan, "fuse block", kind, place);
            let found: Vec<Severity> = findings(&plan, CHECK.id).iter().map(|f| f.severity).collect();
            assert_eq!(found, expected, "{raise}");
        };
        check(Kind::Protection, 39.9, &[Severity::Caution]);
        check(Kind::Protection, 40.1, &[]);
        check(Kind::Storage, 0.0, &[]);
    }

    #[test]
    fn a_joint_on_the_bottom_is_found() {
        let mut plan = hull();
        let battery = inside(&mut plan, "battery", Kind::Battery, (500.0, 0.0));
        let pump = inside(&mut plan, "pump", Kind::Pump, (2500.0, 0.0));
        tail(&mut plan, pump, Signal::Power, (12.0, 4.0, 900.0));
        cable(&mut plan, (battery, pump), Signal::Power, &[]);
        let found = findings(&plan, CHECK.id);
        assert_eq!(found.iter().map(|f| f.subject).collect::<Vec<_>>(), [Subject::Cable(crate::plan::CableId(1))]);
        // 900 mm reach (900 - 150) / 1.1 = 681.8 mm from the pump.
        assert!(found[0].at.is_some_and(|at| (at.x - (2500.0 - 681.8)).abs() < 0.1), "{:?}", found[0].at);
    }
}
