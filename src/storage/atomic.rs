//! Saving: the plan's file is replaced whole by a synced neighbour, or left exactly as it was.
//!
//! The caller has already re-read what it is about to save and found it equal. Here, in order: follow links to the
//! real file; compare it with the version that was loaded; refuse what a person made read-only; keep a backup;
//! write a neighbour and sync it; compare again; rename; sync the folder. A neighbour never outlives an error.

use std::collections::BTreeSet;
use std::fs::{File, Metadata, Permissions};
use std::io::{self, Write};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::path::{Path, PathBuf};

use rustix::io::Errno;
use tempfile::NamedTempFile;

pub use super::save_error::{InPlace, ReadOnly, SaveError, Warning};
use super::source::{self, Generation};
use super::{attributes, backup, paths};

/// Random letters in the name of a neighbour.
const RANDOM_LETTERS: usize = 8;
/// How the name of a neighbour ends.
const NEIGHBOUR_END: &str = ".tmp";

/// Saves plans for one session of the program.
#[derive(Debug, Default)]
pub struct Saver {
    pub(super) state: Option<PathBuf>,
    backed_up: BTreeSet<PathBuf>,
}

impl Saver {
    /// A saver that keeps its backups in the `state` folder, or none where there is no such folder.
    pub fn new(state: Option<PathBuf>) -> Self {
        Self { state, backed_up: BTreeSet::new() }
    }

    /// Replaces the file at `path` by `bytes`. `expected` is the version that was loaded or last saved; `None` says
    /// that there should be no file yet.
    pub fn save(&mut self, path: &Path, bytes: &[u8], expected: Option<&Generation>) -> Result<Saved, SaveError> {
        let real = paths::real_path(path).map_err(failed("following the path"))?;
        let old = Current::matching(&real, expected)?;
        if let Some(old) = &old {
            old.may_be_written()?;
            if old.about.nlink() > 1 {
                return Err(SaveError::NeedsInPlace(InPlace::HardLinks(old.about.nlink())));
            }
        }
        let mut warnings = Vec::new();
        self.back_up(&real, old.as_ref(), &mut warnings);
        let about = old.as_ref().map(|old| &old.about);
        let neighbour = write_neighbour(&real, bytes, about, &mut warnings)?;
        // The sync above can take a second on a slow disk; whoever saved meanwhile must not be written over.
        Current::matching(&real, expected)?;
        let file = put(neighbour, &real, old.is_some())?;
        if let Err(error) = sync_folder(paths::folder_of(&real)) {
            warnings.push(Warning::FolderNotSynced(error));
        }
        Saved::of(&file, bytes, warnings)
    }

    /// Keeps the old bytes once in a session, before the first save.
    pub(super) fn back_up(&mut self, real: &Path, old: Option<&Current>, warnings: &mut Vec<Warning>) {
        let (Some(old), false) = (old, self.backed_up.contains(real)) else {
            return;
        };
        let kept = match &self.state {
            Some(state) => backup::keep(state, real, &old.bytes),
            None => Err(io::Error::from(io::ErrorKind::NotFound)),
        };
        match kept {
            Ok(()) => drop(self.backed_up.insert(real.to_path_buf())),
            Err(error) => warnings.push(Warning::NoBackup(error)),
        }
    }
}

/// A save that happened.
#[derive(Debug)]
pub struct Saved {
    /// The version now on disk, to be expected by the next save.
    pub generation: Generation,
    /// What could not be kept on the way.
    pub warnings: Vec<Warning>,
}

impl Saved {
    pub(super) fn of(file: &File, bytes: &[u8], warnings: Vec<Warning>) -> Result<Self, SaveError> {
        let about = file.metadata().map_err(failed("looking at the saved file"))?;
        Ok(Self { generation: Generation::of(&about, bytes), warnings })
    }
}

/// What the plan's file is when a save begins.
pub(super) struct Current {
    pub(super) about: Metadata,
    pub(super) bytes: Vec<u8>,
    real: PathBuf,
}

impl Current {
    /// The file at `real`, if it is the version that is expected (`None`: no file).
    pub(super) fn matching(real: &Path, expected: Option<&Generation>) -> Result<Option<Self>, SaveError> {
        let (bytes, found) = match (source::read_bytes(real), expected) {
            (Err(error), None) if error.is_missing() => return Ok(None),
            (Err(error), Some(_)) if error.is_missing() => return Err(SaveError::Gone),
            (Err(error), _) => return Err(SaveError::Unreadable(error)),
            (Ok(_), None) => return Err(SaveError::Exists),
            (Ok(read), Some(_)) => read,
        };
        if expected.is_some_and(|expected| !expected.same_bytes(&found)) {
            return Err(SaveError::Changed);
        }
        let about = real.symlink_metadata().map_err(failed("looking at the file"))?;
        Ok(Some(Self { about, bytes, real: real.to_path_buf() }))
    }

