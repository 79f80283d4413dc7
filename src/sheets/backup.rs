//! What fails with one part, on a page to read.

use super::study::label;
use crate::plan::Plan;
use crate::study::Study;
use crate::study::backup::{Failure, Need};

/// One line for each part that takes something with it, and the spares to carry.
pub(super) fn backup_lines(plan: &Plan, study: &Study) -> Vec<String> {
    let backup = &study.backup;
    let spares: Vec<String> = backup.spares.iter().map(|spare| spare.words()).collect();
    let spares = (!spares.is_empty()).then(|| format!("spares: {}", spares.join(", ")));
    let lines: Vec<String> = backup.failures.iter().map(|failure| line(plan, failure)).chain(spares).collect();
    if lines.is_empty() { vec!["nothing aboard hangs on one part".into()] } else { lines }
}

/// `without the fuse of "pole light" (2 A): pole light; nothing else for lights`.
fn line(plan: &Plan, failure: &Failure) -> String {
    let lost: Vec<&str> = failure.lost.iter().map(|gear| label(plan, *gear)).collect();
    let needs: Vec<&str> = failure.needs.iter().copied().map(Need::word).collect();
    let needs = if needs.is_empty() { String::new() } else { format!("; nothing else for {}", needs.join(", ")) };
    let other = failure.other_battery.map_or(String::new(), |other| format!("; {} stands in", label(plan, other)));
    format!("without {}: {}{needs}{other}", failure.part.words(plan), lost.join(", "))
}
