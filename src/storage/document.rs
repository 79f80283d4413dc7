//! One open plan: its file, its lock, its journal, and how it is saved.
//!
//! The screen opens a document, tells it after each action to [`Document::note`] what the session did, now and then
//! to [`Document::sync`], and to [`Document::save`]. A plan that somebody else edits opens to be looked at only.

mod bring;
mod error;
mod logbook;
mod recall;
mod unnamed;
mod waiting;

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, SystemTime, UNIX_EPOCH};

pub use bring::Brought;
use bring::Unsaved;
pub use error::{DocumentError, OpenError};
use logbook::{Base, Logbook};
use recall::{Found, Recalled};
pub use waiting::{Waiting, waiting};

use super::atomic::{self, SaveError, Saved, Saver};
use super::holder::Holder;
use super::load::{self, Format};
use super::lock::{Lock, LockError};
use super::paths::{self, Env, Folders};
use super::source::{self, Generation};
use super::write;
use super::{backup, journal};
use crate::plan::Plan;
use crate::session::Session;
use crate::units::Measure;

/// An open plan, apart from what is done to it, which is the [`Session`]'s.
#[derive(Debug)]
pub struct Document {
    /// Where it is saved; `None` for a new plan that has no file yet.
    path: Option<PathBuf>,
    format: Format,
    folders: Folders,
    me: Holder,
    /// The right to edit it; a new plan has the right to its journal only.
    lock: Option<Lock>,
    saver: Saver,
    /// The version on disk that the session knows; `None` while there is no file.
    generation: Option<Generation>,
    /// The plan in that version: what unsaved edits began with.
    known: Option<Arc<Plan>>,
    logbook: Logbook,
    /// What was found in the journal and is not decided yet.
    found: Option<Found>,
    read_only: Option<String>,
}

/// What came to light when a plan was opened.
#[derive(Debug, Default)]
pub struct Opened {
    /// Why the plan can be looked at only.
    pub read_only_because: Option<String>,
    /// Edits that were never saved: offer them, then [`Document::recover`] or [`Document::discard`].
    pub recoverable: Option<Recoverable>,
    /// Worth a line on the screen.
    pub warnings: Vec<String>,
}

/// Edits in the journal that are not in the file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Recoverable {
    /// What they would do to the plan as it is in the file, oldest first.
    pub edits: Vec<String>,
    /// What could not be done to it any more, with reasons.
    pub lost: Vec<String>,
    /// How many things somebody else changed as well.
    pub conflicts: usize,
    /// Who made them, and since when.
    pub by: Holder,
    /// Whether the file was changed by somebody else since.
    pub changed_underneath: bool,
}

impl Document {
    /// Opens the plan at `path` for editing, or for looking at where somebody else edits it. Its undo history comes
    /// back from the journal if the file is the one that was saved last.
    pub fn open(path: &Path, env: &Env, tape: Measure) -> Result<(Self, Session, Opened), OpenError> {
        let mut opened = Opened::default();
        let mut document = Self::unopened(env, Format::of_path(path));
        let state = document.folders.state();
        match Lock::take(path, state.as_deref(), &document.me) {
            Ok(lock) => document.lock = Some(lock),
            Err(error @ LockError::Held { .. }) => document.read_only = Some(error.to_string()),
            Err(error) => opened.warnings.push(error.to_string()),
        }
        let (source, plan) = document.read(path)?;
        document.path = Some(path.to_path_buf());
        (document.generation, document.known) = (Some(source.generation), Some(Arc::new(plan.clone())));
        document.read_only = document.read_only.or_else(|| atomic::read_only(path).map(|why| why.to_string()));

        if let Some(image) = state.as_deref().and_then(|state| backup::unfinished(state, path)) {
            let image = paths::shown(&image);
            opened.warnings.push(format!("an earlier save was cut short; the version before it is {image}"));
        }
        let base = Base { format: document.format, text: source.text, crc: Some(source.generation.crc) };
        let journal = match (&state, &document.lock) {
            (Some(state), Some(_)) => journal::Journal::path_for(state, path).ok(),
            _ => None,
        };
        if document.lock.is_some() {
            atomic::remove_leftovers(path);
        }
        let session = document.take_up(journal, base, plan, tape, &mut opened);
        opened.read_only_because.clone_from(&document.read_only);
        Ok((document, session, opened))
    }

