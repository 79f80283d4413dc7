//! What stands in a section: seat, person, gear cut there or near it, scuppers and holes.

use super::from_aft;
use crate::checks::Subject;
use crate::geometry::{Outline, Point, Polygon, Solid, Spot};
use crate::plan::{Level, SeatHeight};
use crate::study::rig::HoleRef;
use crate::tui::canvas::Canvas;
use crate::tui::deck::{envelopes, hole_look, solid};
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::scene::{Scene, family};
use crate::tui::theme::Role;

/// How near a drain or a hole is to the cut, beside its own radius, to be seen in it, mm.
const NEAR_MM: f64 = 20.0;

/// Half the depth of a trunk and of a head from front to back, mm.
const TRUNK_MM: f64 = 110.0;
const HEAD_MM: f64 = 95.0;

/// Paints seat, person and gear at a station.
pub(super) fn paint(canvas: &mut Canvas, scene: &Scene<'_>, x: f64) {
    if scene.overlays.envelopes {
        envelopes(canvas, scene, |canvas, _, solid| {
            chord(&solid.outline, x).map(|(low, high)| canvas.polygon(&upright(low, high, solid)))
        });
    }
    seat(canvas, scene, x);
    person(canvas, scene, x);
    gear(canvas, scene, x);
}

fn seat(canvas: &mut Canvas, scene: &Scene<'_>, x: f64) {
    let (rails, angler) = (&scene.plan.hull.seat, &scene.plan.angler);
    let high = rails.high.filter(|_| angler.seat.height == SeatHeight::High);
    let surface = high.unwrap_or(rails.low).value.to_mm();
    let (back, half) = (angler.seat.back.to_mm(), rails.width.to_mm() / 2.0);
    let lean = rails.back_height.to_mm() * angler.seat.recline.to_deg().to_radians().sin();
    let mut plank = |low: f64, high: f64| {
        let mask = canvas.polygon(&Polygon::rect(Spot::new(-half, low), Spot::new(half, high)));
        canvas.fill(&mask, Role::Rim);
    };
    if (back..=back + rails.depth.to_mm()).contains(&x) {
        plank(surface - 30.0, surface);
    } else if (back - lean.max(40.0)..back).contains(&x) {
        plank(surface, surface + rails.back_height.to_mm());
    }
}

/// Trunk, head and legs where they are cut, as plain rounds.
fn person(canvas: &mut Canvas, scene: &Scene<'_>, x: f64) {
    let body = &scene.study.reach.body;
    if body.grip <= 0.0 {
        return;
    }
    let mut round = |middle: Spot, wide: f64, high: f64, role: Role| {
        let corner = Spot::new(wide, high);
        let mask = canvas.shape(middle - corner, middle + corner, |spot| {
            let own = spot - middle;
            (own.x / wide).powi(2) + (own.y / high).powi(2) <= 1.0
        });
        canvas.fill(&mask, role);
    };
    let shoulder = body.shoulders[0];
    let (low, high) = (body.hip.x.min(shoulder.x) - TRUNK_MM, body.hip.x.max(shoulder.x) + TRUNK_MM);
    if (low..=high).contains(&x) {
        let middle = Spot::new(0.0, f64::midpoint(body.hip.z, shoulder.z));
        round(middle, shoulder.y.abs() + 55.0, (shoulder.z - body.hip.z) / 2.0 + 90.0, Role::Person);
    }
    if (x - body.head_top.x).abs() <= HEAD_MM {
        round(Spot::new(0.0, body.head_top.z - 115.0), HEAD_MM, 115.0, Role::Rim);
    }
    for (from, to, out, radius) in
        [(body.hip, body.knee, (85.0, 135.0), 65.0), (body.knee, body.foot, (135.0, 120.0), 47.0)]
    {
        let share = (x - from.x) / (to.x - from.x);
        if (0.0..=1.0).contains(&share) {
            let y = out.0 + (out.1 - out.0) * share;
            for side in [1.0, -1.0] {
                round(Spot::new(side * y, from.z + (to.z - from.z) * share), radius, radius, Role::Person);
            }
        }
    }
}

