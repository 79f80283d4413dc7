//! What stands in a section: seat, person, gear cut there or near it, scuppers and holes.

use crate::checks::Subject;
use crate::geometry::{Polygon, Solid, Spot};
use crate::plan::{Level, SeatHeight};
use crate::study::rig::HoleRef;
use crate::study::section::{Seen, from_aft, meets};
use crate::tui::canvas::Canvas;
use crate::tui::deck::{envelopes, hole_look, solid};
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::scene::{Scene, family};
use crate::tui::theme::Role;

/// Half the depth of a trunk and of a head from front to back, mm.
const TRUNK_MM: f64 = 110.0;
const HEAD_MM: f64 = 95.0;

/// Paints seat, person and gear at a station.
pub(super) fn paint(canvas: &mut Canvas, scene: &Scene<'_>, x: f64) {
    if scene.overlays.envelopes {
        envelopes(canvas, scene, |canvas, _, solid| match Seen::of(solid, x, 0.0) {
            Some(Seen::Cut(shape)) => Some(canvas.polygon(&shape)),
            _ => None,
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
    let bodies = scene.placed().flat_map(|(gear, item)| item.solids.iter().map(move |s| (gear, item, s)));
    let mut met: Vec<_> = bodies.filter_map(|(gear, item, body)| Some((gear, item, body, seen(body, x)?))).collect();
    // What is only near lies behind what is cut.
    met.sort_by_key(|(_, _, _, seen)| matches!(seen, Seen::Cut(_)));
    for (gear, item, body, seen) in met {
        let (rim, fill) = (scene.rim(gear.id), family(gear.spec.kind));
        let mask = canvas.polygon(seen.shape());
        if matches!(seen, Seen::Near(_)) {
            canvas.dashes(&mask, if rim == Role::GearRim { fill } else { rim });
            continue;
        }
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
        for seen in ghost.item.solids.iter().filter_map(|body| seen(body, x)) {
            let mask = canvas.polygon(seen.shape());
            canvas.veil(&mask, ghost.role(), 2);
            canvas.rim(&mask, ghost.role());
        }
    }
}

/// A body that is cut at a station, or within half its length of being cut.
fn seen(solid: &Solid, x: f64) -> Option<Seen> {
    let (low, high) = solid.outline.bounds();
    Seen::of(solid, x, (high.x - low.x) / 2.0)
}

/// Marks drains and holes that the cut meets.
pub(super) fn marks(canvas: &mut Canvas, scene: &Scene<'_>, x: f64, glyphs: Glyphs) {
    for scupper in &scene.study.float.levels.scuppers {
        if meets(x, scupper.at, 0.0) {
            let (glyph, role) = scene.scupper_look(scupper.feature);
            canvas.mark(from_aft(scupper.at), glyphs.of(glyph), role, false);
        }
    }
    for hole in scene.study.holes.holes.iter().filter(|hole| meets(x, hole.at, hole.bore_mm)) {
        let selected = scene.selected == Some(Subject::Hole(hole.id));
        if selected || matches!(hole.id, HoleRef::Own(_)) {
            let (glyph, role): (Glyph, Role) = hole_look(hole);
            canvas.mark(from_aft(hole.at), glyphs.of(glyph), if selected { Role::Selected } else { role }, selected);
        }
    }
}
