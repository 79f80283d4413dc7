//! The findings: to read, to cut into fields, and as the one JSON document of `gunnel check`.

use serde::Serialize;

use super::float::float_lines;
use super::number::{At, Number, plain, with_unit};
use super::place::station;
use super::study::StudySheet;
use crate::checks::{Finding, Severity};
use crate::plan::Plan;
use crate::shown::Shown;
use crate::study::Study;
use crate::units::Measure;

/// Ends every list of findings and every answer on floating: the program advises.
pub(super) const ADVICE: &str =
    "This is advice, not permission: the hull's maker, local law and a float test with the real load decide.";

/// The findings for reading: what, by how much, what to do, where, by which rule; and how the boat floats.
pub fn check_text(plan: &Plan, study: &Study, findings: &[Finding], tape: Measure) -> String {
    let severities: Vec<Severity> = findings.iter().map(|finding| finding.severity).collect();
    let counted = counted(&severities).unwrap_or_else(|| "no findings".into());
    let title = format!("{}: {counted}\n", Shown(plan.name.as_str()));
    let findings = findings.iter().map(|finding| finding_text(plan, finding, tape));
    let lines = float_lines(&study.float, tape);
    let float = format!("float as planned\n  {}\n", lines.join("\n  "));
    std::iter::once(title).chain(findings).chain([float, ADVICE.to_string()]).collect::<Vec<_>>().join("\n") + "\n"
}

/// `1 stop, 3 cautions, 2 notes`; none of nothing.
pub fn counted(severities: &[Severity]) -> Option<String> {
    let count = |severity: Severity| {
        let number = severities.iter().filter(|found| **found == severity).count();
        let ending = if number == 1 { "" } else { "s" };
        (number > 0).then(|| format!("{number} {}{ending}", severity.word()))
    };
    let counts: Vec<String> =
        [Severity::Stop, Severity::Caution, Severity::Note].into_iter().filter_map(count).collect();
    (!counts.is_empty()).then(|| counts.join(", "))
}

fn finding_text(plan: &Plan, finding: &Finding, tape: Measure) -> String {
    let mut lines = vec![
        format!("{}  {}  {}", finding.severity.word(), finding.check, Shown(&finding.subject.named(plan))),
        format!("  {}", Shown(&finding.says)),
    ];
    // Of things counted the sentence says all there is to say.
    if finding.unit != "count" {
        lines.push(format!("  {}", margin_words(finding)));
    }
    lines.push(format!("  do: {}", Shown(&finding.remedy)));
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

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::catalogue::new_plan;
    use crate::checks::Subject;
    use crate::geometry::Point;

    fn finding() -> Finding {
        Finding {
            check: "hole-edge",
            severity: Severity::Caution,
            subject: Subject::Plan,
            at: Some(Point::new(1525.0, -20.0, 60.0)),
            value: 12.34,
            limit: 22.0,
            margin: -9.66,
            unit: "mm",
            says: "a hole\tclose to an edge".into(),
            remedy: "move it".into(),
            source: "common practice, no source",
        }
    }

    #[test]
    fn a_finding_reads_as_a_paragraph() {
        let plan = new_plan("angler-10").unwrap();
        let study = Study::of(&plan);
        let text = check_text(&plan, &study, &[finding()], Measure::default());
        let (found, rest) = text.split_once("float as planned\n  ").unwrap();
        assert_eq!(
            found,
            "new plan: 1 caution\n\n\
             caution  hole-edge  the plan\n  \
             a hole close to an edge\n  \
             12 mm against a limit of 22 mm: 10 mm on the wrong side\n  \
             do: move it\n  \
             place: 1525 mm from stern, 20 mm to starboard, seat pan\n  \
             source: common practice, no source\n\n"
        );
        assert_eq!(rest, format!("{}\n\n{ADVICE}\n", float_lines(&study.float, Measure::default()).join("\n  ")));
        let nothing = check_text(&plan, &study, &[], Measure::default());
        assert!(nothing.starts_with("new plan: no findings\n\nfloat as planned\n"), "{nothing}");
    }

    #[test]
    fn a_line_has_its_fields_and_no_other_tabs() {
        let plan = new_plan("angler-10").unwrap();
        let line = check_plain(&plan, &[finding()]);
        assert_eq!(line.matches('\t').count(), 10, "{line}");
        assert!(line.starts_with("caution\thole-edge\tthe plan\t12.3\t22\t-9.7\tmm\t"), "{line}");
    }

    #[test]
    fn numbers_that_are_none_become_null() {
        let plan = new_plan("angler-10").unwrap();
        let broken = Finding { value: f64::NAN, margin: f64::NEG_INFINITY, ..finding() };
        let text = check_json(&plan, &Study::of(&plan), &[broken]);
        let json: serde_json::Value = serde_json::from_str(&text).unwrap();
        assert!(json["findings"][0]["value"].is_null() && json["findings"][0]["margin"].is_null());
        assert_eq!(json["findings"][0]["limit"], 22.0);
        assert_eq!(json["ok"], true, "a caution is no stop");
    }
}
