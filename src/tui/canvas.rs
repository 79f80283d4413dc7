//! A raster of roles, four pixels a cell, with a layer of symbols on top.
//!
//! Things are painted in order as [`Mask`]s; later ones cover earlier ones. A pixel remembers how
//! much of it the last thing covers, so that slanting lines fade instead of stepping where there
//! are colours enough. How a cell becomes a symbol and two colours is in `cells`.

use std::borrow::Cow;

use ratatui::layout::Rect;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use super::mask::Mask;
use super::theme::Role;
use super::view::Window;
use crate::geometry::Spot;

/// Pixels of one picture and the symbols over them.
#[derive(Clone, Debug)]
pub struct Canvas {
    window: Window,
    /// Pixels a row: two a column.
    wide: usize,
    /// Rows of pixels: two a row.
    high: usize,
    pixels: Vec<Pixel>,
    marks: Vec<Option<Mark>>,
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stroke {
    /// Without gaps.
    Solid,
    /// Dashes as long as the gaps between them.
    Dashed,
}

/// Pixels of a dash.
const DASH: usize = 2;

/// One pixel: `over` covers so many quarters of it, `under` the rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Pixel {
    pub(super) over: Role,
    pub(super) under: Role,
    pub(super) quarters: u8,
}

/// One symbol over the pixels.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Mark {
    pub(super) symbol: Cow<'static, str>,
    pub(super) role: Role,
    pub(super) bold: bool,
}

impl Pixel {
    const fn full(role: Role) -> Self {
        Self { over: role, under: role, quarters: 4 }
    }

    /// The role that fills the greater part.
    pub(super) fn role(self) -> Role {
        if self.quarters >= 2 { self.over } else { self.under }
    }
}

impl Canvas {
    /// Open water.
    pub fn new(window: Window) -> Self {
        let (wide, high) = (usize::from(window.area.width) * 2, usize::from(window.area.height) * 2);
        Self {
            window,
            wide,
            high,
            pixels: vec![Pixel::full(Role::Water); wide * high],
            marks: vec![None; wide * high / 4],
        }
    }

    /// The window it is painted through.
    pub fn window(&self) -> &Window {
        &self.window
    }

    /// Its cells.
    pub fn area(&self) -> Rect {
        self.window.area
    }

    /// The four pixels of a cell: upper left, upper right, lower left, lower right.
    pub(super) fn pixels_of(&self, column: u16, row: u16) -> [Pixel; 4] {
        let first = usize::from(row) * 2 * self.wide + usize::from(column) * 2;
        let second = first + self.wide;
        [self.pixels[first], self.pixels[first + 1], self.pixels[second], self.pixels[second + 1]]
    }

    /// The symbol over a cell.
    pub(super) fn mark_of(&self, column: u16, row: u16) -> Option<&Mark> {
        self.marks[usize::from(row) * usize::from(self.window.area.width) + usize::from(column)].as_ref()
    }

    // Painting.

    /// Fills a mask.
    pub fn fill(&mut self, mask: &Mask, role: Role) {
        self.paint(mask, role, |_, _| true);
    }

    /// Draws the edge of a mask, inside it.
    pub fn rim(&mut self, mask: &Mask, role: Role) {
        self.paint(mask, role, |column, row| mask.on_edge(column, row));
    }

    /// Fills the pixels of a mask whose ground passes.
    pub fn fill_where(&mut self, mask: &Mask, role: Role, passes: impl Fn(Role) -> bool) {
        self.each(mask, |_, _| true, |pixel| passes(pixel.role()).then_some(Pixel::full(role)));
    }

    /// Draws the edge of a mask where its ground passes.
    pub fn rim_where(&mut self, mask: &Mask, role: Role, passes: impl Fn(Role) -> bool) {
        self.each(mask, |c, r| mask.on_edge(c, r), |pixel| passes(pixel.role()).then_some(Pixel::full(role)));
    }

    /// Gives a cell another ground where the one it has passes.
    pub fn tint(&mut self, column: u16, row: u16, role: Role, passes: impl Fn(Role) -> bool) {
        let (left, top) = (usize::from(column) * 2, usize::from(row) * 2);
        for (x, y) in [(0, 0), (1, 0), (0, 1), (1, 1)] {
            let pixel = &mut self.pixels[(top + y) * self.wide + left + x];
            if passes(pixel.over) {
                pixel.over = role;
            }
            if passes(pixel.under) {
                pixel.under = role;
            }
        }
    }

