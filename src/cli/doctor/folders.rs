//! The program's own folders: own gear, journals, backups, and the room left for them.

use std::path::{Path, PathBuf};

use super::entry::{Entry, Found, Kind, Owners, size};
use super::line::Line;
use super::shell::command;
use crate::storage::document::{Waiting, waiting};
use crate::storage::journal;
use crate::storage::library::Library;
use crate::storage::{backup, paths};

/// What is known of the program's own folders.
#[derive(Clone, Debug)]
pub struct Folders {
    /// Own gear and hulls; `None` where there is no home.
    pub data: Option<Found>,
    /// Own gear and hulls that cannot be used, and why.
    pub data_troubles: Vec<String>,
    /// Journals and backups; `None` where there is no home.
    pub state: Option<Found>,
    /// Whether a folder of state that is missing can be made.
    pub state_can_be_made: bool,
    /// Journals with edits that are in no file.
    pub waiting: Vec<Waiting>,
    /// Backups, and their bytes.
    pub backups: (usize, u64),
    /// Bytes that are free where the state is.
    pub free: Option<u64>,
}

impl Folders {
    /// Looks at the folders; makes none.
    pub fn gather(folders: &paths::Folders, owners: &Owners) -> Self {
        let state = folders.state_place();
        Self {
            data: folders.data().map(|place| Found::at(&followed(place), owners)),
            data_troubles: Library::read(folders.data()).troubles,
            state: state.map(|place| Found::at(&followed(place), owners)),
            state_can_be_made: state.is_some_and(|place| paths::writable(there(place))),
            waiting: state.map(waiting).unwrap_or_default(),
            backups: state.map(backup::all).unwrap_or_default(),
            free: state.and_then(|place| free(there(place))),
        }
    }

    /// One line for each thing looked at. A review keeps no journal and no backup: of it, own gear alone.
    pub fn lines(&self, review: bool) -> Vec<Line> {
        let mut lines = vec![self.data()];
        lines.extend(
            self.data_troubles
                .iter()
                .map(|trouble| Line::caution("data.file", trouble.as_str(), "it is left out until it is put right")),
        );
        if review {
            return lines;
        }
        lines.push(self.state());
        if self.state.as_ref().is_some_and(|state| state.entry().is_some()) {
            lines.extend(self.waiting.iter().map(unsaved));
            let (count, bytes) = self.backups;
            lines.push(Line::good("backups", format!("backups: {count}, {}", size(bytes))));
        }
        lines.extend(self.free.map(|free| space("space.state", "where journals are", free, journal::LARGEST_BYTES)));
        lines
    }

    fn data(&self) -> Line {
        match &self.data {
            None => Line::note("data", "no place for own gear: neither HOME nor XDG_DATA_HOME is set", "set HOME"),
            Some(Found::Missing(path)) => Line::good("data", format!("no own gear: {} is not there", shown(path))),
            Some(Found::Refused(path, why)) => {
                Line::caution("data", format!("{}: {why}", shown(path)), "own gear is left out")
            }
            Some(Found::There(folder)) if !(folder.may.read && folder.may.pass) => {
                Line::caution("data", format!("{} cannot be read", shown(&folder.path)), "own gear is left out")
            }
            Some(Found::There(folder)) => Line::good("data", format!("own gear: {}", shown(&folder.path))),
        }
    }

    fn state(&self) -> Line {
        let lost = "without it what is not saved is lost in a crash";
        match &self.state {
            None => Line::stop("state", "no place for journals: neither HOME nor XDG_STATE_HOME is set", "set HOME"),
            Some(Found::Missing(path)) if self.state_can_be_made => {
                Line::good("state", format!("{} is made when it is needed", shown(path)))
            }
            Some(Found::Missing(path)) => {
                Line::stop("state", format!("{} is missing and cannot be made", shown(path)), lost)
                    .by([command("mkdir -p -m 700", path)])
            }
            Some(Found::Refused(path, why)) => Line::stop("state", format!("{}: {why}", shown(path)), lost),
            Some(Found::There(folder)) => own(folder, lost),
        }
    }
}

/// The folder of state, which is nobody else's business.
fn own(folder: &Entry, lost: &str) -> Line {
    let (path, rights) = (shown(&folder.path), folder.rights());
    let private = command("chmod 700", &folder.path);
    if folder.kind != Kind::Folder {
        return Line::stop("state", format!("{path} is no folder"), lost);
    }
    if !folder.mine {
        return Line::caution(
            "state",
            format!("{path} is another's ({rights})"),
            "set XDG_STATE_HOME to a folder of yours",
        );
    }
    if !(folder.may.read && folder.may.write && folder.may.pass) {
        return Line::stop("state", format!("{path} cannot be written to ({rights})"), lost).by([private]);
    }
    if folder.has(0o077) {
        let found = format!("{path} is open to others ({rights})");
        return Line::caution("state", found, "plans and edits are in it; close it").by([private]);
    }
    Line::good("state", format!("journals and backups: {path} ({rights})"))
}

