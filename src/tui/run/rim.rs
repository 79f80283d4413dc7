//! Everything outside the state of the screen: document, watch, recent plans; it performs effects.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::Duration;

use anyhow::{Context, Result};

use super::files::absolute;
use super::live::Link;
use super::{Message, Options, SharedDocument, lock, look, today};
use crate::catalogue;
use crate::plan::Key;
use crate::scenarios::SCENARIOS;
use crate::storage::document::Document;
use crate::storage::library::Library;
use crate::storage::paths::{Env, Folders};
use crate::storage::recent;
use crate::storage::watch::Watch;
use crate::terminal::input;
use crate::terminal::{guard, signals};
use crate::tui::app::{App, Screen};
use crate::tui::layer::{Layer, Page};
use crate::tui::update::{Effect, update};

/// How long edits may wait before they are made to outlast a power failure.
const SYNC_AFTER: Duration = Duration::from_millis(500);

/// Everything outside the state of the screen.
pub(super) struct Rim {
    /// How far the clock on the wall is from UTC.
    offset: time::UtcOffset,
    pub(super) env: Env,
    pub(super) folders: Folders,
    pub(super) document: SharedDocument,
    pub(super) sender: Sender<Message>,
    pub(super) receiver: Option<Receiver<Message>>,
    pub(super) watch: Option<Watch>,
    pub(super) read_only: bool,
    /// Who reviews; none where the owner works.
    pub(super) reviewer: Option<Key>,
    /// Whether the folder of comments is watched.
    pub(super) listens: bool,
    pub(super) warnings: Vec<String>,
    /// To other programs that have the plan open.
    pub(super) link: Link,
    /// How many links there were.
    pub(super) links: u64,
    /// The revision noted last.
    pub(super) seen: u64,
    /// Tells the syncing thread that something was noted.
    pub(super) noted: Sender<()>,
}

impl Rim {
    pub(super) fn new(options: &Options, env: &Env, document: SharedDocument) -> Self {
        let offset = today::offset();
        let (sender, receiver) = channel();
        let noted = start_syncing(Arc::clone(&document));
        Self {
            offset,
            noted,
            seen: 0,
            link: Link::default(),
            links: 0,
            env: env.clone(),
            // A review makes no folder of its own: no journal, no list of recent plans.
            folders: if options.reviewer.is_some() { Folders::default() } else { Folders::of(env) },
            document,
            sender,
            receiver: Some(receiver),
            watch: None,
            read_only: options.read_only,
            reviewer: options.reviewer.clone(),
            listens: false,
            warnings: Vec::new(),
        }
    }

    pub(super) fn app(&mut self, options: &Options) -> App {
        let library = Library::read(self.folders.data());
        self.warnings.extend(library.troubles.iter().cloned());
        let recent = self.folders.state().map(|state| recent::load(&state)).unwrap_or_default();
        App {
            screen: Screen::Start { row: 0 },
            layers: Vec::new(),
            look: look::chosen(options, &self.env),
            toast: None,
            size: (80, 24),
            today: None,
            catalogue: Arc::new(library.catalogue()),
            hulls: library.all_hulls().into_iter().cloned().collect(),
            demos: SCENARIOS,
            recent,
            lost: if self.reviewer.is_some() { Vec::new() } else { Document::lost(&self.env) },
        }
    }

    /// Takes the terminal over: input, panic, signals, in the order they need each other.
    pub(super) fn take_terminal(&mut self, document: SharedDocument) -> Result<Receiver<Message>> {
        input::start(self.sender.clone()).context("reading keys")?;
        let flush = move || {
            if let Some(document) = lock(&document).as_mut() {
                document.sync();
            }
        };
        let shared = Arc::new(flush);
        let on_panic = Arc::clone(&shared);
        guard::leave_on_panic(move || on_panic());
        let resumed = self.sender.clone();
        signals::start(
            move || shared(),
            move || {
                if let Ok(size) = input::present_size() {
                    let _ = resumed.send(size.into());
                }
            },
        )
        .context("waiting for signals")?;
        let size = input::present_size().context("asking the terminal for its size")?;
        self.sender.send(size.into()).ok();
        self.receiver.take().context("the terminal is taken already")
    }

