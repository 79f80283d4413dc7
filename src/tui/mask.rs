//! How shapes become pixels.

use super::canvas::Canvas;
use crate::geometry::{Outline, Polygon, Spot};

/// Pixels that belong to one shape.
#[derive(Clone, Debug)]
pub struct Mask {
    pub(super) left: i64,
    pub(super) top: i64,
    pub(super) wide: usize,
    pub(super) high: usize,
    pub(super) bits: Vec<bool>,
}

impl Canvas {
    /// The pixels of a polygon; at least the one in its middle.
    pub fn polygon(&self, polygon: &Polygon) -> Mask {
        let (low, high) = polygon.bounds();
        let mut mask = self.blank(low, high);
        let mut crossings = Vec::new();
        for row in 0..mask.high {
            let y = self.spot(mask.left, mask.top + row as i64).y;
            crossings.clear();
            crossings.extend(polygon.edges().filter(|(a, b)| (a.y > y) != (b.y > y)).map(|(a, b)| {
                let x = (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x;
                self.pixel(Spot::new(x, y)).0
            }));
            crossings.sort_by(f64::total_cmp);
            for pair in crossings.chunks_exact(2) {
                mask.span(row, pair[0], pair[1]);
            }
        }
        self.never_nothing(mask, polygon.middle())
    }

    /// The pixels of a turned rectangle or a circle; at least the one in its middle.
    pub fn outline(&self, outline: &Outline) -> Mask {
        match outline {
            Outline::Rect { .. } => self.polygon(&outline.polygon()),
            Outline::Circle { .. } => {
                let (low, high) = outline.bounds();
                self.shape(low, high, |spot| outline.contains(spot))
            }
        }
    }

    /// The pixels between two corners whose middle is in the shape; at least the one in the middle.
    pub fn shape(&self, low: Spot, high: Spot, contains: impl Fn(Spot) -> bool) -> Mask {
        let mut mask = self.blank(low, high);
        for row in 0..mask.high {
            for column in 0..mask.wide {
                mask.bits[row * mask.wide + column] =
                    contains(self.spot(mask.left + column as i64, mask.top + row as i64));
            }
        }
        self.never_nothing(mask, Spot::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y)))
    }

    /// The pixels of a mask whose middle passes.
    pub fn kept(&self, mut mask: Mask, passes: impl Fn(Spot) -> bool) -> Mask {
        for row in 0..mask.high {
            for column in 0..mask.wide {
                let bit = &mut mask.bits[row * mask.wide + column];
                *bit = *bit && passes(self.spot(mask.left + column as i64, mask.top + row as i64));
            }
        }
        mask
    }

    fn blank(&self, low: Spot, high: Spot) -> Mask {
        let ((left, bottom), (right, top)) = (self.pixel(low), self.pixel(high));
        // One pixel beyond the canvas on each side, so that edges outside are not drawn at its rim.
        let held = |v: f64, most: usize| if v.is_nan() { -1.0 } else { v.max(-1.0).min(most as f64 + 1.0) };
        let (left, right) = (held(left, self.size().0).floor(), held(right, self.size().0).ceil());
        let (top, bottom) = (held(top, self.size().1).floor(), held(bottom, self.size().1).ceil());
        let (wide, high) = ((right - left).max(0.0) as usize, (bottom - top).max(0.0) as usize);
        Mask { left: left as i64, top: top as i64, wide, high, bits: vec![false; wide * high] }
    }

    /// A thing too small for any pixel still shows as one half cell.
    fn never_nothing(&self, mut mask: Mask, middle: Spot) -> Mask {
        if mask.bits.iter().any(|b| *b) || !middle.is_finite() {
            return mask;
        }
        let (x, y) = self.pixel(middle);
        mask = Mask {
            left: ((x / 2.0).floor() * 2.0) as i64,
            top: y.floor() as i64,
            wide: 2,
            high: 1,
            bits: vec![true; 2],
        };
        mask
    }
}

