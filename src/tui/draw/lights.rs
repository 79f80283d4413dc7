//! The lights around the boat: a rose of what others see at the left, the lights and the rule in words at the right.

mod rose;

use ratatui::buffer::Buffer;
use ratatui::layout::{Constraint, Layout, Rect};
use ratatui::style::Modifier;
use ratatui::widgets::{Clear, Widget};

use super::text;
use crate::checks::Finding;
use crate::plan::Plan;
use crate::sheets::{asked_line, craft_words, night_words, shown_lines};
use crate::study::Study;
use crate::study::lights::{Met, Shown};
use crate::tui::app::{App, Look};
use crate::tui::glyphs::Glyphs;
use crate::tui::layer::{LIGHT_KEYS, LightView};
use crate::tui::theme::Role;

/// The most columns for words: longer lines are hard to read.
const WORDS: u16 = 78;

/// Draws the view over the whole screen.
pub fn draw(app: &App, view: &LightView, whole: Rect, buffer: &mut Buffer) {
    let Some(editor) = app.editor() else { return };
    let whole = whole.intersection(buffer.area);
    Clear.render(whole, buffer);
    let (plan, study, look) = (editor.session.plan(), editor.session.study(), &app.look);
    let inner = Rect { x: whole.x + 1, width: whole.width.saturating_sub(2), ..whole };
    let [title, body, said, keys] =
        Layout::vertical([Constraint::Length(1), Constraint::Min(0), Constraint::Length(1), Constraint::Length(1)])
            .areas(inner);
    let words = (inner.width / 2).min(WORDS);
    let [picture, words] = Layout::horizontal([Constraint::Min(0), Constraint::Length(words)]).spacing(2).areas(body);
    head(look, study, title, buffer);
    rose::draw(look, (plan, study), view.row(), picture, buffer);
    Words { look, plan, study, findings: editor.session.findings(), row: view.row() }.draw(words, buffer);
    if let Some(toast) = &app.toast {
        let role = if toast.refused { Role::Caution } else { Role::Accent };
        text::put(buffer, said, &text::fit(&toast.text, said.width, ascii(look)), look.theme.style(role));
    }
    footer(look, keys, buffer);
}

fn head(look: &Look, study: &Study, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let taken = text::put(buffer, area, "Lights", theme.style(Role::Accent).add_modifier(Modifier::BOLD));
    let room = area.width.saturating_sub(taken + 2);
    text::put_right(buffer, area, &text::fit(&craft_words(&study.lights), room, ascii(look)), theme.style(Role::Text));
}

/// The words at the right.
struct Words<'a> {
    look: &'a Look,
    plan: &'a Plan,
    study: &'a Study,
    findings: &'a [Finding],
    row: usize,
}

impl Words<'_> {
    fn draw(&self, area: Rect, buffer: &mut Buffer) {
        let mut lines = text::rows(area);
        for (words, role) in self.lines(area.width) {
            let Some(line) = lines.next() else { return };
            let style = self.look.theme.style(role);
            let style = if role == Role::Selected { style.add_modifier(Modifier::REVERSED) } else { style };
            text::put(buffer, line, &text::fit(&words, line.width, ascii(self.look)), style);
        }
    }

    /// The lights one a line, the one looked at with all there is to say; then the rule and the night.
    fn lines(&self, columns: u16) -> Vec<(String, Role)> {
        let lights = &self.study.lights;
        let mut lines = Vec::new();
        let mut put = |words: &str, role: Role, indent: u16| {
            for (index, line) in text::wrap(words, columns.saturating_sub(indent + 2)).into_iter().enumerate() {
                let more = if index > 0 { 2 } else { 0 };
                lines.push((format!("{}{line}", " ".repeat(usize::from(indent) + more)), role));
            }
        };
        if lights.lanterns.is_empty() {
            put("no light is placed on deck", Role::Dim, 0);
        }
        for (index, shown) in lights.lanterns.iter().enumerate() {
            put(&self.row_words(index, shown), if index == self.row { Role::Selected } else { Role::Text }, 0);
            if index == self.row {
                for line in shown_lines(self.plan, lights, shown, self.look.tape) {
                    put(&line, Role::Dim, 4);
                }
            }
        }
        for asked in &lights.asked {
            let role = if matches!(asked.met, Met::By(_)) { Role::Text } else { Role::Caution };
            put(&format!("asks for {}", asked_line(self.plan, asked)), role, 0);
        }
        put(&night_words(lights), Role::Dim, 0);
        put("The law where you are decides.", Role::Dim, 0);
        lines
    }

    /// `1 W pole light: ! 17.3 deg hidden`.
    fn row_words(&self, index: usize, shown: &Shown) -> String {
        let label = self.plan.gear(shown.gear).map_or_else(String::new, |gear| gear.label.to_string());
        let deg = shown.worst().map_or(0.0, |(_, deg, _)| deg);
        let worst =
            self.findings.iter().find(|f| f.check.starts_with("light-") && f.subject.gear() == Some(shown.gear));
        let mark = worst.map_or(String::new(), |f| format!("{} ", super::panels::mark(f.severity, self.look.glyphs)));
        let verdict = if deg > 0.0 { format!("{mark}{deg:.1} deg hidden") } else { format!("{mark}nothing hides it") };
        format!("{} {} {label}: {verdict}", index + 1, rose::letter(shown.colour))
    }
}

fn footer(look: &Look, area: Rect, buffer: &mut Buffer) {
    let theme = &look.theme;
    let pieces = LIGHT_KEYS.iter().flat_map(|(key, words)| {
        [
            (*key, theme.style(Role::Accent)),
            (" ", theme.style(Role::Dim)),
            (*words, theme.style(Role::Dim)),
            ("  ", theme.style(Role::Dim)),
        ]
    });
    text::put_all(buffer, area, pieces);
}

fn ascii(look: &Look) -> bool {
    look.glyphs == Glyphs::Ascii
}
