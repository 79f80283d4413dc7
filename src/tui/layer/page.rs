//! A text to read and scroll: what a check is about, what could not be recovered.

use crossterm::event::{KeyCode, KeyEvent};

use super::{Purpose, Reply, Speech, Verb};
use crate::tui::action::key_name;

/// A text to read.
#[derive(Clone, Debug)]
pub struct Page {
    /// What it is about.
    pub title: String,
    /// Its lines, not wrapped yet.
    pub lines: Vec<String>,
    /// First line shown, counted as they are broken for the screen; `update` keeps it within them.
    pub scroll: usize,
    /// What its keys do besides scrolling.
    pub verbs: Vec<Verb>,
    /// What was said that it shows, to be shown anew when more is.
    pub about: Option<Speech>,
}

impl Page {
    /// A page from its first line.
    pub fn new(title: impl Into<String>, text: &str) -> Self {
        Self { title: title.into(), lines: paragraphs(text), scroll: 0, verbs: Vec::new(), about: None }
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        let name = key_name(key);
        if let Some(verb) = self.verbs.iter().find(|verb| verb.key == name) {
            return Reply::Chosen(Purpose::Talk, verb.does.clone());
        }
        match key.code {
            KeyCode::Up | KeyCode::Char('k') => self.scroll = self.scroll.saturating_sub(1),
            KeyCode::Down | KeyCode::Char('j') => self.scroll = self.scroll.saturating_add(1),
            KeyCode::PageUp => self.scroll = self.scroll.saturating_sub(10),
            KeyCode::PageDown | KeyCode::Char(' ') => self.scroll = self.scroll.saturating_add(10),
            KeyCode::Home => self.scroll = 0,
            KeyCode::End => self.scroll = usize::MAX,
            KeyCode::Esc | KeyCode::Char('q') => return Reply::Close,
            // A slip among its keys must not lose the page.
            _ if !self.verbs.is_empty() => {}
            _ => return Reply::Close,
        }
        Reply::Stay
    }
}

/// The text with each paragraph on one line: how wide it is broken is the screen's business.
/// The headings of a check's text stay alone.
fn paragraphs(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut open = false;
    for line in text.lines() {
        let heading = is_heading(line);
        match lines.last_mut() {
            Some(last) if open && !line.is_empty() && !heading => {
                last.push(' ');
                last.push_str(line.trim());
            }
            _ => lines.push(line.to_string()),
        }
        open = !line.is_empty() && !heading;
    }
    lines
}

/// Whether a line of a check's text is one of its four headings.
pub fn is_heading(line: &str) -> bool {
    matches!(line, "What it checks" | "Why it matters" | "Limit and source" | "What to do")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_are_joined_and_headings_are_not() {
        let page = Page::new("x", "What it checks\none\ntwo\n\nthree");
        assert_eq!(page.lines, ["What it checks", "one two", "", "three"]);
    }
}
