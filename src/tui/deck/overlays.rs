//! What is laid over the picture: space that motions need, named; where the hull meets the water.

use unicode_width::UnicodeWidthStr;

use crate::geometry::Solid;
use crate::plan::Drilling;
use crate::study::clearance::{Envelope, Motion};
use crate::tui::canvas::Canvas;
use crate::tui::mask::Mask;
use crate::tui::scene::Scene;
use crate::tui::theme::Role;

/// Paints the envelopes, and with the holes the zones that may not be drilled.
pub(super) fn paint(canvas: &mut Canvas, scene: &Scene<'_>) {
    if scene.overlays.envelopes {
        // From above, what is under the hull is all of it.
        let over = |envelope: &Envelope| envelope.motion != Motion::Underside;
        envelopes(canvas, scene, |canvas, envelope, solid| over(envelope).then(|| canvas.outline(&solid.outline)));
        for envelope in scene.study.clearance.envelopes.iter().filter(|envelope| over(envelope)) {
            name_envelope(canvas, envelope);
        }
    }
    if scene.overlays.holes {
        let forbidden = |d: &Drilling| matches!(d, Drilling::Forbidden(_));
        for zone in scene.plan.hull.zones.iter().filter(|zone| forbidden(&zone.drilling)) {
            let mask = canvas.polygon(&zone.outline_mm);
            canvas.hatch(&mask, Role::Seam, 4);
        }
    }
}

/// Draws where the hull meets the water at rest.
pub(super) fn waterline(canvas: &mut Canvas, scene: &Scene<'_>) {
    let (form, water) = (scene.form(), &scene.study.float.levels.rest);
    let thick = canvas.window().mm_per_row / 2.0;
    for column in 0..canvas.columns() {
        for side in [1.0, -1.0] {
            if let Some(half) = form.wet_half_breadth(water, canvas.x_of(column), side) {
                canvas.upright(column, side * (half - thick).max(0.0), side * half, Role::Waterline);
            }
        }
    }
}

/// Each envelope as one shape, made of what is seen of its solids. Hard ones have an edge: gear in them stops the
/// motion. Soft ones are hatched only.
pub(in crate::tui) fn envelopes(
    canvas: &mut Canvas,
    scene: &Scene<'_>,
    seen: impl Fn(&Canvas, &Envelope, &Solid) -> Option<Mask>,
) {
    for envelope in &scene.study.clearance.envelopes {
        let masks: Vec<Mask> = envelope.solids.iter().filter_map(|solid| seen(canvas, envelope, solid)).collect();
        let Some(mask) = Mask::together(&masks) else { continue };
        canvas.veil(&mask, Role::Envelope, 1);
        canvas.hatch(&mask, Role::Envelope, 6);
        if envelope.hard {
            canvas.rim(&mask, Role::Envelope);
        }
    }
}

fn name_envelope(canvas: &mut Canvas, envelope: &Envelope) {
    let Some(solid) = envelope.solids.first() else { return };
    let word = envelope.motion.word();
    let (low, high) = solid.outline.bounds();
    let ((left, _), (right, _)) = (canvas.window().place(low), canvas.window().place(high));
    let wide = word.width();
    if right - left < wide as f64 {
        return;
    }
    let (column, row) = canvas.window().place(solid.outline.middle());
    let column = (column - wide as f64 / 2.0).round() as i64;
    let row = row.floor() as i64;
    if canvas.free(column, row, wide, |_| true) {
        canvas.text(column, row, word, Role::Caution, false);
    }
}
