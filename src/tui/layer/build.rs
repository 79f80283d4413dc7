//! The work evening by evening: which task is in question. What is shown of it is made from the plan by
//! `words::work`.

use crossterm::event::{KeyCode, KeyEvent, KeyModifiers};

use super::Reply;
use crate::plan::{Act, On};

/// The keys, as its last line prints them.
pub const BUILD_KEYS: &[(&str, &str)] = &[
    ("space", "tick"),
    ("r", "reading"),
    ("enter", "go there"),
    ("s", "start, launch"),
    ("u", "undo"),
    ("esc", "deck"),
    ("ctrl-r", "redo"),
];

/// The work as a list.
#[derive(Clone, Debug, Default)]
pub struct BuildView {
    /// Its lines.
    pub lines: Vec<BuildLine>,
    /// The chosen one.
    pub row: usize,
}

/// One line of it.
#[derive(Clone, Debug, PartialEq)]
pub struct BuildLine {
    /// What it is about.
    pub of: LineOf,
    /// What it says.
    pub label: String,
    /// More about it, at the right.
    pub detail: String,
}

/// What a line is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineOf {
    /// When there is time for the work.
    Times,
    /// An evening, or what follows.
    Heading,
    /// What is waited for; nothing to do.
    Wait,
    /// A task, of tonight or not.
    Task {
        /// What is done.
        act: Act,
        /// To what.
        on: On,
        /// Whether it is tonight's.
        tonight: bool,
    },
}

/// What is asked of the chosen line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BuildAsk {
    /// Show where it is.
    Look,
    /// Go there.
    Go,
    /// Tick it off, or take its tick back.
    Tick,
    /// Tick it off with its day and a reading.
    Note,
    /// Say when there is time for the work.
    Times,
    /// Undo a step, or redo one.
    TakeBack {
        /// Whether to redo.
        forward: bool,
    },
}

impl LineOf {
    /// The task of a line.
    pub fn task(self) -> Option<(Act, On)> {
        match self {
            Self::Task { act, on, .. } => Some((act, on)),
            _ => None,
        }
    }

    fn can_be_chosen(self) -> bool {
        matches!(self, Self::Times | Self::Task { .. })
    }
}

impl BuildView {
    /// A list of these lines at its first task.
    pub fn new(lines: Vec<BuildLine>) -> Self {
        let row = lines.iter().position(|line| line.of.task().is_some()).unwrap_or(0);
        Self { lines, row }
    }

    /// Takes new lines over; the task in question stays chosen.
    pub fn follow(&mut self, lines: Vec<BuildLine>) {
        let task = self.chosen().task();
        let same = |line: &BuildLine| task.is_some() && line.of.task() == task;
        let row = lines.iter().position(same).unwrap_or(self.row.min(lines.len().saturating_sub(1)));
        *self = Self { lines, row };
        if !self.chosen().can_be_chosen() {
            self.step(1);
        }
    }

    /// What the chosen line is about.
    pub fn chosen(&self) -> LineOf {
        self.lines.get(self.row).map_or(LineOf::Heading, |line| line.of)
    }

    /// Chooses a line, as a click does.
    pub fn go(&mut self, row: usize) -> Reply {
        if self.lines.get(row).is_some_and(|line| line.of.can_be_chosen()) {
            self.row = row;
        }
        Reply::Build(BuildAsk::Look)
    }

    /// Goes so many lines on, over those where nothing can be done; stays where there is none.
    pub fn step(&mut self, by: isize) {
        let mut row = self.row;
        for _ in 0..by.unsigned_abs() {
            let onward = |row: usize| if by < 0 { row.checked_sub(1) } else { row.checked_add(1) };
            let mut next = onward(row);
            while let Some(at) = next.filter(|at| self.lines.get(*at).is_some_and(|line| !line.of.can_be_chosen())) {
                next = onward(at);
            }
            match next.filter(|at| *at < self.lines.len()) {
                Some(at) => row = at,
                None => break,
            }
        }
        self.row = row;
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        let control = key.modifiers.contains(KeyModifiers::CONTROL);
        let whole = self.lines.len() as isize;
        let by = match key.code {
            KeyCode::Char('c') if control => return Reply::Close,
            KeyCode::Char('z') if control => return Reply::Build(BuildAsk::TakeBack { forward: false }),
            KeyCode::Char('r') if control => return Reply::Build(BuildAsk::TakeBack { forward: true }),
            KeyCode::Char('u') => return Reply::Build(BuildAsk::TakeBack { forward: false }),
            KeyCode::Esc | KeyCode::Char('9' | 'q') => return Reply::Close,
            KeyCode::Char('s') => return Reply::Build(BuildAsk::Times),
            KeyCode::Char(' ' | 'r') | KeyCode::Enter if self.chosen() == LineOf::Times => {
                return Reply::Build(BuildAsk::Times);
            }
            KeyCode::Char(' ') => return Reply::Build(BuildAsk::Tick),
            KeyCode::Char('r') => return Reply::Build(BuildAsk::Note),
            KeyCode::Enter => return Reply::Build(BuildAsk::Go),
            KeyCode::Up | KeyCode::Char('k') => -1,
            KeyCode::Down | KeyCode::Char('j') => 1,
            KeyCode::PageUp => -10,
            KeyCode::PageDown => 10,
            KeyCode::Home => -whole,
            KeyCode::End => whole,
            _ => return Reply::Stay,
        };
        self.step(by);
        Reply::Build(BuildAsk::Look)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn view() -> BuildView {
        let line = |of| BuildLine { of, label: String::new(), detail: String::new() };
        let task = |act| line(LineOf::Task { act, on: On::Boat, tonight: true });
        BuildView::new(vec![
            line(LineOf::Times),
            line(LineOf::Heading),
            task(Act::SitAgain),
            line(LineOf::Wait),
            line(LineOf::Heading),
            task(Act::LeakTest),
            line(LineOf::Wait),
        ])
    }

    #[test]
    fn going_about_passes_over_headings() {
        let mut view = view();
        let rows: Vec<usize> = [KeyCode::Down, KeyCode::Down, KeyCode::Up, KeyCode::Up, KeyCode::Up, KeyCode::End]
            .into_iter()
            .map(|key| {
                view.key(&KeyEvent::from(key));
                view.row
            })
            .collect();
        assert_eq!(rows, [5, 5, 2, 0, 0, 5]);
    }

    #[test]
    fn the_task_in_question_stays_chosen() {
        let mut view = view();
        let mut lines = view.lines.clone();
        lines.insert(1, lines[3].clone());
        view.follow(lines);
        assert_eq!((view.row, view.chosen().task()), (3, Some((Act::SitAgain, On::Boat))));
        view.follow(Vec::new());
        assert_eq!(view.chosen(), LineOf::Heading);
    }
}
