//! Why a plan was not saved, or what the save could not keep, in words that say what to do next.

use std::fmt;
use std::io;
use std::path::PathBuf;

use super::paths;
use super::source::ReadError;

/// Why nothing was saved. Unless it says otherwise the file is what it was.
#[derive(Debug)]
pub enum SaveError {
    /// The bytes on disk are not those that were loaded.
    Changed,
    /// The file that was loaded is not there any more.
    Gone,
    /// A new plan was to be made, and the name is taken.
    Exists,
    /// The file is not to be written.
    ReadOnly(ReadOnly),
    /// A rename would break something: ask once, then [`super::atomic::Saver::save_in_place`].
    NeedsInPlace(InPlace),
    /// The file on disk cannot be read for comparison.
    Unreadable(ReadError),
    /// A write in place has no folder for the image that guards it.
    NoImage(io::Error),
    /// A write in place went wrong and the old bytes could not be put back.
    Torn {
        /// Where the old bytes are.
        image: PathBuf,
        /// What went wrong.
        error: io::Error,
    },
    /// The system refused.
    Failed {
        /// The step, as in "while writing".
        doing: &'static str,
        /// The system's reason.
        error: io::Error,
    },
}

/// Why a plan can be looked at only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReadOnly {
    /// Its mode lets nobody write.
    Mode,
    /// This person may not write it.
    Denied,
    /// Its file system is mounted read-only.
    FileSystem,
}

/// Why a save has to write into the file itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InPlace {
    /// The file has this many names, and a rename would part them.
    HardLinks(u64),
    /// Another file system is mounted on the file.
    MountPoint,
    /// No file can be made in its folder.
    Folder,
}

/// What a save that worked could not keep.
#[derive(Debug)]
pub enum Warning {
    /// The old version was not kept.
    NoBackup(io::Error),
    /// The file belongs to whoever saved it now.
    Owner,
    /// The group could not be kept, so its permissions were dropped.
    Group,
    /// An access list or attribute could not be kept.
    Attribute(String),
    /// The new name may not outlast a power failure.
    FolderNotSynced(io::Error),
}

impl fmt::Display for SaveError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Changed => write!(
                f,
                "the file was changed by somebody else since it was read; compare, or save under another name"
            ),
            Self::Gone => write!(f, "the file is gone; save again to make it anew, or under another name"),
            Self::Exists => write!(f, "a file of this name is there already; choose another name"),
            Self::ReadOnly(why) => write!(f, "{why}; save under another name"),
            Self::NeedsInPlace(why) => write!(f, "{why}; the file has to be written in place"),
            Self::Unreadable(error) => write!(f, "{error}"),
            Self::NoImage(error) => write!(
                f,
                "no place for a copy of the old version, so it is not written over ({error}); save under another name"
            ),
            Self::Torn { image, error } => write!(
                f,
                "the file is damaged ({error}); its old version is {}, and the plan is still open here",
                paths::shown(image)
            ),
            Self::Failed { error, .. } if error.kind() == io::ErrorKind::StorageFull => {
                write!(f, "the disk is full; free some space and save again, or save elsewhere")
            }
            Self::Failed { doing, error } => {
                write!(f, "not saved, {doing} failed ({error}); save under another name")
            }
        }
    }
}

impl std::error::Error for SaveError {}

impl fmt::Display for ReadOnly {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Mode => "the file is marked read-only",
            Self::Denied => "you may not write this file",
            Self::FileSystem => "the file is on a read-only disk",
        })
    }
}

impl fmt::Display for InPlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::HardLinks(names) => write!(f, "the file has {names} names"),
            Self::MountPoint => write!(f, "the file is a mount point"),
            Self::Folder => write!(f, "no file can be made in its folder"),
        }
    }
}

impl fmt::Display for Warning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoBackup(error) => write!(f, "no backup of the old version was kept ({error})"),
            Self::Owner => write!(f, "the file belongs to you now; its owner could not be kept"),
            Self::Group => write!(f, "the file's group could not be kept; the group has no access now"),
            Self::Attribute(name) => write!(f, "the file's attribute {name} could not be kept"),
            Self::FolderNotSynced(error) => {
                write!(f, "saved, but a power failure now may bring the old version back ({error})")
            }
        }
    }
}