/// Gear that is cut as what it is, near it as dashes; what is further to port or starboard covers nothing else.
fn gear(canvas: &mut Canvas, scene: &Scene<'_>, x: f64) {
    let mut cut: Vec<_> =
        scene.placed().flat_map(|(gear, item)| item.solids.iter().map(move |s| (gear, item, s))).collect();
    cut.retain(|(_, _, solid)| near(solid, x));
    // What is only near lies behind what is cut.
    cut.sort_by_key(|(_, _, solid)| chord(&solid.outline, x).is_some());
    for (gear, item, body) in cut {
        let (rim, fill) = (scene.rim(gear.id), family(gear.spec.kind));
        let Some((low, high)) = chord(&body.outline, x) else {
            let (low, high) = body.outline.bounds();
            let mask = canvas.polygon(&upright(low.y, high.y, body));
            canvas.dashes(&mask, if rim == Role::GearRim { fill } else { rim });
            continue;
        };
        let mask = canvas.polygon(&upright(low, high, body));
        match item.level {
            Level::Deck => solid(canvas, &mask, fill, rim),
            Level::Inside => canvas.rim(&mask, rim),
            Level::Under => {
                canvas.hatch(&mask, fill, 3);
                canvas.dashes(&mask, if rim == Role::GearRim { fill } else { rim });
            }
        }
        let wide = gear.spec.tag.as_str().len();
        let (column, row) = canvas.window().place(from_aft(body.middle()));
        let (column, row) = ((column - wide as f64 / 2.0).round() as i64, row.floor() as i64);
        if canvas.free(column - 1, row, wide + 2, |role| {
            role == fill || role == rim || role == Role::Wet || role == Role::Shallow
        }) {
            canvas.text(column, row, gear.spec.tag.as_str(), Role::Text, true);
        }
    }
    if let Some(ghost) = scene.ghost {
        for body in ghost.item.solids.iter().filter(|body| near(body, x)) {
            let (low, high) = body.outline.bounds();
            let mask = canvas.polygon(&upright(low.y, high.y, body));
            canvas.veil(&mask, ghost.role(), 2);
            canvas.rim(&mask, ghost.role());
        }
    }
}

/// Whether a body is cut at a station, or within half its length of being cut.
fn near(solid: &Solid, x: f64) -> bool {
    let (low, high) = solid.outline.bounds();
    let spare = (high.x - low.x) / 2.0;
    (low.x - spare..=high.x + spare).contains(&x)
}

/// From where to where across the boat a shape is cut at a station, mm to port; `None` where it is not.
fn chord(outline: &Outline, x: f64) -> Option<(f64, f64)> {
    let polygon = outline.polygon();
    let crossings = polygon.edges().filter(|(a, b)| (a.x > x) != (b.x > x));
    let ys = crossings.map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x));
    ys.fold(None, |span, y| Some(span.map_or((y, y), |(low, high): (f64, f64)| (low.min(y), high.max(y)))))
}

fn upright(low: f64, high: f64, solid: &Solid) -> Polygon {
    Polygon::rect(Spot::new(-high, solid.low), Spot::new(-low, solid.high))
}

/// Marks drains and holes that the cut meets.
pub(super) fn marks(canvas: &mut Canvas, scene: &Scene<'_>, x: f64, glyphs: Glyphs) {
    let met = |at: Point, bore: f64| (at.x - x).abs() <= bore / 2.0 + NEAR_MM;
    for scupper in &scene.study.float.levels.scuppers {
        if met(scupper.at, 0.0) {
            let (glyph, role) = scene.scupper_look(scupper.feature);
            canvas.mark(from_aft(scupper.at), glyphs.of(glyph), role, false);
        }
    }
    for hole in scene.study.holes.holes.iter().filter(|hole| met(hole.at, hole.bore_mm)) {
        let selected = scene.selected == Some(Subject::Hole(hole.id));
        if selected || matches!(hole.id, HoleRef::Own(_)) {
            let (glyph, role): (Glyph, Role) = hole_look(hole);
            canvas.mark(from_aft(hole.at), glyphs.of(glyph), if selected { Role::Selected } else { role }, selected);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(turn: f64, x: f64, expected: Option<(f64, f64)>) {
        let outline = Outline::Rect { middle: Spot::new(100.0, 50.0), half_length: 60.0, half_width: 30.0, turn };
        match (chord(&outline, x), expected) {
            (Some(a), Some(b)) => assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9, "{a:?} is not {b:?}"),
            (found, expected) => assert_eq!(found, expected),
        }
    }

    #[test]
    fn a_box_is_cut_from_side_to_side() {
        check(0.0, 100.0, Some((20.0, 80.0)));
        check(0.0, 161.0, None);
        check(90.0, 100.0, Some((-10.0, 110.0)));
        // At 45 degrees the middle cut runs 30 times the root of two each way.
        let half = 30.0 * std::f64::consts::SQRT_2;
        check(45.0, 100.0, Some((50.0 - half, 50.0 + half)));
    }

    #[test]
    fn near_is_within_half_its_length() {
        let outline = Outline::Rect { middle: Spot::new(100.0, 0.0), half_length: 60.0, half_width: 30.0, turn: 0.0 };
        let body = Solid { outline, low: 0.0, high: 10.0 };
        assert!(near(&body, 219.0) && near(&body, -19.0));
        assert!(!near(&body, 221.0) && !near(&body, -21.0));
    }
}
