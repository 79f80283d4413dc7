//! Plans without a file: new ones, and those that were lost before they had one.
//!
//! Such a plan has a journal all the same, under a name of its own in the state folder, and a lock there that tells
//! whether its program still runs.

use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime, UNIX_EPOCH};

use super::super::journal;
use super::super::load::Format;
use super::super::lock::Lock;
use super::super::paths::Env;
use super::super::write;
use super::logbook::{Base, Logbook};
use super::{Document, OpenError, Opened, recall};
use crate::plan::Plan;
use crate::session::Session;
use crate::units::Measure;

impl Document {
    /// A new plan without a file; [`Document::save_as`] gives it one. Its edits are journalled all the same.
    pub fn new(plan: Plan, env: &Env, tape: Measure) -> (Self, Session) {
        let mut document = Self::unopened(env, Format::Ron);
        let state = document.folders.state();
        let now = SystemTime::now().duration_since(UNIX_EPOCH).unwrap_or(Duration::ZERO);
        let name = format!("{NEW_PLAN}{}-{}", now.as_millis(), document.me.pid);
        let text = write::plan(&plan, Format::Ron).unwrap_or_default();
        let journal = state.as_ref().and_then(|state| {
            let stand_in = state.join(name);
            document.lock = Lock::take(&stand_in, Some(state), &document.me).ok();
            document.lock.as_ref().and_then(|_| journal::Journal::path_for(state, &stand_in).ok())
        });
        let base = Base { format: Format::Ron, text, crc: None };
        document.logbook = Logbook::new(journal, String::new(), document.me.clone(), base);
        (document, Session::new(plan, tape))
    }

    /// Journals of new plans that were never saved and whose program is gone, oldest first.
    pub fn lost(env: &Env) -> Vec<PathBuf> {
        let document = Self::unopened(env, Format::Ron);
        let Some(state) = document.folders.state() else { return Vec::new() };
        let Ok(entries) = state.read_dir() else { return Vec::new() };
        let mut lost: Vec<PathBuf> = entries
            .flatten()
            .map(|entry| entry.path())
            .filter(|path| path.extension().is_some_and(|ending| ending == "journal"))
            .filter(|path| stand_in_of(path).is_some_and(|name| Lock::take(&name, Some(&state), &document.me).is_ok()))
            // A plan with a file may be called the same.
            .filter(|path| journal::read(path).is_ok_and(|read| read.header.is_some_and(|h| h.plan.is_empty())))
            .collect();
        lost.sort();
        lost
    }

    /// Opens a plan that was never saved from its journal, every edit in place and none saved.
    pub fn open_lost(journal: &Path, env: &Env, tape: Measure) -> Result<(Self, Session, Opened), OpenError> {
        let mut document = Self::unopened(env, Format::Ron);
        let mut opened = Opened::default();
        let no_journal = |why: &str| OpenError::Journal { path: journal.to_path_buf(), why: why.to_string() };
        let state = document.folders.state();
        let name = stand_in_of(journal).ok_or_else(|| no_journal("it is not that of a new plan"))?;
        document.lock = Some(Lock::take(&name, state.as_deref(), &document.me).map_err(OpenError::Locked)?);
        let past = recall::read(journal).map_err(|why| no_journal(&why))?;
        opened.warnings.extend(past.damage.clone());
        let mut session = past.first_session(tape).map_err(|why| no_journal(&why))?;
        opened.warnings.extend(session.replay(&past.records()));
        document.logbook = Logbook::resume(journal, String::new(), document.me.clone(), past);
        Ok((document, session, opened))
    }
}

/// How the names of journals begin whose plan has no file yet.
const NEW_PLAN: &str = "new-plan-";

/// The path under which the lock of a new plan was taken, from the name of its journal.
fn stand_in_of(journal: &Path) -> Option<PathBuf> {
    let name = journal.file_stem()?.to_str()?;
    let (name, _hash) = name.strip_prefix(NEW_PLAN)?.rsplit_once('-')?;
    Some(journal.with_file_name(format!("{NEW_PLAN}{name}")))
}
