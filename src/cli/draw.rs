//! `gunnel draw`: a drawing to print, as a file.

use super::answer::warn;
use super::arguments::{DrawArguments, DrawView};
use super::sheet::refuse_the_plan_itself;
use super::verbs::{read, save};
use super::{Failure, Surroundings};
use crate::plan::Plan;
use crate::sheets::{MOST_SECTIONS, plan_view, profile_view, section_view, templates};
use crate::shown::Shown;
use crate::storage::paths::Folders;
use crate::study::Study;
use crate::study::section::{Place, places};
use crate::units::{Measure, length_from_text};

pub(super) fn draw(arguments: &DrawArguments, folders: &Folders, around: &mut Surroundings<'_>) -> Result<u8, Failure> {
    refuse_the_plan_itself(&arguments.output, &arguments.plan, "write the drawing to another file")?;
    if arguments.view != DrawView::Section && !arguments.at.is_empty() {
        return Err(Failure::usage("--at is for sections", "gunnel draw PLAN --view section --at 1250mm -o FILE"));
    }
    let plan = read(&arguments.plan, None, around)?;
    let study = Study::of(&plan);
    let (paper, tape) = (arguments.paper.into(), arguments.measure());
    let drawing = match arguments.view {
        DrawView::Plan => plan_view(&plan, &study, paper, tape),
        DrawView::Profile => profile_view(&plan, &study, paper, tape),
        DrawView::Section => section_view(&plan, &study, &asked(&plan, &study, &arguments.at, tape)?, paper, tape),
        DrawView::Templates => templates(&plan, &study, paper),
    };
    let form = arguments.format.into();
    if !drawing.can_say_all(form) {
        warn(around, "a PDF has no letters for some of the names and shows ? instead; --format svg keeps them");
    }
    save(&arguments.output, &drawing.written(form), arguments.force, folders, around)
}

/// The places that were asked for, from aft to bow and each once; where none was, those that matter.
fn asked(plan: &Plan, study: &Study, at: &[String], tape: Measure) -> Result<Vec<Place>, Failure> {
    if at.is_empty() {
        return Ok(places(plan, study));
    }
    if at.len() > MOST_SECTIONS {
        let many = format!("{} sections are too many: the key beside them has room for {MOST_SECTIONS}", at.len());
        return Err(Failure::usage(&many, "write several drawings"));
    }
    let mut found = at.iter().map(|text| station(study, text, tape)).collect::<Result<Vec<f64>, Failure>>()?;
    found.sort_by(f64::total_cmp);
    found.dedup();
    Ok(found.into_iter().map(|x_mm| Place { x_mm, what: String::new() }).collect())
}

/// A station on the hull, mm forward of its aft end.
fn station(study: &Study, text: &str, tape: Measure) -> Result<f64, Failure> {
    let wrong = |fault: &str, hint: &str| Failure::usage(&format!("--at \"{}\": {fault}", Shown(text)), hint);
    let length =
        length_from_text(text, tape.0).map_err(|fault| wrong(&fault.to_string(), "for example --at 1250mm"))?;
    let form = study.shape.form();
    if form.gunwale(length.to_mm()).is_some() {
        return Ok(length.to_mm());
    }
    let ends = form.sections.first().zip(form.sections.last());
    let hint = ends.map_or("the hull has no length".into(), |(aft, fore)| {
        format!("the hull runs from {} to {} from the stern", tape.bare(aft.x_mm), tape.length(fore.x_mm))
    });
    Err(wrong("there is no hull", &hint))
}