    /// Opens the plan at `path` for a partner who reviews it: without lock, journal and folder of state, so that nothing
    /// is written.
    pub fn look(path: &Path, env: &Env, tape: Measure) -> Result<(Self, Session, Opened), OpenError> {
        let mut document = Self::with_folders(env, Folders::default(), Format::of_path(path));
        let (source, plan) = document.read(path)?;
        document.path = Some(path.to_path_buf());
        (document.generation, document.known) = (Some(source.generation), Some(Arc::new(plan.clone())));
        document.read_only = Some("a review".into());
        Ok((document, Session::new(plan, tape), Opened::default()))
    }

    /// Where the plan is saved.
    pub fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// Why it can be looked at only.
    pub fn read_only_because(&self) -> Option<&str> {
        self.read_only.as_deref()
    }

    /// Why the journal is off or behind, if it is: a crash now would lose edits.
    pub fn journal_trouble(&self) -> Option<&str> {
        self.logbook.trouble().filter(|_| self.read_only.is_none())
    }

    /// Writes what the session did since the last call into the journal. What cannot be written now is kept and
    /// tried again by the next call.
    pub fn note(&mut self, session: &mut Session) {
        let records = session.take_records();
        if records.is_empty() {
            return;
        }
        // Whoever goes on without deciding has what was found kept aside.
        self.discard();
        self.logbook.note(records);
    }

    /// Makes what was noted outlast a power failure. Takes some milliseconds.
    pub fn sync(&mut self) {
        self.logbook.sync();
    }

    /// Brings back the edits that [`Opened::recoverable`] offered, merged with the file where somebody else changed it.
    pub fn recover(&mut self, session: &mut Session) -> Brought {
        match self.found.take() {
            None => Brought::default(),
            Some(Found::Unsaved { after, .. }) => Brought { lost: session.replay(&after), ..Brought::default() },
            Some(Found::Foreign { unsaved }) => {
                let brought = unsaved.onto(session);
                self.logbook.begin_anew();
                self.note(session);
                brought
            }
        }
    }

    /// Leaves the edits that [`Opened::recoverable`] offered out of the plan. The journal that holds them is kept
    /// for 30 days; where it is kept is the answer.
    pub fn discard(&mut self) -> Option<PathBuf> {
        match self.found.take()? {
            Found::Unsaved { before, .. } => self.logbook.set_aside(before),
            Found::Foreign { .. } => self.logbook.set_aside(Vec::new()),
        }
    }

    /// Leaves everything since the last save out of the journal, for a person who closes a plan without saving.
    /// The journal that holds it is kept for 30 days; where it is kept is the answer.
    pub fn abandon(&mut self, session: &mut Session) -> Option<PathBuf> {
        self.note(session);
        self.found = None;
        let saved = self.logbook.entries_up_to_saved();
        self.logbook.set_aside(saved)
    }

    /// Saves the plan in use.
    pub fn save(&mut self, session: &mut Session) -> Result<Saved, DocumentError> {
        self.put(session, |saver, path, bytes, expected| saver.save(path, bytes, expected))
    }

    /// Saves by writing into the file itself, after the person agreed to what [`SaveError::NeedsInPlace`] said.
    pub fn save_in_place(&mut self, session: &mut Session) -> Result<Saved, DocumentError> {
        self.put(session, |saver, path, bytes, expected| match expected {
            Some(expected) => saver.save_in_place(path, bytes, expected),
            None => saver.save(path, bytes, None),
        })
    }

    /// Saves over a version that somebody else put there, after the person agreed; it becomes the backup.
    pub fn save_over(&mut self, session: &mut Session) -> Result<Saved, DocumentError> {
        let path = self.path.as_deref().ok_or(DocumentError::NoPath)?;
        self.generation = match Generation::at(path) {
            Ok(found) => Some(found),
            Err(error) if error.is_missing() => None,
            Err(error) => return Err(DocumentError::Save(SaveError::Unreadable(error))),
        };
        self.saver = Saver::new(self.folders.state());
        self.save(session)
    }

