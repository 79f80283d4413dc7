//! Gear from above: solid on deck, outlined inside the hull, hatched under it.

use super::fittings::{shift, strip};
use super::labels::Label;
use crate::geometry::{Outline, Spot, turned};
use crate::plan::{Gear, Kind, Level};
use crate::study::rig::RigItem;
use crate::tui::canvas::Canvas;
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::mask::Mask;
use crate::tui::scene::{Scene, family};
use crate::tui::theme::Role;

/// Paints all placed gear, low things first, and leaves its tags to be written.
pub(super) fn paint(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs, labels: &mut Vec<Label>) {
    let mut placed: Vec<_> = scene.placed().collect();
    placed.sort_by(|(_, a), (_, b)| (layer(a.level)).cmp(&layer(b.level)).then(a.top().total_cmp(&b.top())));
    for (gear, item) in placed {
        let rim = scene.rim(gear.id);
        let seat = scene.plan.angler.seat.back.to_mm();
        let look = Look { fill: family(gear.spec.kind), rim, seat: Spot::new(seat, 0.0) };
        paint_item(canvas, gear, item, &look, glyphs);
        // With the deck taken off, what is inside gets its tag when it comes forward.
        if item.level != Level::Inside || !scene.overlays.inside {
            let label = Label::of(gear, item, rim == Role::Selected, look.fill);
            let role = if scene.stopped(gear.id) { Role::Stop } else { label.role };
            labels.push(Label { role, ..label });
        }
    }
}

/// With the deck taken off: what is inside stands in front of what is on top.
pub(super) fn come_forward(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) {
    canvas.mute(|role| matches!(role, Role::Foam | Role::Selected | Role::Stop | Role::Caution | Role::Rim));
    let mut labels = Vec::new();
    for (gear, item) in scene.placed().filter(|(_, item)| item.level == Level::Inside) {
        let look = Look { fill: family(gear.spec.kind), rim: scene.rim(gear.id), seat: Spot::default() };
        for mask in bodies(canvas, item) {
            canvas.clear_marks(&mask);
            canvas.fill(&mask, look.fill);
            canvas.rim(&mask, look.rim);
        }
        details(canvas, gear, item, &look, glyphs);
        labels.push(Label {
            plate: look.fill,
            role: Role::Text,
            ..Label::of(gear, item, look.rim == Role::Selected, look.fill)
        });
    }
    super::labels::write(canvas, &mut labels);
}

/// Paints the gear in hand over everything.
pub(super) fn ghost(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) {
    let Some(ghost) = scene.ghost else { return };
    let role = ghost.role();
    let base = canvas.outline(&ghost.item.base);
    canvas.clear_marks(&base);
    for mask in bodies(canvas, ghost.item) {
        canvas.clear_marks(&mask);
        canvas.veil(&mask, role, 2);
        canvas.rim(&mask, role);
    }
    if ghost.item.solids.is_empty() {
        canvas.rim(&base, role);
    }
    let mut labels = vec![Label { role, ..Label::of(ghost.gear, ghost.item, true, Role::Deck) }];
    super::labels::write(canvas, &mut labels);
    for hole in &ghost.item.holes {
        canvas.mark(hole.at.spot(), glyphs.of(Glyph::HoleNew), role, true);
    }
}

/// How one piece is drawn.
struct Look {
    fill: Role,
    rim: Role,
    /// Where faces look.
    seat: Spot,
}

/// What is under the hull is furthest down, then what is inside.
fn layer(level: Level) -> u8 {
    match level {
        Level::Under => 0,
        Level::Inside => 1,
        Level::Deck => 2,
    }
}

pub(super) fn bodies(canvas: &Canvas, item: &RigItem) -> Vec<Mask> {
    let mut solids: Vec<_> = item.solids.iter().collect();
    solids.sort_by(|a, b| a.high.total_cmp(&b.high));
    if solids.is_empty() {
        return vec![canvas.outline(&item.base)];
    }
    solids.into_iter().map(|solid| canvas.outline(&solid.outline)).collect()
}

fn paint_item(canvas: &mut Canvas, gear: &Gear, item: &RigItem, look: &Look, glyphs: Glyphs) {
    for mask in bodies(canvas, item) {
        match item.level {
            Level::Deck => {
                canvas.clear_marks(&mask);
                solid(canvas, &mask, look.fill, look.rim);
            }
            Level::Inside => canvas.rim(&mask, look.rim),
            Level::Under => {
                canvas.hatch(&mask, look.fill, 3);
                canvas.dashes(&mask, if look.rim == Role::GearRim { look.fill } else { look.rim });
            }
        }
    }
    if item.level == Level::Deck {
        details(canvas, gear, item, look, glyphs);
    }
}

