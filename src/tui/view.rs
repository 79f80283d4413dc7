//! Which part of the boat is on the screen, and how cells and spots answer to each other.
//!
//! A [`View`] is what the person chose (whole boat, or a scale and a middle); a [`Window`] is that
//! view laid on an area of cells. Bow to the right, port up. A cell is twice as high as wide.

use ratatui::layout::{Position, Rect};

use crate::geometry::Spot;
use crate::plan::Hull;

/// The closest look: millimetres a column.
pub const CLOSEST_MM: f64 = 10.0;

/// How much one step of the zoom changes.
const STEP: f64 = 1.5;

/// Free columns at both ends of the whole boat, for the rulers and what hangs over the stern.
const MARGIN_COLUMNS: f64 = 2.0;

/// What the person chose to look at.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct View {
    /// How close.
    pub zoom: Zoom,
    /// What is in the middle; the whole boat is always centred.
    pub middle: Spot,
}

/// How close the view is.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum Zoom {
    /// The whole boat, at any size of the screen.
    #[default]
    Whole,
    /// So many millimetres a column.
    Scale(f64),
}

/// A view laid on an area of cells.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Window {
    /// The cells.
    pub area: Rect,
    /// What is in their middle, mm.
    pub middle: Spot,
    /// Millimetres a column.
    pub mm_per_column: f64,
    /// Millimetres a row: twice a column's on deck, free in the profile.
    pub mm_per_row: f64,
}

impl View {
    /// Lays the view on an area.
    pub fn window(&self, hull: &Hull, area: Rect) -> Window {
        let whole = whole(hull, area);
        match self.zoom {
            Zoom::Whole => whole,
            Zoom::Scale(mm) => {
                let mm = mm.clamp(CLOSEST_MM, whole.mm_per_column.max(CLOSEST_MM));
                Window { middle: within(hull, self.middle), mm_per_column: mm, mm_per_row: 2.0 * mm, ..whole }
            }
        }
    }

    /// One step closer, keeping `about` where it is on the screen.
    #[must_use]
    pub fn closer(&self, hull: &Hull, area: Rect, about: Spot) -> Self {
        self.scaled(hull, area, about, 1.0 / STEP)
    }

    /// One step back, keeping `about` where it is; ends at the whole boat.
    #[must_use]
    pub fn farther(&self, hull: &Hull, area: Rect, about: Spot) -> Self {
        self.scaled(hull, area, about, STEP)
    }

    /// Shifted by so many columns forward and rows to port. The whole boat does not shift.
    #[must_use]
    pub fn panned(&self, hull: &Hull, area: Rect, columns: f64, rows: f64) -> Self {
        let window = self.window(hull, area);
        let by = Spot::new(columns * window.mm_per_column, rows * window.mm_per_row);
        Self { zoom: self.zoom, middle: within(hull, window.middle + by) }
    }

    /// Shifted, if it must be, so that a spot is on the screen; by a third of the window at least,
    /// so that a held key does not shift it at every step.
    #[must_use]
    pub fn showing(&self, hull: &Hull, area: Rect, spot: Spot) -> Self {
        let window = self.window(hull, area);
        let shift = |at: f64, middle: f64, cells: u16, mm: f64| {
            let half = f64::from(cells) / 2.0 * mm - mm;
            let off = at - middle;
            if off.abs() <= half { middle } else { at - off.signum() * half / 3.0 }
        };
        let middle = Spot::new(
            shift(spot.x, window.middle.x, area.width, window.mm_per_column),
            shift(spot.y, window.middle.y, area.height, window.mm_per_row),
        );
        Self { zoom: self.zoom, middle: within(hull, middle) }
    }

    fn scaled(&self, hull: &Hull, area: Rect, about: Spot, factor: f64) -> Self {
        let (now, whole) = (self.window(hull, area), whole(hull, area));
        let mm = (now.mm_per_column * factor).max(CLOSEST_MM);
        if mm >= whole.mm_per_column {
            return Self { zoom: Zoom::Whole, middle: whole.middle };
        }
        let share = mm / now.mm_per_column;
        let off = now.middle - about;
        let middle = about + Spot::new(off.x * share, off.y * share);
        Self { zoom: Zoom::Scale(mm), middle: within(hull, middle) }
    }
}

impl Window {
    /// Where a spot is in cells from the area's upper left corner; may lie outside.
    pub fn place(&self, spot: Spot) -> (f64, f64) {
        let column = (spot.x - self.middle.x) / self.mm_per_column + f64::from(self.area.width) / 2.0;
        let row = (self.middle.y - spot.y) / self.mm_per_row + f64::from(self.area.height) / 2.0;
        (column, row)
    }

    /// The cell a spot falls in, if it is on the screen.
    pub fn cell_of(&self, spot: Spot) -> Option<Position> {
        let (column, row) = self.place(spot);
        let inside =
            column >= 0.0 && row >= 0.0 && column < f64::from(self.area.width) && row < f64::from(self.area.height);
        inside.then(|| Position::new(self.area.x + column as u16, self.area.y + row as u16))
    }

    /// The spot in the middle of a cell; cells outside the area answer too.
    pub fn spot_of(&self, cell: Position) -> Spot {
        let column = f64::from(cell.x) - f64::from(self.area.x) + 0.5;
        let row = f64::from(cell.y) - f64::from(self.area.y) + 0.5;
        self.spot_at(column, row)
    }

    /// The spot so many cells right of and below the area's upper left corner.
    pub fn spot_at(&self, column: f64, row: f64) -> Spot {
        Spot::new(
            self.middle.x + (column - f64::from(self.area.width) / 2.0) * self.mm_per_column,
            self.middle.y - (row - f64::from(self.area.height) / 2.0) * self.mm_per_row,
        )
    }
}