    /// Fills a mask with one role and a touch of another.
    pub fn fill_touched(&mut self, mask: &Mask, role: Role, touch: Role) {
        self.each(mask, |_, _| true, |_| Some(Pixel { over: touch, under: role, quarters: 1 }));
    }

    /// Lays so many quarters of a role over what is there.
    pub fn veil(&mut self, mask: &Mask, role: Role, quarters: u8) {
        self.each(mask, |_, _| true, |pixel| Some(Pixel { over: role, under: pixel.role(), quarters }));
    }

    /// Draws slanting lines through a mask, one every so many columns.
    pub fn hatch(&mut self, mask: &Mask, role: Role, every: i64) {
        let (left, top) = (mask.left, mask.top);
        self.paint(mask, role, |column, row| (left + column as i64 + 2 * (top + row as i64)).rem_euclid(2 * every) < 2);
    }

    /// Draws the edge of a mask as dashes.
    pub fn dashes(&mut self, mask: &Mask, role: Role) {
        let (left, top) = (mask.left, mask.top);
        self.paint(mask, role, |column, row| {
            mask.on_edge(column, row) && (left + column as i64 + 2 * (top + row as i64)).rem_euclid(4) < 2
        });
    }

    /// Draws a line one pixel wide.
    pub fn line(&mut self, a: Spot, b: Spot, role: Role) {
        self.stroke(a, b, role, Stroke::Solid);
    }

    /// Draws a line one pixel wide, whole or dashed.
    pub fn stroke(&mut self, a: Spot, b: Spot, role: Role, stroke: Stroke) {
        let ((ax, ay), (bx, by)) = (self.pixel(a), self.pixel(b));
        let steps = (bx - ax).abs().max((by - ay).abs()).ceil();
        if !steps.is_finite() || steps > 20_000.0 {
            return;
        }
        let steps = steps as usize;
        let drawn = |step: &usize| stroke == Stroke::Solid || step % (2 * DASH) < DASH;
        for step in (0..=steps).filter(drawn) {
            let t = step as f64 / steps.max(1) as f64;
            self.set((ax + (bx - ax) * t).floor() as i64, (ay + (by - ay) * t).floor() as i64, Pixel::full(role));
        }
    }

    /// Covers a pixel column between two heights, fading at both ends. `column` counts pixels.
    pub fn upright(&mut self, column: usize, from_mm: f64, to_mm: f64, role: Role) {
        let (a, b) = (self.pixel(Spot::new(0.0, from_mm)).1, self.pixel(Spot::new(0.0, to_mm)).1);
        let (top, bottom) = (a.min(b).max(0.0), a.max(b).min(self.high as f64));
        let mut row = top.floor();
        while row < bottom {
            let share = (row + 1.0).min(bottom) - row.max(top);
            self.blend(column as i64, row as i64, role, (share * 4.0).round() as u8);
            row += 1.0;
        }
    }

    /// Middle of a pixel column along x, mm.
    pub fn x_of(&self, column: usize) -> f64 {
        self.spot(column as i64, 0).x
    }

    /// Pixels a row and rows of pixels.
    pub(super) fn size(&self) -> (usize, usize) {
        (self.wide, self.high)
    }

    /// Number of pixel columns.
    pub fn columns(&self) -> usize {
        self.wide
    }

    // Symbols.

    /// Puts one symbol over the cell of a spot.
    pub fn mark(&mut self, spot: Spot, symbol: &'static str, role: Role, bold: bool) {
        let (column, row) = self.window.place(spot);
        self.mark_at(column.floor() as i64, row.floor() as i64, Mark { symbol: Cow::Borrowed(symbol), role, bold });
    }

    /// Writes a text from a cell (counted from the area's corner) to the right, clipped.
    pub fn text(&mut self, column: i64, row: i64, text: &str, role: Role, bold: bool) {
        let mut at = column;
        for grapheme in text.graphemes(true) {
            let width = grapheme.width() as i64;
            if width == 0 {
                continue;
            }
            // Half a wide letter at the edge would shift the line: leave it out.
            if at >= 0 && at + width <= i64::from(self.window.area.width) {
                self.mark_at(at, row, Mark { symbol: Cow::Owned(grapheme.to_string()), role, bold });
                for next in 1..width {
                    self.mark_at(at + next, row, Mark { symbol: Cow::Borrowed(""), role, bold });
                }
            }
            at += width;
        }
    }

