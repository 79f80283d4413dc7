//! What the checks of cables share: planned runs, what a cable is called, the frame of a finding.

use super::words::label;
use super::{COMMON_PRACTICE, Case, Finding, Severity, Subject};
use crate::geometry::Point;
use crate::plan::{CableId, Plan, Signal};
use crate::study::cables::{CableRef, CableRun};
use crate::units::{Measure, Tape};

/// The planned cables. What a circuit implies is only drawn and measured: nobody has said where it goes.
pub(super) fn planned<'a>(case: &Case<'a>) -> impl Iterator<Item = (CableId, &'a CableRun)> + use<'a> {
    case.study.cables.runs.iter().filter_map(|run| match run.id {
        CableRef::Planned(id) => Some((id, run)),
        CableRef::Implied(..) => None,
    })
}

/// `The sonar cable from transducer to display`.
pub(super) fn the_cable(plan: &Plan, run: &CableRun) -> String {
    format!("The {} from {} to {}", noun(run.signal), label(plan, run.from), label(plan, run.to))
}

/// What a cable of this signal is called.
pub(super) fn noun(signal: Signal) -> &'static str {
    match signal {
        Signal::Power => "supply",
        Signal::MotorPower => "motor lead",
        Signal::Sonar => "sonar cable",
        Signal::Data => "data cable",
    }
}

/// A length as findings say it.
pub(super) fn mm(length: f64) -> String {
    Measure(Tape::Metric).length(length)
}

/// A value of a cable, the limit it is over, mm, and what is said of it.
pub(super) struct Over {
    pub(super) severity: Severity,
    pub(super) at: Option<Point>,
    pub(super) value: f64,
    pub(super) limit: f64,
    pub(super) says: String,
    pub(super) remedy: String,
}

impl Over {
    /// The finding, less being better when `value` is over the limit.
    pub(super) fn finding(self, check: &'static str, subject: Subject) -> Finding {
        Finding {
            check,
            severity: self.severity,
            subject,
            at: self.at,
            value: self.value,
            limit: self.limit,
            margin: -(self.value - self.limit).abs(),
            unit: "mm",
            says: self.says,
            remedy: self.remedy,
            source: COMMON_PRACTICE,
        }
    }
}
