//! Layers: what lies on top of the screen for a while. The last one gets the keys.
//!
//! A layer owns its text cursor and its scroll; it answers a key with a [`Reply`] and never touches
//! the rest of the program.

mod build;
mod chooser;
mod form;
mod interview;
mod lights;
mod outing;
mod page;
mod question;
mod seat;
mod seat_test;
mod speech;
mod walk;

pub use build::{BUILD_KEYS, BuildAsk, BuildLine, BuildView, LineOf};
pub use chooser::{Choice, Chooser, Purpose, Value};
pub use form::{Asked, Field, FieldKind, Form, Order};
pub(crate) use form::{length_as_typed, length_in_its_unit, trimmed};
pub use interview::{Aim, Interview, Picture, Row, Said};
pub(crate) use interview::{COMPARED_AT_MM, KEYS, heading, label, parts};
pub(crate) use lights::LIGHT_KEYS;
pub use lights::LightView;
pub use outing::{DayField, OUTING_KEYS, OutingEditor, OutingRow, PhaseField, Told};
pub use page::{Page, is_heading};
pub use question::{Answer, Question};
pub use seat::{SEAT_KEYS, SeatView};
pub use seat_test::{Ask, KEYS as SEAT_TEST_KEYS, Noted, SeatRound};
pub use speech::{Speech, Verb};
pub use walk::Walk;

use crossterm::event::KeyEvent;

use crate::plan::Outing;

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
    /// Planning the day.
    Outing(Box<OutingEditor>),
    /// Walking a cable.
    Walk(Walk),
    /// The lights around the boat.
    Lights(LightView),
    /// What is seen from the seat.
    Seat(SeatView),
    /// The work, evening by evening.
    Build(BuildView),
    /// Sitting in the boat and noting.
    SeatTest(SeatRound),
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
    /// Stay open; choose what the boat counts as.
    ChooseCraft,
    /// Close; go to the light in this row.
    GoToLight(usize),
    /// Use the hull as measured.
    Measured,
    /// Show the step of the cable that is walked.
    Walked,
    /// Leave a tape that was changed.
    LeaveTape,
    /// Stay open; plan these days one after the other, a step each.
    Planned(Vec<Outing>),
    /// Stay open; undo a step, or redo one.
    TakeBack {
        /// Whether to redo.
        forward: bool,
    },
    /// Close; go to the thing in this row of what must be seen.
    GoToSeen(usize),
    /// Sitting in the boat, this was found of what is asked.
    Noted(Noted),
    /// Stay open; do this with the chosen task.
    Build(BuildAsk),
    /// Another question of the seat test.
    Turned,
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
            Self::Outing(outing) => outing.key(key),
            Self::Walk(walk) => walk.key(key),
            Self::Lights(view) => view.key(key),
            Self::Seat(seat) => seat.key(key),
            Self::Build(view) => view.key(key),
            Self::SeatTest(round) => round.key(key),
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
            Self::Outing(outing) => outing.insert(line.trim()),
            Self::Page(_) | Self::Question(_) | Self::Walk(_) | Self::Lights(_) => {}
            Self::Seat(_) | Self::SeatTest(_) | Self::Build(_) => {}
        }
    }
}
