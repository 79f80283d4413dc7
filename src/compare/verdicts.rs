//! What became of the findings: cleared, new, worse, eased.

use super::Side;
use crate::checks::{Finding, Severity};

/// What became of a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Turn {
    /// It stands no more.
    Cleared,
    /// It did not stand before.
    New,
    /// It weighs more.
    Worse,
    /// It weighs less.
    Eased,
}

impl Turn {
    /// The word on the screen and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Cleared => "cleared",
            Self::New => "new",
            Self::Worse => "worse",
            Self::Eased => "eased",
        }
    }
}

/// A finding that did not stay as it was.
#[derive(Clone, Debug, PartialEq)]
pub struct Verdict {
    /// What became of it.
    pub turn: Turn,
    /// How heavy it was; `None` for a new one.
    pub was: Option<Severity>,
    /// The finding as it stands now; of a cleared one, as it stood.
    pub finding: Finding,
    /// Whom it is about, by name.
    pub subject: String,
}

/// What became of the findings, by check and subject: the new and worse first, each in the order of its list. A check
/// may have several findings about one subject: they are taken in their order, the heaviest first.
pub(super) fn verdicts(then: Side<'_>, now: Side<'_>) -> Vec<Verdict> {
    let mut before: Vec<Option<&Finding>> = then.findings.iter().map(Some).collect();
    let mut verdicts = Vec::new();
    for finding in now.findings {
        let same = |old: &&mut Option<&Finding>| {
            old.is_some_and(|old| old.check == finding.check && old.subject == finding.subject)
        };
        let was = before.iter_mut().find(same).and_then(Option::take).map(|old| old.severity);
        let turn = match was {
            None => Turn::New,
            Some(was) if was < finding.severity => Turn::Worse,
            Some(was) if was > finding.severity => Turn::Eased,
            Some(_) => continue,
        };
        verdicts.push(Verdict { turn, was, finding: finding.clone(), subject: finding.subject.named(now.plan) });
    }
    verdicts.sort_by_key(|verdict| verdict.turn == Turn::Eased);
    verdicts.extend(before.into_iter().flatten().map(|old| Verdict {
        turn: Turn::Cleared,
        was: Some(old.severity),
        finding: old.clone(),
        subject: old.subject.named(then.plan),
    }));
    verdicts
}
