//! Events in, effects out: the only place that changes the state of the screen.
//!
//! `update` never touches a file or the terminal; it returns [`Effect`]s and `run` performs them,
//! so that every script of keys can be played without either.

mod act;
mod build;
mod checklist;
pub mod company;
mod compared;
mod conflicts;
mod cursor;
mod gear;
mod hand;
mod holes;
mod interview;
mod level;
mod lights;
mod lists;
mod mouse;
mod orders;
mod outing;
mod readings;
mod revisions;
mod seat;
mod seat_test;
mod suggest;
mod talk;
mod wiring;

use std::path::PathBuf;

use crossterm::event::KeyEvent;

use super::action::{self, Action, Needs};
use super::app::{App, Focus, Screen, Thing};
use super::layer::{Answer, Layer, Purpose, Reply, Value};
use super::panels::PanelKind;
use crate::plan::Plan;
use crate::review::Deed;
use crate::review::company::Word;
use crate::study::rig::HoleRef;
use crate::terminal::input::TermEvent;

pub(crate) use build::thing_of;
pub use conflicts::list_conflicts;
pub(crate) use cursor::sources;
pub use hand::refresh_preview;
pub(crate) use lists::start_choices;
pub use talk::heard;

/// What only the rim can do.
#[derive(Clone, Debug, PartialEq)]
pub enum Effect {
    /// Save to the plan's own path.
    Save,
    /// Save to a path; `true` replaces what is there.
    SaveAs(PathBuf, bool),
    /// Save over a file that changed on disk.
    Overwrite,
    /// Save in place although a cut-off could tear it.
    SaveInPlace,
    /// Read the plan anew from disk.
    Reload,
    /// Replay what the journal has beyond the file.
    Recover,
    /// Set the journal aside.
    Discard,
    /// Open a plan.
    Open(PathBuf),
    /// Bring back a plan that was never saved, from its journal.
    OpenLost(PathBuf),
    /// Open a demo plan.
    OpenDemo(usize),
    /// Start a plan from a hull class.
    NewPlan(String),
    /// Start on this plan, which has no file yet.
    StartPlan(Box<Plan>),
    /// Write what was said about the plan beside it.
    Say(Box<Deed>),
    /// Tell others who have the plan open.
    Tell(Box<Word>),
    /// Save, then quit.
    SaveAndQuit,
    /// Quit.
    Quit,
    /// Suspend to the shell.
    Suspend,
    /// Paint everything anew.
    Repaint,
}

impl Effect {
    /// Whether a partner who only reviews may have it: nothing that writes the plan, opens another file or starts a
    /// program.
    pub fn in_review(&self) -> bool {
        matches!(self, Self::Say(_) | Self::Tell(_) | Self::Reload | Self::Quit | Self::Repaint)
    }
}

/// Takes one event.
pub fn update(app: &mut App, event: &TermEvent) -> Vec<Effect> {
    let effects = take(app, event);
    bring_up_to_date(app);
    effects
}

/// Brings up to date what is kept beside the session and what does not fit any more.
fn bring_up_to_date(app: &mut App) {
    let areas = super::areas::Areas::of(app);
    if let Some(Layer::Page(page)) = app.layers.last_mut() {
        page.scroll = page.scroll.min(super::draw::layers::last_scroll(page, areas.whole));
    }
    let deck = areas.deck;
    if let Screen::Editor(editor) = &mut app.screen {
        editor.refresh(deck, &app.look);
    }
}

fn take(app: &mut App, event: &TermEvent) -> Vec<Effect> {
    match event {
        TermEvent::Key(key) => self::key(app, key),
        TermEvent::Mouse(mouse) => mouse::take(app, mouse),
        TermEvent::Paste(text) => {
            if let Some(layer) = app.layers.last_mut() {
                layer.paste(text);
            }
            Vec::new()
        }
        TermEvent::Resize(columns, rows) => {
            app.size = (*columns, *rows);
            cursor::keep_in_view(app);
            Vec::new()
        }
        TermEvent::Focus(_) => Vec::new(),
    }
}

fn key(app: &mut App, key: &KeyEvent) -> Vec<Effect> {
    app.toast = None;
    company::leave(app);
    if let Some(layer) = app.layers.last_mut() {
        let reply = layer.key(key);
        return answer(app, reply);
    }
    match action::resolve(&action::key_name(key), app.context()) {
        Some(action) => perform(app, action),
        None => Vec::new(),
    }
}

/// Performs an action if it is possible, or says why not.
pub fn perform(app: &mut App, action: Action) -> Vec<Effect> {
    match barred(app, action) {
        Some(why) => {
            app.refuse(why);
            Vec::new()
        }
        None => act::perform(app, action),
    }
}