    /// Takes one message; what is left for the loop to perform.
    pub(super) fn take(&mut self, app: &mut App, message: Message) -> Vec<Effect> {
        match message {
            Message::Terminal(event) => {
                app.today = Some(today::today(self.offset));
                let effects = update(app, &event);
                self.note(app);
                effects
            }
            Message::FileChanged => {
                self.join(app);
                self.look_again(app);
                self.hear(app, None);
                Vec::new()
            }
            Message::Live(link, arrival) => {
                self.met(app, link, arrival);
                Vec::new()
            }
            Message::Faded(nth) => {
                self.faded(app, nth);
                Vec::new()
            }
        }
    }

    /// Writes what was done into the journal.
    fn note(&mut self, app: &mut App) {
        let Some(editor) = app.editor_mut() else { return };
        if editor.draft.is_some() {
            // What is tried on a copy is nobody's edit yet.
            editor.session.take_records();
            return;
        }
        if let Some(document) = lock(&self.document).as_mut() {
            let before = self.seen;
            document.note(&mut editor.session);
            editor.file.journal_off = document.journal_trouble().is_some();
            self.seen = editor.session.revision();
            if self.seen != before {
                // The syncing thread lives as long as the program.
                let _ = self.noted.send(());
            }
        }
    }

    /// Performs an effect; true when the program is to end.
    pub(super) fn perform(&mut self, app: &mut App, effect: Effect) -> bool {
        if self.reviewer.is_some() && !effect.in_review() {
            app.refuse("not in a review");
            return false;
        }
        match effect {
            Effect::Quit => return true,
            Effect::Repaint => {}
            Effect::Suspend => {
                if let Err(error) = guard::suspend() {
                    app.refuse(format!("cannot suspend here: {error}"));
                }
            }
            Effect::Say(does) => self.say(app, *does),
            Effect::Tell(word) => self.tell(app, *word),
            Effect::Save => {
                self.save(app, |document, session| document.save(session));
            }
            Effect::Overwrite => {
                self.save(app, |document, session| document.save_over(session));
            }
            Effect::SaveInPlace => {
                self.save(app, |document, session| document.save_in_place(session));
            }
            Effect::SaveAs(path, replace) => {
                let path = absolute(&path);
                if self.save(app, |document, session| document.save_as(&path, session, replace)) {
                    self.follow(&path);
                    self.host(&path);
                    // Who looked on there was told goodbye.
                    if let Some(editor) = app.editor_mut() {
                        editor.company = Default::default();
                    }
                }
            }
            Effect::SaveAndQuit => {
                if app.editor().is_some_and(|editor| editor.file.path.is_none()) {
                    app.refuse("give the plan a file name first: W saves it, then quit");
                    return false;
                }
                return self.save(app, |document, session| document.save(session));
            }
            Effect::Reload => self.reload(app),
            Effect::Recover => self.recover(app),
            Effect::Discard => self.discard(app),
            Effect::OpenLost(journal) => {
                if let Err(error) = self.open_lost(app, &journal) {
                    app.layers.push(Layer::Page(Page::new("this plan cannot be brought back", &format!("{error:#}"))));
                }
            }
            Effect::Open(path) => {
                if let Err(error) = self.open(app, &path) {
                    app.layers.push(Layer::Page(Page::new("this plan cannot be opened", &format!("{error:#}"))));
                }
            }
            Effect::OpenDemo(index) => self.open_demo(app, index),
            Effect::NewPlan(key) => {
                let plan = app
                    .hulls
                    .iter()
                    .find(|class| class.key().as_str() == key)
                    .map(|class| catalogue::plan_on(&class.hull));
                if let Some(plan) = plan {
                    self.start_unsaved(app, plan);
                }
            }
            Effect::StartPlan(plan) => self.start_unsaved(app, *plan),
        }
        false
    }
}

/// A thread that makes noted edits outlast a power failure, soon but off the screen's path. It sleeps
/// until something is noted.
fn start_syncing(document: SharedDocument) -> Sender<()> {
    let (noted, wakes) = channel::<()>();
    std::thread::spawn(move || {
        while wakes.recv().is_ok() {
            std::thread::sleep(SYNC_AFTER);
            while wakes.try_recv().is_ok() {}
            if let Some(document) = lock(&document).as_mut() {
                document.sync();
            }
        }
    });
    noted
}
