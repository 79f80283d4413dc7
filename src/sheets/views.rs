//! The boat to scale on one page, from above and from its starboard side: hull, deck, gear by its number, holes.
//!
//! The bow is right on both. Seen from above port is up.

mod page;
mod picture;
mod tags;

use self::page::page;
use self::picture::Picture;
use super::drawing::{Drawing, Paper};
use crate::plan::Plan;
use crate::study::Study;

/// The boat from above.
pub fn plan_view(plan: &Plan, study: &Study, paper: Paper) -> Drawing {
    drawing(plan, paper, &Picture::from_above(plan, study))
}

/// The boat from its starboard side.
pub fn profile_view(plan: &Plan, study: &Study, paper: Paper) -> Drawing {
    drawing(plan, paper, &Picture::from_the_side(plan, study))
}

fn drawing(plan: &Plan, paper: Paper, picture: &Picture) -> Drawing {
    let (height, width) = paper.size_mm();
    let title = format!("{} of {}", picture.title, plan.name);
    Drawing { title, paper, landscape: true, pages: vec![page(plan, picture, width, height)] }
}
