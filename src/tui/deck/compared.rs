//! Then and now on the deck: where gear stood in another state of the plan, and which holes came and went.

use super::gear::bodies;
use super::labels::{Label, write};
use super::marks::aside;
use crate::tui::canvas::{Canvas, Stroke};
use crate::tui::compared::{Compared, Difference};
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::scene::Scene;
use crate::tui::theme::Role;

/// Paints the other state as dashed outlines, a dashed line from there to where gear is now, `+` on what is new and
/// `~` on what is altered in its place.
pub(super) fn compared(canvas: &mut Canvas, scene: &Scene<'_>, other: &Compared, glyphs: Glyphs) {
    let mut labels = Vec::new();
    for (id, difference) in other.gear() {
        let (there, here) = (other.study.rig.item(id), scene.study.rig.item(id));
        let outlined = there.filter(|_| matches!(difference, Difference::There | Difference::Moved));
        if let Some(item) = outlined {
            for mask in bodies(canvas, item) {
                canvas.dashes(&mask, Role::Ghost);
            }
            if let (Difference::There, Some(gear)) = (difference, other.plan.gear(id)) {
                labels.push(Label { role: Role::Ghost, ..Label::of(gear, item, false, Role::Deck) });
            }
        }
        let Some(here) = here else { continue };
        match difference {
            Difference::Moved => {
                if let Some(there) = there {
                    canvas.stroke(there.at.spot(), here.at.spot(), Role::Ghost, Stroke::Dashed);
                    canvas.mark(there.at.spot(), glyphs.of(Glyph::Then), Role::Ghost, true);
                }
            }
            Difference::Here | Difference::Altered => {
                let symbol = if difference == Difference::Here { "+" } else { "~" };
                let spot = aside(canvas, here.at.spot());
                canvas.mark(spot, symbol, Role::Changed, true);
            }
            Difference::There => {}
        }
    }
    write(canvas, &mut labels);
    for spot in &other.holes.gone {
        canvas.mark(*spot, glyphs.of(Glyph::HoleGone), Role::Ghost, true);
    }
    for spot in &other.holes.new {
        canvas.mark(*spot, glyphs.of(Glyph::HoleNew), Role::Changed, true);
    }
}