    /// Saves under another name and goes on there; the plan's history goes along. With `replace` a file of that
    /// name is replaced.
    pub fn save_as(&mut self, path: &Path, session: &mut Session, replace: bool) -> Result<Saved, DocumentError> {
        let same = |own: &PathBuf| paths::real_path(own).ok() == paths::real_path(path).ok();
        if replace && self.path.as_ref().is_some_and(same) {
            return self.save_over(session);
        }
        self.discard();
        self.note(session);
        let state = self.folders.state();
        let lock = match Lock::take(path, state.as_deref(), &self.me) {
            Ok(lock) => Some(lock),
            Err(error @ LockError::Held { .. }) => return Err(DocumentError::Locked(error)),
            Err(_) => None,
        };
        let expected = match Generation::at(path) {
            Ok(found) if replace => Some(found),
            Ok(_) => return Err(DocumentError::Save(SaveError::Exists)),
            Err(error) if error.is_missing() => None,
            Err(error) => return Err(DocumentError::Save(SaveError::Unreadable(error))),
        };
        let format = Format::of_path(path);
        let text = write::plan(session.plan(), format).map_err(DocumentError::Write)?;
        let saved = self.saver.save(path, text.as_bytes(), expected.as_ref()).map_err(DocumentError::Save)?;
        let journal = match (&state, &lock) {
            (Some(state), Some(_)) => journal::Journal::path_for(state, path).ok(),
            _ => None,
        };
        self.logbook.move_to(journal, paths::shown(path));
        (self.path, self.format, self.lock, self.read_only) = (Some(path.to_path_buf()), format, lock, None);
        self.now_saved(session, text, saved.generation);
        Ok(saved)
    }

    /// Whether the file is not the version that was read or saved last. Reads the whole file.
    pub fn changed_on_disk(&self) -> bool {
        match (&self.path, &self.generation) {
            (Some(path), Some(known)) => !Generation::at(path).is_ok_and(|found| found.same_bytes(known)),
            (Some(path), None) => path.exists(),
            (None, _) => false,
        }
    }

    /// Reads the file anew and starts from it; what was not saved is merged with it, as one step. The history before is
    /// gone: it belongs to another file. Failing changes nothing.
    pub fn reload(&mut self, session: &mut Session) -> Result<Brought, OpenError> {
        let Some(path) = self.path.clone() else { return Ok(Brought::default()) };
        let (source, plan) = self.read(&path)?;
        self.discard();
        self.note(session);
        let net = recall::Net::of(self.logbook.entries());
        // Without an edit of one's own nothing is mine, whatever the session shows.
        let mine = |base: &Arc<Plan>| if net.count() > 0 { session.shared_plan() } else { Arc::clone(base) };
        let grown = self.known.take().map(|base| (Arc::clone(&base), mine(&base)));
        let unsaved = Unsaved { grown, net };
        session.reload(plan);
        (self.generation, self.known) = (Some(source.generation), Some(session.shared_plan()));
        let brought = unsaved.onto(session);
        // Only now, and at once: a crash in between would find the edits in neither journal.
        self.logbook.start_from(Base { format: self.format, text: source.text, crc: Some(source.generation.crc) });
        self.note(session);
        Ok(brought)
    }

    /// Whether nobody else can be editing the plan.
    pub fn holds_lock(&self) -> bool {
        self.lock.is_some()
    }

    /// Whether [`Opened::recoverable`] still waits for [`Document::recover`] or [`Document::discard`].
    pub fn is_undecided(&self) -> bool {
        self.found.is_some()
    }

    /// Ends the editing of the plan: the journal is made to last, the lock goes.
    pub fn close(mut self) {
        self.sync();
    }

    fn unopened(env: &Env, format: Format) -> Self {
        Self::with_folders(env, Folders::of(env), format)
    }

    fn with_folders(env: &Env, folders: Folders, format: Format) -> Self {
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or(Duration::ZERO);
        let me = Holder::this_process(env, now.as_secs());
        let nothing = Base { format, text: String::new(), crc: None };
        Self {
            path: None,
            format,
            lock: None,
            saver: Saver::new(folders.state()),
            folders,
            generation: None,
            known: None,
            logbook: Logbook::new(None, String::new(), me.clone(), nothing),
            me,
            found: None,
            read_only: None,
        }
    }

