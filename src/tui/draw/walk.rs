//! A cable walked step by step: under the boat, what to do at this step, what comes next, what it all takes.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::layers::frame;
use super::panels::{mark, role};
use super::text;
use crate::checks::Severity;
use crate::tui::app::App;
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::Walk;
use crate::tui::theme::Role;
use crate::tui::words::cables::{Told, summary, title, told};

/// Rows of the box with its frame: three lines about steps, one about the whole cable, one for the keys.
const ROWS: u16 = 7;

/// Draws the walk at the foot of the screen, clear of the boat.
pub fn draw(app: &App, walk: &Walk, whole: Rect, buffer: &mut Buffer) {
    let Some(editor) = app.editor() else { return };
    let (plan, study, tape) = (editor.session.plan(), editor.session.study(), app.look.tape);
    let Some(run) = study.cables.run(walk.cable) else { return };
    let rows = ROWS.min(whole.height);
    let area = Rect { y: whole.bottom() - rows, height: rows, ..whole };
    let title = format!("{}, step {} of {}", title(plan, run), walk.step + 1, walk.last + 1);
    let inner = frame(app, &title, area, buffer);
    let theme = &app.look.theme;
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let put = |line: Rect, words: &str, style, buffer: &mut Buffer| {
        text::put(buffer, line, &text::fit(words, line.width, ascii), style);
    };
    let mut lines = text::rows(inner);
    let mut next = || lines.next().unwrap_or_default();
    let Some(Told { what, facts, stuck }) = told(plan, study, run, walk.step, tape) else { return };
    put(next(), &what, theme.style(Role::Text).add_modifier(Modifier::BOLD), buffer);
    let mut line = next();
    if stuck {
        let taken = text::put(buffer, line, mark(Severity::Stop, app.look.glyphs), theme.style(role(Severity::Stop)));
        line = Rect { x: line.x + taken + 1, width: line.width.saturating_sub(taken + 1), ..line };
    }
    put(line, &facts, theme.style(Role::Text), buffer);
    let then =
        told(plan, study, run, walk.step + 1, tape).map_or("the end".into(), |told| format!("then {}", told.what));
    put(next(), &then, theme.style(Role::Dim), buffer);
    put(next(), &summary(run, tape), theme.style(Role::Dim), buffer);
    let keys = "right or enter next step, left or backspace the one before, esc leaves";
    put(next(), keys, theme.style(Role::Accent), buffer);
}
