//! `gunnel sheet`: a page for the bench. A sheet is a row of [`SHEETS`].

use std::path::Path;

use super::answer::put;
use super::arguments::{SheetArguments, SheetName};
use super::verbs::{read, save};
use super::{Failure, Surroundings};
use crate::plan::Plan;
use crate::sheets::{Sheet, wiring_sheet};
use crate::storage::paths::{self, Folders};
use crate::study::Study;
use crate::units::Measure;

/// Makes a sheet of a plan and its study.
type Make = fn(&Plan, &Study, Measure) -> Sheet;

/// Every sheet and what makes it.
const SHEETS: &[(SheetName, Make)] = &[(SheetName::Wiring, wiring_sheet)];

pub(super) fn sheet(
    arguments: &SheetArguments,
    folders: &Folders,
    around: &mut Surroundings<'_>,
) -> Result<u8, Failure> {
    let file = arguments.output.as_deref().filter(|file| *file != Path::new("-"));
    if let Some(file) = file.filter(|file| same(file, &arguments.plan)) {
        let what = format!("{} is the plan itself", paths::shown(file));
        return Err(Failure::usage(&what, "write the sheet to another file"));
    }
    let plan = read(&arguments.plan, None, around)?;
    let study = Study::of(&plan);
    let made = SHEETS
        .iter()
        .filter(|(name, _)| *name == arguments.sheet)
        .map(|(_, make)| make(&plan, &study, Measure::default()));
    let text: String = made.map(|sheet| sheet.written(arguments.format.into())).collect();
    match file {
        Some(file) => save(file, &text, arguments.force, folders, around),
        None => put(around, text.as_bytes()),
    }
}

/// Whether two paths lead to one file.
fn same(one: &Path, other: &Path) -> bool {
    one == other || one.canonicalize().ok().zip(other.canonicalize().ok()).is_some_and(|(one, other)| one == other)
}
