//! The live link between programs that have one plan open on this machine: a socket beside the plan.
//!
//! Whoever edits the plan (and so holds its lock) is the host; partners who review it are guests. A line is one
//! [`Word`] as JSON. Whoever may read the plan may connect. Where there is no socket, nothing is lost: saved states and
//! comments are seen by watching the files.
//!
//! Nobody waits for anybody: each end keeps what is still to be told in an [`outbox`], where what is newer takes the
//! place of what is older, and a thread sends it ten times a second at the most. Nothing is sent while nothing happens.

mod guest;
mod host;
mod outbox;

use std::fs;
use std::io::{self, BufRead, BufReader, Read};
use std::os::unix::fs::PermissionsExt;
use std::os::unix::net::UnixStream;
use std::path::{Path, PathBuf};

pub use guest::Guest;
pub use host::Host;

use super::paths;
use crate::plan::Key;
use crate::review::company::Word;

/// What arrives at this end.
#[derive(Clone, Debug, PartialEq)]
pub enum Arrival {
    /// A guest came in (told to the host only).
    Joined(Key),
    /// A word.
    Word(Word),
    /// The host is gone without a word (told to guests only).
    Gone,
}

/// The socket of the plan at `path`, whether it is there or not.
pub fn place(path: &Path) -> io::Result<PathBuf> {
    let real = paths::real_path(path)?;
    Ok(paths::folder_of(&real).join(paths::beside(&real, ".live", 0)))
}

/// Who may connect to the socket of a plan of this mode: whoever may read the plan.
fn mode_for(plan: u32) -> u32 {
    // Connecting takes the right to write.
    let readers = plan & 0o444;
    0o600 | readers | (readers >> 1)
}

/// Gives the socket the mode and, where that is allowed, the group of the plan.
fn open_to_readers(socket: &Path, plan: &Path) -> io::Result<()> {
    use std::os::unix::fs::{MetadataExt, chown};
    let about = fs::metadata(plan)?;
    // Not in that group: then only those connect who may by the folder's own.
    let _ = chown(socket, None, Some(about.gid()));
    fs::set_permissions(socket, fs::Permissions::from_mode(mode_for(about.permissions().mode())))
}

/// Reads words to the end, and gives each that is sound to `take` until that says no. A line longer than `most` bytes,
/// or one that is no word, ends it.
fn read_words(stream: &UnixStream, most: u64, mut take: impl FnMut(Word) -> bool) {
    let mut lines = BufReader::new(stream);
    let mut line = Vec::new();
    loop {
        line.clear();
        match (&mut lines).take(most).read_until(b'\n', &mut line) {
            Ok(0) | Err(_) => return,
            Ok(_) if line.last() != Some(&b'\n') => return,
            Ok(_) => {}
        }
        let word = serde_json::from_slice::<Word>(&line).ok().filter(Word::is_sound);
        if !word.is_some_and(&mut take) {
            return;
        }
    }
}

#[cfg(test)]
#[path = "live/tests.rs"]
mod tests;
