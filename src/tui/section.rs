//! The boat cut across at the cursor, seen from aft: port is at the left. True proportions.
//!
//! Where there is room three pictures stand side by side, at rest and heeled to either side; else one, with
//! the heeled water as dashes. The boat stays upright and the water is slanted, as in the profile.

mod bodies;
mod caption;

use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Rect};

use super::canvas::Canvas;
use super::cells::Brush;
use super::draw::text;
use super::glyphs::{Glyph, Glyphs};
use super::scene::Scene;
use super::theme::Role;
use super::view::Window;
use crate::geometry::{Polygon, Spot, WaterPlane};
use crate::study::section::HullCut;
use crate::units::Tape;

/// Air under the keel and over the highest gunwale, mm.
const AIR_MM: f64 = 25.0;

/// Water beside the hull, mm.
const BESIDE_MM: f64 = 70.0;

/// Columns from which three pictures stand side by side.
const THREE_FROM: u16 = 108;

/// The boat cut across at the scene's cursor.
#[derive(Clone, Copy, Debug)]
pub struct Section<'a> {
    /// What is drawn.
    pub scene: &'a Scene<'a>,
    /// The cells for pictures and words.
    pub area: Rect,
    /// With which colours and symbols.
    pub brush: Brush<'a>,
}

/// One picture of the section.
struct Pane<'a> {
    scene: &'a Scene<'a>,
    x: f64,
    window: Window,
    /// What it is of, in as many words as have room.
    titles: &'static [&'static str],
    water: WaterPlane,
    /// Other water, as dashes.
    dashed: Vec<WaterPlane>,
    /// With all that is aboard.
    at_rest: bool,
}

impl Section<'_> {
    /// Draws pictures and words, clipped to the buffer.
    pub fn draw(&self, buffer: &mut Buffer) {
        let Some(cursor) = self.scene.cursor.filter(|_| !self.area.is_empty()) else { return };
        let (panes, words) = self.places();
        let theme = self.brush.theme;
        let ascii = self.brush.glyphs == Glyphs::Ascii;
        for (index, (line, area)) in caption::lines(self.scene, cursor.x).iter().zip(text::rows(words)).enumerate() {
            let (label, value) = if index == 0 { (Role::Text, Role::Text) } else { (Role::Dim, Role::Text) };
            let room = area.width.saturating_sub(text::width(&line.value) + 1);
            text::put(buffer, area, &text::fit(&line.label, room, ascii), theme.style(label));
            text::put_right(buffer, area, &text::fit(&line.value, area.width, ascii), theme.style(value));
        }
        if self.scene.form().gunwale(cursor.x).is_none() {
            return;
        }
        for pane in self.panes(&panes, cursor.x) {
            let mut canvas = Canvas::new(pane.window);
            pane.paint(&mut canvas, self.brush.glyphs);
            canvas.render(&self.brush, buffer);
        }
    }

    /// Where the pictures stand, and the words.
    fn places(&self) -> (Vec<Rect>, Rect) {
        let words = match self.scene.tape.0 {
            Tape::Metric => 36,
            Tape::Inches => 42,
        };
        let inner = Rect { x: self.area.x + 1, width: self.area.width.saturating_sub(2), ..self.area };
        let [pictures, words] =
            Layout::horizontal([Constraint::Min(0), Constraint::Length(words)]).spacing(2).areas(inner);
        let count = if self.area.width >= THREE_FROM { 3 } else { 1 };
        let panes = Layout::horizontal(vec![Constraint::Fill(1); count]).spacing(2).split(pictures);
        (panes.to_vec(), words)
    }

    fn panes(&self, areas: &[Rect], x: f64) -> Vec<Pane<'_>> {
        let levels = &self.scene.study.float.levels;
        let pane = |area: Rect, titles, water, dashed, at_rest| Pane {
            scene: self.scene,
            x,
            window: self.window(area),
            titles,
            water,
            dashed,
            at_rest,
        };
        match *areas {
            [rest, port, starboard] => vec![
                pane(rest, &["at rest"], levels.rest, Vec::new(), true),
                pane(port, &["heeled to port", "to port"], levels.heeled[0], Vec::new(), false),
                pane(
                    starboard,
                    &["heeled to starboard", "to starboard", "to stbd"],
                    levels.heeled[1],
                    Vec::new(),
                    false,
                ),
            ],
            [only, ..] => vec![pane(only, &[], levels.rest, levels.heeled.to_vec(), true)],
            [] => Vec::new(),
        }
    }

    /// The same scale at every station, so that the pictures stand still while the cursor moves.
    fn window(&self, area: Rect) -> Window {
        let form = self.scene.form();
        let low = form.sections.iter().map(|s| s.keel()).fold(f64::INFINITY, f64::min).min(0.0) - AIR_MM;
        let high = form.sections.iter().map(|s| s.gunwale().1).fold(low + 200.0, f64::max) + AIR_MM;
        let (columns, rows) = (f64::from(area.width.max(1)), f64::from(area.height.max(1)));
        let mm_per_row = ((high - low) / rows).max(4.0 * (form.half_beam() + BESIDE_MM) / columns).max(1.0);
        let middle = Spot::new(0.0, low + rows / 2.0 * mm_per_row);
        Window { area, middle, mm_per_column: mm_per_row / 2.0, mm_per_row }
    }
}

