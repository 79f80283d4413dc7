//! Whether a changed plan stands no worse than before: what a search may propose.

use super::{Finding, Severity, Subject, run};
use crate::plan::Plan;
use crate::study::Study;
use crate::study::float::moves::Move;

/// Whether moves leave a plan no worse than the one that had these findings: no new stop at all, and no new
/// caution about what was moved. A seat that was moved answers for all gear, because all of it is reached from there.
pub fn no_worse<'a>(before: &'a [Finding]) -> impl Fn(&Plan, &Study, &[Move]) -> bool + 'a {
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
