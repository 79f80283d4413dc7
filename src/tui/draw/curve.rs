//! The curve of righting levers as a small plot: heel along, lever up.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::text;
use crate::geometry::Spot;
use crate::study::float::Afloat;
use crate::tui::app::App;
use crate::tui::canvas::Canvas;
use crate::tui::cells::Brush;
use crate::tui::theme::Role;
use crate::tui::view::Window;

/// Heel at the right end, degrees.
const LAST_DEG: f64 = 60.0;
/// Degrees between two figures under the plot.
const TICK_DEG: f64 = 15.0;

/// Draws the curve of a case: its greatest lever, the heel at which it floods, the heel of leaning out.
pub fn draw(app: &App, case: &Afloat, leaning_deg: Option<f64>, area: Rect, buffer: &mut Buffer) {
    let dim = app.look.theme.style(Role::Dim);
    let title = if area.width >= 14 { "righting lever" } else { "lever" };
    text::put(buffer, area, title, dim);
    let Some(greatest) = case.greatest_lever().filter(|_| area.height >= 4 && area.width >= 12) else { return };
    let plot = Rect { y: area.y + 1, height: area.height - 2, ..area };
    let most = greatest.gz_mm.max(1.0);
    // What capsizes is shown as far down as what rights it goes up; above there is air for a figure.
    let least = case.gz.iter().map(|arm| arm.gz_mm).fold(0.0, f64::min).max(-most);
    let span = most - least;
    let (low, high) = (least - 0.08 * span, most + 0.4 * span);
    let mut canvas = Canvas::new(Window {
        area: plot,
        middle: Spot::new(LAST_DEG / 2.0, f64::midpoint(low, high)),
        mm_per_column: LAST_DEG / f64::from(plot.width),
        mm_per_row: (high - low) / f64::from(plot.height),
    });
    canvas.line(Spot::new(0.0, 0.0), Spot::new(LAST_DEG, 0.0), Role::Seam);
    let floods = case.flooding.map(|first| first.heel_deg.abs());
    for (heel, role) in [(leaning_deg, Role::Rim), (floods, Role::Waterline)] {
        if let Some(heel) = heel.filter(|heel| *heel < LAST_DEG) {
            canvas.line(Spot::new(heel, low), Spot::new(heel, high), role);
        }
    }
    for pair in case.gz.windows(2) {
        let at = |arm: &crate::study::float::RightingArm| Spot::new(arm.heel_deg, arm.gz_mm);
        canvas.line(at(&pair[0]), at(&pair[1]), Role::Hull);
    }
    if greatest.gz_mm > 0.0 {
        let lever = app.look.tape.length(greatest.gz_mm);
        let words = format!("{lever} at {:.0} deg", greatest.heel_deg);
        let words = if text::width(&words) <= plot.width { words } else { lever };
        let row = above(&canvas, greatest.heel_deg, greatest.gz_mm);
        beside(&mut canvas, greatest.heel_deg, row, &words, Role::Text, true);
    }
    let bottom = i64::from(plot.height) - 1;
    for (heel, word, role) in [(floods, "floods", Role::Waterline), (leaning_deg, "leaning", Role::Dim)] {
        if let Some(heel) = heel.filter(|heel| *heel < LAST_DEG) {
            let row = (0..=bottom).rev().find(|row| fits(&canvas, heel, *row, word)).unwrap_or(bottom);
            beside(&mut canvas, heel, row, word, role, false);
        }
    }
    canvas.render(&Brush { theme: &app.look.theme, glyphs: app.look.glyphs }, buffer);
    axis(app, area, buffer);
}

/// The row over a point of the plot.
fn above(canvas: &Canvas, heel: f64, lever: f64) -> i64 {
    (canvas.window().place(Spot::new(heel, lever)).1.floor() as i64 - 1).max(0)
}

/// Columns at which a word at a heel could start: right of it, left of it.
fn starts(canvas: &Canvas, heel: f64, wide: usize) -> [i64; 2] {
    let column = canvas.window().place(Spot::new(heel, 0.0)).0.floor() as i64;
    [column + 1, column - wide as i64]
}

fn fits(canvas: &Canvas, heel: f64, row: i64, word: &str) -> bool {
    let free = |start: i64| canvas.free(start, row, word.len(), |role| role == Role::Water);
    starts(canvas, heel, word.len()).into_iter().any(free)
}

/// Writes a word at a heel: in the middle of it or beside it, where it covers nothing.
fn beside(canvas: &mut Canvas, heel: f64, row: i64, word: &str, role: Role, centred: bool) {
    let wide = word.len();
    let [right, left] = starts(canvas, heel, wide);
    let last = i64::from(canvas.area().width) - wide as i64;
    let middle = (right - 1 - wide as i64 / 2).clamp(0, last.max(0));
    let places = if centred { vec![middle, right, left] } else { vec![right, left] };
    let free = places.iter().copied().find(|start| canvas.free(*start, row, wide, |role| role == Role::Water));
    if let Some(start) = free.or(centred.then_some(middle)) {
        canvas.text(start, row, word, role, false);
    }
}

/// Degrees under the plot.
fn axis(app: &App, area: Rect, buffer: &mut Buffer) {
    let dim = app.look.theme.style(Role::Dim);
    let line = Rect { y: area.bottom() - 1, height: 1, ..area };
    text::put_right(buffer, line, "60 deg", dim);
    let mut tick = 0.0;
    while tick < LAST_DEG {
        let column = (tick / LAST_DEG * f64::from(area.width)) as u16;
        let words = format!("{tick:.0}");
        let room = area.width.saturating_sub(column + 7);
        if room >= text::width(&words) {
            text::put(buffer, Rect { x: area.x + column, width: room, ..line }, &words, dim);
        }
        tick += TICK_DEG;
    }
}
