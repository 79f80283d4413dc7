//! Lines that show from where to where a tape goes, as a draughtsman draws them: arrow, line, figure, arrow.

use crate::geometry::Spot;
use crate::tui::canvas::Canvas;
use crate::tui::draw::text;
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::theme::Role;

/// A figure on a dimension line, and the colour of where it comes from.
pub(super) struct Figure {
    pub(super) words: String,
    pub(super) role: Role,
}

/// Draws dimension lines on a canvas.
pub(super) struct Dimensions<'a> {
    pub(super) canvas: &'a mut Canvas,
    pub(super) glyphs: Glyphs,
}

impl Dimensions<'_> {
    /// A dimension across, in a row of the canvas. Where the figure has no room between the arrows it stands behind
    /// them.
    pub(super) fn across(&mut self, (from, to): (f64, f64), row: i64, figure: &Figure) {
        let column = |x: f64| self.canvas.window().place(Spot::new(x, 0.0)).0;
        let (left, right) = (column(from.min(to)), column(from.max(to)));
        let (left, right) = (left.round() as i64, (right.round() as i64 - 1).max(left.round() as i64));
        for at in left..=right {
            self.put(at, row, Glyph::DimensionAcross);
        }
        self.put(left, row, Glyph::RulerLeft);
        self.put(right, row, Glyph::RulerRight);
        let words = format!(" {} ", figure.words);
        let wide = i64::from(text::width(&words));
        let at = if right - left > wide + 3 { left + (right - left + 1 - wide) / 2 } else { right + 1 };
        // At the edge it stands before the arrows rather than be cut.
        let at = if at + wide > i64::from(self.canvas.area().width) { left - wide } else { at };
        self.canvas.text(at, row, &words, figure.role, false);
    }

    /// An upright dimension in a column of the canvas, its figure at the right. A height that is less than a row is
    /// an arrow from above.
    pub(super) fn upright(&mut self, column: i64, (low, high): (f64, f64), figure: &Figure) {
        let row = |z: f64| self.canvas.window().place(Spot::new(0.0, z)).1;
        // A line that lies in the upper half of a row is not covered by the arrow that points at it.
        let (top, bottom) = (row(high).floor() as i64, (row(low) - 0.5).ceil() as i64 - 1);
        let beside = if top >= bottom {
            self.put(column, top - 1, Glyph::RulerDown);
            top - 1
        } else {
            for at in top..=bottom {
                self.put(column, at, Glyph::DimensionUp);
            }
            self.put(column, top, Glyph::RulerUp);
            self.put(column, bottom, Glyph::RulerDown);
            top.midpoint(bottom)
        };
        self.canvas.text(column + 2, beside, &figure.words, figure.role, false);
    }

    /// A plumb line from a spot up or down to a height.
    pub(super) fn plumb(&mut self, from: Spot, to: f64) {
        let (column, start) = self.canvas.window().place(from);
        let end = self.canvas.window().place(Spot::new(from.x, to)).1;
        let (top, bottom) = (start.min(end).round() as i64, start.max(end).floor() as i64);
        for row in top..bottom {
            self.put(column.floor() as i64, row, Glyph::Plumb);
        }
    }

    /// A straight edge laid across from column to column.
    pub(super) fn edge(&mut self, (from, to): (f64, f64), z: f64) {
        let window = *self.canvas.window();
        let (left, row) = window.place(Spot::new(from, z));
        let right = window.place(Spot::new(to, z)).0;
        for column in left.floor() as i64..=right.ceil() as i64 {
            self.put(column, row.floor() as i64, Glyph::Edge);
        }
    }

    /// The column of the canvas at a distance across.
    pub(super) fn column(&self, x: f64) -> i64 {
        self.canvas.window().place(Spot::new(x, 0.0)).0.floor() as i64
    }

    /// The row of the canvas at a height.
    pub(super) fn row(&self, z: f64) -> i64 {
        self.canvas.window().place(Spot::new(0.0, z)).1.floor() as i64
    }

    /// The height of the middle of a row, mm.
    pub(super) fn height(&self, row: i64) -> f64 {
        self.canvas.window().spot_at(0.0, row as f64 + 0.5).y
    }

    /// Millimetres a column.
    pub(super) fn mm_per_column(&self) -> f64 {
        self.canvas.window().mm_per_column
    }

    /// A short line from a spot to a column.
    pub(super) fn leader(&mut self, from: Spot, column: i64) {
        let (start, row) = self.canvas.window().place(from);
        for at in start.ceil() as i64..column {
            self.put(at, row.floor() as i64, Glyph::Plumb);
        }
    }

    fn put(&mut self, column: i64, row: i64, glyph: Glyph) {
        self.canvas.text(column, row, self.glyphs.of(glyph), Role::Accent, false);
    }
}