/// The nearest crossing of the deck grid, whose lines run through the aft end and the centreline.
pub fn snapped(spot: Spot, pitch_mm: f64) -> Spot {
    if pitch_mm.is_nan() || pitch_mm <= 0.0 {
        return spot;
    }
    Spot::new((spot.x / pitch_mm).round() * pitch_mm, (spot.y / pitch_mm).round() * pitch_mm)
}

fn whole(hull: &Hull, area: Rect) -> Window {
    let (low, high) = hull.form.deck_outline().bounds();
    let columns = (f64::from(area.width) - 2.0 * MARGIN_COLUMNS).max(1.0);
    // Half a row stays free above and below.
    let rows = (f64::from(area.height) - 1.0).max(1.0);
    let mm = ((high.x - low.x) / columns).max((high.y - low.y) / rows / 2.0).max(1.0);
    let middle = Spot::new(f64::midpoint(low.x, high.x), f64::midpoint(low.y, high.y));
    Window { area, middle, mm_per_column: mm, mm_per_row: 2.0 * mm }
}

/// The spot, held inside the boat's bounds.
fn within(hull: &Hull, spot: Spot) -> Spot {
    let (low, high) = hull.form.deck_outline().bounds();
    let held = |v: f64, low: f64, high: f64| if v.is_nan() { f64::midpoint(low, high) } else { v.max(low).min(high) };
    Spot::new(held(spot.x, low.x, high.x), held(spot.y, low.y, high.y))
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use proptest::prelude::*;

    fn area() -> impl Strategy<Value = Rect> {
        (0_u16..50, 0_u16..50, 1_u16..250, 1_u16..80).prop_map(|(x, y, w, h)| Rect::new(x, y, w, h))
    }

    proptest! {
        #[test]
        fn a_cell_and_its_middle_answer_to_each_other(area in area(), u in 0.0..1.0, v in 0.0..1.0, steps in 0..8) {
            let hull = sample::hull();
            let mut view = View::default();
            for _ in 0..steps {
                view = view.closer(&hull, area, Spot::new(1500.0, 100.0));
            }
            let window = view.window(&hull, area);
            let cell = Position::new(
                area.x + (u * f64::from(area.width)) as u16,
                area.y + (v * f64::from(area.height)) as u16,
            );
            prop_assert_eq!(window.cell_of(window.spot_of(cell)), Some(cell));
            let (column, row) = window.place(window.spot_at(u, v));
            prop_assert!((column - u).abs() < 1e-6 && (row - v).abs() < 1e-6);
        }

        #[test]
        fn the_whole_boat_is_on_the_screen(area in area()) {
            let hull = sample::hull();
            let window = View::default().window(&hull, area);
            prop_assume!(area.width > 4 && area.height > 2);
            for corner in hull.form.deck_outline().corners {
                let (column, row) = window.place(corner);
                prop_assert!(column >= 0.0 && column <= f64::from(area.width), "{column}");
                prop_assert!(row >= 0.0 && row <= f64::from(area.height), "{row}");
            }
        }

        #[test]
        fn closer_keeps_the_spot_and_stops_at_ten_millimetres(x in 500.0..3000.0, y in -300.0..300.0) {
            let (hull, area, about) = (sample::hull(), Rect::new(0, 0, 120, 15), Spot::new(x, y));
            let before = View::default().window(&hull, area).place(about);
            let view = View::default().closer(&hull, area, about);
            let after = view.window(&hull, area).place(about);
            prop_assert!((before.0 - after.0).abs() < 1e-6 && (before.1 - after.1).abs() < 1e-6);
            let closest = (0..20).fold(view, |v, _| v.closer(&hull, area, about));
            prop_assert_eq!(closest.window(&hull, area).mm_per_column, CLOSEST_MM);
            let back = (0..20).fold(closest, |v, _| v.farther(&hull, area, about));
            prop_assert_eq!(back.zoom, Zoom::Whole);
        }

        #[test]
        fn a_spot_on_the_boat_can_always_be_shown(x in 0.0..3600.0, y in -400.0..400.0) {
            let (hull, area, spot) = (sample::hull(), Rect::new(3, 2, 80, 10), Spot::new(x, y));
            let close = View { zoom: Zoom::Scale(CLOSEST_MM), middle: Spot::new(300.0, 0.0) };
            let shown = close.showing(&hull, area, spot);
            prop_assert!(shown.window(&hull, area).cell_of(spot).is_some());
            prop_assert_eq!(shown.showing(&hull, area, spot), shown);
        }

        #[test]
        fn snapping_moves_by_half_a_pitch_at_most(x in -5e3..5e3, y in -1e3..1e3) {
            let (spot, on) = (Spot::new(x, y), snapped(Spot::new(x, y), 25.0));
            prop_assert!((spot.x - on.x).abs() <= 12.5 + 1e-9 && (spot.y - on.y).abs() <= 12.5 + 1e-9);
            prop_assert_eq!(snapped(on, 25.0), on);
        }
    }

    #[test]
    fn an_area_without_cells_and_a_hull_without_form_are_no_trouble() {
        let mut hull = sample::hull();
        hull.form = crate::geometry::Form::default().into();
        let view = View { zoom: Zoom::Scale(f64::NAN), middle: Spot::new(f64::NAN, 1.0) };
        let window = view.window(&hull, Rect::default());
        assert_eq!(window.cell_of(Spot::new(0.0, 0.0)), None);
    }
}
