//! Where everything of the editor of the day stands.
//!
//! ```text
//! title
//! the day to scale, with the plots of the battery where there is room for them
//! the phase in question
//! its rows            | its loads, or how the batteries do
//! what comes of it
//! what the line does
//! keys
//! ```

use ratatui::layout::{Constraint, Layout, Rect};

/// Where everything of the editor stands. Areas that are not shown are empty.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct OutingAreas {
    /// The title line.
    pub title: Rect,
    /// The day to scale.
    pub day: Rect,
    /// What the rows are about.
    pub heading: Rect,
    /// The rows.
    pub rows: Rect,
    /// The rows of loads, or what is said of the batteries, where there is room beside the others.
    pub second: Rect,
    /// What comes of it.
    pub result: Rect,
    /// What the line does, or why it is not taken.
    pub said: Rect,
    /// The keys.
    pub keys: Rect,
}

/// Columns from which the rows stand in two columns.
const TWO_FROM: u16 = 100;

impl OutingAreas {
    /// The areas on a screen.
    pub fn at(whole: Rect) -> Self {
        let air = u16::from(whole.height >= 20);
        let day_rows = if whole.height >= 30 { whole.height * 2 / 5 } else { 4 };
        let [title, _, day, _, heading, body, result, said, keys] = Layout::vertical([
            Constraint::Length(1),
            Constraint::Length(air),
            Constraint::Length(day_rows),
            Constraint::Length(air),
            Constraint::Length(1),
            Constraint::Min(1),
            Constraint::Length(1),
            Constraint::Length(1),
            Constraint::Length(1),
        ])
        .areas(whole);
        let body = inset(body);
        let (rows, second) = if body.width >= TWO_FROM {
            let [rows, second] =
                Layout::horizontal([Constraint::Length(52), Constraint::Min(0)]).spacing(3).areas(body);
            (rows, second)
        } else {
            (body, Rect::default())
        };
        Self {
            title: inset(title),
            day: inset(day),
            heading: inset(heading),
            rows,
            second,
            result: inset(result),
            said: inset(said),
            keys: inset(keys),
        }
    }
}

/// One column of air at both sides.
fn inset(area: Rect) -> Rect {
    Rect { x: area.x + 1.min(area.width), width: area.width.saturating_sub(2), ..area }
}
