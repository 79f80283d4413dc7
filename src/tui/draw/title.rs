//! The title line: the plan, what is unsaved, and how many verdicts stand.

use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Modifier;

use super::text;
use crate::checks::Severity;
use crate::tui::app::{App, Editor};
use crate::tui::company::Link;
use crate::tui::glyphs::Glyphs;
use crate::tui::theme::Role;

/// Draws the title line.
pub fn draw(app: &App, editor: &Editor, area: Rect, buffer: &mut Buffer) {
    let theme = &app.look.theme;
    let plan = editor.session.plan();
    let name = theme.style(Role::Accent).add_modifier(Modifier::BOLD);
    let state = state(editor);
    let wanted = text::width(plan.name.as_str()) + text::width(&state) + 5;
    let mut counts = counts(editor);
    let columns = |counts: &[(String, Role)]| counts.iter().map(|(words, _)| text::width(words) + 2).sum::<u16>();
    // The load is told again among the findings when it matters: it goes first where room is short.
    if columns(&counts) + wanted > area.width && counts.first().is_some_and(|(_, role)| *role == Role::Dim) {
        counts.remove(0);
    }
    let right = columns(&counts);
    let left = Rect { width: area.width.saturating_sub(right + 1), ..area };
    let ascii = app.look.glyphs == Glyphs::Ascii;
    let shown = text::fit(plan.name.as_str(), left.width.saturating_sub(1), ascii);
    let state = text::fit(&state, left.width.saturating_sub(text::width(&shown) + 3), ascii);
    text::put_all(
        buffer,
        left,
        [
            (" ", theme.style(Role::Text)),
            (shown.as_str(), name),
            ("  ", name),
            (state.as_str(), theme.style(Role::Dim)),
        ],
    );
    let mut rest = area;
    for (words, role) in counts.iter().rev() {
        text::put_right(buffer, Rect { width: rest.width.saturating_sub(1), ..rest }, words, theme.style(*role));
        rest.width = rest.width.saturating_sub(text::width(words) + 2);
    }
}

fn state(editor: &Editor) -> String {
    // What is tried on a copy is neither the owner's nor signed.
    let (together, signed) = match editor.draft {
        Some(_) => (String::new(), String::new()),
        None => (editor.company.words(), editor.voice.signed(editor.reviewed())),
    };
    let said = [together, signed, file_words(editor)];
    said.into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ")
}

fn file_words(editor: &Editor) -> String {
    let history = editor.session.history();
    if editor.draft.is_some() {
        return match editor.session.edits().len() {
            0 => "a copy to try on".into(),
            1 => "1 edit tried: @ suggests it".into(),
            n => format!("{n} edits tried: @ suggests them"),
        };
    }
    if !matches!(editor.company.link, Link::None | Link::Host) {
        return String::new();
    }
    if let Some(why) = &editor.file.read_only {
        return format!("only to look at: {why}");
    }
    let mut words = match (&editor.file.path, history.unsaved_edits()) {
        (None, _) => "never saved".to_string(),
        (Some(_), _) if !history.is_dirty() => "saved".to_string(),
        (Some(_), Some(1)) => "1 edit not saved".to_string(),
        (Some(_), Some(n)) => format!("{n} edits not saved"),
        (Some(_), None) => "not saved".to_string(),
    };
    if editor.file.journal_off {
        words.push_str(", journal off: save often");
    }
    words
}

/// The load and the verdicts, heaviest last.
fn counts(editor: &Editor) -> Vec<(String, Role)> {
    let findings = editor.session.findings();
    let count = |severity| findings.iter().filter(|f| f.severity == severity).count();
    let weights = &editor.session.study().weights;
    let mut words = Vec::new();
    if let Some(planned) = weights.cases.first() {
        let load = format!("{:.0} kg afloat, load {:.0} % of rating", planned.mass.to_kg(), weights.load_percent);
        words.push((load, Role::Dim));
    }
    for (severity, one, many, role) in [
        (Severity::Note, "note", "notes", Role::Note),
        (Severity::Caution, "caution", "cautions", Role::Caution),
        (Severity::Stop, "stop", "stops", Role::Stop),
    ] {
        let n = count(severity);
        if n > 0 {
            let padded = if severity == Severity::Stop {
                format!(" {n} {} ", if n == 1 { one } else { many })
            } else {
                format!("{n} {}", if n == 1 { one } else { many })
            };
            words.push((padded, role));
        }
    }
    words
}
