//! `hole-avoidable`: a new hole that need not be drilled.

use super::hole_words::{Verdict, Voice, per_owner};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::study::holes::Avoid;
use crate::study::rig::HoleRef;

/// The check.
pub const CHECK: Check = Check { id: "hole-avoidable", title: "a new hole that need not be drilled", doc: DOC, run };

const DOC: &str = "\
What it checks
For every new hole: whether the same gear accepts a track, inserts, existing bolts or a scupper that is
there or close by, whether an open hole close by would do, or for a cable a moulded wire port.

Why it matters
A hole is the only thing in the plan that cannot be undone, and each one costs a little of the hull's
value and trust.

Limit and source
Within 80 mm (`hole-avoidable.within`; it can be set narrower). Note. Common practice, no source: riggers
try track, then insert, then existing hole, before they drill.

What to do
Change the mount, move the gear, or say that the hole reuses the old one. When the hole is worth it,
leave it: this is only a note.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let within = case.limits.get("hole-avoidable.within");
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        let avoid = hole.avoid?;
        let (away, says, remedy) = match avoid {
            Avoid::Mount(how, away) => {
                let mount = how.word();
                let place = if away < 0.5 { "right here".into() } else { format!("{away:.0} mm away") };
                (
                    away,
                    format!("need not be drilled: the mount \"{mount}\" would hold it {place}"),
                    format!("change its mount to \"{mount}\""),
                )
            }
            Avoid::Hole(id, away) => {
                let old = Subject::Hole(HoleRef::Own(id)).named(case.plan);
                (
                    away,
                    format!("a new hole {away:.0} mm from the open hole {old}"),
                    format!("move it onto {old} and mark that hole as reused"),
                )
            }
            Avoid::WirePort(id, away) => {
                let port = Subject::Feature(id).named(case.plan);
                (away, format!("a new cable hole {away:.0} mm from {port}"), format!("lead the cable through {port}"))
            }
        };
        (away <= within).then(|| Verdict::at_least(Severity::Note, away, within, says, remedy))
    });
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::geometry::Point;
    use crate::plan::{Fate, FeatureKind, Mount};
    use crate::units::Length;

    /// The plate beside a track whose middle line is this far to port of it.
    fn beside_track(off: f64) -> crate::plan::Plan {
        let mut plan = with_gear(plate_or_track(1500.0, 0.0));
        let track = FeatureKind::Track { length: Length::mm(400.0), free: Length::mm(380.0) };
        add_feature(&mut plan, Point::new(1500.0, off, DECK), track);
        plan
    }

    #[test]
    fn a_track_within_reach_would_serve() {
        fires(&beside_track(0.0), CHECK, &[Severity::Note]);
        fires(&beside_track(80.0), CHECK, &[Severity::Note]);
        fires(&beside_track(81.0), CHECK, &[]);
        let mut plan = beside_track(0.0);
        plan.gear[0].mount = Mount::Track;
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn an_open_hole_close_by_would_serve() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::New);
        add_hole(&mut plan, 1580.0, 0.0, 6.0, Fate::Open);
        fires(&plan, CHECK, &[Severity::Note]);
        plan.penetrations[1].x = Length::mm(1581.0);
        fires(&plan, CHECK, &[]);
        plan.penetrations[1].x = Length::mm(1580.0);
        plan.penetrations[1].bore = Length::mm(6.1);
        fires(&plan, CHECK, &[]);
    }

    #[test]
    fn the_study_looks_as_far_as_the_table_says() {
        assert_eq!(
            crate::checks::Limits::for_plan(&with_hole(0.0, 0.0, 5.0, Fate::New)).get("hole-avoidable.within"),
            crate::study::holes::AVOID_WITHIN_MM
        );
    }
}
