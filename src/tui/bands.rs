//! How far the hands reach, cell by cell, at the height of the deck's surface.
//!
//! Asking the reach study for every cell takes longer than painting; the caller keeps the answer
//! and asks again when the plan or the window has changed.

use ratatui::layout::Position;

use super::view::Window;
use crate::plan::Plan;
use crate::study::Study;
use crate::study::reach::{Band, band};

/// The reach bands of one window.
#[derive(Clone, Debug, PartialEq)]
pub struct Bands {
    window: Window,
    cells: Vec<Option<Band>>,
}

impl Bands {
    /// Asks the reach study for every cell over the hull.
    pub fn of(plan: &Plan, study: &Study, window: Window) -> Self {
        let area = window.area;
        let cells =
            area.rows().flat_map(|row| (row.x..row.x.saturating_add(row.width)).map(move |x| Position::new(x, row.y)));
        let of_cell = |cell: Position| {
            let spot = window.spot_of(cell);
            let z = plan.hull.surface(spot)?;
            plan.hull.form.bottom(spot)?;
            Some(band(&study.reach.body, spot.at(z), false))
        };
        Self { window, cells: cells.map(of_cell).collect() }
    }

    /// Whether they were made for this window.
    pub fn fit(&self, window: &Window) -> bool {
        self.window == *window
    }

    /// The band of a cell counted from the area's corner.
    pub(super) fn at(&self, column: u16, row: u16) -> Option<Band> {
        let index = usize::from(row) * usize::from(self.window.area.width) + usize::from(column);
        self.cells.get(index).copied().flatten()
    }

    #[cfg(test)]
    pub(super) fn made(window: Window, cells: Vec<Option<Band>>) -> Self {
        Self { window, cells }
    }
}