impl Pane<'_> {
    fn paint(&self, canvas: &mut Canvas, glyphs: Glyphs) {
        let hull = canvas.polygon(&self.outline());
        canvas.fill(&hull, Role::Shallow);
        let under = canvas.polygon(&self.under_water());
        canvas.fill_where(&under, Role::Wet, |role| role == Role::Shallow);
        self.standing(canvas);
        self.surface(canvas);
        canvas.rim(&hull, Role::Hull);
        // Heeled, the hull and the water are what matters; with gear three times a step would cost a slow line dear.
        if self.at_rest {
            bodies::paint(canvas, self.scene, self.x);
            bodies::marks(canvas, self.scene, self.x, glyphs);
        }
        self.dashes(canvas);
        self.words(canvas, glyphs);
    }

    /// The hull between its skin and its deck: wells are open above.
    fn outline(&self) -> Polygon {
        let cut = HullCut::of(self.scene.form(), &self.scene.plan.hull, self.x);
        cut.map_or_else(Polygon::default, |cut| cut.outline())
    }

    /// All that lies under the water in the picture.
    fn under_water(&self) -> Polygon {
        let wide = f64::from(self.window.area.width) * self.window.mm_per_column;
        let deep = -f64::from(self.window.area.height) * self.window.mm_per_row;
        let at = |y: f64| Spot::new(-y, self.water.level_at(self.x, y));
        Polygon::new(vec![at(wide), at(-wide), Spot::new(wide, deep), Spot::new(-wide, deep)])
    }

    /// Water that stands on floors at rest.
    fn standing(&self, canvas: &mut Canvas) {
        let (hull, levels) = (&self.scene.plan.hull, &self.scene.study.float.levels);
        for column in (0..canvas.columns()).filter(|_| self.at_rest) {
            let spot = Spot::new(self.x, -canvas.x_of(column));
            let Some(zone) = hull.zone_at(spot).filter(|_| self.scene.form().bottom(spot).is_some()) else { continue };
            let floor = zone.height.value.to_mm();
            if levels.floors.iter().any(|drained| drained.zone == zone.id) {
                canvas.upright(column, floor, floor.max(self.water.level_at(self.x, spot.y)), Role::Wet);
            }
        }
    }

    /// The water's surface beside the hull.
    fn surface(&self, canvas: &mut Canvas) {
        let form = self.scene.form();
        let half = |side: f64| form.wet_half_breadth(&self.water, self.x, side).unwrap_or(0.0);
        let (port, starboard) = (half(1.0), half(-1.0));
        for column in 0..canvas.columns() {
            let y = -canvas.x_of(column);
            if y >= port || y <= -starboard {
                // One whole pixel a column: a slanted line that fades is a smear at this size.
                let spot = Spot::new(-y, self.water.level_at(self.x, y));
                canvas.line(spot, spot, Role::Waterline);
            }
        }
    }

    /// Other water, as dashes where nothing else is.
    fn dashes(&self, canvas: &mut Canvas) {
        for water in &self.dashed {
            for column in (0..canvas.columns()).step_by(4) {
                let x = canvas.x_of(column);
                let spot = Spot::new(x, water.level_at(self.x, -x));
                let mask = canvas.polygon(&Polygon::rect(spot, spot));
                canvas.fill_where(&mask, Role::Waterline, |role| role == Role::Water);
            }
        }
    }

    /// What the picture is of, which side is which, and where the cursor is.
    fn words(&self, canvas: &mut Canvas, glyphs: Glyphs) {
        let free = |title: &&&str| canvas.free(0, 0, title.len() + 1, |role| role == Role::Water);
        if let Some(title) = self.titles.iter().find(free).or(self.titles.last()) {
            canvas.text(0, 0, title, Role::Dim, false);
        }
        let area = canvas.area();
        let (last, right) = (i64::from(area.height) - 1, i64::from(area.width));
        for (column, word) in [(0, "port"), (right - 4, "stbd")] {
            if canvas.free(column, last, 4, |role| role == Role::Water) {
                canvas.text(column, last, word, Role::Dim, false);
            }
        }
        if let Some(cursor) = self.scene.cursor.filter(|_| self.at_rest) {
            let (column, _) = canvas.window().place(Spot::new(-cursor.y, 0.0));
            canvas.text(column.floor() as i64, last, glyphs.of(Glyph::RulerUp), Role::Cursor, false);
        }
    }
}
