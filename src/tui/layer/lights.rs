//! The lights around the boat: which of them is looked at. What is shown of them is the study's.

use crossterm::event::{KeyCode, KeyEvent};

use super::Reply;

/// What the keys do, for the line below.
pub(crate) const LIGHT_KEYS: &[(&str, &str)] =
    &[("up/down", "light"), ("c", "choose the rule"), ("enter", "go to the light"), ("esc", "deck")];

/// The view of the lights.
#[derive(Clone, Debug)]
pub struct LightView {
    row: usize,
    count: usize,
}

impl LightView {
    /// Looks at one of so many lights.
    pub fn new(row: usize, count: usize) -> Self {
        Self { row, count }
    }

    /// The light that is looked at.
    pub fn row(&self) -> usize {
        self.row
    }

    /// Goes so many lights on.
    pub fn step(&mut self, by: isize) {
        self.row = self.row.saturating_add_signed(by).min(self.count.saturating_sub(1));
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        match key.code {
            KeyCode::Up | KeyCode::Char('k') => self.step(-1),
            KeyCode::Down | KeyCode::Char('j') => self.step(1),
            KeyCode::Char('c') => return Reply::ChooseCraft,
            KeyCode::Enter => return Reply::GoToLight(self.row),
            KeyCode::Esc | KeyCode::Char('q' | 'G') => return Reply::Close,
            _ => {}
        }
        Reply::Stay
    }
}
