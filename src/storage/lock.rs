//! One editor at a time: a lock on a small file beside the plan.
//!
//! Not on the plan itself, whose file a save replaces. The system's lock decides and ends with its process, however
//! that dies; what the file says is only for the message. A plan in a folder that cannot be written to is locked in
//! the state folder, which keeps out the same person on the same machine; against others stands the comparison that
//! every save makes.

use std::fmt;
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Seek, Write};
use std::os::unix::fs::{MetadataExt, OpenOptionsExt};
use std::path::{Path, PathBuf};

use rustix::fs::OFlags;

use super::holder::Holder;
use super::{paths, source};

/// How often another process may remove the file between opening and locking it before this is given up.
const ATTEMPTS: usize = 100;
/// More than any holder's words, in bytes.
const MOST_WORDS: u64 = 4096;

/// The right to edit a plan, until dropped.
#[derive(Debug)]
pub struct Lock {
    path: PathBuf,
    file: File,
}

impl Lock {
    /// Takes the lock of the plan at `path` for `me`, without waiting.
    pub fn take(path: &Path, state: Option<&Path>, me: &Holder) -> Result<Self, LockError> {
        let path = place(path, state)?;
        for _ in 0..ATTEMPTS {
            let mut file = open(&path).map_err(LockError::System)?;
            if let Some(kind) = source::not_a_file(&file.metadata().map_err(LockError::System)?) {
                let says = format!("{} is {kind}", paths::shown(&path));
                return Err(LockError::System(io::Error::other(says)));
            }
            match file.try_lock() {
                Ok(()) => {}
                Err(TryLockError::WouldBlock) => {
                    let words = source::read_up_to(&mut file, MOST_WORDS).unwrap_or_default();
                    return Err(LockError::Held { by: Holder::from_bytes(&words) });
                }
                Err(TryLockError::Error(error)) => return Err(LockError::System(error)),
            }
            // Whoever held it before may have removed the name after we opened the file: then we locked a file
            // that nobody else will ever see.
            if is_at(&file, &path) {
                write_words(&mut file, me);
                return Ok(Self { path, file });
            }
        }
        Err(LockError::System(io::ErrorKind::ResourceBusy.into()))
    }

    /// The file that is locked.
    pub fn path(&self) -> &Path {
        &self.path
    }
}

impl Drop for Lock {
    fn drop(&mut self) {
        // The name goes first and the lock after it, so nobody can lock the file while it is being removed. If
        // somebody removed the file by hand, the one at the path now is another's.
        if is_at(&self.file, &self.path) {
            let _ = fs::remove_file(&self.path);
        }
    }
}

/// How the lock of a plan stands, for whoever only asks.
#[derive(Debug)]
pub enum Standing {
    /// Nobody edits the plan.
    Free,
    /// Nobody either, and this file lies in the lock's place: left by a program that was killed, or put there. The next
    /// to open the plan takes it over.
    Left(PathBuf),
    /// Somebody edits it.
    Held {
        /// Who, if they said so.
        by: Option<Holder>,
    },
    /// What is no file lies in the lock's place, and nobody can take it.
    Barred(PathBuf),
    /// The system does not say.
    Unknown(PathBuf, io::Error),
}

/// How the lock of the plan at `path` stands. Nothing is written; the lock is held for a moment where it is free and a
/// file of it lies about.
pub fn standing(path: &Path, state: Option<&Path>) -> Standing {
    let Ok(real) = paths::real_path(path) else { return Standing::Free };
    let beside = paths::folder_of(&real).join(paths::beside(&real, ".lock", 0));
    // Whoever may write beside the plan locks there, the others at home.
    let at_home = state.map(|state| state.join(format!("{}.lock", paths::key_of(&real))));
    let there = [Some(beside), at_home].into_iter().flatten().find(|path| path.symlink_metadata().is_ok());
    let Some(path) = there else { return Standing::Free };
    let flags = (OFlags::NOFOLLOW | OFlags::NONBLOCK).bits().cast_signed();
    let opened = OpenOptions::new().read(true).custom_flags(flags).open(&path);
    let mut file = match opened {
        Ok(file) if file.metadata().is_ok_and(|about| about.is_file()) => file,
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied => return Standing::Unknown(path, error),
        _ => return Standing::Barred(path),
    };
    match file.try_lock_shared() {
        Ok(()) => Standing::Left(path),
        Err(TryLockError::WouldBlock) => {
            let words = source::read_up_to(&mut file, MOST_WORDS).unwrap_or_default();
            Standing::Held { by: Holder::from_bytes(&words) }
        }
        Err(TryLockError::Error(error)) => Standing::Unknown(path, error),
    }
}

/// The file to lock for the plan at `path`.
fn place(path: &Path, state: Option<&Path>) -> Result<PathBuf, LockError> {
    let real = paths::real_path(path).map_err(LockError::System)?;
    let folder = paths::folder_of(&real);
    if paths::writable(folder) {
        return Ok(folder.join(paths::beside(&real, ".lock", 0)));
    }
    match state {
        Some(state) => Ok(state.join(format!("{}.lock", paths::key_of(&real)))),
        None => Err(LockError::NoPlace),
    }
}

/// Opens the file, making it where it is missing; another person's file can only be read, which is enough to lock.
fn open(path: &Path) -> io::Result<File> {
    let flags = OFlags::NOFOLLOW | OFlags::NONBLOCK;
    let mut options = OpenOptions::new();
    options.read(true).custom_flags(flags.bits().cast_signed());
    match options.clone().write(true).create(true).truncate(false).mode(0o644).open(path) {
        Err(error) if error.kind() == io::ErrorKind::PermissionDenied => options.open(path),
        opened => opened,
    }
}