impl Mask {
    /// All pixels of some masks as one; `None` without any.
    pub fn together(masks: &[Self]) -> Option<Self> {
        let right = |mask: &Self| mask.left + mask.wide as i64;
        let below = |mask: &Self| mask.top + mask.high as i64;
        let (left, top) = (masks.iter().map(|m| m.left).min()?, masks.iter().map(|m| m.top).min()?);
        let (right, below) = (masks.iter().map(right).max()?, masks.iter().map(below).max()?);
        let (wide, high) = ((right - left) as usize, (below - top) as usize);
        let mut all = Self { left, top, wide, high, bits: vec![false; wide * high] };
        for mask in masks.iter().filter(|mask| mask.wide > 0) {
            let (aside, down) = ((mask.left - left) as usize, (mask.top - top) as usize);
            for (row, bits) in mask.bits.chunks_exact(mask.wide).enumerate() {
                let start = (down + row) * wide + aside;
                for (to, bit) in all.bits[start..start + mask.wide].iter_mut().zip(bits) {
                    *to |= bit;
                }
            }
        }
        Some(all)
    }

    fn get(&self, column: i64, row: i64) -> bool {
        column >= 0
            && row >= 0
            && column < self.wide as i64
            && row < self.high as i64
            && self.bits[row as usize * self.wide + column as usize]
    }

    /// Whether a pixel's neighbour is outside: one above or below, one to the left or right.
    pub(super) fn on_edge(&self, column: usize, row: usize) -> bool {
        let (c, r) = (column as i64, row as i64);
        [(-1, 0), (1, 0), (0, -1), (0, 1)].iter().any(|(dx, dy)| !self.get(c + dx, r + dy))
    }

    /// Sets the pixels of a row whose middles lie between two crossings.
    fn span(&mut self, row: usize, from: f64, to: f64) {
        let low = (from - 0.5).ceil().max(self.left as f64) as i64 - self.left;
        let high = (to - 0.5).floor().min((self.left + self.wide as i64 - 1) as f64) as i64 - self.left;
        for column in low..=high {
            self.bits[row * self.wide + column as usize] = true;
        }
    }

    /// Whether an edge drawn inside it leaves something to fill.
    pub fn roomy(&self) -> bool {
        self.wide >= 7 && self.high >= 4
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tui::theme::Role;
    use crate::tui::view::Window;
    use ratatui::layout::Rect;

    /// Twenty by ten cells, 50 mm a column, the origin in the middle.
    fn canvas() -> Canvas {
        let area = Rect::new(0, 0, 20, 10);
        Canvas::new(Window { area, middle: Spot::new(0.0, 0.0), mm_per_column: 50.0, mm_per_row: 100.0 })
    }

    fn painted(canvas: &Canvas) -> usize {
        let cells = (0..20).flat_map(|c| (0..10).map(move |r| (c, r)));
        cells.flat_map(|(c, r)| canvas.pixels_of(c, r)).filter(|p| p.role() == Role::Screen).count()
    }

    fn check(polygon: &Polygon, filled: usize, edge: usize) {
        let mut canvas = canvas();
        let mask = canvas.polygon(polygon);
        canvas.fill(&mask, Role::Screen);
        assert_eq!(painted(&canvas), filled);
        let mut canvas = self::canvas();
        canvas.rim(&mask, Role::Screen);
        assert_eq!(painted(&canvas), edge);
    }

    #[test]
    fn a_rectangle_takes_its_share_of_pixels_and_its_edge_is_inside_it() {
        // 200 by 200 mm: eight pixels along, four across.
        check(&Polygon::rect(Spot::new(-100.0, -100.0), Spot::new(100.0, 100.0)), 32, 20);
    }

    #[test]
    fn what_is_smaller_than_a_pixel_still_shows() {
        check(&Polygon::rect(Spot::new(1.0, 1.0), Spot::new(3.0, 3.0)), 2, 2);
    }

    #[test]
    fn what_lies_outside_or_nowhere_paints_nothing() {
        check(&Polygon::rect(Spot::new(5000.0, 0.0), Spot::new(6000.0, 50.0)), 0, 0);
        check(&Polygon::rect(Spot::new(f64::NAN, 0.0), Spot::new(f64::NAN, 50.0)), 0, 0);
    }

    #[test]
    fn an_edge_beyond_the_canvas_is_not_drawn_at_its_border() {
        let everything = Polygon::rect(Spot::new(-9000.0, -9000.0), Spot::new(9000.0, 9000.0));
        check(&everything, 20 * 10 * 4, 0);
    }

    #[test]
    fn a_line_half_on_a_pixel_is_half_on_it() {
        let mut canvas = canvas();
        canvas.upright(20, 0.0, 75.0, Role::Hull);
        let quarters = |row: u16, half: usize| canvas.pixels_of(10, row)[half].quarters;
        assert_eq!((quarters(4, 2), quarters(4, 0)), (4, 2));
        assert_eq!(canvas.pixels_of(10, 4)[0].under, Role::Water);
    }
}
