//! The phases under the plots: as wide as they are long, dark ones filled up with a shade.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};

use super::DayPicture;
use crate::plan::{Outing, Phase};
use crate::tui::draw::text;
use crate::tui::glyphs::{Glyph, Glyphs};
use crate::tui::layer::trimmed;
use crate::tui::theme::{Depth, Role};
use crate::units::{Charge, Quantity, amount};

/// The columns of each phase, from and to.
pub(super) fn spans(outing: &Outing, area: Rect) -> impl Iterator<Item = (u16, u16)> {
    let hours = outing.hours().to_hours();
    let column = move |after: f64| area.x + (after / hours * f64::from(area.width)).round() as u16;
    (0..outing.phases.len())
        .map(move |phase| (column(outing.begins(phase).to_hours()), column(outing.begins(phase + 1).to_hours())))
}

/// Draws the phases, in as many lines as the area has.
pub(super) fn draw(day: &DayPicture<'_>, area: Rect, buffer: &mut Buffer) {
    let outing = day.outing;
    for (index, (phase, (from, to))) in outing.phases.iter().zip(spans(outing, area)).enumerate() {
        let charge = day.battery.and_then(|battery| battery.phases.get(index)).map(|(charge, _)| *charge);
        let band = Rect { x: from, width: to.saturating_sub(from), ..area };
        let words = [phase.name.to_string(), measures(phase, charge, band.width), settings(phase)];
        for ((line, words), row) in text::rows(band).zip(&words).zip(0..) {
            band_line(day, index, words, row == 0, line, buffer);
        }
    }
}

/// One line of a phase: a mark where it begins, words, the shade of a dark one.
fn band_line(day: &DayPicture<'_>, index: usize, words: &str, first: bool, line: Rect, buffer: &mut Buffer) {
    let (theme, glyphs) = (&day.look.theme, day.look.glyphs);
    let dark = day.outing.is_dark(index);
    let lit = day.lit == Some(index) && first;
    let ground = theme.colour(if dark { Role::Deep } else { Role::Raised });
    let on = |style: Style| if theme.depth() == Depth::Mono { style } else { style.bg(ground) };
    let style = match (lit, first) {
        (true, _) => theme.style(Role::Selected).add_modifier(Modifier::REVERSED),
        (false, true) => on(theme.style(Role::Text)),
        (false, false) => on(theme.style(Role::Dim)),
    };
    let inner = Rect { x: line.x + 1, width: line.width.saturating_sub(1), ..line };
    // Some of the shade is always seen.
    let room = inner.width.saturating_sub(if dark { 3 } else { 1 });
    let words = text::fit(words, room, glyphs == Glyphs::Ascii);
    text::put(buffer, inner, &" ".repeat(usize::from(inner.width)), style);
    text::put(buffer, line, glyphs.of(Glyph::DimensionUp), on(theme.style(Role::Dim)));
    let taken = text::put(buffer, inner, &words, style);
    if dark {
        let gap = (taken + 1).min(inner.width);
        let rest = Rect { x: inner.x + gap, width: inner.width - gap, ..inner };
        text::put(buffer, rest, &glyphs.of(Glyph::Shade).repeat(usize::from(rest.width)), on(theme.style(Role::Dim)));
    }
}

/// Hours and what the battery gives in them; the latter alone where there is not room for both.
fn measures(phase: &Phase, charge: Option<Charge>, room: u16) -> String {
    let hours = format!("{} h", trimmed(phase.hours.base()));
    let Some(charge) = charge.map(|charge| amount(charge, 1)) else { return hours };
    let both = format!("{hours}, {charge}");
    if text::width(&both) + 4 <= room { both } else { charge }
}

fn settings(phase: &Phase) -> String {
    let motor = phase.motor.as_ref().map_or_else(String::new, |setting| format!(", motor at {setting}"));
    let charging = if phase.charging { ", charging" } else { "" };
    format!("{}{motor}{charging}", phase.posture.word())
}
