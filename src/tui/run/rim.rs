//! Everything outside the state of the screen: document, watch, recent plans; it performs effects.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use anyhow::{Context, Result};

use super::asking::{ask_about, recovery};
use super::{Message, Options, SharedDocument, lock, look};
use crate::catalogue;
use crate::plan::Key;
use crate::review::{Deed, talk};
use crate::scenarios::SCENARIOS;
use crate::session::Session;
use crate::storage::atomic::Saved;
use crate::storage::comments::Comments;
use crate::storage::document::{Document, DocumentError, Opened};
use crate::storage::library::Library;
use crate::storage::load::{self, Format};
use crate::storage::paths::{Env, Folders};
use crate::storage::recent;
use crate::storage::watch::Watch;
use crate::terminal::input;
use crate::terminal::{guard, signals};
use crate::tui::app::{App, Editor, FileState, Screen};
use crate::tui::layer::{Layer, Page};
use crate::tui::update::{Effect, heard, update};

/// How long edits may wait before they are made to outlast a power failure.
const SYNC_AFTER: Duration = Duration::from_millis(500);

/// Everything outside the state of the screen.
pub(super) struct Rim {
    env: Env,
    folders: Folders,
    document: SharedDocument,
    sender: Sender<Message>,
    receiver: Option<Receiver<Message>>,
    watch: Option<Watch>,
    read_only: bool,
    /// Who reviews; none where the owner works.
    reviewer: Option<Key>,
    /// Whether the folder of comments is watched.
    listens: bool,
    warnings: Vec<String>,
    /// The revision noted last.
    seen: u64,
    /// Tells the syncing thread that something was noted.
    noted: Sender<()>,
}

