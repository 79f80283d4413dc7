//! `gunnel sheet`: a page for the bench. A sheet is a row of [`SHEETS`].

use std::path::Path;

use super::answer::put;
use super::arguments::{SheetArguments, SheetName};
use super::verbs::{read, save};
use super::{Failure, Surroundings};
use crate::plan::Plan;
use crate::sheets::{self, Sheet};
use crate::storage::paths::{self, Folders};
use crate::study::Study;
use crate::units::Measure;

/// What a sheet is made from.
struct Asked<'a> {
    plan: &'a Plan,
    study: &'a Study,
    tape: Measure,
    arguments: &'a SheetArguments,
}

/// Makes a sheet.
type Make = fn(&Asked<'_>) -> Sheet;

/// Every sheet and what makes it.
const SHEETS: &[(SheetName, Make)] = &[
    (SheetName::Wiring, |asked| sheets::wiring_sheet(asked.plan, asked.study, asked.tape)),
    (SheetName::Drill, |asked| sheets::drill_sheet(asked.plan, asked.study, asked.tape)),
    (SheetName::Parts, |asked| sheets::parts_sheet(asked.plan, asked.study)),
    (SheetName::Work, |asked| {
        let evening_min = asked.arguments.evening.map(f64::from);
        sheets::work_sheet(asked.plan, asked.study, asked.arguments.start, evening_min)
    }),
    (SheetName::Checklist, |asked| sheets::checklist_sheet(asked.plan, asked.study)),
];

pub(super) fn sheet(
    arguments: &SheetArguments,
    folders: &Folders,
    around: &mut Surroundings<'_>,
) -> Result<u8, Failure> {
    let file = arguments.output.as_deref().filter(|file| *file != Path::new("-"));
    if let Some(file) = file {
        refuse_the_plan_itself(file, &arguments.plan, "write the sheet to another file")?;
    }
    if arguments.sheet != SheetName::Work && (arguments.start.is_some() || arguments.evening.is_some()) {
        return Err(Failure::usage("--start and --evening are for the order of work", "gunnel sheet work PLAN"));
    }
    let plan = read(&arguments.plan, None, around)?;
    let study = Study::of(&plan);
    let made = SHEETS
        .iter()
        .filter(|(name, _)| *name == arguments.sheet)
        .map(|(_, make)| make(&Asked { plan: &plan, study: &study, tape: Measure::default(), arguments }));
    let text: String = made.map(|sheet| sheet.written(arguments.format.into())).collect();
    match file {
        Some(file) => save(file, text.as_bytes(), arguments.force, folders, around),
        None => put(around, text.as_bytes()),
    }
}

/// What is written never takes the place of the plan it is made from.
pub(super) fn refuse_the_plan_itself(file: &Path, plan: &Path, hint: &str) -> Result<(), Failure> {
    let refusal = || Failure::usage(&format!("{} is the plan itself", paths::shown(file)), hint);
    if same(file, plan) { Err(refusal()) } else { Ok(()) }
}

/// Whether two paths lead to one file.
fn same(one: &Path, other: &Path) -> bool {
    one == other || one.canonicalize().ok().zip(other.canonicalize().ok()).is_some_and(|(one, other)| one == other)
}
