//! A list that is filtered by typing: the list of actions, the gear picker, the jump, and more.

use std::path::PathBuf;
use std::sync::Arc;

use crossterm::event::{Event, KeyCode, KeyEvent, KeyModifiers};
use nucleo_matcher::pattern::{CaseMatching, Normalization, Pattern};
use nucleo_matcher::{Config, Matcher, Utf32Str};
use tui_input::Input;
use tui_input::backend::crossterm::EventHandler;

use super::{Asked, Reply, Speech};
use crate::compare::merge::Conflict;
use crate::plan::{BuildState, Craft, FigureRef, GearId, HoleId, Key, Mount, Plug, Seal, Spec};
use crate::study::float::moves::Proposal;
use crate::tui::action::{self, Action, Context};
use crate::tui::app::Thing;
use crate::tui::panels::wiring::Item;

/// A list that is filtered by typing.
#[derive(Clone, Debug)]
pub struct Chooser {
    /// What is being chosen.
    pub title: String,
    /// What the choice is for.
    pub purpose: Purpose,
    /// What was typed.
    pub input: Input,
    /// Everything that can be chosen.
    pub choices: Vec<Choice>,
    /// Indices of the choices that match, best first.
    pub matches: Vec<usize>,
    /// The chosen row of the matches.
    pub row: usize,
    /// The thing whose figures it lists, if it is an inspector.
    pub about: Option<Thing>,
    /// What its keys do, in a list in which nothing is typed.
    pub verbs: Option<&'static str>,
}

/// One line of the list.
#[derive(Clone, Debug)]
pub struct Choice {
    /// What it is.
    pub label: String,
    /// More about it, right-aligned.
    pub detail: String,
    /// Words it is also found by.
    pub words: String,
    /// Why it cannot be chosen now.
    pub barred: Option<String>,
    /// What choosing it gives.
    pub value: Value,
}

/// What a choice is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// Run an action.
    Run,
    /// Follow somebody.
    Company,
    /// Take gear in hand.
    Take,
    /// Swap the spec of this gear.
    Swap(GearId),
    /// Go to a thing.
    Go,
    /// Hold this gear otherwise.
    Mount(GearId),
    /// Seal this gear's holes otherwise.
    Seal(GearId),
    /// Note how far the work on this gear is.
    Work(GearId),
    /// Close this hole.
    Plug(HoleId),
    /// Let this hole serve gear.
    Reuse(HoleId),
    /// Put this load on a circuit.
    Circuit(GearId),
    /// Plan a cable that comes from gear.
    CableFrom,
    /// Plan a cable from this gear to other gear.
    CableTo(GearId),
    /// Choose what the boat counts as in the dark.
    Craft,
    /// Move the boat level.
    Level,
    /// Go back or forward to a state.
    History,
    /// Start a plan from a hull class.
    NewPlan,
    /// Measure a hull that is like this class.
    MeasureLike,
    /// Open a plan.
    Open,
    /// Change a figure of what is inspected.
    Inspect,
    /// Switch a reading on or off, or fill in a new one.
    Readings,
    /// Fill in a reading like the chosen one.
    AddReading,
    /// Strike a reading.
    StrikeReading,
    /// Do something with a kept state.
    Revisions,
    /// Take what somebody else made of what both changed.
    Conflicts,
    /// Do something about what was said.
    Talk,
}

/// What was chosen.
#[derive(Clone, Debug)]
pub enum Value {
    /// An action.
    Action(Action),
    /// A catalogue entry.
    Spec(Arc<Spec>),
    /// Gear of the plan.
    Gear(GearId),
    /// A kept state to lay over the deck.
    Lay(usize),
    /// Somebody to follow.
    Follow(Key),
    /// A thing on the boat.
    Thing(Thing),
    /// A finding, by its index.
    Finding(usize),
    /// A mount.
    Mount(Mount),
    /// A seal.
    Seal(Seal),
    /// How far work is.
    Work(BuildState),
    /// A plug.
    Plug(Plug),
    /// A line of the diagram of the wires to hang something on.
    Wire(Item),
    /// What the boat counts as; `None` for no choice.
    Craft(Option<Craft>),
    /// Moves that bring the boat level.
    Level(Arc<Proposal>),
    /// A position in the history.
    Step(usize),
    /// A hull class.
    Hull(String),
    /// A hull to be measured.
    Measure,
    /// The class that such a hull is like, by its index.
    Class(usize),
    /// A demo plan, by its index.
    Demo(usize),
    /// A plan on disk.
    File(PathBuf),
    /// The journal of a plan never saved.
    Lost(PathBuf),
    /// A figure.
    Figure(FigureRef),
    /// A reading, by its place in the plan.
    Reading(usize),
    /// A kept state, by its place in the plan.
    Revision(usize),
    /// A kept state, compared with the plan.
    Compare(usize),
    /// What is brought back of a kept state: one part, by its place among the differences, or all.
    BringBack(usize, Option<usize>),
    /// A kept state that is not needed any more.
    Forget(usize),
    /// Of what both changed, theirs of one, by its place, or of all.
    Theirs(Arc<Vec<Conflict>>, Option<usize>),
    /// A form to fill in.
    Form(Asked),
    /// Something to do about what was said.
    Speech(Speech),
    /// Nothing to do: a line that only informs.
    Nothing,
}

impl Choice {
    /// A choice with a label and a detail.
    pub fn new(label: impl Into<String>, detail: impl Into<String>, value: Value) -> Self {
        Self { label: label.into(), detail: detail.into(), words: String::new(), barred: None, value }
    }

    /// The same, found by more words.
    #[must_use]
    pub fn also(mut self, words: impl Into<String>) -> Self {
        self.words = words.into();
        self
    }

