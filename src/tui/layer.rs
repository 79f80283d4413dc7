//! Layers: what lies on top of the screen for a while. The last one gets the keys.
//!
//! A layer owns its text cursor and its scroll; it answers a key with a [`Reply`] and never touches
//! the rest of the program.

mod chooser;
mod form;
mod interview;
mod page;
mod question;
mod speech;

pub use chooser::{Choice, Chooser, Purpose, Value};
pub use form::{Asked, Field, FieldKind, Form, Order, PhaseLine};
pub(crate) use form::{length_as_typed, length_in_its_unit};
pub use interview::{Aim, Interview, Picture, Row};
pub(crate) use interview::{COMPARED_AT_MM, KEYS, heading, label, parts};
pub use page::{Page, is_heading};
pub use question::{Answer, Question};
pub use speech::{Speech, Verb};

use crossterm::event::KeyEvent;

/// One thing on top of the screen.
#[derive(Clone, Debug)]
pub enum Layer {
    /// Type to filter, enter to choose.
    Chooser(Chooser),
    /// Fields to fill.
    Form(Form),
    /// A text to read.
    Page(Page),
    /// A question with a few answers.
    Question(Question),
    /// Measuring a hull.
    Interview(Box<Interview>),
}

/// What a layer answers to a key.
#[derive(Clone, Debug)]
pub enum Reply {
    /// Stay open.
    Stay,
    /// Close without a result.
    Close,
    /// Close; this was chosen.
    Chosen(Purpose, Value),
    /// Close; this was filled in.
    Filled(Box<Order>),
    /// Close; this was answered.
    Answered(Answer),
    /// Use the hull as measured.
    Measured,
    /// Leave a tape that was changed.
    LeaveTape,
}

impl Layer {
    /// Takes a key. What may not stand in a name is not typed either: it could not be shown as it is.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        if key.code.as_char().is_some_and(crate::shown::is_unsafe) {
            return Reply::Stay;
        }
        match self {
            Self::Chooser(chooser) => chooser.key(key),
            Self::Form(form) => form.key(key),
            Self::Page(page) => page.key(key),
            Self::Question(question) => question.key(key),
            Self::Interview(interview) => interview.key(key),
        }
    }

    /// Takes pasted text: one line, sanitised. Nothing pasted is ever a key.
    pub fn paste(&mut self, text: &str) {
        let line: String = text
            .chars()
            .take(4000)
            .map(|c| if c.is_whitespace() { ' ' } else { c })
            .filter(|c| !crate::shown::is_unsafe(*c))
            .collect();
        match self {
            Self::Chooser(chooser) => chooser.insert(line.trim()),
            Self::Form(form) => form.insert(line.trim()),
            Self::Interview(interview) => interview.insert(line.trim()),
            Self::Page(_) | Self::Question(_) => {}
        }
    }
}
