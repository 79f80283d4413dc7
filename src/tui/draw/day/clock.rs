//! The clock under a day: whole hours, its start and its end; hours from the start where no start was typed.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::DayPicture;
use crate::tui::draw::curve::axis;
use crate::tui::draw::text;
use crate::tui::glyphs::Glyph;
use crate::tui::layer::trimmed;
use crate::tui::theme::Role;
use crate::units::Duration;

/// Hours between two figures, the nearest first.
const STEPS: [f64; 6] = [1.0, 2.0, 3.0, 4.0, 6.0, 12.0];

/// Columns from the begin of a figure to that of the next.
const APART: f64 = 8.0;

/// Draws the clock, with marks at sunrise and sunset.
pub(super) fn draw(day: &DayPicture<'_>, line: Rect, buffer: &mut Buffer) {
    let hours = day.hours();
    let columns = f64::from(line.width) / hours;
    let step = STEPS.into_iter().find(|step| step * columns >= APART).unwrap_or(STEPS[5]);
    let told = |after: f64| match day.outing.starts {
        Some(starts) => starts.after(Duration::hours(after)).to_string(),
        None => format!("{} h", trimmed(after)),
    };
    let begin = day.outing.starts.map_or(0.0, |starts| f64::from(starts.minutes()) / 60.0);
    let whole = (0..48).map(|index| ((begin / step).floor() + f64::from(index)) * step - begin);
    let whole = whole.filter(|after| after * columns >= APART && *after < hours);
    let ticks: Vec<(f64, String)> =
        std::iter::once(0.0).chain(whole).map(|after| (after / hours, told(after))).collect();
    axis(day.look, line, ticks.iter().map(|(share, words)| (*share, words.as_str())), &told(hours), buffer);
    for (after, word, _) in day.sun() {
        let glyph = if word == "sunrise" { Glyph::RulerUp } else { Glyph::RulerDown };
        let at = Rect { x: line.x + (after * columns) as u16, width: 1, ..line };
        let blank = buffer.cell((at.x, at.y)).is_some_and(|cell| cell.symbol() == " ");
        if blank {
            text::put(buffer, at, day.look.glyphs.of(glyph), day.look.theme.style(Role::Envelope));
        }
    }
}
