//! What the hull so far would carry and how it would float, and what speaks against its figures.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::{ascii, text};
use crate::checks::Severity;
use crate::tui::app::Look;
use crate::tui::draw::panels::{mark, role};
use crate::tui::layer::{COMPARED_AT_MM, Interview};
use crate::tui::theme::Role;

/// One line: how it floats.
pub(super) fn draw(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let deep = |mm: f64| if mm < 0.0 { "not at all".into() } else { look.tape.length(mm) };
    let (words, style) = match &interview.trial().rest {
        Ok(rest) => (
            format!(
                "{:.0} kg: {} deep aft, {} fore; at {} it carries {:.0} kg",
                rest.mass.to_kg(),
                deep(rest.at.draft_aft_mm),
                deep(rest.at.draft_fore_mm),
                look.tape.length(COMPARED_AT_MM),
                rest.carries_kg
            ),
            Role::Text,
        ),
        Err(why) => (why.clone(), Role::Caution),
    };
    text::put(buffer, area, &text::fit(&words, area.width, ascii(look)), theme.style(style));
}

/// What looks wrong, about the row in question first, as much as fits.
pub(super) fn doubts(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let mut lines = text::rows(area);
    let doubts = interview.doubts();
    if doubts.is_empty()
        && let Some(line) = lines.next()
    {
        text::put(buffer, line, "nothing speaks against these figures", theme.style(Role::Dim));
    }
    let mut left = doubts.len();
    for doubt in doubts {
        let severity = if doubt.contradiction { Severity::Caution } else { Severity::Note };
        let words = format!("{} {}", interview.doubt_words(doubt), doubt.remedy);
        for (number, words) in text::wrap(&words, area.width.saturating_sub(2)).iter().enumerate() {
            let Some(line) = lines.next() else { break };
            let last = line.y + 1 == area.bottom();
            if number == 0 {
                text::put(buffer, line, mark(severity, look.glyphs), theme.style(role(severity)));
                left -= 1;
            }
            let line = Rect { x: line.x + 2, width: line.width.saturating_sub(2), ..line };
            let more = if last && left > 0 { format!("and {left} more") } else { String::new() };
            let room = line.width.saturating_sub(if more.is_empty() { 0 } else { text::width(&more) + 2 });
            text::put(buffer, line, &text::fit(words, room, ascii(look)), theme.style(Role::Text));
            text::put_right(buffer, line, &more, theme.style(Role::Dim));
        }
    }
}