fn unsaved(waiting: &Waiting) -> Line {
    let journal = shown(&waiting.journal);
    match &waiting.edits {
        Ok(edits) => {
            let edits = if *edits == 1 { "1 edit".into() } else { format!("{edits} edits") };
            let found = format!("{edits} of {} not in its file", waiting.plan);
            Line::note("journal", found, "it is being edited, or open it and take them back")
        }
        Err(why) => Line::caution("journal", format!("{journal}: {why}"), "it stays until its plan is opened"),
    }
}

/// Room for the largest file that is written there.
pub fn space(id: &'static str, place: &str, free: u64, needed: u64) -> Line {
    let found = format!("{} free {place}", size(free));
    match free {
        0 => Line::stop(id, found, "nothing can be saved; make room"),
        _ if free < needed => {
            let found = format!("{found}, less than the largest file of {}", size(needed));
            Line::caution(id, found, "make room before it is needed")
        }
        _ => Line::good(id, found),
    }
}

/// Bytes that this account may still write where `path` is.
pub fn free(path: &Path) -> Option<u64> {
    let about = rustix::fs::statvfs(path).ok()?;
    Some(about.f_bavail.saturating_mul(about.f_frsize))
}

/// The path of what is there, its links followed; as it is where nothing is.
fn followed(path: &Path) -> PathBuf {
    path.canonicalize().unwrap_or_else(|_| path.to_path_buf())
}

/// The folder on the way to `path` that is there already.
fn there(path: &Path) -> &Path {
    path.ancestors().find(|folder| folder.is_dir()).unwrap_or(path)
}

fn shown(path: &Path) -> String {
    paths::shown(path)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a review has its folders")]
mod tests {
    use super::super::test_facts::review;
    use super::*;

    fn check(id: &str, change: fn(&mut Folders), word: &str) {
        let mut folders = review().folders;
        change(&mut folders);
        let line = folders.lines(false).into_iter().find(|line| line.id == id);
        assert_eq!(line.map_or("", |line| line.word()), word, "{id}");
    }

    /// The folder of state after a change to it.
    fn with(folders: &mut Folders, change: fn(&mut Entry)) {
        let mut entry = folders.state.as_ref().unwrap().entry().unwrap().clone();
        change(&mut entry);
        folders.state = Some(Found::There(entry));
    }

    #[test]
    fn the_folder_of_state_is_ones_own_and_closed() {
        check("state", |_| {}, "good");
        check("state", |folders| folders.state = None, "stop");
        check("state", |folders| with(folders, |state| state.mode = 0o750), "caution");
        check("state", |folders| with(folders, |state| state.mode = 0o701), "caution");
        check("state", |folders| with(folders, |state| state.mine = false), "caution");
        check("state", |folders| with(folders, |state| state.may.write = false), "stop");
        check("state", |folders| with(folders, |state| state.kind = Kind::File), "stop");
        let missing = |folders: &mut Folders| folders.state = Some(Found::Missing("/h/.local/state/gunnel".into()));
        check("state", missing, "good");
        let barred = |folders: &mut Folders| {
            folders.state = Some(Found::Missing("/proc/gunnel".into()));
            folders.state_can_be_made = false;
        };
        check("state", barred, "stop");
    }

    #[test]
    fn what_waits_in_journals_and_the_room_for_them_is_told() {
        let waits = |edits| vec![Waiting { journal: "/s/x.journal".into(), plan: "boat.ron".into(), edits }];
        assert_eq!(unsaved(&waits(Ok(2))[0]).found, "2 edits of boat.ron not in its file");
        assert_eq!(unsaved(&waits(Ok(1))[0]).found, "1 edit of boat.ron not in its file");
        assert_eq!(unsaved(&waits(Err("broken".into()))[0]).word(), "caution");
        // 32 MiB, the largest journal.
        check("space.state", |folders| folders.free = Some(33_554_432), "good");
        check("space.state", |folders| folders.free = Some(33_554_431), "caution");
        check("space.state", |folders| folders.free = Some(0), "stop");
        assert_eq!(review().folders.lines(true).len(), 1, "a review writes no journal");
    }
}
