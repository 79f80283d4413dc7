//! `hole-blind`: a nut is needed where no hand gets.

use super::hole_words::{Verdict, Voice, is_still_to_fasten, per_owner};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::Back;
use crate::study::holes::hand::{Hand, without_hand};
use crate::study::holes::{Access, Hole};

/// The check.
pub const CHECK: Check = Check { id: "hole-blind", title: "a nut where no hand gets", doc: DOC, run };

const DOC: &str = "\
What it checks
For every hole that needs a nut, washer or backing plate behind it: the way from the rim of the nearest
opening that is wide enough for a hand. A hatch may state how far a hand reaches inside; foam in the way
is told.

Why it matters
You find out that the nut cannot be held when the hole is there, and then it stays without one.

Limit and source
Opening at least 125 mm (`hole-blind.hand`; 150 mm for a hand with a spanner); way at most 600 mm from
its rim (`hole-blind.furthest`) or the hatch's own reach: stop. Nearer than 200 mm to its middle
(`hole-blind.nearest`) the wrist cannot bend, and past foam nobody knows: caution. Common practice, no
source.

What to do
Use the blind fastener it names, put in an inspection port, or move the gear. A nut taped into a spanner
on a stick, or a bolt pushed from inside on a wire, gains a hand's length. Motor, anchor, rod holders and
heavy displays want a bolt with a backing plate.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        let needs_hand = hole.back == Back::Nut && is_still_to_fasten(case, hole);
        if needs_hand { judge(case, hole) } else { None }
    });
}

fn judge(case: &Case<'_>, hole: &Hole) -> Option<Verdict> {
    let opening = |access| match access {
        Access::Feature(id) => Subject::Feature(id).named(case.plan),
        Access::Gear(id) => Subject::Gear(id).named(case.plan),
    };
    match Hand::of(case.plan, &case.study.rig, hole) {
        Hand::NoOpening => {
            let says = "needs a nut behind the skin and the hull has no opening for a hand".into();
            Some(Verdict::one_of(Severity::Stop, says, without_nut(case, hole)))
        }
        Hand::TooFar { through, way_mm, reach_mm } => {
            let opening = opening(through);
            let says = format!("needs a nut {way_mm:.0} mm from the rim of {opening}; a hand reaches {reach_mm:.0} mm");
            Some(Verdict::at_most(Severity::Stop, way_mm, reach_mm, says, without_nut(case, hole)))
        }
        Hand::TooNear { through, middle_mm, least_mm } => {
            let opening = opening(through);
            let says =
                format!("needs a nut {middle_mm:.0} mm from the middle of {opening}: too close for the wrist to bend");
            let remedy = "tape the nut into a spanner, or move it further from the opening".into();
            Some(Verdict::at_least(Severity::Caution, middle_mm, least_mm, says, remedy))
        }
        Hand::PastFoam { through, foam } => {
            let foam = Subject::Feature(foam).named(case.plan);
            let says = format!("needs a nut, and {foam} lies in the way from {}", opening(through));
            Some(Verdict::none_of(Severity::Caution, says, "reach in and try before you drill".into()))
        }
        Hand::Reaches { .. } => None,
    }
}

/// What would do without a hand behind the skin.
fn without_nut(case: &Case<'_>, hole: &Hole) -> String {
    match without_hand(case.plan, hole) {
        Some((fastener, drill)) => {
            format!("use an {fastener} (drill {drill:.0} mm), put in an inspection port, or move it")
        }
        None => "no blind fastener is strong enough here: put in an inspection port, or move it".into(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::geometry::Point;
    use crate::plan::{BuildState, FeatureKind, Hinge, Kind, Opening, Plan};
    use crate::units::Length;

    /// One bolt at x 1500, and a round hatch whose rim is this far aft of it.
    fn hatch_at(way: f64, bore: f64, reach: f64) -> Plan {
        let mm = Length::mm;
        let mut plan = with_gear(bolted(1500.0, 0.0));
        let hatch = FeatureKind::Hatch {
            opening: Opening::Round(mm(bore)),
            rim: mm(10.0),
            hinge: Hinge::None,
            reach: mm(reach),
        };
        add_feature(&mut plan, Point::new(1500.0 - way - bore / 2.0, 0.0, DECK), hatch);
        plan
    }

    #[test]
    fn a_nut_wants_a_hand_and_a_hand_an_opening() {
        let none = with_gear(bolted(1500.0, 0.0));
        let found = fires(&none, CHECK, &[Severity::Stop]);
        assert!(found[0].remedy.contains("M5 rubber expanding nut"), "{}", found[0].remedy);
        fires(&hatch_at(400.0, 125.0, 1000.0), CHECK, &[]);
        fires(&hatch_at(400.0, 124.0, 1000.0), CHECK, &[Severity::Stop]);
    }

    #[test]
    fn the_arm_is_so_long_and_the_wrist_so_stiff() {
        fires(&hatch_at(600.0, 200.0, 1000.0), CHECK, &[]);
        fires(&hatch_at(601.0, 200.0, 1000.0), CHECK, &[Severity::Stop]);
        fires(&hatch_at(450.0, 200.0, 450.0), CHECK, &[]);
        fires(&hatch_at(451.0, 200.0, 450.0), CHECK, &[Severity::Stop]);
        fires(&hatch_at(100.0, 200.0, 1000.0), CHECK, &[]);
        fires(&hatch_at(99.0, 200.0, 1000.0), CHECK, &[Severity::Caution]);
    }

    #[test]
    fn foam_in_the_way_is_told() {
        let mm = Length::mm;
        let mut plan = hatch_at(400.0, 200.0, 1000.0);
        let foam = FeatureKind::Foam { length: mm(100.0), width: mm(100.0), height: mm(2.0) };
        add_feature(&mut plan, Point::new(1300.0, 0.0, DECK), foam.clone());
        fires(&plan, CHECK, &[Severity::Caution]);
        let mut beside = hatch_at(400.0, 200.0, 1000.0);
        add_feature(&mut beside, Point::new(1300.0, 51.0, DECK), foam);
        fires(&beside, CHECK, &[]);
    }

    #[test]
    fn what_is_bedded_or_blind_needs_no_hand() {
        let mut plan = with_gear(bolted(1500.0, 0.0));
        plan.gear[0].state = BuildState::Bedded;
        fires(&plan, CHECK, &[]);
        fires(&with_gear(plate(1500.0, 0.0)), CHECK, &[]);
    }

    #[test]
    fn a_motor_is_not_hung_on_an_expanding_nut() {
        let mut plan = with_gear(bolted(1500.0, 0.0));
        std::sync::Arc::make_mut(&mut plan.gear[0].spec).kind = Kind::Motor;
        assert!(fires(&plan, CHECK, &[Severity::Stop])[0].remedy.starts_with("no blind fastener"));
    }
}
