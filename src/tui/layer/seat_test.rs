//! The seat test: all that is touched or seen, one after the other, each answered by one key.

use crossterm::event::{KeyCode, KeyEvent};

use super::Reply;
use crate::plan::GearId;

/// A round through the gear.
#[derive(Clone, Debug)]
pub struct SeatRound {
    /// What is asked, in order.
    pub asks: Vec<Ask>,
    /// Which of them; one more than there are is the end, where what changed is listed.
    pub at: usize,
    /// Why the last answer was not taken.
    pub refused: Option<String>,
}

/// One question.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ask {
    /// About this gear.
    pub gear: GearId,
    /// Whether it is about seeing; else about touching.
    pub sight: bool,
}

/// An answer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noted {
    /// Touched, upright.
    Touched,
    /// Touched with a lean.
    WithLean,
    /// Not touched.
    NotTouched,
    /// It can be read.
    Seen,
    /// It cannot.
    NotSeen,
}

/// The keys and what they do.
pub const KEYS: &[(&str, &str)] = &[
    ("t", "touched"),
    ("l", "with a lean"),
    ("n", "not"),
    ("s", "seen"),
    ("x", "not seen"),
    ("up down", "another"),
    ("esc", "closes"),
];

impl SeatRound {
    /// A round from its first question.
    pub fn new(asks: Vec<Ask>) -> Self {
        Self { asks, at: 0, refused: None }
    }

    /// What is asked; `None` at the end.
    pub fn ask(&self) -> Option<Ask> {
        self.asks.get(self.at).copied()
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        self.refused = None;
        match key.code {
            KeyCode::Esc => return Reply::Close,
            KeyCode::Up | KeyCode::Char('k') => self.at = self.at.saturating_sub(1),
            KeyCode::Down | KeyCode::Char('j') => self.at = (self.at + 1).min(self.asks.len()),
            KeyCode::Home => self.at = 0,
            KeyCode::End => self.at = self.asks.len(),
            KeyCode::Char(letter) => return self.answer(letter),
            _ => return Reply::Stay,
        }
        Reply::Turned
    }

    fn answer(&mut self, letter: char) -> Reply {
        let sight = self.ask().map(|ask| ask.sight);
        let noted = match (letter, sight) {
            ('t', Some(false)) => Noted::Touched,
            ('l', Some(false)) => Noted::WithLean,
            ('n', Some(false)) => Noted::NotTouched,
            ('s', Some(true)) => Noted::Seen,
            ('x', Some(true)) => Noted::NotSeen,
            _ => {
                self.refused =
                    sight.map(|sight| if sight { "s or x: is it seen?" } else { "t, l or n: is it touched?" }.into());
                return Reply::Stay;
            }
        };
        Reply::Noted(noted)
    }
}
