//! What is said about a plan: a folder beside it with one file an author, which only grows.
//!
//! A line is one [`Entry`] as JSON. An entry is added in one write at the end of its author's file, under a lock, so
//! that nobody's words meet in the middle; what a crash tore off is the last line alone. Whatever else is in the folder,
//! or was put there to hurt, is passed over and said to be there.

use std::collections::BTreeMap;
use std::fmt;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Read, Write};
use std::os::unix::fs::OpenOptionsExt;
use std::path::{Path, PathBuf};

use rustix::fs::{FlockOperation, OFlags};
use serde::Deserialize;

use super::paths;
use crate::plan::{Key, Note};
use crate::review::entries::{Deed, Entry, VERSION};
use crate::shown::Shown;

/// The largest file of one author, in bytes: some forty sign-offs and some thousand comments.
pub const LARGEST_BYTES: u64 = 8 * 1024 * 1024;
/// The most authors that are read.
pub const MOST_AUTHORS: usize = 64;
/// The most threads an author may have opened that are not resolved.
pub const MOST_OPEN: usize = 500;
/// Least time between two entries of an author, seconds: nobody reads faster than that, and no key that is held down
/// fills a disk.
pub const LEAST_BETWEEN_S: u64 = 1;
/// What the names of the files end in.
const ENDING: &str = "lines";

/// The folder of comments beside a plan.
#[derive(Clone, Debug)]
pub struct Comments {
    folder: PathBuf,
}

/// What is in the folder.
#[derive(Clone, Debug, Default)]
pub struct Heard {
    /// The entries of each author, in their order.
    pub authors: BTreeMap<Key, Vec<Entry>>,
    /// What was passed over, and why; safe to show.
    pub troubles: Vec<String>,
}

/// Why an entry was not added.
#[derive(Debug)]
pub enum CommentError {
    /// The author wrote one a moment ago.
    TooSoon,
    /// The author's file is as large as it may be.
    Full,
    /// The author has as many open threads as one may have.
    TooManyOpen,
    /// It is more than an entry may hold.
    TooMuch,
    /// The system says no.
    System(PathBuf, io::Error),
}

impl fmt::Display for CommentError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooSoon => write!(f, "one after the other: wait a second"),
            Self::Full => write!(f, "your file of comments is full; ask the owner to put it away"),
            Self::TooManyOpen => write!(f, "{MOST_OPEN} of your threads are open; resolve some first"),
            Self::TooMuch => write!(f, "that is more than one entry holds"),
            Self::System(path, error) => write!(f, "{}: {error}", paths::shown(path)),
        }
    }
}

impl std::error::Error for CommentError {}

impl Comments {
    /// The folder beside the plan at `path`, whether it is there or not.
    pub fn beside(path: &Path) -> Self {
        let mut name = path.file_name().unwrap_or_default().to_os_string();
        name.push(".comments");
        Self { folder: path.with_file_name(name) }
    }

    /// Where it is.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The file of one author, whether it is there or not.
    pub fn file_of(&self, author: &Key) -> PathBuf {
        self.folder.join(format!("{author}.{ENDING}"))
    }

    /// The files that are named as those of authors are, by name. A folder that is not there holds none.
    pub fn files(&self) -> io::Result<Vec<PathBuf>> {
        let entries = match fs::read_dir(&self.folder) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
            entries => entries?,
        };
        let named = |path: &PathBuf| path.extension().is_some_and(|ending| ending == ENDING);
        let mut files: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).filter(named).collect();
        files.sort();
        Ok(files)
    }

    /// Everything that was said. A folder that is not there holds nothing.
    pub fn read(&self) -> Heard {
        let mut heard = Heard::default();
        let files = self.files().unwrap_or_else(|error| {
            heard.troubles.push(format!("{}: {error}", paths::shown(&self.folder)));
            Vec::new()
        });
        for file in files {
            let Some(author) = file.file_stem().and_then(|stem| Key::new(stem.to_string_lossy()).ok()) else {
                heard.troubles.push(format!("{}: no name for an author", paths::shown(&file)));
                continue;
            };
            if heard.authors.len() >= MOST_AUTHORS {
                heard.troubles.push(format!("more than {MOST_AUTHORS} authors; the rest is not read"));
                break;
            }
            match text(&file) {
                Ok(text) => {
                    let (entries, troubles) = entries_of(&text);
                    let named = |trouble| format!("{author}: {trouble}");
                    heard.troubles.extend(troubles.into_iter().map(named));
                    heard.authors.insert(author, entries);
                }
                Err(error) => heard.troubles.push(format!("{}: {error}", paths::shown(&file))),
            }
        }
        heard
    }

    /// Adds what an author did at the end of the author's file, which is made if it is missing. The entry as it was
    /// written.
    pub fn add(&self, author: &Key, does: Deed, now_s: u64) -> Result<Entry, CommentError> {
        let path = self.file_of(author);
        let system = |error| CommentError::System(path.clone(), error);
        match fs::create_dir(&self.folder) {
            // Another hand may have been quicker.
            Err(error) if error.kind() != io::ErrorKind::AlreadyExists => {
                return Err(CommentError::System(self.folder.clone(), error));
            }
            _ => {}
        }
        let mut file = own_file(&path).map_err(system)?;
        rustix::fs::flock(&file, FlockOperation::LockExclusive).map_err(|error| system(error.into()))?;
        let mut before = String::new();
        (&mut file).take(LARGEST_BYTES + 1).read_to_string(&mut before).map_err(system)?;
        let (entries, _) = entries_of(&before);
        let entry = next(&entries, does, now_s)?;
        // What would be passed over when it is read must not be written as if it were said.
        if !is_sound(&entry) {
            return Err(CommentError::TooMuch);
        }
        let mut line = String::new();
        // What a crash tore off stays a line of its own.
        if !before.is_empty() && !before.ends_with('\n') {
            line.push('\n');
        }
        line.push_str(&serde_json::to_string(&entry).map_err(|error| system(error.into()))?);
        line.push('\n');
        if (before.len() + line.len()) as u64 > LARGEST_BYTES {
            return Err(CommentError::Full);
        }
        file.write_all(line.as_bytes()).and_then(|()| file.sync_data()).map_err(system)?;
        Ok(entry)
    }
}