/// Why an action is not possible now.
pub fn barred(app: &App, action: Action) -> Option<String> {
    let needs = action::row_of(action)?.needs;
    if needs == Needs::Nothing {
        return None;
    }
    if matches!(needs, Needs::Own | Needs::Shell) && app.editor().is_some_and(|editor| editor.voice.reviews()) {
        return Some("not in a review".into());
    }
    if needs == Needs::Shell {
        return None;
    }
    if needs == Needs::Partner && !app.editor().is_some_and(|editor| editor.voice.reviews()) {
        return Some("the plan is yours to change; a partner suggests".into());
    }
    let speaks = matches!(action, Action::Talk | Action::Comment | Action::NextThread | Action::Checklist);
    if speaks && app.editor().is_some_and(|editor| editor.draft.is_some()) {
        return Some("what is said is about the plan: @ suggests or drops what you try first".into());
    }
    if needs == Needs::Company && !app.editor().is_some_and(|editor| editor.company.is_together()) {
        return Some("nobody else has this plan open now".into());
    }
    let Some(editor) = app.editor() else { return Some("open a plan first".into()) };
    let writes = matches!(
        needs,
        Needs::Writing
            | Needs::Gear
            | Needs::PlacedGear
            | Needs::Hole
            | Needs::GearOrHole
            | Needs::Wires
            | Needs::Undo
            | Needs::Redo
    );
    if writes && let Some(why) = &editor.file.read_only {
        return Some(format!("this plan can only be looked at: {why}"));
    }
    // Gear in hand stands for the selection; what would have to guess where it is going waits.
    let in_hand = editor.hand.is_some();
    let while_in_hand = matches!(
        action,
        Action::TurnLeft
            | Action::TurnRight
            | Action::NextMount
            | Action::NextLevel
            | Action::PutAshore
            | Action::Strike
    );
    let placed = |id| editor.session.plan().gear(id).is_some_and(crate::plan::Gear::is_placed);
    let why = match needs {
        Needs::Gear | Needs::PlacedGear | Needs::GearOrHole if in_hand && !while_in_hand => "set it down first",
        Needs::Gear if !in_hand && editor.gear().is_none() => "put the cursor on a piece of gear first",
        Needs::PlacedGear if !in_hand && !editor.gear().is_some_and(placed) => "put the cursor on placed gear first",
        Needs::GearOrHole
            if editor.gear().is_none() && !matches!(editor.thing(), Some(Thing::Hole(HoleRef::Own(_)))) =>
        {
            "put the cursor on gear or a hole first"
        }
        Needs::Hole if !matches!(editor.thing(), Some(Thing::Hole(HoleRef::Own(_)))) => {
            "put the cursor on a hole that no gear owns first"
        }
        Needs::Wires if editor.focus != Focus::Panel(PanelKind::Wiring) => "open Wiring first",
        Needs::Undo if editor.session.history().next_undo().is_none() => "there is nothing to undo",
        Needs::Redo if editor.session.history().next_redo().is_none() => "there is nothing to redo",
        Needs::Finding if editor.session.findings().is_empty() => "there is no finding",
        _ => return None,
    };
    Some(why.into())
}

/// Does what a layer replied.
fn answer(app: &mut App, reply: Reply) -> Vec<Effect> {
    match reply {
        Reply::Stay => Vec::new(),
        Reply::Close => {
            app.layers.pop();
            if let Some(editor) = app.editor_mut() {
                editor.walked = None;
            }
            Vec::new()
        }
        // The inspector stays open under what it leads to; its facts lead nowhere.
        Reply::Chosen(Purpose::Inspect, Value::Nothing) => Vec::new(),
        Reply::Chosen(Purpose::Inspect, value) => lists::chosen(app, Purpose::Inspect, value),
        Reply::Chosen(purpose @ (Purpose::Readings | Purpose::AddReading | Purpose::StrikeReading), value) => {
            readings::chosen(app, purpose, &value);
            Vec::new()
        }
        Reply::Chosen(purpose, value) => {
            app.layers.pop();
            let effects = lists::chosen(app, purpose, value);
            lists::refresh_inspector(app);
            effects
        }
        Reply::Filled(order) => {
            // What it orders may open a layer of its own.
            let form = app.layers.pop();
            let (effects, refused) = orders::fill(app, &order);
            match (refused, form) {
                (Some(why), Some(Layer::Form(form))) => {
                    app.layers.push(Layer::Form(super::layer::Form { refused: Some(why), ..form }));
                }
                _ => {
                    lists::refresh_inspector(app);
                    readings::refresh(app);
                    build::refresh(app);
                }
            }
            effects
        }
        Reply::Walked => {
            wiring::cables::step(app);
            Vec::new()
        }
        Reply::ChooseCraft => {
            lights::choose_craft(app);
            Vec::new()
        }
        Reply::GoToLight(row) => {
            lights::go_to(app, row);
            Vec::new()
        }
        Reply::GoToSeen(row) => {
            app.layers.pop();
            seat::go_to(app, row);
            Vec::new()
        }
        Reply::Noted(noted) => {
            seat_test::noted(app, noted);
            Vec::new()
        }
        Reply::Build(ask) => {
            build::asked(app, ask);
            Vec::new()
        }
        Reply::Turned => {
            seat_test::turned(app);
            Vec::new()
        }
        Reply::Measured => interview::finish(app),
        Reply::LeaveTape => {
            interview::ask_leave(app);
            Vec::new()
        }
        Reply::Planned(days) => {
            outing::plan(app, days);
            Vec::new()
        }
        Reply::TakeBack { forward } => {
            outing::take_back(app, forward);
            Vec::new()
        }
        Reply::Answered(given) => {
            app.layers.pop();
            match given {
                Answer::SaveAndQuit => vec![Effect::SaveAndQuit],
                Answer::QuitKeeping => vec![Effect::Quit],
                Answer::Recover => vec![Effect::Recover],
                Answer::Discard => vec![Effect::Discard],
                Answer::Overwrite => vec![Effect::Overwrite],
                Answer::Reload => vec![Effect::Reload],
                Answer::WriteInPlace => vec![Effect::SaveInPlace],
                Answer::Replace(path) => vec![Effect::SaveAs(path, true)],
                Answer::Suggest => {
                    suggest::reason(app);
                    Vec::new()
                }
                Answer::DropDraft => suggest::dropped(app),
                Answer::UseTape => interview::finish(app),
                Answer::LeaveTape => {
                    app.layers.pop();
                    Vec::new()
                }
                Answer::Nothing => Vec::new(),
            }
        }
    }
}