    /// A rename asks only the folder, so the file's own mode is asked here. A file that nobody may write was
    /// made so on purpose, which holds for the superuser too.
    pub(super) fn may_be_written(&self) -> Result<(), SaveError> {
        match why_read_only(&self.real, &self.about) {
            None => Ok(()),
            Some(why) => Err(SaveError::ReadOnly(why)),
        }
    }
}

/// Why the plan at `path` can be looked at only, or `None` if it can be saved (or does not exist yet).
pub fn read_only(path: &Path) -> Option<ReadOnly> {
    let real = paths::real_path(path).ok()?;
    why_read_only(&real, &real.metadata().ok()?)
}

fn why_read_only(real: &Path, about: &Metadata) -> Option<ReadOnly> {
    if about.mode() & 0o222 == 0 {
        return Some(ReadOnly::Mode);
    }
    match rustix::fs::access(real, rustix::fs::Access::WRITE_OK) {
        Ok(()) => None,
        Err(Errno::ROFS) => Some(ReadOnly::FileSystem),
        Err(_) => Some(ReadOnly::Denied),
    }
}

/// Removes what a killed save left beside `path`; to be called only while holding the plan's lock. Returns how many
/// files went.
pub fn remove_leftovers(path: &Path) -> usize {
    leftovers(path).iter().filter(|leftover| std::fs::remove_file(leftover).is_ok()).count()
}

/// What saves have beside `path` that did not end, or not yet.
pub fn leftovers(path: &Path) -> Vec<PathBuf> {
    let Ok(real) = paths::real_path(path) else {
        return Vec::new();
    };
    let start = neighbour_start(&real);
    let start = start.as_encoded_bytes();
    let is_leftover = |name: &[u8]| {
        name.strip_prefix(start)
            .and_then(|rest| rest.strip_suffix(NEIGHBOUR_END.as_bytes()))
            .is_some_and(|middle| middle.len() == RANDOM_LETTERS && middle.iter().all(u8::is_ascii_alphanumeric))
    };
    let entries = paths::folder_of(&real).read_dir().into_iter().flatten().flatten();
    entries.filter(|entry| is_leftover(entry.file_name().as_encoded_bytes())).map(|entry| entry.path()).collect()
}

/// A synced file beside `real` that holds `bytes` and looks like the old one from outside.
fn write_neighbour(
    real: &Path,
    bytes: &[u8],
    old: Option<&Metadata>,
    warnings: &mut Vec<Warning>,
) -> Result<NamedTempFile, SaveError> {
    // A new plan gets what the person's umask leaves; a copy of an old one stays private until it is dressed.
    let mode = if old.is_some() { 0o600 } else { 0o666 };
    let mut file = tempfile::Builder::new()
        .prefix(&neighbour_start(real))
        .suffix(NEIGHBOUR_END)
        .rand_bytes(RANDOM_LETTERS)
        .permissions(Permissions::from_mode(mode))
        .tempfile_in(paths::folder_of(real))
        .map_err(|error| match (old, error.kind()) {
            (Some(_), io::ErrorKind::PermissionDenied | io::ErrorKind::ReadOnlyFilesystem) => {
                SaveError::NeedsInPlace(InPlace::Folder)
            }
            _ => failed("making a file beside it")(error),
        })?;
    file.write_all(bytes).map_err(failed("writing"))?;
    if let Some(old) = old {
        attributes::copy(real, old, file.as_file(), warnings).map_err(failed("setting the mode"))?;
    }
    // After a failed sync the system may drop the pages and answer the next sync with success: never try again.
    file.as_file().sync_all().map_err(failed("syncing"))?;
    Ok(file)
}

/// Gives the neighbour the plan's name.
fn put(neighbour: NamedTempFile, real: &Path, replace: bool) -> Result<File, SaveError> {
    let put = if replace { neighbour.persist(real) } else { neighbour.persist_noclobber(real) };
    put.map_err(|refused| match refused.error.kind() {
        io::ErrorKind::ResourceBusy => SaveError::NeedsInPlace(InPlace::MountPoint),
        io::ErrorKind::AlreadyExists => SaveError::Exists,
        _ => failed("renaming")(refused.error),
    })
}

fn neighbour_start(real: &Path) -> std::ffi::OsString {
    paths::beside(real, ".", RANDOM_LETTERS + NEIGHBOUR_END.len())
}

/// Makes renames in `folder` last; file systems that cannot say so are taken at their word.
pub(super) fn sync_folder(folder: &Path) -> io::Result<()> {
    match File::open(folder)?.sync_all() {
        Err(error)
            if [Errno::INVAL, Errno::NOTSUP].iter().any(|errno| error.raw_os_error() == Some(errno.raw_os_error())) =>
        {
            Ok(())
        }
        synced => synced,
    }
}

pub(super) fn failed(doing: &'static str) -> impl FnOnce(io::Error) -> SaveError {
    move |error| SaveError::Failed { doing, error }
}
