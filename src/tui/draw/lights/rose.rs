//! The rose: the boat from above, bow to the right, and around it a ring a light, each cell of it what is seen there.
//!
//! A letter is a colour that is seen, `x` is hidden, a dot is outside its arc. A sector narrower than a cell still
//! marks one.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::text;
use crate::geometry::Spot;
use crate::plan::{Colour, Plan};
use crate::study::Study;
use crate::study::lights::Shown;
use crate::study::lights::sector::{Sector, bearing};
use crate::tui::app::Look;
use crate::tui::canvas::Canvas;
use crate::tui::cells::Brush;
use crate::tui::glyphs::Glyph;
use crate::tui::theme::Role;
use crate::tui::view::Window;

/// Rings that have room beside the boat.
const MOST_RINGS: usize = 5;
/// Rows above and below for words.
const WORDS: u16 = 2;

/// The letter of a colour.
pub(super) fn letter(colour: Colour) -> &'static str {
    match colour {
        Colour::White => "W",
        Colour::Red => "R",
        Colour::Green => "G",
        Colour::Amber => "A",
    }
}

/// Draws the rose; the ring of the light in this row is the outermost and bold.
pub(super) fn draw(look: &Look, (plan, study): (&Plan, &Study), row: usize, area: Rect, buffer: &mut Buffer) {
    if area.height < 7 + WORDS || area.width < 16 {
        return;
    }
    let middle = Rect { y: area.y + 1, height: area.height - WORDS, ..area };
    let rose = Rose::of(study, row, middle);
    boat(look, plan, study, &rose, buffer);
    for y in middle.y..middle.bottom() {
        for x in middle.x..middle.right() {
            if let Some((symbol, role, bold)) = rose.cell(x, y) {
                let style = look.theme.style(role);
                let style = if bold { style.add_modifier(Modifier::BOLD) } else { style };
                text::put(buffer, Rect { x, y, width: 1, height: 1 }, symbol, style);
            }
        }
    }
    let dim = look.theme.style(Role::Dim);
    text::put(buffer, Rect { height: 1, ..area }, "port up, bow right", dim);
    let last = Rect { y: area.bottom() - 1, height: 1, ..area };
    text::put(buffer, last, &text::fit("WRG seen, x hidden, . out of its arc", area.width, true), dim);
}

struct Rose<'a> {
    area: Rect,
    /// The rings, the outermost first: a light and whether it is the one looked at.
    rings: Vec<(&'a Shown, bool)>,
}

impl<'a> Rose<'a> {
    fn of(study: &'a Study, row: usize, area: Rect) -> Self {
        let lanterns = &study.lights.lanterns;
        let others = lanterns.iter().enumerate().filter(|(index, _)| *index != row).map(|(_, shown)| (shown, false));
        let rings = lanterns.get(row).map(|shown| (shown, true)).into_iter().chain(others);
        Self { area, rings: rings.take(MOST_RINGS.min(usize::from(area.height / 4))).collect() }
    }

    /// Radius of the outer edge, in rows.
    fn radius(&self) -> f64 {
        (f64::from(self.area.height) / 2.0).min(f64::from(self.area.width) / 4.0)
    }

    /// Radius inside the rings, in rows.
    fn inside(&self) -> f64 {
        self.radius() - self.rings.len() as f64 - 0.5
    }

    /// A cell as rows to the right of and above the middle: x forward, y to port.
    fn spot(&self, x: u16, y: u16) -> Spot {
        let right = f64::from(x - self.area.x) + 0.5 - f64::from(self.area.width) / 2.0;
        let down = f64::from(y - self.area.y) + 0.5 - f64::from(self.area.height) / 2.0;
        Spot::new(right / 2.0, -down)
    }

    fn cell(&self, x: u16, y: u16) -> Option<(&'static str, Role, bool)> {
        let spot = self.spot(x, y);
        let from_edge = self.radius() - spot.distance(Spot::default());
        if from_edge < 0.0 {
            return None;
        }
        let (shown, chosen) = self.rings.get(from_edge as usize)?;
        let width = (0.5 / spot.distance(Spot::default()).max(1.0)).to_degrees();
        let seen = Sector::new(bearing(Spot::default(), spot) - width / 2.0, width);
        let hidden = shown.worst().is_some_and(|(_, _, parts)| !seen.covered_by(parts).is_empty());
        Some(match (hidden, shown.given.contains(seen.middle_deg())) {
            (true, _) => ("x", Role::Caution, *chosen),
            (false, true) => (letter(shown.colour), if *chosen { Role::Face } else { Role::Text }, *chosen),
            (false, false) => (".", Role::Dim, false),
        })
    }
}

/// The boat in the middle, its lights on it.
fn boat(look: &Look, plan: &Plan, study: &Study, rose: &Rose<'_>, buffer: &mut Buffer) {
    let outline = plan.hull.form.deck_outline();
    let (low, high) = outline.bounds();
    let mm_per_row = (high.x - low.x).max(high.y - low.y) / (2.0 * (rose.inside() - 0.5)).max(1.0);
    let middle = Spot::new(f64::midpoint(low.x, high.x), 0.0);
    if !(middle.is_finite() && mm_per_row > 0.0) {
        return;
    }
    let mut canvas = Canvas::new(Window { area: rose.area, middle, mm_per_column: mm_per_row / 2.0, mm_per_row });
    let mask = canvas.polygon(&outline);
    canvas.fill(&mask, Role::Shallow);
    canvas.rim(&mask, Role::Hull);
    canvas.mark(study.reach.body.eye.spot(), "o", Role::Person, true);
    for shown in &study.lights.lanterns {
        canvas.mark(shown.at.spot(), look.glyphs.of(Glyph::Lamp), Role::Face, true);
    }
    canvas.render(&Brush { theme: &look.theme, glyphs: look.glyphs }, buffer);
}
