//! Small marks that matter most: holes, conflicts, the cursor.

use std::collections::BTreeSet;

use ratatui::layout::Position;
use unicode_width::UnicodeWidthStr;

use crate::checks::{Severity, Subject};
use crate::geometry::{Point, Spot};
use crate::plan::Carries;
use crate::study::holes::{Hole, HoleState};
use crate::study::rig::HoleRef;
use crate::tui::canvas::Canvas;
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::scene::Scene;
use crate::tui::theme::Role;

/// At this scale the holes under gear are far enough apart to be told from each other, mm a column.
const CLOSE_MM: f64 = 16.0;

/// Marks holes where `place` shows them: those no gear owns always, those of gear when close, selected or
/// laid over.
pub(in crate::tui) fn holes(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs, place: impl Fn(Point) -> Spot) {
    let close = canvas.window().mm_per_column <= CLOSE_MM;
    for hole in &scene.study.holes.holes {
        let selected = scene.selected == Some(Subject::Hole(hole.id));
        let told = scene.overlays.water && told(hole);
        if matches!(hole.id, HoleRef::Gear(..)) && !(close || selected || told || scene.overlays.holes) {
            continue;
        }
        let (glyph, role) = hole_look(hole);
        let role = if selected { Role::Selected } else { role };
        canvas.mark(place(hole.at), glyphs.of(glyph), role, selected || scene.overlays.holes);
    }
}

/// Whether a hole goes under water at rest or heeled to its side.
fn wets(hole: &Hole) -> bool {
    hole.above_water_mm.min(hole.above_water_heeled_mm) < 0.0
}

/// Whether its height is told: of fasteners only where they get wet.
fn told(hole: &Hole) -> bool {
    hole.carries != Carries::Fastener || matches!(hole.id, HoleRef::Own(_)) || wets(hole)
}

/// Writes beside holes how high they are over the water, in the water's colour where they get wet.
pub(super) fn heights(canvas: &mut Canvas, scene: &Scene<'_>) {
    for hole in &scene.study.holes.holes {
        if !told(hole) {
            continue;
        }
        let under = if hole.above_water_mm < 0.0 { " under" } else { "" };
        let text = scene.tape.bare(hole.above_water_mm) + under;
        let role = if wets(hole) { Role::Waterline } else { Role::Text };
        let wide = text.width();
        let (column, row) = canvas.window().place(hole.at.spot());
        let (column, row) = (column.floor() as i64, row.floor() as i64);
        let beside = [(1, 0), (-(wide as i64), 0), (0, -1), (0, 1), (1, 1), (1, -1)];
        let free = beside.into_iter().map(|(dx, dy)| (column + dx, row + dy));
        if let Some((column, row)) = free.into_iter().find(|&(c, r)| canvas.free(c, r, wide, |_| true)) {
            canvas.text(column, row, &text, role, false);
        }
    }
}

/// The look of a hole by what becomes of it.
pub(in crate::tui) fn hole_look(hole: &Hole) -> (Glyph, Role) {
    match hole.state {
        HoleState::New => (Glyph::HoleNew, Role::Hole),
        HoleState::Drilled | HoleState::Reused => (Glyph::HoleReused, Role::HoleReused),
        HoleState::Plugged(_) => (Glyph::HolePlugged, Role::HolePlugged),
        HoleState::Open => (Glyph::HoleOpen, Role::Hole),
    }
}

/// Marks stops and cautions where they are, one a piece of gear: its heaviest.
pub(super) fn findings(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) {
    let mut marked = BTreeSet::new();
    // Heaviest first in the list: they get their place before others.
    for finding in scene.findings {
        let Some(at) = finding.at else { continue };
        let (glyph, role) = match finding.severity {
            Severity::Stop => (Glyph::Stop, Role::Stop),
            Severity::Caution => (Glyph::Caution, Role::Caution),
            // Notes are calm: shown where they are asked for.
            Severity::Note if scene.selected == Some(finding.subject) => (Glyph::Note, Role::Note),
            Severity::Note => continue,
        };
        if finding.subject.gear().is_none_or(|gear| marked.insert(gear)) {
            let spot = aside(canvas, at.spot());
            canvas.mark(spot, glyphs.of(glyph), role, true);
        }
    }
}