    /// Whether a run of cells is on the canvas, without symbols, and every pixel of it passes.
    pub fn free(&self, column: i64, row: i64, cells: usize, passes: impl Fn(Role) -> bool) -> bool {
        let (wide, high) = (i64::from(self.window.area.width), i64::from(self.window.area.height));
        if column < 0 || row < 0 || row >= high || column + cells as i64 > wide {
            return false;
        }
        (column..column + cells as i64).all(|c| {
            let (c, r) = (c as u16, row as u16);
            self.mark_of(c, r).is_none() && self.pixels_of(c, r).iter().all(|p| passes(p.role()))
        })
    }

    /// Takes the symbols off the cells of a mask.
    pub fn clear_marks(&mut self, mask: &Mask) {
        let wide = i64::from(self.window.area.width);
        for row in 0..mask.high {
            for column in 0..mask.wide {
                let (x, y) = (mask.left + column as i64, mask.top + row as i64);
                if mask.bits[row * mask.wide + column] && self.index(x, y).is_some() {
                    self.marks[(y / 2 * wide + x / 2) as usize] = None;
                }
            }
        }
    }

    /// Turns every pixel and symbol that does not pass into a dim ground or dim text.
    pub fn mute(&mut self, passes: impl Fn(Role) -> bool) {
        for mark in self.marks.iter_mut().flatten() {
            if !passes(mark.role) {
                (mark.role, mark.bold) = (Role::Dim, false);
            }
        }
        for pixel in &mut self.pixels {
            let muted = |role: Role| match role {
                role if passes(role) || role <= Role::Seam => role,
                Role::Hull => Role::Rim,
                Role::Lid | Role::Seat | Role::Person | Role::Foam => Role::Shallow,
                role if (Role::Screen..=Role::Fixing).contains(&role) => Role::Lid,
                _ => Role::Seam,
            };
            (pixel.over, pixel.under) = (muted(pixel.over), muted(pixel.under));
        }
    }

    // Inner workings.

    fn mark_at(&mut self, column: i64, row: i64, mark: Mark) {
        let (wide, high) = (i64::from(self.window.area.width), i64::from(self.window.area.height));
        if column >= 0 && row >= 0 && column < wide && row < high {
            self.marks[(row * wide + column) as usize] = Some(mark);
        }
    }

    /// Where a spot is in pixels; may lie outside or be infinite.
    pub(super) fn pixel(&self, spot: Spot) -> (f64, f64) {
        let (column, row) = self.window.place(spot);
        (column * 2.0, row * 2.0)
    }

    /// The spot in the middle of a pixel.
    pub(super) fn spot(&self, column: i64, row: i64) -> Spot {
        self.window.spot_at(column as f64 / 2.0 + 0.25, row as f64 / 2.0 + 0.25)
    }

    fn paint(&mut self, mask: &Mask, role: Role, wanted: impl Fn(usize, usize) -> bool) {
        self.each(mask, wanted, |_| Some(Pixel::full(role)));
    }

    /// Gives each wanted pixel of a mask a new value made from the one it has.
    fn each(&mut self, mask: &Mask, wanted: impl Fn(usize, usize) -> bool, new: impl Fn(Pixel) -> Option<Pixel>) {
        for row in 0..mask.high {
            for column in 0..mask.wide {
                if !mask.bits[row * mask.wide + column] || !wanted(column, row) {
                    continue;
                }
                if let Some(index) = self.index(mask.left + column as i64, mask.top + row as i64)
                    && let Some(pixel) = new(self.pixels[index])
                {
                    self.pixels[index] = pixel;
                }
            }
        }
    }

    fn set(&mut self, column: i64, row: i64, pixel: Pixel) {
        if let Some(index) = self.index(column, row) {
            self.pixels[index] = pixel;
        }
    }

    fn index(&self, column: i64, row: i64) -> Option<usize> {
        let inside = column >= 0 && row >= 0 && column < self.wide as i64 && row < self.high as i64;
        inside.then(|| row as usize * self.wide + column as usize)
    }

    fn blend(&mut self, column: i64, row: i64, role: Role, quarters: u8) {
        let Some(index) = self.index(column, row).filter(|_| quarters > 0) else { return };
        let pixel = &mut self.pixels[index];
        *pixel = if pixel.over == role {
            Pixel { quarters: (pixel.quarters + quarters).min(4), ..*pixel }
        } else {
            Pixel { over: role, under: pixel.role(), quarters }
        };
    }
}
