//! Whether a changed plan stands no worse than before: what a search may propose.

use super::{Finding, Severity, Subject, run};
use crate::plan::Plan;
use crate::study::Study;
use crate::study::float::moves::Move;

/// Whether moves leave a plan no worse than the one that had these findings: no new stop at all, and no new
/// caution about what was moved. A seat that was moved answers for all gear, because all of it is reached from there.
pub fn no_worse(before: &[Finding]) -> impl Fn(&Plan, &Study, &[Move]) -> bool + '_ {
    move |plan, study, moves| {
        let concerns = |subject: Subject| {
            subject.gear().is_some_and(|gear| moves.iter().any(|one| one.gear().is_none_or(|moved| moved == gear)))
        };
        let stood = |finding: &Finding| {
            let same = |old: &&Finding| old.check == finding.check && old.subject == finding.subject;
            before.iter().filter(same).any(|old| old.severity >= finding.severity)
        };
        run(plan, study).iter().all(|finding| match finding.severity {
            Severity::Note => true,
            Severity::Caution => stood(finding) || !concerns(finding.subject),
            Severity::Stop => stood(finding),
        })
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::checks::test_power::{add, mount, plan};
    use crate::plan::{GearId, Kind, Mount, Placement};
    use crate::units::{Figure, Mass};

    /// A box at a place of the deck; its base of 100 mm hangs over the end of the hull when that is nearer than 45 mm.
    fn boxed(plan: &mut Plan, how: Mount, x: f64) -> GearId {
        let id = add(plan, "box", Kind::Other, Figure::measured(Mass::kg(2.0)), None);
        mount(plan, id, how);
        plan.gear_mut(id).unwrap().place = Some(Placement::at(x, 0.0));
        id
    }

    fn check(how: Mount, moved: fn(GearId, GearId) -> GearId, stood_before: bool, expected: bool) {
        let mut plan = plan();
        let (over, other) = (boxed(&mut plan, how, 20.0), boxed(&mut plan, Mount::Strap, 800.0));
        let study = Study::of(&plan);
        let before = if stood_before { run(&plan, &study) } else { Vec::new() };
        let at = Placement::at(20.0, 0.0);
        let moves = [Move::Gear { gear: moved(over, other), from: at, to: at }];
        assert_eq!(no_worse(&before)(&plan, &study, &moves), expected, "{how:?} {stood_before}");
    }

    #[test]
    fn a_new_caution_counts_for_what_was_moved_and_a_new_stop_for_all() {
        // A strapped base that hangs over is a caution, a bolted one a stop.
        check(Mount::Strap, |over, _| over, false, false);
        check(Mount::Strap, |_, other| other, false, true);
        check(Mount::Bolts, |_, other| other, false, false);
        check(Mount::Strap, |over, _| over, true, true);
        check(Mount::Bolts, |over, _| over, true, true);
    }

    #[test]
    fn a_seat_that_was_moved_answers_for_all_gear() {
        let mut plan = plan();
        boxed(&mut plan, Mount::Strap, 20.0);
        let study = Study::of(&plan);
        let seat = plan.angler.seat.clone();
        let moves = [Move::Seat { from: seat.clone(), to: seat }];
        assert!(!no_worse(&[])(&plan, &study, &moves));
        assert!(no_worse(&run(&plan, &study))(&plan, &study, &moves));
    }
}