/// Marks where threads wait, how many beside it where there are more, and what is left of what is gone.
pub(super) fn threads(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) {
    for pinned in scene.pinned {
        let glyph = if pinned.gone { Glyph::ThreadGone } else { Glyph::Thread };
        let spot = aside(canvas, pinned.spot);
        canvas.mark(spot, glyphs.of(glyph), Role::Accent, true);
        if pinned.count > 1 {
            let (column, row) = canvas.window().place(spot);
            canvas.text(column.floor() as i64 + 1, row.floor() as i64, &pinned.count.to_string(), Role::Accent, false);
        }
    }
}

/// Writes the letters of others where their cursors are.
pub(super) fn others(canvas: &mut Canvas, scene: &Scene<'_>) {
    for (letter, spot) in scene.others {
        let (column, row) = canvas.window().place(*spot);
        canvas.text(column.floor() as i64, row.floor() as i64, &letter.to_string(), Role::Cursor, true);
    }
}

/// Marks what somebody points at.
pub(super) fn points(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) {
    for point in scene.points {
        let (column, row) = canvas.window().place(point.spot);
        let (column, row) = (column.floor() as i64, row.floor() as i64);
        for (by, glyph) in [(-1, Glyph::RulerRight), (0, Glyph::Pointed), (1, Glyph::RulerLeft)] {
            canvas.text(column + by, row, glyphs.of(glyph), Role::Selected, true);
        }
    }
}

/// The spot, or a neighbouring cell's when letters stand there.
pub(super) fn aside(canvas: &Canvas, spot: Spot) -> Spot {
    let window = canvas.window();
    let (column, row) = window.place(spot);
    let free = |dx: i64, dy: i64| canvas.free(column.floor() as i64 + dx, row.floor() as i64 + dy, 1, |_| true);
    let steps = [(0, 0), (0, -1), (0, 1), (-1, 0), (1, 0), (-2, 0), (2, 0), (-3, 0), (3, 0)];
    let (dx, dy) = steps.into_iter().find(|&(dx, dy)| free(dx, dy)).unwrap_or_default();
    window.spot_at(column.floor() + dx as f64 + 0.5, row.floor() + dy as f64 + 0.5)
}

/// Draws the cursor and its marks at the four edges. Returns its cell when a symbol stands there
/// already, for that symbol to be turned round.
pub(super) fn cursor(canvas: &mut Canvas, scene: &Scene<'_>, glyphs: Glyphs) -> Option<Position> {
    let spot = scene.cursor?;
    let area = canvas.area();
    let cell = canvas.window().cell_of(spot)?;
    let (column, row) = (i64::from(cell.x - area.x), i64::from(cell.y - area.y));
    // The name of a zone gives way; tags and marks do not.
    let taken = canvas.mark_of(column as u16, row as u16).is_some_and(|mark| mark.role != Role::Dim);
    if !taken {
        canvas.mark(spot, glyphs.of(Glyph::Cursor), Role::Cursor, true);
    }
    let (right, bottom) = (i64::from(area.width) - 1, i64::from(area.height) - 1);
    let edges = [
        (column, 0, Glyph::RulerDown),
        (column, bottom, Glyph::RulerUp),
        (0, row, Glyph::RulerRight),
        (right, row, Glyph::RulerLeft),
    ];
    for (c, r, glyph) in edges {
        if (c, r) != (column, row) && canvas.free(c, r, 1, |_| true) {
            canvas.text(c, r, glyphs.of(glyph), Role::Cursor, false);
        }
    }
    taken.then_some(cell)
}