    /// The same, not possible now.
    #[must_use]
    pub fn barred(mut self, why: Option<String>) -> Self {
        self.barred = why;
        self
    }
}

impl Chooser {
    /// A list with nothing typed yet.
    pub fn new(title: impl Into<String>, purpose: Purpose, choices: Vec<Choice>) -> Self {
        let matches = (0..choices.len()).collect();
        Self {
            title: title.into(),
            purpose,
            input: Input::default(),
            choices,
            matches,
            row: 0,
            about: None,
            verbs: None,
        }
    }

    /// The chosen line.
    pub fn chosen(&self) -> Option<&Choice> {
        self.matches.get(self.row).and_then(|index| self.choices.get(*index))
    }

    /// Chooses a row of the matches, as a click does.
    pub fn choose_row(&mut self, row: usize) {
        self.row = row.min(self.matches.len().saturating_sub(1));
    }

    /// Adds pasted text.
    pub fn insert(&mut self, text: &str) {
        if self.verbs.is_some() {
            return;
        }
        for c in text.chars() {
            self.input.handle(tui_input::InputRequest::InsertChar(c));
        }
        self.filter();
    }

    /// Takes a key.
    pub fn key(&mut self, key: &KeyEvent) -> Reply {
        let last = self.matches.len().saturating_sub(1);
        match key.code {
            KeyCode::Esc => return Reply::Close,
            KeyCode::Char('c') if key.modifiers.contains(KeyModifiers::CONTROL) => return Reply::Close,
            KeyCode::Enter => {
                return match self.chosen() {
                    Some(choice) if choice.barred.is_none() => Reply::Chosen(self.purpose, choice.value.clone()),
                    _ => Reply::Stay,
                };
            }
            KeyCode::Up | KeyCode::BackTab => self.row = if self.row == 0 { last } else { self.row - 1 },
            KeyCode::Down | KeyCode::Tab => self.row = if self.row >= last { 0 } else { self.row + 1 },
            KeyCode::PageUp => self.row = self.row.saturating_sub(10),
            KeyCode::PageDown => self.row = (self.row + 10).min(last),
            _ if self.verbs.is_some() => return self.verb(key),
            _ => {
                if self.input.handle_event(&Event::Key(*key)).is_some_and(|change| change.value) {
                    self.filter();
                }
            }
        }
        Reply::Stay
    }

    /// In a list in which nothing is typed, keys of the deck do to a line what they do to gear.
    fn verb(&self, key: &KeyEvent) -> Reply {
        let purpose = match action::resolve(&action::key_name(key), Context::Deck) {
            Some(Action::PickUp) => self.purpose,
            Some(Action::TakeGear | Action::ZoomIn) => Purpose::AddReading,
            Some(Action::Strike) => Purpose::StrikeReading,
            _ => return Reply::Stay,
        };
        self.chosen().map_or(Reply::Stay, |choice| Reply::Chosen(purpose, choice.value.clone()))
    }

    /// Keeps what matches the typed words, best first; equal scores keep the list's order.
    pub fn filter(&mut self) {
        self.row = 0;
        let typed = self.input.value().trim();
        if typed.is_empty() {
            self.matches = (0..self.choices.len()).collect();
            return;
        }
        let pattern = Pattern::parse(typed, CaseMatching::Ignore, Normalization::Smart);
        let mut matcher = Matcher::new(Config::DEFAULT);
        let mut buffer = Vec::new();
        let mut scored: Vec<(u32, usize)> = self
            .choices
            .iter()
            .enumerate()
            .filter_map(|(index, choice)| {
                let text = format!("{} {} {}", choice.label, choice.detail, choice.words);
                pattern.score(Utf32Str::new(&text, &mut buffer), &mut matcher).map(|score| (score, index))
            })
            .collect();
        // Letters picked from all over a long line are not what was meant: the same rule as the catalogue's.
        let best = scored.iter().map(|(score, _)| *score).max().unwrap_or(0);
        scored.retain(|(score, _)| 2 * score >= best);
        scored.sort_by(|a, b| b.0.cmp(&a.0).then(a.1.cmp(&b.1)));
        self.matches = scored.into_iter().map(|(_, index)| index).collect();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(chooser: &mut Chooser, text: &str) {
        for c in text.chars() {
            chooser.key(&KeyEvent::from(KeyCode::Char(c)));
        }
    }

    fn three() -> Chooser {
        let choice = |label: &str| Choice::new(label, "", Value::Nothing);
        Chooser::new("gear", Purpose::Take, vec![choice("7-inch display"), choice("9-inch display"), choice("crate")])
    }

    #[test]
    fn typing_narrows_and_enter_takes_the_best() {
        let mut chooser = three();
        typed(&mut chooser, "9 disp");
        assert_eq!(chooser.matches, [1]);
        assert!(matches!(chooser.key(&KeyEvent::from(KeyCode::Enter)), Reply::Chosen(Purpose::Take, Value::Nothing)));
    }

    #[test]
    fn nothing_that_matches_is_nothing_to_choose() {
        let mut chooser = three();
        typed(&mut chooser, "zzz");
        assert!(matches!(chooser.key(&KeyEvent::from(KeyCode::Enter)), Reply::Stay));
        assert!(matches!(chooser.key(&KeyEvent::from(KeyCode::Esc)), Reply::Close));
    }

    #[test]
    fn the_list_goes_round() {
        let mut chooser = three();
        chooser.key(&KeyEvent::from(KeyCode::Up));
        assert_eq!(chooser.row, 2);
        chooser.key(&KeyEvent::from(KeyCode::Down));
        assert_eq!(chooser.row, 0);
    }
}
