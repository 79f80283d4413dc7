//! Changes made by others: one message for each event that concerns the plan's name or what is said about it.
//!
//! The folder is watched, not the file, because a save replaces the file. A message says only "look again": writes in
//! place come as several events, and what stands there first may be half a file.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::sync::mpsc::Sender;

use notify::event::{AccessKind, AccessMode, EventKind};
use notify::{Event, RecommendedWatcher, RecursiveMode, Watcher};

use super::comments::Comments;
use super::paths;

/// Watches one plan until dropped.
#[derive(Debug)]
pub struct Watch {
    _watcher: RecommendedWatcher,
}

impl Watch {
    /// Sends `message()` whenever the plan at `path` may have changed. An error means only that changes by others
    /// are seen at the next save instead.
    pub fn start<M: Send + 'static>(path: &Path, sender: Sender<M>, message: fn() -> M) -> Result<Self, notify::Error> {
        let names = Names::of(path)?;
        let folders = names.folders();
        let mut watcher = notify::recommended_watcher(move |event: notify::Result<Event>| {
            let concerned = event.map_or(true, |event| names.concerned(&event));
            if concerned {
                // Nobody listens any more once the program ends.
                let _ = sender.send(message());
            }
        })?;
        for folder in folders {
            watcher.watch(&folder, RecursiveMode::NonRecursive)?;
        }
        Ok(Self { _watcher: watcher })
    }
}

/// The names a plan goes by: the one it was asked for, and the one its links lead to.
struct Names {
    names: Vec<(PathBuf, OsString)>,
    /// The folder of what is said about the plan, and whether it is there.
    comments: PathBuf,
}

impl Names {
    fn of(path: &Path) -> Result<Self, notify::Error> {
        let real = paths::real_path(path).map_err(notify::Error::io)?;
        let folder = paths::folder_of(path).canonicalize().map_err(notify::Error::io)?;
        let mut names = vec![
            (folder.clone(), path.file_name().unwrap_or_default().to_os_string()),
            (paths::folder_of(&real).to_path_buf(), real.file_name().unwrap_or_default().to_os_string()),
        ];
        // Whoever edits the plan opens a link beside it.
        names.push((paths::folder_of(&real).to_path_buf(), paths::beside(&real, ".live", 0)));
        names.dedup();
        let comments = Comments::beside(&folder.join(path.file_name().unwrap_or_default())).folder().to_path_buf();
        Ok(Self { names, comments })
    }

    fn folders(&self) -> Vec<PathBuf> {
        let mut folders: Vec<PathBuf> = self.names.iter().map(|(folder, _)| folder.clone()).collect();
        folders.dedup();
        if self.comments.is_dir() {
            folders.push(self.comments.clone());
        }
        folders
    }

    /// Whether an event can mean other bytes under one of the names, or that events were lost.
    fn concerned(&self, event: &Event) -> bool {
        let changes = match event.kind {
            EventKind::Access(kind) => kind == AccessKind::Close(AccessMode::Write),
            _ => true,
        };
        let ours = |path: &PathBuf| {
            path.starts_with(&self.comments)
                || self.names.iter().any(|(folder, name)| {
                    path == folder || (path.file_name() == Some(name) && path.parent() == Some(folder))
                })
        };
        event.need_rescan() || (changes && event.paths.iter().any(ours))
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::storage::scratch::Scratch;
    use std::fs;
    use std::os::unix::fs::symlink;
    use std::sync::mpsc::{Receiver, channel};
    use std::time::Duration;

    const PATIENCE: Duration = Duration::from_secs(20);

    /// Waits for one message and for those that come with it.
    fn told(receiver: &Receiver<()>) -> bool {
        let told = receiver.recv_timeout(PATIENCE).is_ok();
        while receiver.recv_timeout(Duration::from_millis(50)).is_ok() {}
        told
    }

    #[test]
    fn it_survives_being_replaced_again_and_again_and_minds_its_own_file() {
        let scratch = Scratch::new();
        let plan = scratch.file("boat.ron", "0");
        let (sender, receiver) = channel();
        let _watch = Watch::start(&plan, sender, || ()).unwrap();
        for round in 0..3 {
            let new = scratch.file("new", round.to_string());
            scratch.file("other.ron", "not ours");
            fs::rename(new, &plan).unwrap();
            assert!(told(&receiver), "round {round}");
        }
        fs::write(&plan, "in place").unwrap();
        assert!(told(&receiver));
        fs::read(&plan).unwrap();
        scratch.file("other.ron", "still not ours");
        fs::remove_file(&plan).unwrap();
        assert!(told(&receiver));
        scratch.file("other.ron", "and still not");
        fs::read(scratch.path("other.ron")).unwrap();
        assert!(receiver.recv_timeout(Duration::from_millis(200)).is_err());
    }

    #[test]
    fn a_plan_behind_a_link_is_watched_where_it_is() {
        let scratch = Scratch::new();
        fs::create_dir(scratch.path("deep")).unwrap();
        let plan = scratch.file("deep/boat.ron", "0");
        let link = scratch.path("link.ron");
        symlink(&plan, &link).unwrap();
        let (sender, receiver) = channel();
        let _watch = Watch::start(&link, sender, || ()).unwrap();
        fs::rename(scratch.file("deep/new", "1"), &plan).unwrap();
        assert!(told(&receiver));
    }

    #[test]
    fn a_folder_that_is_not_there_is_an_error_and_nothing_worse() {
        let (sender, _receiver) = channel();
        assert!(Watch::start(Path::new("/no/such/folder/boat.ron"), sender, || ()).is_err());
    }
}
