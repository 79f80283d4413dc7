//! Words that the findings about lights share: what hides one, what to do, whose law it is.

use super::way::way;
use super::{Case, words};
use crate::study::lights::Shown;
use crate::study::lights::higher::Way;
use crate::study::lights::people::Stance;
use crate::study::lights::sector::Sector;

/// Ends every remedy about lights.
pub(super) const LAW: &str = "These are the international rules: the law where you are decides.";

/// `pole light`, and of a combined lantern which half: `bow light, red side light to port,`.
pub(super) fn lantern(case: &Case<'_>, shown: &Shown) -> String {
    let label = words::label(case.plan, shown.gear);
    let halves = case.study.lights.lanterns.iter().filter(|other| other.gear == shown.gear).count();
    if halves > 1 { format!("{label} ({})", shown.role.word()) } else { label }
}

/// `from 172 to 189 deg, dead astern`, at most three of them.
pub(super) fn sectors(parts: &[Sector]) -> String {
    words::list(&parts.iter().map(Sector::words).collect::<Vec<_>>())
}

/// `the seated angler and crate`.
pub(super) fn blockers(case: &Case<'_>, shown: &Shown, stance: Stance) -> String {
    let named = shown.blockers(stance).into_iter().map(|by| by.named(case.plan));
    words::list(&named.collect::<Vec<_>>())
}

/// `raise it 60 mm or move it 200 mm aft`.
pub(super) fn to_pass(found: Option<&Way>) -> String {
    let raise = found.and_then(|found| found.raise_mm).map(|by| format!("raise it {by:.0} mm"));
    let shift = found.and_then(|found| found.shift).map(|by| format!("move it {}", way(by)));
    match (raise, shift) {
        (Some(raise), Some(shift)) => format!("{raise} or {shift}"),
        (Some(one), None) | (None, Some(one)) => one,
        (None, None) => "put it where nothing stands between it and the horizon, or carry a second one".into(),
    }
}
