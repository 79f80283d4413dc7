//! `gunnel notes`: what was said about a plan.

use std::path::Path;

use super::answer::{put, warn};
use super::verbs::read;
use super::{Failure, Surroundings};
use crate::checks;
use crate::compare::Side;
use crate::review::talk;
use crate::sheets::{self, Markup};
use crate::storage::comments::Comments;
use crate::study::Study;
use crate::units::Measure;

pub(super) fn notes(path: &Path, json: bool, markdown: bool, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    let plan = read(path, None, around)?;
    let heard = Comments::beside(path).read();
    for trouble in &heard.troubles {
        warn(around, trouble);
    }
    let study = Study::of(&plan);
    let findings = checks::run(&plan, &study);
    let now = Side { plan: &plan, study: &study, findings: &findings };
    let talk = talk(&plan, &heard.authors);
    let answer = match (json, markdown) {
        (true, _) => sheets::notes_json(now, &talk),
        (_, true) => sheets::notes_page(now, &talk, Markup::Markdown, Measure::default()),
        _ => sheets::notes_page(now, &talk, Markup::Text, Measure::default()),
    };
    put(around, answer.as_bytes())
}
