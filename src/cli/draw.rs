//! `gunnel draw`: a drawing to print, as a file.

use super::arguments::{DrawArguments, DrawView};
use super::sheet::refuse_the_plan_itself;
use super::verbs::{read, save};
use super::{Failure, Surroundings};
use crate::sheets::templates;
use crate::storage::paths::Folders;
use crate::study::Study;

pub(super) fn draw(arguments: &DrawArguments, folders: &Folders, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    refuse_the_plan_itself(&arguments.output, &arguments.plan, "write the drawing to another file")?;
    let plan = read(&arguments.plan, None, around)?;
    let study = Study::of(&plan);
    let drawing = match arguments.view {
        DrawView::Templates => templates(&plan, &study, arguments.paper.into()),
    };
    save(&arguments.output, &drawing.written(arguments.format.into()), arguments.force, folders, around)
}
