//! The last line: a message while there is one, else the keys that matter now.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

use super::text;
use crate::tui::action::{ACTIONS, Action, Context, Row};
use crate::tui::app::App;
use crate::tui::theme::Role;
use crate::tui::update::barred;

/// A key and its two words.
struct Hint {
    key: String,
    words: &'static str,
    action: Action,
}

/// Draws the line.
pub fn draw(app: &App, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    if let Some(toast) = &app.toast {
        let role = if toast.refused { Role::Caution } else { Role::Accent };
        let ascii = app.look.glyphs == crate::tui::glyphs::Glyphs::Ascii;
        let line = Rect { x: area.x + 1, width: area.width.saturating_sub(2), ..area };
        text::put(buffer, line, &text::fit(&toast.text, line.width, ascii), theme.style(role));
        return;
    }
    let mut rest = Rect { x: area.x + 1, width: area.width.saturating_sub(1), ..area };
    for hint in hints(app, area.width) {
        let taken = text::put_all(
            buffer,
            rest,
            [
                (hint.key.as_str(), theme.style(Role::Accent)),
                (" ", theme.style(Role::Dim)),
                (hint.words, theme.style(Role::Dim)),
                ("  ", theme.style(Role::Dim)),
            ],
        );
        rest.x += taken;
        rest.width -= taken;
    }
}

/// The action whose hint is under a column.
pub fn action_at(app: &App, area: Rect, column: u16) -> Option<Action> {
    let mut x = area.x + 1;
    hints(app, area.width).into_iter().find_map(|hint| {
        let from = x;
        x += columns(&hint);
        (column >= from && column + 2 < x).then_some(hint.action)
    })
}

/// The hints that fit, possible ones only: first those of this context alone, then those of all, each
/// in the order of the table. The list of all actions and the way out keep their place at the end.
fn hints(app: &App, width: u16) -> Vec<Hint> {
    let now = app.context();
    let hint = |row: &Row| Hint {
        key: row.keys.first().map_or(String::new(), |key| shown_key(key)),
        words: match (now, row.action) {
            (Context::Start, Action::Accept) => "open",
            (Context::Wiring, Action::Accept) => "change",
            _ => row.hint,
        },
        action: row.action,
    };
    let wanted = |row: &&Row| {
        !row.hint.is_empty() && row.context.covers(now) && !(now == Context::Start && row.action == Action::Back)
    };
    let possible = ACTIONS.iter().filter(wanted).filter(|row| barred(app, row.action).is_none());
    let (shared, own): (Vec<&Row>, Vec<&Row>) = possible.partition(|row| row.context == Context::Anywhere);
    let (last, others): (Vec<Hint>, Vec<Hint>) =
        own.into_iter().chain(shared).map(hint).partition(|hint| matches!(hint.action, Action::Actions | Action::Quit));
    let mut room = width.saturating_sub(1 + last.iter().map(columns).sum::<u16>());
    let mut shown: Vec<Hint> = Vec::new();
    for hint in others {
        let needed = columns(&hint);
        if needed > room {
            break;
        }
        room -= needed;
        shown.push(hint);
    }
    shown.extend(last);
    shown
}

fn columns(hint: &Hint) -> u16 {
    text::width(&hint.key) + text::width(hint.words) + 3
}

/// A key as a person reads it: `^S` for control, words for named keys.
fn shown_key(key: &str) -> String {
    match key.strip_prefix("ctrl-") {
        Some(letter) => format!("ctrl-{letter}"),
        None => key.to_string(),
    }
}
