//! A hull to float, in whichever file a person has it: a plan, a hull class, a bare hull, or offsets.
//!
//! Which of them a text is, its outermost fields tell; each kind has its own door.

use std::path::Path;
use std::sync::Arc;

use serde::Deserialize;

use super::{Complaint, Format, LoadError, Survey, look_over, value};
use crate::catalogue::{HullClass, plan_on};
use crate::geometry::Form;
use crate::nearest::nearest;
use crate::plan::Hull;

/// A hull that was read.
#[derive(Clone, Debug, PartialEq)]
pub enum Boat {
    /// A hull with all that is known of it.
    Hull(Arc<Hull>),
    /// Its sections and nothing else.
    Offsets(Form),
}

/// Reads the hull of a plan, a hull class, a bare hull or offsets. `file` names the text in errors.
pub fn boat(text: &str, file: &Path, format: Format) -> Result<Boat, LoadError> {
    let text = text.trim_start_matches('\u{feff}');
    let survey = look_over(text, file, format)?;
    let hull = match kind(text, &survey) {
        Kind::Plan => return super::plan(text, file, format).map(|plan| Boat::Hull(plan.hull)),
        Kind::Offsets => return offsets(text, file, format, &survey).map(Boat::Offsets),
        Kind::Class => value::<HullClass>(text, file, format, &survey)?.hull,
        Kind::Hull => value::<Hull>(text, file, format, &survey)?,
    };
    match plan_on(&hull).validate() {
        Ok(()) => Ok(Boat::Hull(Arc::new(hull))),
        Err(faults) => Err(LoadError::faulty(file, faults, text, &survey)),
    }
}

/// Sections alone, as any program can write them.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Offsets {
    sections: Form,
}

/// Most points of one section; each is compared with each, and a traced section has a hundred.
const MOST_IN_SECTION: usize = 2_000;
/// Most points of all sections together: as many as a plan's hull may have.
const MOST_POINTS: usize = 40_000;

fn offsets(text: &str, file: &Path, format: Format, survey: &Survey) -> Result<Form, LoadError> {
    let form = value::<Offsets>(text, file, format, survey)?.sections;
    let counts = || form.sections.iter().map(|section| section.points_mm.len());
    let (most, all) = (counts().max().unwrap_or(0), counts().sum::<usize>());
    if most <= MOST_IN_SECTION && all <= MOST_POINTS {
        return Ok(form);
    }
    let what = format!("{all} points, {most} in one section; {MOST_POINTS} and {MOST_IN_SECTION} at most are read");
    let hint = Some("leave out points that lie straight between others".into());
    Err(LoadError::one(file, Complaint { place: None, field: Some("sections".into()), what, hint }))
}

#[derive(Clone, Copy)]
enum Kind {
    Plan,
    Class,
    Hull,
    Offsets,
}

/// Outermost fields that stand in one kind of file only.
const TELLING: &[(&str, Kind)] = &[
    ("format", Kind::Plan),
    ("gear", Kind::Plan),
    ("sections", Kind::Offsets),
    ("about", Kind::Class),
    ("form", Kind::Hull),
    ("rating", Kind::Hull),
];

/// The kind of a text, by a telling field, else by one that is nearly one; else it is meant to be a plan.
fn kind(text: &str, survey: &Survey) -> Kind {
    let fields = || survey.fields.iter().map(|field| field.unquoted(text));
    let exact = TELLING.iter().find(|(name, _)| fields().any(|field| field == *name));
    let meant = || {
        let name = fields().find_map(|field| nearest(field, TELLING.iter().map(|(name, _)| *name)))?;
        TELLING.iter().find(|(telling, _)| *telling == name)
    };
    exact.or_else(meant).map_or(Kind::Plan, |(_, kind)| *kind)
}
