//! What the checks of holes share: one finding for an owner's holes, worded the same way everywhere.
//!
//! A base with four screws in the wrong place is one mistake, not four: the worst of its holes
//! speaks, and says how many are with it.

use super::{Case, Finding, Severity, Subject};
use crate::plan::{BuildState, Plan};
use crate::study::holes::{Hole, HoleState};
use crate::study::rig::HoleRef;

/// Who speaks: the check, and the source of its limit.
#[derive(Clone, Copy)]
pub(super) struct Voice {
    pub(super) check: &'static str,
    pub(super) source: &'static str,
}

/// What a check finds at one hole.
pub(super) struct Verdict {
    pub(super) severity: Severity,
    pub(super) value: f64,
    pub(super) limit: f64,
    pub(super) margin: f64,
    pub(super) unit: &'static str,
    pub(super) says: String,
    pub(super) remedy: String,
}

impl Verdict {
    /// The value should have been at least the limit, mm.
    pub(super) fn at_least(severity: Severity, value: f64, limit: f64, says: String, remedy: String) -> Self {
        Self { severity, value, limit, margin: value - limit, unit: "mm", says, remedy }
    }

    /// The value should have been at most the limit, mm.
    pub(super) fn at_most(severity: Severity, value: f64, limit: f64, says: String, remedy: String) -> Self {
        Self { severity, value, limit, margin: limit - value, unit: "mm", says, remedy }
    }

    /// There should have been none of these.
    pub(super) fn none_of(severity: Severity, says: String, remedy: String) -> Self {
        Self { severity, value: 1.0, limit: 0.0, margin: -1.0, unit: "count", says, remedy }
    }

    /// There should have been one of these.
    pub(super) fn one_of(severity: Severity, says: String, remedy: String) -> Self {
        Self { severity, value: 0.0, limit: 1.0, margin: -1.0, unit: "count", says, remedy }
    }

    /// Whether it weighs more than another: severity, then the worse margin.
    pub(super) fn outweighs(&self, other: &Self) -> bool {
        self.severity > other.severity || (self.severity == other.severity && self.margin < other.margin)
    }

    /// The finding about a subject at a place.
    pub(super) fn finding(self, voice: Voice, subject: Subject, at: crate::geometry::Point) -> Finding {
        Finding {
            check: voice.check,
            severity: self.severity,
            subject,
            at: Some(at),
            value: self.value,
            limit: self.limit,
            margin: self.margin,
            unit: self.unit,
            says: self.says,
            remedy: self.remedy,
            source: voice.source,
        }
    }
}

/// Judges every hole; adds one finding an owner, for its worst hole.
pub(super) fn per_owner(
    case: &Case<'_>,
    findings: &mut Vec<Finding>,
    voice: Voice,
    judge: impl Fn(&Hole) -> Option<Verdict>,
) {
    let mut rest = case.study.holes.holes.as_slice();
    while let Some(first) = rest.first() {
        // Holes of one piece of gear stand together in the list.
        let group = rest.iter().take_while(|hole| hole.owner == first.owner).count();
        let (mine, after) = rest.split_at(if first.owner.is_some() { group } else { 1 });
        rest = after;
        let mut worst: Option<(&Hole, Verdict)> = None;
        let mut count = 0;
        for hole in mine {
            let Some(verdict) = judge(hole) else { continue };
            count += 1;
            if worst.as_ref().is_none_or(|(_, worst)| verdict.outweighs(worst)) {
                worst = Some((hole, verdict));
            }
        }
        if let Some((hole, mut verdict)) = worst {
            let more = if count > 1 { format!(" (and {} more of its holes)", count - 1) } else { String::new() };
            verdict.says = format!("{}: {}{more}", owner_name(case.plan, hole), verdict.says);
            findings.push(verdict.finding(voice, Subject::Hole(hole.id), hole.at));
        }
    }
}

/// The gear a hole belongs to, or the hole's own name.
pub(super) fn owner_name(plan: &Plan, hole: &Hole) -> String {
    match hole.owner {
        Some(gear) => Subject::Gear(gear).named(plan),
        None => Subject::Hole(hole.id).named(plan),
    }
}

/// The waterline that holes are held against, as a finding calls it.
pub(super) fn waterline(case: &Case<'_>) -> &'static str {
    if case.study.float.levels.stated {
        "the hull's stated waterline (as planned the boat finds no rest)"
    } else {
        "the loaded waterline"
    }
}

/// Whether the hole is still only on paper.
pub(super) fn is_new(hole: &Hole) -> bool {
    hole.state == HoleState::New
}

/// Whether something will go through the hole that is not bedded yet: what stands behind it, and how
/// it is fastened, can still be changed.
pub(super) fn is_still_to_fasten(case: &Case<'_>, hole: &Hole) -> bool {
    let bedded = hole.owner.and_then(|gear| case.plan.gear(gear)).is_some_and(|gear| gear.state >= BuildState::Bedded);
    hole.state.in_use() && !bedded
}

/// A hole of no owner whose number the plan knows.
pub(super) fn own_id(hole: &Hole) -> Option<crate::plan::HoleId> {
    match hole.id {
        HoleRef::Own(id) => Some(id),
        HoleRef::Gear(..) => None,
    }
}
