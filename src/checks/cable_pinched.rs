//! A cable that is squeezed, cut or bent too sharply.

use super::cable_words::{mm, planned, the_cable};
use super::words::label;
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::Via;
use crate::study::cables::words::named;
use crate::study::cables::{Pinch, Pincher};

/// A cable that is squeezed, cut or bent too sharply.
pub const CHECK: Check = Check { id: "cable-pinched", title: "a cable is squeezed, chafed or bent", doc: DOC, run };

const DOC: &str = "\
What it checks
Where the way of a planned cable passes under a lid that closes on it, over a rail on which the seat slides, over the
slot of a track, close by the ends of bolts inside, or bends more sharply than it stands. One line a cable: the first
of these on its way.

Why it matters
A lid on a cable leaks and cuts it; a slider or a track's foot saws through it; a bolt end chafes it where nobody
looks. A cable bent too sharply breaks inside its jacket.

Limit and source
Caution. Bolt ends nearer than 30 mm; a radius under 4 diameters of the cable for supplies, 6 for the others. Common
practice, no source.

What to do
Lead it through an opening made for cables, round the rail or track, off the bolts; give a bend the room for a loop.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for (id, run) in planned(case) {
        let cable = the_cable(case.plan, run);
        let pinch = run.pinches.iter().find(|pinch| counts(case, pinch));
        findings.extend(pinch.map(|pinch| finding(case, Subject::Cable(id), &cable, pinch)));
    }
}

/// Bolt ends count within the limit; everything else that was found does.
fn counts(case: &Case<'_>, pinch: &Pinch) -> bool {
    !matches!(pinch.by, Pincher::Bolts(_, away) if away >= case.limits.get("cable-pinched.bolts"))
}

fn finding(case: &Case<'_>, subject: Subject, cable: &str, pinch: &Pinch) -> Finding {
    let plan = case.plan;
    let feature = |id| named(plan, Via::Feature(id));
    let mut numbers = (1.0, 0.0, "count");
    let (says, remedy) = match pinch.by {
        Pincher::Lid(via) => (
            format!("{cable} passes under the lid of {}.", named(plan, via)),
            "Lead it through an entry for cables; a notch in the rim costs the seal.".to_string(),
        ),
        Pincher::SeatRail(id) => (
            format!("{cable} runs over {}, on which the seat slides.", feature(id)),
            "Lead it under the seat's frame, or round it.".to_string(),
        ),
        Pincher::Track(id) => (
            format!("{cable} runs over the slot of {}.", feature(id)),
            "Lead it round the track: a foot that is pushed along cuts it.".to_string(),
        ),
        Pincher::Bolts(gear, away) => {
            numbers = (away, case.limits.get("cable-pinched.bolts"), "mm");
            (
                format!("{cable} runs {} from the bolt ends of {}.", mm(away), label(plan, gear)),
                "Tie it off them, and put caps on the bolts.".to_string(),
            )
        }
        Pincher::Bend { radius_mm, least_mm } => {
            numbers = (radius_mm, least_mm, "mm");
            (
                format!("{cable} has room for a bend of {} and needs {}.", mm(radius_mm), mm(least_mm)),
                "Give it a wider bend there, or another way.".to_string(),
            )
        }
    };
    let (value, limit, unit) = numbers;
    Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject,
        at: Some(pinch.at),
        value,
        limit,
        margin: -(value - limit).abs(),
        unit,
        says,
        remedy,
        source: COMMON_PRACTICE,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_cables::{cable, hatch, hull, inside, on_deck, port};
    use crate::checks::test_power::findings;
    use crate::geometry::Spot;
    use crate::plan::{Back, Carries, HoleSpec, Kind, Plan, Signal};
    use crate::units::Length;
    use std::sync::Arc;

    fn says(plan: &Plan) -> Vec<String> {
        findings(plan, CHECK.id).into_iter().map(|found| found.says).collect()
    }

    #[test]
    fn a_lid_squeezes_and_a_port_does_not() {
        let mut plan = hull();
        let pump = inside(&mut plan, "pump", Kind::Pump, (500.0, 0.0));
        let switch = on_deck(&mut plan, "switch", Kind::SwitchUnit, (1500.0, 0.0));
        cable(&mut plan, (pump, switch), Signal::Power, &[]);
        hatch(&mut plan, (1000.0, 0.0));
        assert_eq!(says(&plan), ["The supply from pump to switch passes under the lid of hatch."]);
        port(&mut plan, "port", (1000.0, 300.0), 22.0);
        assert_eq!(says(&plan), [] as [String; 0], "the longer way has no lid");
    }

    /// A supply under the deck from x 500 to x 1500, and a base with one bolt beside it.
    fn bolt_beside(y: f64) -> Plan {
        let mut plan = hull();
        let ends = [500.0, 1500.0].map(|x| {
            let place = crate::plan::Placement {
                level: crate::plan::Level::Inside,
                raise: Length::mm(294.0),
                ..crate::plan::Placement::at(x, 0.0)
            };
            crate::checks::test_cables::put(&mut plan, "box", Kind::Other, place)
        });
        cable(&mut plan, (ends[0], ends[1]), Signal::Power, &[]);
        let base = on_deck(&mut plan, "base", Kind::Base, (1000.0, y));
        let spec = Arc::make_mut(&mut plan.gear_mut(base).expect("gear").spec);
        let hole =
            HoleSpec { at_mm: Spot::default(), bore: Length::mm(5.0), carries: Carries::Fastener, back: Back::Nut };
        spec.mounts[0].holes.push(hole);
        plan
    }

    #[test]
    fn bolt_ends_chafe_up_to_the_limit() {
        assert_eq!(says(&bolt_beside(30.1)), [] as [String; 0]);
        assert_eq!(says(&bolt_beside(29.9)), ["The supply from box to box runs 30 mm from the bolt ends of base."]);
    }
}
