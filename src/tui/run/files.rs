//! Plans opened, saved, read anew and brought back.

use std::path::{Path, PathBuf};

use anyhow::Result;

use super::asking::{ask_about, left_over, read_anew, recovery};
use super::live::Link;
use super::rim::Rim;
use super::{Message, lock};
use crate::scenarios::SCENARIOS;
use crate::session::Session;
use crate::storage::atomic::Saved;
use crate::storage::comments::Comments;
use crate::storage::document::{Document, DocumentError, Opened};
use crate::storage::load::{self, Format};
use crate::storage::recent;
use crate::storage::watch::Watch;
use crate::tui::app::{App, Editor, FileState, Screen};
use crate::tui::company;
use crate::tui::layer::{Layer, Page};

impl Rim {
    /// Saves in one of the ways a document knows. Says what happened; asks where a person must decide.
    pub(super) fn save(
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
        self.host(&path);
        self.join(app);
        self.hear(app, None);
        Ok(())
    }

    pub(super) fn open_demo(&mut self, app: &mut App, index: usize) {
        let Some(demo) = SCENARIOS.get(index) else { return };
        match load::plan(demo.text, Path::new(demo.file), Format::Ron) {
            Ok(plan) => self.start_unsaved(app, plan),
            Err(error) => app.refuse(error.to_string()),
        }
    }

    /// Starts on a plan that has no file yet.
    pub(super) fn start_unsaved(&mut self, app: &mut App, plan: crate::plan::Plan) {
        let (document, session) = Document::new(plan, &self.env, app.look.tape);
        self.watch = None;
        self.show(app, document, session, Opened::default());
    }

    pub(super) fn open_lost(&mut self, app: &mut App, journal: &Path) -> Result<()> {
        let (document, session, opened) = Document::open_lost(journal, &self.env, app.look.tape)?;
        self.watch = None;
        self.show(app, document, session, opened);
        app.say("brought back; it was never saved");
        Ok(())
    }

    pub(super) fn show(&mut self, app: &mut App, document: Document, session: Session, opened: Opened) {
        let mut file = file_state(&document);
        if self.read_only {
            file.read_only.get_or_insert_with(|| "opened only to look".into());
        }
        self.seen = session.revision();
        self.link = Link::default();
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

    pub(super) fn remember(&self, path: &Path) {
        if let Some(state) = self.folders.state() {
            // A list of recent plans that cannot be written is no reason to trouble anyone.
            let _ = recent::note(&state, path);
        }
    }

    pub(super) fn follow(&mut self, path: &Path) {
        self.listens = Comments::beside(path).folder().is_dir();
        self.watch = Watch::start(path, self.sender.clone(), || Message::FileChanged).ok();
    }

    /// Somebody touched the plan's file.
    pub(super) fn look_again(&mut self, app: &mut App) {
        let changed = lock(&self.document).as_ref().is_some_and(Document::changed_on_disk);
        if !changed || self.is_live() {
            return;
        }
        let dirty = app.editor().is_some_and(|e| e.draft.is_none() && e.session.history().is_dirty() && e.may_write());
        let undecided = lock(&self.document).as_ref().is_some_and(Document::is_undecided);
        if dirty || undecided {
            app.refuse("somebody else changed this plan on disk; ctrl-s asks what to do");
        } else {
            self.reload(app);
        }
    }

    pub(super) fn reload(&mut self, app: &mut App) {
        let Some(editor) = app.editor_mut() else { return };
        let result = lock(&self.document).as_mut().map(|document| document.reload(editor.filed()));
        match result {
            Some(Ok(brought)) => {
                // What is shown now is the file, and no longer how its owner had it.
                if matches!(editor.company.link, company::Link::Gone { .. }) {
                    editor.company = Default::default();
                }
                if editor.draft.is_none() {
                    (editor.hand, editor.chosen) = (None, None);
                }
                app.say(read_anew(&brought));
                left_over(app, brought);
            }
            Some(Err(error)) => app.refuse(format!("{error:#}").lines().next().unwrap_or_default().to_string()),
            None => {}
        }
    }

    pub(super) fn recover(&mut self, app: &mut App) {
        let Some(editor) = app.editor_mut() else { return };
        let brought = lock(&self.document).as_mut().map(|document| document.recover(&mut editor.session));
        if let Some(brought) = brought {
            app.say("recovered; save when you have looked it over");
            left_over(app, brought);
        }
    }

    pub(super) fn discard(&mut self, app: &mut App) {
        if let Some(document) = lock(&self.document).as_mut() {
            document.discard();
        }
        app.say("set aside for 30 days");
        self.look_again(app);
    }
}

/// What the screen needs to know of the file.
pub(super) fn file_state(document: &Document) -> FileState {
    FileState {
        path: document.path().map(Path::to_path_buf),
        read_only: document.read_only_because().map(str::to_string),
        journal_off: document.journal_trouble().is_some(),
    }
}

/// A path that stays right when the program is started from elsewhere later.
pub(super) fn absolute(path: &Path) -> PathBuf {
    std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf())
}