/// The entry that comes after these, or why none may.
fn next(entries: &[Entry], does: Deed, now_s: u64) -> Result<Entry, CommentError> {
    let opens = matches!(does, Deed::Comment { .. } | Deed::Suggest { .. });
    if let Some(last) = entries.last() {
        // A clock that was set back must not silence anybody: only a time shortly after counts.
        if last.at_s <= now_s && now_s - last.at_s < LEAST_BETWEEN_S {
            return Err(CommentError::TooSoon);
        }
    }
    if opens && open_threads(entries) >= MOST_OPEN {
        return Err(CommentError::TooManyOpen);
    }
    let id = entries.iter().map(|entry| entry.id).max().unwrap_or(0).saturating_add(1);
    Ok(Entry { v: VERSION, id, at_s: now_s, does })
}

/// How many threads an author has opened less those the author resolved.
fn open_threads(entries: &[Entry]) -> usize {
    let count = |of: fn(&Deed) -> bool| entries.iter().filter(|entry| of(&entry.does)).count();
    let opened = count(|does| matches!(does, Deed::Comment { .. } | Deed::Suggest { .. }));
    opened.saturating_sub(count(|does| matches!(does, Deed::Resolve { .. })))
}

/// The author's file, to read and to add to: an ordinary file, never what a link leads to.
fn own_file(path: &Path) -> io::Result<File> {
    let flags = (OFlags::NOFOLLOW | OFlags::NONBLOCK).bits().cast_signed();
    let file = OpenOptions::new().read(true).append(true).create(true).mode(0o640).custom_flags(flags).open(path)?;
    if file.metadata()?.is_file() { Ok(file) } else { Err(io::Error::other("not an ordinary file")) }
}

/// The text of an author's file; what is no UTF-8 is replaced, the lines around it stay whole.
fn text(path: &Path) -> io::Result<String> {
    let flags = (OFlags::NOFOLLOW | OFlags::NONBLOCK).bits().cast_signed();
    let file = OpenOptions::new().read(true).custom_flags(flags).open(path)?;
    let about = file.metadata()?;
    if !about.is_file() {
        return Err(io::Error::other("not an ordinary file"));
    }
    let mut bytes = Vec::new();
    file.take(LARGEST_BYTES).read_to_end(&mut bytes)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

/// The version alone, whatever else a line holds.
#[derive(Deserialize)]
struct Version {
    v: u32,
}

/// The entries of a file and what was passed over.
fn entries_of(text: &str) -> (Vec<Entry>, Vec<String>) {
    let mut entries: Vec<Entry> = Vec::new();
    let (mut newer, mut broken, mut again) = (0, 0, 0);
    for line in text.split('\n').filter(|line| !line.trim().is_empty()) {
        match serde_json::from_str::<Entry>(line) {
            Ok(entry) if entry.v == VERSION && is_sound(&entry) => {
                if entries.last().is_some_and(|last| last.id >= entry.id) {
                    again += 1;
                } else {
                    entries.push(entry);
                }
            }
            _ if serde_json::from_str::<Version>(line).is_ok_and(|version| version.v > VERSION) => newer += 1,
            _ => broken += 1,
        }
    }
    let told = |count: usize, what: &str| (count > 0).then(|| format!("{count} {what}"));
    let troubles = [
        told(newer, "entries are of a newer gunnel and not shown"),
        told(broken, "lines are no entries and not shown"),
        told(again, "entries have a number that was used before and are not shown"),
    ];
    (entries, troubles.into_iter().flatten().collect())
}

/// Whether an entry is within what the program itself would write. Texts are checked as they are read.
fn is_sound(entry: &Entry) -> bool {
    const MOST_EDITS: usize = 1000;
    match &entry.does {
        Deed::Suggest { edits, .. } => (1..=MOST_EDITS).contains(&edits.len()),
        Deed::SignOff { plan, .. } => plan.validate().is_ok(),
        _ => true,
    }
}

/// What a person typed as a comment, or why it is none.
pub fn note(typed: &str) -> Result<Note, String> {
    let text = typed.trim();
    if text.is_empty() {
        return Err("there is nothing in it".into());
    }
    Note::new(text).map_err(|fault| format!("{}", Shown(&fault.to_string())))
}
