//! A text to read and scroll: what a check is about, what could not be recovered.

use crossterm::event::{KeyCode, KeyEvent};

use super::Reply;

/// A text to read.
#[derive(Clone, Debug)]
pub struct Page {
    /// What it is about.
    pub title: String,
    /// Its lines, not wrapped yet.
    pub lines: Vec<String>,
    /// First line shown.
    pub scroll: usize,
}

impl Page {
    /// A page from its first line.
    pub fn new(title: impl Into<String>, text: &str) -> Self {
        Self { title: title.into(), lines: text.lines().map(str::to_string).collect(), scroll: 0 }
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        let last = self.lines.len().saturating_sub(1);
        match key.code {
            KeyCode::Up | KeyCode::Char('k') => self.scroll = self.scroll.saturating_sub(1),
            KeyCode::Down | KeyCode::Char('j') => self.scroll = (self.scroll + 1).min(last),
            KeyCode::PageUp => self.scroll = self.scroll.saturating_sub(10),
            KeyCode::PageDown | KeyCode::Char(' ') => self.scroll = (self.scroll + 10).min(last),
            KeyCode::Home => self.scroll = 0,
            KeyCode::End => self.scroll = last,
            _ => return Reply::Close,
        }
        Reply::Stay
    }
}
