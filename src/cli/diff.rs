//! `gunnel diff`: what two plans, or two states of one plan, differ in.

use super::answer::put;
use super::arguments::Diff;
use super::verbs::read;
use super::{Failure, Surroundings, exit};
use crate::checks;
use crate::compare::{Comparison, Side};
use crate::nearest::nearest;
use crate::plan::Plan;
use crate::sheets::{self, Names};
use crate::shown::Shown;
use crate::storage::paths;
use crate::study::Study;
use crate::units::Measure;

pub(super) fn diff(arguments: &Diff, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let first = named(&arguments.a, arguments.from.as_deref(), arguments, around)?;
    let second = match &arguments.b {
        Some(b) => named(b, arguments.to.as_deref(), arguments, around)?,
        None => named(&arguments.a, arguments.to.as_deref(), arguments, around)?,
    };
    let comparison = compare(&first.plan, &second.plan);
    let names = Names { then: &first.name, now: &second.name };
    let answer = if arguments.json {
        sheets::compare_json(names, &comparison)
    } else {
        sheets::compare_text(names, &comparison, Measure::default())
    };
    put(around, answer.as_bytes())?;
    Ok(if comparison.is_empty() { exit::CLEAN } else { exit::STOP })
}

fn compare(then: &Plan, now: &Plan) -> Comparison {
    let studies = [Study::of(then), Study::of(now)];
    let findings = [checks::run(then, &studies[0]), checks::run(now, &studies[1])];
    Comparison::of(
        Side { plan: then, study: &studies[0], findings: &findings[0] },
        Side { plan: now, study: &studies[1], findings: &findings[1] },
    )
}

/// A plan and what to call it.
struct Named {
    name: String,
    plan: Plan,
}

/// The plan of a file, or the revision of it that was asked for.
fn named(
    file: &std::path::Path,
    revision: Option<&str>,
    arguments: &Diff,
    around: &mut Surroundings<'_>,
) -> Result<Named, Failure> {
    let plan = read(file, arguments.format, around)?;
    let Some(wanted) = revision else { return Ok(Named { name: paths::shown(file), plan }) };
    let names = || plan.revisions.iter().map(|revision| revision.name.as_str());
    match plan.revisions.iter().rev().find(|revision| revision.name.as_str() == wanted) {
        Some(revision) => Ok(Named { name: format!("\"{wanted}\""), plan: (*revision.plan).clone() }),
        None => {
            let what = format!("{} has no revision \"{}\"", paths::shown(file), Shown(wanted));
            let meant = nearest(wanted, names()).map(|meant| format!("did you mean \"{}\"? ", Shown(meant)));
            let all: Vec<String> = names().map(|name| format!("\"{}\"", Shown(name))).collect();
            let all = if all.is_empty() { "it has none".into() } else { format!("it has {}", all.join(", ")) };
            Err(Failure::usage(&what, &format!("{}{all}", meant.unwrap_or_default())))
        }
    }
}
