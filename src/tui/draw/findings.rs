//! The findings, heaviest first: mark, place, what, what to do.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::panels::{first_shown, mark, role};
use super::text;
use crate::checks::{Finding, Severity};
use crate::tui::app::{App, Editor, FINDINGS_ROW, Focus};
use crate::tui::glyphs::Glyphs;
use crate::tui::theme::Role;

/// Lines of a finding that has the focus: what, and what to do.
const OPENED: usize = 2;

/// Draws the findings.
pub fn draw(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let findings = editor.session.findings();
    let mut lines = text::rows(area);
    let Some(head) = lines.next() else { return };
    let focused = editor.focus == Focus::Findings;
    let title = theme.style(if focused { Role::Accent } else { Role::Text }).add_modifier(Modifier::BOLD);
    let title = if focused { title.add_modifier(Modifier::UNDERLINED) } else { title };
    text::put(buffer, head, "Findings", title);
    let words = match findings.len() {
        0 => "nothing found; a float test with the real load decides".to_string(),
        n => format!("{n}, heaviest first"),
    };
    text::put_right(buffer, head, &words, theme.style(Role::Dim));
    let chosen = if focused { Some(editor.rows[FINDINGS_ROW]) } else { None };
    let first = first_row(editor, area);
    let here = editor.gear();
    let mut index = first;
    while let Some(finding) = findings.get(index) {
        let Some(line) = lines.next() else { break };
        let lit = chosen == Some(index) || (chosen.is_none() && here.is_some() && finding.subject.gear() == here);
        finding_line(app, finding, lit, chosen == Some(index), line, buffer);
        if chosen == Some(index)
            && let Some(line) = lines.next()
        {
            let indented = Rect { x: line.x + 4, width: line.width.saturating_sub(4), ..line };
            let source = format!("{}  [{}]", finding.remedy, finding.source);
            text::put(buffer, indented, &text::fit(&source, indented.width, ascii(app)), theme.style(Role::Accent));
        }
        index += 1;
    }
}

/// Index of the first finding shown.
pub fn first_row(editor: &Editor, area: Rect) -> usize {
    let room = usize::from(area.height).saturating_sub(OPENED);
    let chosen = if editor.focus == Focus::Findings { editor.rows[FINDINGS_ROW] } else { editor.finding.unwrap_or(0) };
    first_shown(chosen, room, editor.session.findings().len())
}

/// The finding that stands in a line of the screen.
pub fn index_at(editor: &Editor, area: Rect, y: u16) -> Option<usize> {
    let chosen = (editor.focus == Focus::Findings).then_some(editor.rows[FINDINGS_ROW]);
    let mut lines = (area.y + 1..area.bottom()).collect::<Vec<u16>>().into_iter();
    for index in first_row(editor, area)..editor.session.findings().len() {
        let own = if chosen == Some(index) { OPENED } else { 1 };
        let own: Vec<u16> = lines.by_ref().take(own).collect();
        if own.is_empty() || own.contains(&y) {
            return own.contains(&y).then_some(index);
        }
    }
    None
}

fn finding_line(app: &App, finding: &Finding, lit: bool, chosen: bool, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let style = match (chosen, lit) {
        (true, _) => theme.style(Role::Selected).add_modifier(Modifier::REVERSED),
        (_, true) => theme.style(Role::Selected),
        _ => theme.style(Role::Text),
    };
    let marked = match finding.severity {
        Severity::Stop => format!(" {} ", mark(finding.severity, app.look.glyphs)),
        _ => format!(" {}", mark(finding.severity, app.look.glyphs)),
    };
    let taken = text::put(buffer, area, &marked, theme.style(role(finding.severity)));
    let rest = Rect { x: area.x + taken.max(3) + 1, width: area.width.saturating_sub(taken.max(3) + 1), ..area };
    // What stands first; what to do follows where there is room for it.
    let says = text::fit(&finding.says, rest.width, ascii(app));
    let used = text::put(buffer, rest, &says, style);
    let after = Rect { x: rest.x + used + 2, width: rest.width.saturating_sub(used + 2), ..rest };
    if !chosen && after.width > 24 {
        text::put(buffer, after, &text::fit(&finding.remedy, after.width, ascii(app)), theme.style(Role::Dim));
    }
}

fn ascii(app: &App) -> bool {
    app.look.glyphs == Glyphs::Ascii
}
