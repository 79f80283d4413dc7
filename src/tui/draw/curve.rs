//! A small plot: curves, upright lines and words beside them, and figures under it.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::text;
use crate::geometry::Spot;
use crate::tui::app::Look;
use crate::tui::canvas::Canvas;
use crate::tui::cells::Brush;
use crate::tui::theme::Role;
use crate::tui::view::Window;

/// A plot being drawn: x along, y up, each from a least to a greatest value.
pub(super) struct Plot {
    canvas: Canvas,
    along: (f64, f64),
    up: (f64, f64),
}

/// Where words stand beside a place along the plot.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Words {
    /// In the middle of it, whatever they cover.
    Over,
    /// Beside it, where they cover nothing.
    Beside,
}

impl Plot {
    /// An empty plot.
    pub fn new(area: Rect, along: (f64, f64), up: (f64, f64)) -> Self {
        let span = |(least, most): (f64, f64)| (most - least).max(f64::MIN_POSITIVE);
        let canvas = Canvas::new(Window {
            area,
            middle: Spot::new(f64::midpoint(along.0, along.1), f64::midpoint(up.0, up.1)),
            mm_per_column: span(along) / f64::from(area.width.max(1)),
            mm_per_row: span(up) / f64::from(area.height.max(1)),
        });
        Self { canvas, along, up }
    }

    /// Draws a line through points.
    pub fn through(&mut self, points: impl IntoIterator<Item = Spot>, role: Role) {
        let mut last: Option<Spot> = None;
        for point in points {
            if let Some(last) = last {
                self.canvas.line(last, point, role);
            }
            last = Some(point);
        }
    }

    /// Draws a line at a height.
    pub fn level(&mut self, up: f64, role: Role) {
        self.canvas.line(Spot::new(self.along.0, up), Spot::new(self.along.1, up), role);
    }

    /// Draws a line at a place along, from the bottom to the top.
    pub fn upright(&mut self, along: f64, role: Role) {
        self.canvas.line(Spot::new(along, self.up.0), Spot::new(along, self.up.1), role);
    }

    /// Gives the ground of a stretch another role.
    pub fn shade(&mut self, (from, to): (f64, f64), role: Role) {
        for column in column(&self.canvas, from).max(0)..column(&self.canvas, to) {
            for row in 0..self.canvas.area().height {
                if let Some(column) = u16::try_from(column).ok().filter(|column| *column < self.canvas.area().width) {
                    self.canvas.tint(column, row, role, is_ground);
                }
            }
        }
    }

    /// Last row, counted from the top.
    pub fn bottom(&self) -> i64 {
        i64::from(self.canvas.area().height) - 1
    }

    /// The row over a point.
    pub fn above(&self, point: Spot) -> i64 {
        (self.canvas.window().place(point).1.floor() as i64 - 1).max(0)
    }

    /// Writes the first of some words, the longest first, in the first of some rows that has room for them beside a
    /// place along; nothing where none has.
    pub fn say_first<const N: usize>(
        &mut self,
        rows: impl Iterator<Item = i64> + Clone,
        along: f64,
        words: [&str; N],
        role: Role,
    ) {
        let room = words.into_iter().find_map(|words| {
            let starts = starts(&self.canvas, along, wide(words));
            let free = |row: &i64| starts.iter().any(|start| self.free(*start, *row, words));
            Some((words, rows.clone().find(free)?))
        });
        if let Some((words, row)) = room {
            self.say(along, row, words, role, Words::Beside);
        }
    }

    /// Writes words at a place along.
    pub fn say(&mut self, along: f64, row: i64, words: &str, role: Role, how: Words) {
        let [right, left] = starts(&self.canvas, along, wide(words));
        let last = i64::from(self.canvas.area().width) - wide(words);
        let middle = (right - 1 - wide(words) / 2).clamp(0, last.max(0));
        let places = if how == Words::Over { vec![middle, right, left] } else { vec![right, left] };
        let free = places.into_iter().find(|start| self.free(*start, row, words));
        if let Some(start) = free.or((how == Words::Over).then_some(middle)) {
            self.canvas.text(start, row, words, role, role == Role::Stop);
        }
    }

    /// Draws it.
    pub fn render(&self, look: &Look, buffer: &mut Buffer) {
        self.canvas.render(&Brush { theme: &look.theme, glyphs: look.glyphs }, buffer);
    }

    fn free(&self, start: i64, row: i64, words: &str) -> bool {
        self.canvas.free(start, row, usize::from(text::width(words)), is_ground)
    }
}

/// What a word may stand on.
fn is_ground(role: Role) -> bool {
    matches!(role, Role::Water | Role::Deep)
}

fn wide(words: &str) -> i64 {
    i64::from(text::width(words))
}

/// The column of a place along.
fn column(canvas: &Canvas, along: f64) -> i64 {
    canvas.window().place(Spot::new(along, 0.0)).0.floor() as i64
}

/// Columns at which words at a place could start: right of it, left of it.
fn starts(canvas: &Canvas, along: f64, wide: i64) -> [i64; 2] {
    let column = column(canvas, along);
    [column + 1, column - wide]
}

/// Figures under a plot: each at its share of the line where it does not meet the last one, which stands at the
/// right end.
pub(super) fn axis<'a>(
    look: &Look,
    line: Rect,
    ticks: impl IntoIterator<Item = (f64, &'a str)>,
    last: &str,
    buffer: &mut Buffer,
) {
    let dim = look.theme.style(Role::Dim);
    text::put_right(buffer, line, last, dim);
    for (share, words) in ticks {
        let column = (share * f64::from(line.width)) as u16;
        let room = line.width.saturating_sub(column.saturating_add(text::width(last) + 1));
        if room >= text::width(words) {
            text::put(buffer, Rect { x: line.x + column, width: room, ..line }, words, dim);
        }
    }
}
