//! The inspector and the gear list of a wide screen.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::panels::{mark, role};
use super::text;
use crate::tui::app::{App, Editor, Thing};
use crate::tui::glyphs::Glyphs;
use crate::tui::inspector;
use crate::tui::theme::Role;

/// Draws every figure of the thing under the cursor.
pub fn draw(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let thing = editor.thing().unwrap_or(Thing::Hull);
    let mut lines = text::rows(area);
    let Some(head) = lines.next() else { return };
    let title = text::fit(&inspector::title(editor, thing), head.width, ascii);
    text::put(buffer, head, &title, theme.style(Role::Text).add_modifier(Modifier::BOLD));
    for row in inspector::rows(editor, thing, app.look.tape) {
        let Some(line) = lines.next() else { return };
        let columns = (line.width * 2 / 5).min(20);
        text::put(
            buffer,
            Rect { width: columns, ..line },
            &text::fit(&row.label, columns - 1, ascii),
            theme.style(Role::Dim),
        );
        let value = Rect { x: line.x + columns, width: line.width - columns, ..line };
        let value_role = match row.origin.split(',').next() {
            Some("guess") => Role::Guess,
            Some("measured") => Role::Measured,
            _ => Role::Text,
        };
        // A long sentence goes on in the lines below; a figure stays on one.
        let mut wrapped = text::wrap(&row.value, value.width).into_iter();
        let first = wrapped.next().unwrap_or_default();
        let taken = text::put(buffer, value, &first, theme.style(value_role));
        let room = value.width.saturating_sub(taken + 2);
        if !row.origin.is_empty() && room > 4 {
            text::put_right(buffer, value, &text::fit(&row.origin, room, ascii), theme.style(Role::Dim));
        }
        for more in wrapped.take(3) {
            let Some(line) = lines.next() else { return };
            text::put(
                buffer,
                Rect { x: line.x + columns, width: line.width - columns, ..line },
                &more,
                theme.style(value_role),
            );
        }
    }
}

/// Draws all gear: placed first, then ashore.
pub fn gear_list(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let plan = editor.session.plan();
    let mut lines = text::rows(area);
    let Some(head) = lines.next() else { return };
    let placed = plan.gear.iter().filter(|g| g.is_placed()).count();
    text::put(buffer, head, "Gear", theme.style(Role::Text).add_modifier(Modifier::BOLD));
    let counts = format!("{placed} aboard, {} ashore", plan.gear.len() - placed);
    text::put_right(buffer, head, &counts, theme.style(Role::Dim));
    let here = editor.gear();
    let mut order: Vec<_> = plan.gear.iter().collect();
    order.sort_by_key(|g| !g.is_placed());
    for gear in order {
        let Some(line) = lines.next() else { return };
        let style = if here == Some(gear.id) {
            theme.style(Role::Selected)
        } else if gear.is_placed() {
            theme.style(Role::Text)
        } else {
            theme.style(Role::Dim)
        };
        let worst = editor.session.findings().iter().find(|f| f.subject.gear() == Some(gear.id)).map(|f| f.severity);
        if let Some(severity) = worst {
            text::put(buffer, line, mark(severity, app.look.glyphs), theme.style(role(severity)));
        }
        let line = Rect { x: line.x + 2, width: line.width.saturating_sub(2), ..line };
        let place = match &gear.place {
            Some(place) => app.look.tape.length(place.x.to_mm()),
            None => "ashore".into(),
        };
        let right = format!("{place:>9}  {:>5.1} kg", gear.spec.mass.value.to_kg());
        let tag = format!("{:<4} ", gear.spec.tag);
        let label = text::fit(
            gear.label.as_str(),
            line.width.saturating_sub(text::width(&right) + text::width(&tag) + 1),
            ascii,
        );
        text::put_all(buffer, line, [(tag.as_str(), theme.style(Role::Dim)), (label.as_str(), style)]);
        text::put_right(buffer, line, &right, theme.style(Role::Dim));
    }
}
