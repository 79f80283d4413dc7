//! Two plans side by side as one JSON document, schema `gunnel.diff/1`.

use serde::Serialize;

use super::{Names, change_words};
use crate::compare::{Change, Comparison, Detail, How, Number as Compared, Verdict};
use crate::plan::On;
use crate::plan::parts::PartKey;
use crate::sheets::number::{Number, Shift};
use crate::units::Measure;

/// A comparison as one JSON document, schema `gunnel.diff/1`.
pub fn compare_json(names: Names<'_>, comparison: &Comparison) -> String {
    crate::sheets::json(&DiffSheet {
        schema: "gunnel.diff/1",
        then: names.then,
        now: names.now,
        same: comparison.is_empty(),
        changes: comparison.changes.iter().map(ChangeSheet::of).collect(),
        numbers: comparison.numbers.iter().map(NumberSheet::of).collect(),
        findings: comparison.verdicts.iter().map(VerdictSheet::of).collect(),
    })
}

#[derive(Serialize)]
struct DiffSheet<'a> {
    schema: &'static str,
    then: &'a str,
    now: &'a str,
    same: bool,
    changes: Vec<ChangeSheet<'a>>,
    numbers: Vec<NumberSheet>,
    findings: Vec<VerdictSheet<'a>>,
}

#[derive(Serialize)]
struct ChangeSheet<'a> {
    /// Stable: `gear 7`, `hole 2`, `seat`.
    part: String,
    name: &'a str,
    /// `added`, `gone`, `changed`.
    how: &'static str,
    /// In words, metric.
    says: String,
    /// How far gear was moved.
    #[serde(skip_serializing_if = "Option::is_none")]
    moved: Option<Shift>,
}

impl<'a> ChangeSheet<'a> {
    fn of(change: &'a Change) -> Self {
        let (how, details): (_, &[Detail]) = match &change.how {
            How::Added => ("added", &[]),
            How::Gone => ("gone", &[]),
            How::Altered(details) => ("changed", details),
        };
        let moved = details.iter().find_map(|detail| match detail {
            Detail::Moved { from, to, .. } => Some(Shift::from(*to - *from)),
            _ => None,
        });
        let says = change_words(change, Measure::default());
        Self { part: part(&change.key), name: &change.name, how, says, moved }
    }
}

/// The key of a part as other programs see it.
fn part(key: &PartKey) -> String {
    match key {
        PartKey::Gear(id) => id.to_string(),
        PartKey::Hole(id) => id.to_string(),
        PartKey::Main(battery) => format!("main of {battery}"),
        PartKey::Circuit(id) => id.to_string(),
        PartKey::Cable(id) => id.to_string(),
        PartKey::Seat => "seat".into(),
        PartKey::Angler => "angler".into(),
        PartKey::Hull => "hull".into(),
        PartKey::Outing => "outing".into(),
        PartKey::Readings => "readings".into(),
        PartKey::Limit(name) => format!("limit {name}"),
        PartKey::Work => "work".into(),
        PartKey::Tick(on, act) => format!("tick {act:?} {}", on_key(*on)),
        PartKey::Name => "name".into(),
        PartKey::Notes => "notes".into(),
    }
}

/// What a task is done to as other programs see it.
fn on_key(on: On) -> String {
    match on {
        On::Boat => "boat".into(),
        On::Gear(id) => id.to_string(),
        On::Hole(id) => id.to_string(),
        On::Main(battery) => format!("main of {battery}"),
        On::Circuit(id) => id.to_string(),
        On::Cable(id) => id.to_string(),
    }
}

#[derive(Serialize)]
struct NumberSheet {
    panel: &'static str,
    /// Ends in its unit; what is counted has none.
    number: &'static str,
    then: Option<Number>,
    now: Option<Number>,
    same: bool,
}

impl NumberSheet {
    fn of(number: &Compared) -> Self {
        Self {
            panel: number.panel,
            number: number.key,
            then: number.then.map(Number::from),
            now: number.now.map(Number::from),
            same: number.is_same(),
        }
    }
}

#[derive(Serialize)]
struct VerdictSheet<'a> {
    /// `cleared`, `new`, `worse`, `eased`.
    turn: &'static str,
    check: &'static str,
    subject: String,
    subject_name: &'a str,
    was: Option<&'static str>,
    now: Option<&'static str>,
    says: &'a str,
}

impl<'a> VerdictSheet<'a> {
    fn of(verdict: &'a Verdict) -> Self {
        let stands = verdict.turn != crate::compare::Turn::Cleared;
        Self {
            turn: verdict.turn.word(),
            check: verdict.finding.check,
            subject: verdict.finding.subject.to_string(),
            subject_name: &verdict.subject,
            was: verdict.was.map(|was| was.word()),
            now: stands.then(|| verdict.finding.severity.word()),
            says: &verdict.finding.says,
        }
    }
}
