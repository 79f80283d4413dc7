//! The checks in words: the list of them, and the whole text of one.

use super::number::with_unit;
use crate::checks::{CHECKS, Check, LIMITS};

/// All checks, one a line: id and what is wrong when it speaks.
pub fn checks_text() -> String {
    let widest = CHECKS.iter().map(|check| check.id.len()).max().unwrap_or(0);
    let lines: Vec<String> = CHECKS.iter().map(|check| format!("{:widest$}  {}", check.id, check.title)).collect();
    lines.join("\n") + "\n"
}

/// One check: what it looks at, why, and the limits a plan can set otherwise.
pub fn explain_text(check: &Check) -> String {
    let mut text = format!("{}: {}\n\n{}\n", check.id, check.title, check.doc.trim_end());
    let limits: Vec<_> =
        LIMITS.iter().filter(|limit| limit.name.rsplit_once('.').is_some_and(|(id, _)| id == check.id)).collect();
    if !limits.is_empty() {
        text.push_str("\nLimits, which a plan can set otherwise with a reason:\n");
    }
    for limit in limits {
        text.push_str(&format!("  {}: {} ({})\n", limit.name, with_unit(limit.value, limit.unit), limit.source));
    }
    text
}