fn is_at(file: &File, path: &Path) -> bool {
    match (file.metadata(), path.symlink_metadata()) {
        (Ok(held), Ok(named)) => (held.dev(), held.ino()) == (named.dev(), named.ino()),
        _ => false,
    }
}

/// The words are a courtesy: the lock holds without them.
fn write_words(file: &mut File, me: &Holder) {
    let _ = file.set_len(0).and_then(|()| file.rewind()).and_then(|()| file.write_all(&me.to_bytes()));
}

/// Why a plan cannot be locked. All of them leave it open for looking at.
#[derive(Debug)]
pub enum LockError {
    /// Another program edits it.
    Held {
        /// Who, if they said so.
        by: Option<Holder>,
    },
    /// Neither the plan's folder nor a state folder can be written to.
    NoPlace,
    /// The system refused.
    System(io::Error),
}

impl fmt::Display for LockError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Held { by: Some(by) } => {
                write!(f, "{by} is editing this plan; it is shown read-only")
            }
            Self::Held { by: None } => {
                write!(f, "somebody is editing this plan; it is shown read-only")
            }
            Self::NoPlace => write!(f, "no folder for the plan's lock; do not edit it twice at a time"),
            Self::System(error) => {
                write!(f, "the plan cannot be locked ({error}); do not edit it twice at a time")
            }
        }
    }
}

impl std::error::Error for LockError {}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::storage::paths::Env;
    use crate::storage::scratch::Scratch;
    use std::os::unix::fs::symlink;

    fn me() -> Holder {
        Holder::this_process(&Env::of([("USER", "kim")]), 7)
    }

    fn take(path: &Path) -> Result<Lock, LockError> {
        Lock::take(path, None, &me())
    }

    #[test]
    fn the_second_is_told_who_was_first_and_dropping_leaves_nothing() {
        let scratch = Scratch::new();
        let plan = scratch.file("boat.ron", "");
        let link = scratch.path("link.ron");
        symlink(&plan, &link).unwrap();
        let lock = take(&plan).unwrap();
        let says = take(&link).unwrap_err().to_string();
        assert!(says.starts_with("kim on "), "{says}");
        drop(lock);
        assert_eq!(scratch.names(), ["boat.ron", "link.ron"]);
        assert!(take(&link).is_ok());
    }

    #[test]
    fn a_file_left_by_the_dead_or_forged_does_not_hold() {
        for words in ["", "\0\0\0", "{\"user\":\"kim\",\"host\":\"x\",\"pid\":1,\"boot\":\"\",\"since_s\":0}"] {
            let scratch = Scratch::new();
            let plan = scratch.file("boat.ron", "");
            let left = scratch.file(".boat.ron.lock", words);
            let lock = take(&plan).unwrap();
            assert_eq!(fs::read(&left).unwrap(), me().to_bytes());
            drop(lock);
            assert!(!left.exists());
        }
    }

    #[test]
    fn a_link_or_folder_in_its_place_is_not_followed() {
        let scratch = Scratch::new();
        let plan = scratch.file("boat.ron", "");
        let precious = scratch.file("precious", "keep me");
        symlink(&precious, scratch.path(".boat.ron.lock")).unwrap();
        assert!(matches!(take(&plan), Err(LockError::System(_))));
        assert_eq!(fs::read_to_string(&precious).unwrap(), "keep me");
        fs::remove_file(scratch.path(".boat.ron.lock")).unwrap();
        fs::create_dir(scratch.path(".boat.ron.lock")).unwrap();
        assert!(matches!(take(&plan), Err(LockError::System(_))));
    }

    #[test]
    fn how_it_stands_is_told_without_taking_it() {
        let scratch = Scratch::new();
        let plan = scratch.file("boat.ron", "");
        assert!(matches!(standing(&plan, None), Standing::Free));
        let lock = take(&plan).unwrap();
        assert!(matches!(standing(&plan, None), Standing::Held { by: Some(by) } if by == me()));
        drop(lock);
        assert!(matches!(standing(&plan, None), Standing::Free));
        scratch.file(".boat.ron.lock", "{}");
        assert!(matches!(standing(&plan, None), Standing::Left(_)));
        assert!(take(&plan).is_ok(), "asking leaves it free");
        symlink(&plan, scratch.path(".boat.ron.lock")).unwrap();
        assert!(matches!(standing(&plan, None), Standing::Barred(_)));
    }

    #[test]
    fn a_lock_removed_by_hand_does_not_take_the_next_one_along() {
        let scratch = Scratch::new();
        let plan = scratch.file("boat.ron", "");
        let first = take(&plan).unwrap();
        fs::remove_file(first.path()).unwrap();
        let second = take(&plan).unwrap();
        drop(first);
        assert!(second.path().exists());
        assert!(matches!(take(&plan), Err(LockError::Held { .. })));
    }

    #[test]
    fn never_two_at_once_however_they_come_and_go() {
        use std::sync::atomic::{AtomicUsize, Ordering};
        let scratch = Scratch::new();
        let plan = scratch.file("boat.ron", "");
        let inside = AtomicUsize::new(0);
        let taken = AtomicUsize::new(0);
        std::thread::scope(|scope| {
            for _ in 0..4 {
                scope.spawn(|| {
                    for _ in 0..500 {
                        if let Ok(lock) = take(&plan) {
                            assert_eq!(inside.fetch_add(1, Ordering::SeqCst), 0);
                            taken.fetch_add(1, Ordering::SeqCst);
                            inside.fetch_sub(1, Ordering::SeqCst);
                            drop(lock);
                        }
                    }
                });
            }
        });
        assert!(taken.into_inner() > 0);
    }
}