    fn read(&self, path: &Path) -> Result<(source::Source, Plan), OpenError> {
        let source = source::read(path).map_err(OpenError::Read)?;
        let plan = load::plan(&source.text, path, self.format).map_err(|error| OpenError::Load {
            error,
            backups: self.folders.state().map(|state| backup::list(&state, path)).unwrap_or_default(),
        })?;
        Ok((source, plan))
    }

    /// Makes the session of the plan that was read, with what its journal remembers.
    fn take_up(
        &mut self,
        journal: Option<PathBuf>,
        base: Base,
        plan: Plan,
        tape: Measure,
        opened: &mut Opened,
    ) -> Session {
        let name = self.path.as_deref().map(paths::shown).unwrap_or_default();
        let past = journal.as_deref().filter(|journal| journal.exists()).map(recall::read);
        let fresh = Logbook::new(journal.clone(), name.clone(), self.me.clone(), base.clone());
        let (Some(past), Some(journal)) = (past, journal) else {
            self.logbook = fresh;
            return Session::new(plan, tape);
        };
        let recalled = past.and_then(|past| {
            opened.warnings.extend(past.damage.clone());
            let crc = self.generation.map(|generation| generation.crc);
            recall::recall(&past, &plan, crc, tape).map(|recalled| (past, recalled))
        });
        match recalled {
            Ok((past, Recalled::Clean { session, noted })) => {
                self.logbook = Logbook::resume(&journal, name, self.me.clone(), past);
                if !noted {
                    self.logbook.saved(base);
                }
                *session
            }
            Ok((past, Recalled::Unsaved { session, found, recoverable })) => {
                self.logbook = Logbook::resume(&journal, name, self.me.clone(), past);
                self.found = Some(found);
                opened.recoverable = Some(recoverable);
                *session
            }
            Ok((_, Recalled::Foreign { found, recoverable })) => {
                self.logbook = fresh;
                self.found = Some(found);
                opened.recoverable = Some(recoverable);
                Session::new(plan, tape)
            }
            Ok((_, Recalled::Stale)) => {
                self.logbook = fresh;
                self.logbook.set_aside(Vec::new());
                opened.warnings.push("the file was changed by another program; its undo history was set aside".into());
                Session::new(plan, tape)
            }
            Err(why) => {
                self.logbook = fresh;
                let aside = self.logbook.set_aside(Vec::new());
                let kept = aside.map_or(String::new(), |aside| format!("; it is kept as {}", paths::shown(&aside)));
                opened.warnings.push(format!("the journal of this plan cannot be used: {why}{kept}"));
                Session::new(plan, tape)
            }
        }
    }

    fn put(
        &mut self,
        session: &mut Session,
        save: impl FnOnce(&mut Saver, &Path, &[u8], Option<&Generation>) -> Result<Saved, SaveError>,
    ) -> Result<Saved, DocumentError> {
        let path = self.path.clone().ok_or(DocumentError::NoPath)?;
        if let Some(why) = &self.read_only {
            return Err(DocumentError::ReadOnly(why.clone()));
        }
        let text = write::plan(session.plan(), self.format).map_err(DocumentError::Write)?;
        // A crash between the save and its note must find the edits in the journal.
        self.discard();
        self.note(session);
        self.sync();
        let saved = save(&mut self.saver, &path, text.as_bytes(), self.generation.as_ref());
        if matches!(saved, Err(SaveError::Gone)) {
            // The person was told; saving again makes the file anew.
            self.generation = None;
        }
        let saved = saved.map_err(DocumentError::Save)?;
        self.now_saved(session, text, saved.generation);
        Ok(saved)
    }

    fn now_saved(&mut self, session: &mut Session, text: String, generation: Generation) {
        (self.generation, self.known) = (Some(generation), Some(session.shared_plan()));
        session.mark_saved();
        session.take_records();
        self.logbook.saved(Base { format: self.format, text, crc: Some(generation.crc) });
        self.sync();
    }
}

#[cfg(test)]
#[path = "document/tests.rs"]
mod tests;