/// A fill with an edge; small things are all fill, a touch lighter.
pub(in crate::tui) fn solid(canvas: &mut Canvas, mask: &Mask, fill: Role, rim: Role) {
    if rim != Role::GearRim || mask.roomy() {
        canvas.fill(mask, fill);
        canvas.rim(mask, rim);
    } else {
        canvas.fill_touched(mask, fill, rim);
    }
}

/// What makes a shape recognisable beyond its outline.
fn details(canvas: &mut Canvas, gear: &Gear, item: &RigItem, look: &Look, glyphs: Glyphs) {
    let middle = item.solids.first().map_or(item.at.spot(), |s| s.middle().spot());
    match gear.spec.kind {
        Kind::Display | Kind::Phone => {
            if let Some(face) =
                item.solids.first().and_then(|s| face(&s.outline, look.seat, canvas.window().mm_per_column))
            {
                let mask = canvas.polygon(&face);
                canvas.fill(&mask, Role::Face);
            }
        }
        Kind::Battery => {
            if let Some(Outline::Rect { middle, half_length, half_width, turn }) =
                item.solids.first().map(|s| s.outline)
            {
                // Terminals stand near one long edge, a third from either end.
                let size = (canvas.window().mm_per_column).max(18.0);
                for end in [-0.62, 0.62] {
                    let at = middle + turned(Spot::new(half_length * end, half_width * 0.55), turn);
                    let mask = canvas.polygon(&strip(shift(at, -size / 2.0, 0.0), shift(at, size / 2.0, 0.0), size));
                    canvas.fill(&mask, Role::Face);
                }
            }
        }
        Kind::RodHolder => canvas.mark(middle, glyphs.of(Glyph::Ring), Role::Text, true),
        Kind::Light => {
            let centre = gear.spec.light.map_or(middle, |light| {
                let flat = turned(light.centre_mm.spot(), item.turn);
                item.at.spot() + flat
            });
            canvas.mark(centre, glyphs.of(Glyph::Lamp), Role::Face, true);
        }
        Kind::Track => {
            if let Some(Outline::Rect { middle, half_length, turn, .. }) = item.solids.first().map(|s| s.outline) {
                let end = turned(Spot::new(half_length * 0.95, 0.0), turn);
                if canvas.window().mm_per_column < 14.0 {
                    canvas.line(middle - end, middle + end, Role::Deep);
                }
            }
        }
        Kind::Paddle => {
            if let Some(Outline::Rect { middle, half_length, turn, .. }) = item.solids.first().map(|s| s.outline) {
                for end in [-1.0, 1.0] {
                    let along = |share: f64| middle + turned(Spot::new(half_length * share * end, 0.0), turn);
                    let mask = canvas.polygon(&strip(along(0.78), along(1.0), 110.0));
                    solid(canvas, &mask, look.fill, look.rim);
                }
            }
        }
        _ => {}
    }
}

/// The strip along the broad edge that looks at the seat.
fn face(outline: &Outline, seat: Spot, mm_per_column: f64) -> Option<crate::geometry::Polygon> {
    let Outline::Rect { middle, half_length, half_width, turn } = *outline else { return None };
    let (depth, broad) = if half_width >= half_length { ((1.0, 0.0), (0.0, 1.0)) } else { ((0.0, 1.0), (1.0, 0.0)) };
    let (thin, wide) = (half_length.min(half_width), half_length.max(half_width));
    let strip_mm = mm_per_column.min(2.0 * thin).max(8.0);
    let ends = |side: f64| {
        let off = side * (thin - strip_mm / 2.0);
        let end = |share: f64| {
            let own = Spot::new(depth.0 * off + broad.0 * wide * share, depth.1 * off + broad.1 * wide * share);
            middle + turned(own, turn)
        };
        (end(-0.94), end(0.94))
    };
    let nearer = [ends(1.0), ends(-1.0)].into_iter().min_by(|a, b| {
        (a.0.distance(seat) + a.1.distance(seat)).total_cmp(&(b.0.distance(seat) + b.1.distance(seat)))
    })?;
    Some(strip(nearer.0, nearer.1, strip_mm))
}