impl Rim {
    pub(super) fn new(options: &Options, env: &Env, document: SharedDocument) -> Self {
        let (sender, receiver) = channel();
        let noted = start_syncing(Arc::clone(&document));
        Self {
            noted,
            seen: 0,
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
                let effects = update(app, &event);
                self.note(app);
                effects
            }
            Message::FileChanged => {
                self.look_again(app);
                self.hear(app, None);
                Vec::new()
            }
        }
    }

    /// Writes what was done into the journal.
    fn note(&mut self, app: &mut App) {
        let Some(editor) = app.editor_mut() else { return };
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

    /// Saves in one of the ways a document knows. Says what happened; asks where a person must decide.
    fn save(
        &mut self,
        app: &mut App,
        how: impl FnOnce(&mut Document, &mut Session) -> Result<Saved, DocumentError>,
    ) -> bool {
        let Some(editor) = app.editor_mut() else { return false };
        let mut guard = lock(&self.document);
        let Some(document) = guard.as_mut() else { return false };
        let result = how(document, &mut editor.session);
        editor.file = file_state(document);
        drop(guard);
        match result {
            Ok(saved) => {
                let Some(path) = app.editor().and_then(|editor| editor.file.path.clone()) else { return true };
                self.remember(&path);
                let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
                let name = crate::shown::Shown(&name).to_string();
                match saved.warnings.first() {
                    Some(warning) => app.refuse(format!("saved {name}, but {warning}")),
                    None => app.say(format!("saved {name}")),
                }
                true
            }
            Err(error) => {
                ask_about(app, error);
                false
            }
        }
    }

    pub(super) fn open(&mut self, app: &mut App, path: &Path) -> Result<()> {
        let path = absolute(path);
        let (document, session, opened) = match self.reviewer {
            Some(_) => Document::look(&path, &self.env, app.look.tape)?,
            None => Document::open(&path, &self.env, app.look.tape)?,
        };
        if self.reviewer.is_none() {
            self.remember(&path);
        }
        self.show(app, document, session, opened);
        self.follow(&path);
        self.hear(app, None);
        Ok(())
    }

    fn open_demo(&mut self, app: &mut App, index: usize) {
        let Some(demo) = SCENARIOS.get(index) else { return };
        match load::plan(demo.text, Path::new(demo.file), Format::Ron) {
            Ok(plan) => self.start_unsaved(app, plan),
            Err(error) => app.refuse(error.to_string()),
        }
    }

    /// Starts on a plan that has no file yet.
    fn start_unsaved(&mut self, app: &mut App, plan: crate::plan::Plan) {
        let (document, session) = Document::new(plan, &self.env, app.look.tape);
        self.watch = None;
        self.show(app, document, session, Opened::default());
    }

    fn open_lost(&mut self, app: &mut App, journal: &Path) -> Result<()> {
        let (document, session, opened) = Document::open_lost(journal, &self.env, app.look.tape)?;
        self.watch = None;
        self.show(app, document, session, opened);
        app.say("brought back; it was never saved");
        Ok(())
    }

    fn show(&mut self, app: &mut App, document: Document, session: Session, opened: Opened) {
        let mut file = file_state(&document);
        if self.read_only {
            file.read_only.get_or_insert_with(|| "opened only to look".into());
        }
        self.seen = session.revision();
        if let Some(old) = lock(&self.document).replace(document) {
            old.close();
        }
        app.layers.clear();
        let mut editor = Editor::new(session, file);
        editor.voice.reviewer.clone_from(&self.reviewer);
        app.screen = Screen::Editor(Box::new(editor));
        self.warnings.extend(opened.warnings);
        if !self.warnings.is_empty() {
            let text = std::mem::take(&mut self.warnings).join("\n\n");
            app.layers.push(Layer::Page(Page::new("to know before you start", &text)));
        }
        if let Some(lost) = opened.recoverable {
            app.layers.push(Layer::Question(recovery(&lost)));
        }
    }

    fn remember(&self, path: &Path) {
        if let Some(state) = self.folders.state() {
            // A list of recent plans that cannot be written is no reason to trouble anyone.
            let _ = recent::note(&state, path);
        }
    }

    fn follow(&mut self, path: &Path) {
        self.listens = Comments::beside(path).folder().is_dir();
        self.watch = Watch::start(path, self.sender.clone(), || Message::FileChanged).ok();
    }

    /// Reads what was said about the plan. `done` was said here just now.
    fn hear(&mut self, app: &mut App, done: Option<&Deed>) {
        let Some(path) = app.editor().and_then(|editor| editor.file.path.clone()) else { return };
        let comments = Comments::beside(&path);
        // Watched before it is read: what is written in between is read by the next message.
        if !self.listens && comments.folder().is_dir() {
            self.follow(&path);
        }
        let all = comments.read();
        let Some(editor) = app.editor_mut() else { return };
        editor.voice.talk = talk(editor.session.plan(), &all.authors);
        editor.voice.troubles = all.troubles;
        heard(app, done);
    }

    /// Writes what was said beside the plan.
    fn say(&mut self, app: &mut App, does: Deed) {
        let Some(editor) = app.editor() else { return };
        let (Some(path), Some(author)) = (editor.file.path.clone(), editor.voice.author()) else { return };
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or_default().as_secs();
        match Comments::beside(&path).add(&author, does, now) {
            Ok(entry) => {
                self.hear(app, Some(&entry.does));
                app.say("said");
            }
            Err(why) => app.refuse(format!("not written: {why}")),
        }
    }

    /// Somebody touched the plan's file.
    fn look_again(&mut self, app: &mut App) {
        let changed = lock(&self.document).as_ref().is_some_and(Document::changed_on_disk);
        if !changed {
            return;
        }
        let dirty = app.editor().is_some_and(|e| e.session.history().is_dirty() && e.may_write());
        if dirty {
            app.refuse("somebody else changed this plan on disk; saving will ask what to do");
        } else {
            self.reload(app);
        }
    }

    fn reload(&mut self, app: &mut App) {
        let Some(editor) = app.editor_mut() else { return };
        let result = lock(&self.document).as_mut().map(|document| document.reload(&mut editor.session));
        match result {
            Some(Ok(lost)) => {
                editor.hand = None;
                editor.chosen = None;
                match lost.len() {
                    0 => app.say("read anew: it was changed on disk"),
                    n => app.refuse(format!("read anew; {n} of your edits no longer apply: {}", lost[0])),
                }
            }
            Some(Err(error)) => app.refuse(format!("{error:#}").lines().next().unwrap_or_default().to_string()),
            None => {}
        }
    }

    fn recover(&mut self, app: &mut App) {
        let Some(editor) = app.editor_mut() else { return };
        let failed = lock(&self.document).as_mut().map(|document| document.recover(&mut editor.session));
        match failed {
            Some(failed) if failed.is_empty() => app.say("recovered; save when you have looked it over"),
            Some(failed) => {
                let text = format!("What could not be done again on the plan as it is now:\n\n{}", failed.join("\n\n"));
                app.layers.push(Layer::Page(Page::new("recovered in part", &text)));
            }
            None => {}
        }
    }

    fn discard(&mut self, app: &mut App) {
        if let Some(document) = lock(&self.document).as_mut() {
            document.discard();
        }
        app.say("set aside for 30 days");
    }
}

/// What the screen needs to know of the file.
fn file_state(document: &Document) -> FileState {
    FileState {
        path: document.path().map(Path::to_path_buf),
        read_only: document.read_only_because().map(str::to_string),
        journal_off: document.journal_trouble().is_some(),
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

/// A path that stays right when the program is started from elsewhere later.
fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf())
}
