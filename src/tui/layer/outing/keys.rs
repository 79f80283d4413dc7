//! The keys of the editor of the day: an empty line is for going about, a line with something in it for typing.

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler;

use super::OutingEditor;
use crate::tui::layer::Reply;

/// The keys as the last line tells them, those that may be left out last.
pub const KEYS: &[(&str, &str)] = &[
    ("enter", "next"),
    ("esc", "close"),
    ("tab", "phase"),
    ("space", "change"),
    ("ctrl-n", "add"),
    ("ctrl-d", "strike"),
    ("ctrl-z", "undo"),
    ("shift-left shift-right", "earlier, later"),
    ("ctrl-o", "one more like it"),
    ("backspace", "leave out"),
    ("ctrl-r", "redo"),
];

impl OutingEditor {
    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        self.said = None;
        let empty = self.input.value().trim().is_empty();
        let control = key.modifiers.contains(KeyModifiers::CONTROL);
        let shift = key.modifiers.contains(KeyModifiers::SHIFT);
        match key.code {
            KeyCode::Char('c') if control && empty => return Reply::Close,
            KeyCode::Char('z') if control && empty => return Reply::TakeBack { forward: false },
            KeyCode::Char('r') if control && empty => return Reply::TakeBack { forward: true },
            KeyCode::Char('n') if control => return self.act(Self::added),
            KeyCode::Char('o') if control => return self.act(Self::doubled),
            KeyCode::Char('d') if control => return self.act(Self::struck),
            KeyCode::Left if shift => return self.act(Self::earlier),
            KeyCode::Right if shift => return self.act(Self::later),
            KeyCode::Char('c' | 'z') if control => self.input = Input::default(),
            KeyCode::Esc if !empty => self.input = Input::default(),
            KeyCode::Esc => return Reply::Close,
            KeyCode::Enter | KeyCode::Down => return self.then(|editor| editor.walk(1)),
            KeyCode::Up => return self.then(|editor| editor.walk(-1)),
            KeyCode::Tab | KeyCode::PageDown => return self.then(|editor| editor.leaf(1)),
            KeyCode::BackTab | KeyCode::PageUp => return self.then(|editor| editor.leaf(-1)),
            KeyCode::Home if empty => self.row = 0,
            KeyCode::End if empty => self.row = self.rows().len().saturating_sub(1),
            KeyCode::Backspace if empty => return self.act(Self::left_out),
            KeyCode::Left if empty => return self.act(|editor| editor.turned(-1)),
            KeyCode::Right if empty => return self.act(|editor| editor.turned(1)),
            KeyCode::Char(' ') if empty => return self.act(|editor| editor.turned(1)),
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
    pub fn go(&mut self, row: usize) -> Reply {
        self.then(|editor| editor.row = row.min(editor.rows().len().saturating_sub(1)))
    }

    /// Goes to a phase, as a click does. What is in the line is taken first.
    pub fn go_to_phase(&mut self, phase: usize) -> Reply {
        self.then(|editor| editor.open_page(phase + 1))
    }

    fn walk(&mut self, by: isize) {
        let last = self.rows().len().saturating_sub(1);
        self.row = self.row.saturating_add_signed(by).min(last);
    }

    /// Goes on to the next phase or back, round by the day's own rows.
    fn leaf(&mut self, by: isize) {
        let pages = self.outing.phases.len() as isize + 1;
        self.open_page((self.page as isize + by).rem_euclid(pages) as usize);
    }
}
