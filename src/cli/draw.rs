//! `gunnel draw`: a drawing to print, as a file.

use super::arguments::{DrawArguments, DrawView};
use super::sheet::refuse_the_plan_itself;
use super::verbs::{read, save};
use super::{Failure, Surroundings};
use crate::sheets::{plan_view, profile_view, templates};
use crate::storage::paths::Folders;
use crate::study::Study;

pub(super) fn draw(arguments: &DrawArguments, folders: &Folders, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    refuse_the_plan_itself(&arguments.output, &arguments.plan, "write the drawing to another file")?;
    let plan = read(&arguments.plan, None, around)?;
    let study = Study::of(&plan);
    let paper = arguments.paper.into();
    let drawing = match arguments.view {
        DrawView::Plan => plan_view(&plan, &study, paper),
        DrawView::Profile => profile_view(&plan, &study, paper),
        DrawView::Templates => templates(&plan, &study, paper),
    };
    save(&arguments.output, &drawing.written(arguments.format.into()), arguments.force, folders, around)
}
