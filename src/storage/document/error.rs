//! Why a plan was not opened or not saved.

use std::fmt;
use std::path::PathBuf;

use super::super::load::LoadError;
use super::super::lock::LockError;
use super::super::paths;
use super::super::save_error::SaveError;
use super::super::source::ReadError;
use super::super::write::WriteError;

/// Why a plan was not opened.
#[derive(Debug)]
pub enum OpenError {
    /// The file cannot be read.
    Read(ReadError),
    /// The text is no plan.
    Load {
        /// What is wrong with it.
        error: LoadError,
        /// Earlier versions, newest first.
        backups: Vec<PathBuf>,
    },
    /// A lost plan is open elsewhere.
    Locked(LockError),
    /// A lost plan cannot be brought back.
    Journal {
        /// Its journal.
        path: PathBuf,
        /// What is wrong with it.
        why: String,
    },
}

/// Why a plan was not saved.
#[derive(Debug)]
pub enum DocumentError {
    /// It has no file yet: ask for a name, then [`super::Document::save_as`].
    NoPath,
    /// It was opened to be looked at only.
    ReadOnly(String),
    /// Somebody else edits the file of that name.
    Locked(LockError),
    /// It cannot be written down.
    Write(WriteError),
    /// The file could not be replaced.
    Save(SaveError),
}

impl OpenError {
    /// What to do next, if there is something to do.
    pub fn hint(&self) -> Option<String> {
        let Self::Load { error, backups } = self else { return None };
        let backup = backups.first().map(|newest| format!("the version before it is kept in {}", paths::shown(newest)));
        let hints: Vec<String> = error.hint().map(str::to_string).into_iter().chain(backup).collect();
        (!hints.is_empty()).then(|| hints.join("; "))
    }
}

impl fmt::Display for OpenError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(error) => write!(f, "{error}"),
            Self::Load { error, .. } => write!(f, "{error}"),
            Self::Locked(error) => write!(f, "{error}"),
            Self::Journal { path, why } => write!(f, "{}: {why}", paths::shown(path)),
        }
    }
}

impl fmt::Display for DocumentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoPath => write!(f, "the plan has no file yet; choose a name"),
            Self::ReadOnly(why) => write!(f, "{why}; save under another name"),
            Self::Locked(error) => write!(f, "{error}; choose another name"),
            Self::Write(error) => write!(f, "{error}"),
            Self::Save(error) => write!(f, "{error}"),
        }
    }
}

impl std::error::Error for OpenError {}
impl std::error::Error for DocumentError {}
