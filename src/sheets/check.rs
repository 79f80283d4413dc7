//! The findings: to read, to cut into fields, and as the one JSON document of `gunnel check`.

use serde::Serialize;

use super::number::{At, Number, plain, with_unit};
use super::place::station;
use super::study::StudySheet;
use crate::checks::{Finding, Severity};
use crate::plan::Plan;
use crate::shown::Shown;
use crate::study::Study;
use crate::units::Measure;

/// Ends every list of findings: the program advises.
const ADVICE: &str =
    "This is advice, not permission: the hull's maker, local law and a float test with the real load decide.";

/// The findings for reading: what, by how much, what to do, where, by which rule.
pub fn check_text(plan: &Plan, findings: &[Finding], tape: Measure) -> String {
    let title = format!("{}: {}\n", Shown(plan.name.as_str()), counted(findings));
    let findings = findings.iter().map(|finding| finding_text(plan, finding, tape));
    std::iter::once(title).chain(findings).chain([ADVICE.to_string()]).collect::<Vec<_>>().join("\n") + "\n"
}

/// `1 stop, 3 cautions, 2 notes`.
fn counted(findings: &[Finding]) -> String {
    let count = |severity: Severity| {
        let number = findings.iter().filter(|finding| finding.severity == severity).count();
        let ending = if number == 1 { "" } else { "s" };
        (number > 0).then(|| format!("{number} {}{ending}", severity.word()))
    };
    let counts: Vec<String> =
        [Severity::Stop, Severity::Caution, Severity::Note].into_iter().filter_map(count).collect();
    if counts.is_empty() { "no findings".into() } else { counts.join(", ") }
}

fn finding_text(plan: &Plan, finding: &Finding, tape: Measure) -> String {
    let mut lines = vec![
        format!("{}  {}  {}", finding.severity.word(), finding.check, Shown(&finding.subject.named(plan))),
        format!("  {}", Shown(&finding.says)),
        format!("  {}", margin_words(finding)),
        format!("  do: {}", Shown(&finding.remedy)),
    ];
    if let Some(at) = finding.at {
        lines.push(format!("  place: {}", Shown(&station(plan, at.spot(), tape))));
    }
    lines.push(format!("  source: {}", finding.source));
    lines.join("\n") + "\n"
}

/// `4 mm against a limit of 22 mm: 18 mm on the wrong side`.
fn margin_words(finding: &Finding) -> String {
    let with = |value: f64| with_unit(value, finding.unit);
    let side = if finding.margin < 0.0 { "on the wrong side" } else { "to spare" };
    format!("{} against a limit of {}: {} {side}", with(finding.value), with(finding.limit), with(finding.margin.abs()))
}

/// The findings one a line, fields cut by tabs: severity, check, subject, value, limit, margin, unit, place, what is
/// wrong, what to do, source.
pub fn check_plain(plan: &Plan, findings: &[Finding]) -> String {
    let line = |finding: &Finding| {
        let place = finding.at.map(|at| station(plan, at.spot(), Measure::default())).unwrap_or_default();
        let fields = [
            finding.severity.word().to_string(),
            finding.check.to_string(),
            finding.subject.named(plan),
            plain(finding.value),
            plain(finding.limit),
            plain(finding.margin),
            finding.unit.to_string(),
            place,
            finding.says.clone(),
            finding.remedy.clone(),
            finding.source.to_string(),
        ];
        // A tab inside a field is shown as a blank.
        fields.map(|field| Shown(&field).to_string()).join("\t") + "\n"
    };
    findings.iter().map(line).collect()
}

/// Findings and study as one JSON document, schema `gunnel.check/1`.
pub fn check_json(plan: &Plan, study: &Study, findings: &[Finding]) -> String {
    let sheet = CheckSheet {
        schema: "gunnel.check/1",
        plan: plan.name.as_str(),
        ok: findings.iter().all(|finding| finding.severity != Severity::Stop),
        findings: findings.iter().map(|finding| FindingSheet::of(plan, finding)).collect(),
        study: StudySheet::of(plan, study),
    };
    super::json(&sheet)
}

#[derive(Serialize)]
struct CheckSheet<'a> {
    schema: &'static str,
    plan: &'a str,
    ok: bool,
    findings: Vec<FindingSheet<'a>>,
    study: StudySheet<'a>,
}

/// One finding for other programs.
#[derive(Serialize)]
pub(super) struct FindingSheet<'a> {
    check: &'static str,
    severity: &'static str,
    /// Stable: `gear 7`, `hole 2 of gear 7`.
    subject: String,
    /// As the person calls it.
    subject_name: String,
    value: Number,
    limit: Number,
    margin: Number,
    unit: &'static str,
    says: &'a str,
    #[serde(rename = "do")]
    remedy: &'a str,
    source: &'static str,
    at: Option<At>,
    /// The place in words.
    place: Option<String>,
}

impl<'a> FindingSheet<'a> {
    pub(super) fn of(plan: &Plan, finding: &'a Finding) -> Self {
        Self {
            check: finding.check,
            severity: finding.severity.word(),
            subject: finding.subject.to_string(),
            subject_name: finding.subject.named(plan),
            value: finding.value.into(),
            limit: finding.limit.into(),
            margin: finding.margin.into(),
            unit: finding.unit,
            says: &finding.says,
            remedy: &finding.remedy,
            source: finding.source,
            at: finding.at.map(At::from),
            place: finding.at.map(|at| station(plan, at.spot(), Measure::default())),
        }
    }
}
