//! Cables on the picture: each along its way, dashed where it is hidden; how many pass an opening together.

use crate::geometry::{Point, Spot};
use crate::study::cables::{CableRun, Runs};
use crate::tui::canvas::{Canvas, Stroke};
use crate::tui::scene::Scene;
use crate::tui::theme::Role;

/// Draws every cable that has a way, where `place` shows it; the one that is lit last.
pub(in crate::tui) fn cables(canvas: &mut Canvas, scene: &Scene<'_>, place: impl Fn(Point) -> Spot) {
    let cables = &scene.study.cables;
    let lit = |run: &&CableRun| Some(run.id) == scene.cable;
    for run in cables.runs.iter().filter(|run| !lit(run)) {
        one(canvas, run, Role::Wire, &place);
    }
    for run in cables.runs.iter().filter(lit) {
        one(canvas, run, Role::Selected, &place);
    }
    for bundle in cables.bundles.iter().filter(|bundle| bundle.cables.len() > 1) {
        let (column, row) = canvas.window().place(place(bundle.at));
        let count = bundle.cables.len().to_string();
        canvas.text(column.floor() as i64, row.floor() as i64, &count, Role::Wire, true);
    }
}

fn one(canvas: &mut Canvas, run: &CableRun, role: Role, place: &impl Fn(Point) -> Spot) {
    let Ok(way) = &run.way else { return };
    for (from, to) in way.steps.iter().zip(way.steps.iter().skip(1)) {
        let stroke = match to.runs {
            Runs::Inside | Runs::Under | Runs::Tube => Stroke::Dashed,
            Runs::Deck | Runs::DeckEdge | Runs::Side => Stroke::Solid,
        };
        canvas.stroke(place(from.at), place(to.at), role, stroke);
    }
}
