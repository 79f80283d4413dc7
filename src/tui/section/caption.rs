//! The section in words: where it is, how wide it lies in the water, how high gunwale and floor stand over it.

use crate::geometry::{Point, Spot};
use crate::study::holes::HEEL_DEG;
use crate::tui::scene::Scene;
use crate::tui::words::afloat;

/// One line: what, and how much.
pub(super) struct Line {
    pub(super) label: String,
    pub(super) value: String,
}

/// The lines, the station first.
pub(super) fn lines(scene: &Scene<'_>, x: f64) -> Vec<Line> {
    let (hull, levels, tape) = (&scene.plan.hull, &scene.study.float.levels, scene.tape);
    let line = |label: String, value: String| Line { label, value };
    let station = if x < 0.0 { " behind the stern" } else { "" };
    let seen = if levels.stated { "water as stated" } else { "seen from aft" };
    let mut lines = vec![line(format!("section at {}{station}", tape.length(x)), seen.into())];
    let Some((half, rim)) = scene.form().gunwale(x) else {
        lines.push(line("the hull does not reach here".into(), String::new()));
        return lines;
    };
    let wet = |side| scene.form().wet_half_breadth(&levels.rest, x, side);
    let breadth = match (wet(1.0), wet(-1.0)) {
        (Some(port), Some(starboard)) if tape.bare(port) == tape.bare(starboard) => {
            format!("{} at the water", tape.length(port))
        }
        (Some(port), Some(starboard)) => format!("{} port, {} stbd", tape.length(port), tape.bare(starboard)),
        _ => "out of the water".into(),
    };
    lines.push(line("half breadth".into(), breadth));
    let [port, starboard] = [half, -half].map(|y| Point::new(x, y, rim));
    lines.push(line("gunwale, port".into(), afloat::over_water(levels.height(port), tape)));
    lines.push(line("gunwale, starboard".into(), afloat::over_water(levels.height(starboard), tape)));
    let middle = Spot::new(x, 0.0);
    let floor = hull.zone_at(middle).map_or("deck", |zone| zone.name.as_str());
    let height = levels.height(middle.at(hull.surface(middle).unwrap_or(rim)));
    lines.push(line(floor.into(), afloat::over_water(height, tape)));
    let lower = levels.height_heeled(port).min(levels.height_heeled(starboard));
    lines.push(line(format!("gunwale at {HEEL_DEG:.0} deg"), afloat::over_water(lower, tape)));
    lines
}
