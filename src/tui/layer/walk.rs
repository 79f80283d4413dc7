//! Walking a cable step by step, with keys of its own.

use crossterm::event::{KeyCode, KeyEvent};

use super::Reply;
use crate::study::cables::CableRef;

/// Walking a cable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Walk {
    /// Which cable.
    pub cable: CableRef,
    /// The step that is walked to, the first is 0.
    pub step: usize,
    /// The last step.
    pub last: usize,
}

impl Walk {
    /// Takes a key. The last step's next one ends the walk.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        match key.code {
            KeyCode::Right | KeyCode::Enter | KeyCode::Char(' ') if self.step < self.last => self.step += 1,
            KeyCode::Right | KeyCode::Char(' ') => {}
            KeyCode::Left | KeyCode::Backspace => self.step = self.step.saturating_sub(1),
            KeyCode::Home => self.step = 0,
            KeyCode::End => self.step = self.last,
            KeyCode::Esc | KeyCode::Enter | KeyCode::Char('q' | 'J') => return Reply::Close,
            _ => return Reply::Stay,
        }
        Reply::Walked
    }
}
