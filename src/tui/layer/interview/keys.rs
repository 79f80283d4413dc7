//! The keys of the interview: an empty line is for going about, a line with something in it for typing.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler;

use super::rows::{self, Row};
use super::{Interview, Picture};
use crate::tui::layer::Reply;

/// The keys as the last line tells them, those that may be left out last.
pub const KEYS: &[(&str, &str)] = &[
    ("enter", "next"),
    ("esc", "leave"),
    ("ctrl-s", "use it"),
    ("tab", "picture"),
    ("ctrl-n", "add station"),
    ("ctrl-d", "strike it"),
    ("ctrl-z", "take back"),
    ("pgup pgdn", "stations"),
];

impl Interview {
    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        self.said = None;
        let empty = self.input.value().trim().is_empty();
        let control = key.modifiers.contains(KeyModifiers::CONTROL);
        match key.code {
            KeyCode::Char('c') if control && empty => return self.leave(),
            KeyCode::Char('c') if control => self.clear_line(),
            KeyCode::Char('s') if control => return self.finish(),
            KeyCode::Char('n') if control => self.after_line(Self::add_station),
            KeyCode::Char('d') if control => self.after_line(Self::strike_station),
            KeyCode::Char('z') if control && empty => self.take_back(),
            KeyCode::Char('z') if control => self.clear_line(),
            KeyCode::Esc if !empty => self.clear_line(),
            KeyCode::Esc => return self.leave(),
            KeyCode::Enter if self.row() == Row::Done => return self.finish(),
            KeyCode::Enter => self.accept(),
            KeyCode::Down => self.walk(1),
            KeyCode::Up => self.walk(-1),
            KeyCode::PageDown => self.leap(1),
            KeyCode::PageUp => self.leap(-1),
            KeyCode::Tab | KeyCode::BackTab => self.picture = self.picture.other(),
            KeyCode::Home if empty => self.go(0),
            KeyCode::End if empty => self.go(self.rows.len()),
            KeyCode::Backspace if empty => self.strike_reading(),
            KeyCode::Left if empty => self.turn(-1),
            KeyCode::Right if empty => self.turn(1),
            KeyCode::Char(' ') if empty => self.turn(if self.unfolded && self.row() == Row::Features { -1 } else { 1 }),
            _ if self.row().takes_text() => {
                self.input.handle_event(&Event::Key(*key));
            }
            _ => {}
        }
        Reply::Stay
    }

    /// Adds pasted text.
    pub fn insert(&mut self, text: &str) {
        if self.row().takes_text() {
            for c in text.chars() {
                self.input.handle(tui_input::InputRequest::InsertChar(c));
            }
        }
    }

    /// Goes to a row, as a click does. What is in the line is taken first.
    pub fn go(&mut self, row: usize) {
        if self.commit(false) {
            self.row = row.min(self.rows.len().saturating_sub(1));
        }
    }

    /// Takes the line, a doubtful one too when it was doubted before, and goes on.
    fn accept(&mut self) {
        if self.commit(true) {
            self.walk(1);
        }
    }

    fn walk(&mut self, by: isize) {
        let last = self.rows.len() as isize - 1;
        let row = self.row as isize + by;
        if self.commit(false) {
            self.row = row.clamp(0, last) as usize;
        }
    }

    /// Goes to the next or previous heading.
    fn leap(&mut self, by: isize) {
        if !self.commit(false) {
            return;
        }
        let begins = |row: &usize| rows::heading(self.rows[*row], &self.trial.tape, self.hull()).is_some();
        let found =
            if by > 0 { (self.row + 1..self.rows.len()).find(begins) } else { (0..self.row).rev().find(begins) };
        self.row = found.unwrap_or(if by > 0 { self.rows.len().saturating_sub(1) } else { 0 });
    }

    fn after_line(&mut self, act: fn(&mut Self)) {
        if self.commit(false) {
            act(self);
        }
    }

    fn clear_line(&mut self) {
        self.input = Input::default();
        self.warned = None;
    }

    fn finish(&mut self) -> Reply {
        if self.commit(false) { Reply::Measured } else { Reply::Stay }
    }

    fn leave(&mut self) -> Reply {
        if self.changed() { Reply::LeaveTape } else { Reply::Close }
    }
}

impl Picture {
    fn other(self) -> Self {
        match self {
            Self::Sections => Self::FromAbove,
            Self::FromAbove => Self::Sections,
        }
    }
}
