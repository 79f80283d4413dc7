//! The boat to scale on one page, from above and from its starboard side: hull, deck, gear by its number, holes.
//!
//! The bow is right on both. Seen from above port is up.

mod key;
mod page;
mod picture;
mod scale;
mod section;
mod slice;
mod tags;

use self::page::page;
use self::picture::Picture;
use super::drawing::{Drawing, Paper};
use crate::plan::Plan;
use crate::study::Study;
use crate::units::Measure;

pub use section::{MOST_SECTIONS, section_view};

/// The boat from above.
pub fn plan_view(plan: &Plan, study: &Study, paper: Paper, tape: Measure) -> Drawing {
    drawing(plan, paper, tape, &Picture::from_above(plan, study))
}

/// The boat from its starboard side.
pub fn profile_view(plan: &Plan, study: &Study, paper: Paper, tape: Measure) -> Drawing {
    drawing(plan, paper, tape, &Picture::from_the_side(plan, study))
}

fn drawing(plan: &Plan, paper: Paper, tape: Measure, picture: &Picture) -> Drawing {
    let (height, width) = paper.size_mm();
    let title = format!("{} of {}", picture.title, plan.name);
    Drawing { title, paper, landscape: true, pages: vec![page(plan, picture, tape, width, height)] }
}
