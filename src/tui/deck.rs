//! The boat from above, bow to the right: the picture the whole program turns around.
//!
//! Painted from the bottom up: hull and zones, what lies inside, what the hull has, seat and
//! person, gear, holes, what is laid over, conflict marks, and the cursor last.

mod cables;
mod compared;
mod fittings;
mod gear;
mod ground;
mod labels;
mod marks;
mod overlays;

pub(super) use cables::cables;
pub(super) use gear::solid;
pub(super) use marks::{hole_look, holes};
pub(super) use overlays::envelopes;

use ratatui::buffer::Buffer;
use ratatui::style::Modifier;
use ratatui::widgets::Widget;

use super::canvas::Canvas;
use super::cells::Brush;
use super::scene::Scene;
use super::theme::Role;
use super::view::Window;
use crate::geometry::Point;

/// The boat from above, as a widget. It fills the window's area, whatever area it is given.
#[derive(Clone, Copy, Debug)]
pub struct Deck<'a> {
    /// What is drawn.
    pub scene: &'a Scene<'a>,
    /// Which part of it, and into which cells.
    pub window: Window,
    /// With which colours and symbols.
    pub brush: Brush<'a>,
}

impl Deck<'_> {
    /// Draws into the window's area, clipped to the buffer.
    pub fn draw(&self, buffer: &mut Buffer) {
        self.finish(self.still(), buffer);
    }

    /// All that stays as it is while only the cursor and the gear in hand move. A caller who keeps
    /// it between such frames saves most of the painting.
    pub fn still(&self) -> Canvas {
        let (scene, glyphs) = (self.scene, self.brush.glyphs);
        let mut canvas = Canvas::new(self.window);
        let mut labels = Vec::new();
        ground::paint(&mut canvas, scene);
        fittings::paint(&mut canvas, scene, glyphs);
        gear::paint(&mut canvas, scene, glyphs, &mut labels);
        labels::write(&mut canvas, &mut labels);
        overlays::paint(&mut canvas, scene);
        labels::zone_names(&mut canvas, scene.plan);
        if scene.overlays.holes {
            canvas.mute(|role| matches!(role, Role::Selected | Role::Stop | Role::Caution));
        } else if scene.overlays.water {
            canvas.mute(|role| matches!(role, Role::Selected | Role::Stop | Role::Caution | Role::Waterline));
            overlays::waterline(&mut canvas, scene);
        } else if scene.overlays.inside || scene.overlays.cables {
            gear::come_forward(&mut canvas, scene, glyphs);
        }
        if scene.overlays.cables {
            cables(&mut canvas, scene, Point::spot);
        }
        marks::holes(&mut canvas, scene, glyphs, Point::spot);
        if let Some(other) = scene.overlays.compared {
            compared::compared(&mut canvas, scene, other, glyphs);
        }
        if scene.overlays.water {
            marks::heights(&mut canvas, scene);
        }
        canvas
    }

    /// Adds the gear in hand, the conflict marks and the cursor to a still picture of the same
    /// window, and draws it.
    pub fn finish(&self, mut canvas: Canvas, buffer: &mut Buffer) {
        let (scene, glyphs) = (self.scene, self.brush.glyphs);
        gear::ghost(&mut canvas, scene, glyphs);
        // The letters of others first: what is marked gives way to what is written.
        marks::others(&mut canvas, scene);
        marks::findings(&mut canvas, scene, glyphs);
        marks::threads(&mut canvas, scene, glyphs);
        marks::points(&mut canvas, scene, glyphs);
        let on_symbol = marks::cursor(&mut canvas, scene, glyphs);
        canvas.render(&self.brush, buffer);
        // A symbol under the cursor stays legible: it is turned round instead of covered.
        if let Some(cell) = on_symbol.and_then(|position| buffer.cell_mut(position)) {
            cell.modifier.toggle(Modifier::REVERSED);
        }
    }
}

impl Widget for Deck<'_> {
    fn render(self, _area: ratatui::layout::Rect, buffer: &mut Buffer) {
        self.draw(buffer);
    }
}
