//! What is seen from the seat: which eye, and which of the screens is in question.

use crossterm::event::{KeyCode, KeyEvent};

use super::Reply;

/// The keys, as its last line prints them.
pub const SEAT_KEYS: &[(&str, &str)] =
    &[("s", "sit or stand"), ("up down", "next screen"), ("enter", "go to it"), ("esc", "back to the deck")];

/// The view from behind the eyes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SeatView {
    /// Standing; else as the seat is set.
    pub standing: bool,
    /// The row of the list.
    pub row: usize,
    /// How many rows the list has.
    pub rows: usize,
}

impl SeatView {
    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        match key.code {
            KeyCode::Char('s') | KeyCode::Tab => self.standing = !self.standing,
            KeyCode::Up | KeyCode::Char('k') => self.row = self.row.saturating_sub(1),
            KeyCode::Down | KeyCode::Char('j') => self.row = (self.row + 1).min(self.rows.saturating_sub(1)),
            KeyCode::Enter if self.rows > 0 => return Reply::GoToSeen(self.row),
            KeyCode::Esc | KeyCode::Char('8' | 'q') => return Reply::Close,
            _ => {}
        }
        Reply::Stay
    }
}
