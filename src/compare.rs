//! Two plans side by side: what was done to each part, what that did to every panel's numbers and to the findings.
//!
//! *Then* is the earlier plan or the one compared with, *now* the later one. The parts come from
//! [`Plan::differences`]; a merge of two plans that grew out of one is in [`merge`].

pub mod changes;
mod holes;
pub mod merge;
mod numbers;
mod verdicts;

pub use changes::{Change, Detail, How, changes, name_of};
pub use holes::Holes;
pub use numbers::Number;
pub use verdicts::{Turn, Verdict};

use crate::checks::Finding;
use crate::plan::Plan;
use crate::study::Study;

/// One of the two plans, with what follows from it.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Its study.
    pub study: &'a Study,
    /// Its findings.
    pub findings: &'a [Finding],
}

/// What two plans differ in.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// What was done to each part.
    pub changes: Vec<Change>,
    /// Every panel's numbers, the unchanged ones too.
    pub numbers: Vec<Number>,
    /// The holes that came and went.
    pub holes: Holes,
    /// The findings that are gone, new, or weigh otherwise.
    pub verdicts: Vec<Verdict>,
}

impl Comparison {
    /// Compares two plans.
    pub fn of(then: Side<'_>, now: Side<'_>) -> Self {
        Self {
            changes: changes(then.plan, now.plan),
            numbers: numbers::numbers(then.study, now.study),
            holes: Holes::of(then.study, now.study),
            verdicts: verdicts::verdicts(then, now),
        }
    }

    /// Whether the plans say the same.
    pub fn is_empty(&self) -> bool {
        self.changes.is_empty()
    }
}
