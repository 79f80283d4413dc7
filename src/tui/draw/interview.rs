//! The tape interview: rows at the left, what is asked and the hull it makes at the right, what speaks against it below.

mod asked;
mod dimension;
mod floats;
mod hull;
mod list;
mod section;
mod words;

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::widgets::{Clear, Widget};

pub use list::row_at;

use super::text;
use crate::tui::app::Look;
use crate::tui::areas::InterviewAreas;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{Interview, KEYS, Picture};
use crate::tui::theme::Role;

/// Draws the interview over the whole screen.
pub fn draw(look: &Look, interview: &Interview, whole: Rect, buffer: &mut Buffer) {
    let whole = whole.intersection(buffer.area);
    Clear.render(whole, buffer);
    let areas = InterviewAreas::at(whole);
    title(look, interview, areas.title, buffer);
    list::draw(look, interview, areas.list, buffer);
    what_is_asked(look, interview, areas.asked, buffer);
    asked::draw(look, interview, areas.drawing, buffer);
    pictures(look, interview, &areas, buffer);
    floats::draw(look, interview, areas.floats, buffer);
    floats::doubts(look, interview, areas.doubts, buffer);
    said(look, interview, areas.said, buffer);
    key_line(look, KEYS, areas.keys, buffer);
}

fn title(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let (taken, all) = interview.progress();
    let name = interview.name().as_str();
    let full = match interview.hull().form.tape() {
        Some(_) => format!("{taken} of {all} measured; the rest guessed"),
        None => format!("{taken} of {all} measured; the rest guessed from {}", interview.hull().name),
    };
    let fits = text::width(&full) + text::width(name) + 18 <= area.width;
    let right = if fits { full } else { full.replace("the rest guessed", "rest") };
    let room = area.width.saturating_sub(text::width(&right) + 2);
    let name = text::fit(name, room.saturating_sub(16), ascii(look));
    let bold = theme.style(Role::Accent).add_modifier(Modifier::BOLD);
    text::put_all(
        buffer,
        Rect { width: room, ..area },
        [("Tape interview", bold), ("  ", theme.style(Role::Dim)), (name.as_str(), theme.style(Role::Text))],
    );
    text::put_right(buffer, area, &text::fit(&right, area.width, ascii(look)), theme.style(Role::Dim));
}

/// The measurement's name and place, and in one sentence how it is taken.
fn what_is_asked(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let mut lines = text::rows(area);
    let Some(head) = lines.next() else { return };
    let (name, place) = words::asked(interview, look.tape);
    let taken = text::put(buffer, head, &name, theme.style(Role::Text).add_modifier(Modifier::BOLD));
    let rest = Rect { x: head.x + taken + 2, width: head.width.saturating_sub(taken + 2), ..head };
    text::put(buffer, rest, &text::fit(&place, rest.width, ascii(look)), theme.style(Role::Dim));
    for (words, line) in text::wrap(&words::how(interview), area.width).iter().zip(lines) {
        text::put(buffer, line, words, theme.style(Role::Text));
    }
}

fn pictures(look: &Look, interview: &Interview, areas: &InterviewAreas, buffer: &mut Buffer) {
    let both = !areas.second.is_empty();
    let other = if both { "" } else { "tab: " };
    let sections = |area: Rect, buffer: &mut Buffer| {
        let heading = "sections, aft left, fore right";
        hull::sections(look, interview, headed(look, heading, (other, "from above"), area, buffer), buffer);
    };
    let above = |area: Rect, buffer: &mut Buffer| {
        hull::from_above(look, interview, headed(look, "from above", (other, "sections"), area, buffer), buffer);
    };
    match interview.picture {
        _ if both => {
            sections(areas.first, buffer);
            above(areas.second, buffer);
        }
        Picture::Sections => sections(areas.first, buffer),
        Picture::FromAbove => above(areas.first, buffer),
    }
}

/// A heading, at its right what a key shows instead; the area below it.
fn headed(look: &Look, heading: &str, (key, instead): (&str, &str), area: Rect, buffer: &mut Buffer) -> Rect {
    let Some(line) = text::rows(area).next() else { return area };
    let theme = &look.theme;
    text::put(buffer, line, &text::fit(heading, line.width, ascii(look)), theme.style(Role::Dim));
    let right = format!("{key}{instead}");
    if !key.is_empty() && text::width(heading) + text::width(&right) + 2 <= line.width {
        text::put_right(buffer, line, &right, theme.style(Role::Dim));
    }
    Rect { y: area.y + 1, height: area.height - 1, ..area }
}

/// Why the line is not taken, or what it does.
fn said(look: &Look, interview: &Interview, area: Rect, buffer: &mut Buffer) {
    let (words, role) = match &interview.said {
        Some(said) => (said.text.clone(), if said.refused { Role::Caution } else { Role::Accent }),
        None => (words::line(interview), Role::Dim),
    };
    // A reason that is longer than the line takes the one above it as well.
    let lines = text::wrap(&words, area.width);
    let above = u16::from(lines.len() > 1 && area.y > 0);
    let area = Rect { y: area.y - above, height: area.height + above, ..area };
    Clear.render(area, buffer);
    for (words, line) in lines.iter().zip(text::rows(area)) {
        text::put(buffer, line, words, look.theme.style(role));
    }
}

/// The keys of a layer that fit.
pub(super) fn key_line(look: &Look, keys: &[(&str, &str)], area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let mut rest = area;
    for (key, words) in keys {
        let needed = text::width(key) + text::width(words) + 3;
        if needed > rest.width + 2 {
            break;
        }
        let pieces =
            [(*key, theme.style(Role::Accent)), (" ", theme.style(Role::Dim)), (words, theme.style(Role::Dim))];
        let taken = text::put_all(buffer, rest, pieces) + 2;
        rest.x += taken;
        rest.width = rest.width.saturating_sub(taken);
    }
}

fn ascii(look: &Look) -> bool {
    look.glyphs == Glyphs::Ascii
}
