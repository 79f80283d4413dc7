//! Old versions: three backups of each plan, and the image that stands guard while a file is written in place.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::{atomic, paths};

/// Backups of one plan.
const EACH: usize = 3;
/// Backups of all plans together.
const ALL: usize = 300;

/// Keeps `bytes` as the newest backup of the plan at `real`; the oldest of three goes. A version that is the newest
/// backup already is not kept twice.
pub(super) fn keep(state: &Path, real: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = state.join("backups");
    let folder = paths::ready(&folder).ok_or(io::ErrorKind::PermissionDenied)?;
    let key = paths::key_of(real);
    let name = |number: usize| folder.join(format!("{key}~{number}"));
    if fs::read(name(1)).is_ok_and(|newest| newest == bytes) {
        return Ok(());
    }
    for number in (1..EACH).rev() {
        match fs::rename(name(number), name(number + 1)) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => return Err(error),
            _ => {}
        }
    }
    write_synced(&name(1), bytes)?;
    prune(&folder, ALL);
    Ok(())
}

/// The backups of the plan at `path`, newest first.
pub fn list(state: &Path, path: &Path) -> Vec<PathBuf> {
    let Ok(real) = paths::real_path(path) else {
        return Vec::new();
    };
    let key = paths::key_of(&real);
    (1..=EACH)
        .map(|number| state.join("backups").join(format!("{key}~{number}")))
        .filter(|backup| backup.is_file())
        .collect()
}

/// How many backups there are of all plans together, and their bytes.
pub fn all(state: &Path) -> (usize, u64) {
    let entries = state.join("backups").read_dir().into_iter().flatten().flatten();
    let files = entries.filter_map(|entry| entry.metadata().ok().filter(fs::Metadata::is_file));
    files.fold((0, 0), |(count, bytes), about| (count + 1, bytes + about.len()))
}

/// The old bytes of a plan whose writing in place was cut short, if there are any. Offer them before the plan is
/// opened: the file itself may be half old and half new.
pub fn unfinished(state: &Path, path: &Path) -> Option<PathBuf> {
    let image = image_of(state, &paths::real_path(path).ok()?);
    image.is_file().then_some(image)
}

/// Where the image of the plan at `real` stands.
pub(super) fn image_of(state: &Path, real: &Path) -> PathBuf {
    state.join(format!("{}.image", paths::key_of(real)))
}

/// A private file at `path` that is whole and synced, or not there.
pub(super) fn write_synced(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let folder = paths::folder_of(path);
    let mut file = tempfile::NamedTempFile::new_in(folder)?;
    file.write_all(bytes)?;
    file.as_file().sync_all()?;
    file.persist(path).map_err(|refused| refused.error)?;
    atomic::sync_folder(folder)
}

/// Removes all but the `most` newest files of `folder`. Failing to tidy is no reason to fail.
fn prune(folder: &Path, most: usize) {
    let Ok(entries) = folder.read_dir() else {
        return;
    };
    let mut files: Vec<_> = entries
        .flatten()
        .filter_map(|entry| {
            let about = entry.metadata().ok().filter(fs::Metadata::is_file)?;
            Some((about.modified().ok()?, entry.path()))
        })
        .collect();
    files.sort();
    let surplus = files.len().saturating_sub(most);
    for (_, path) in &files[..surplus] {
        let _ = fs::remove_file(path);
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::storage::scratch::Scratch;

    #[test]
    fn three_backups_turn_over_and_a_repeated_one_does_not_push_others_out() {
        let scratch = Scratch::new();
        let plan = fs::canonicalize(scratch.file("boat.ron", "")).unwrap();
        for bytes in ["1", "2", "3", "4", "4", "4"] {
            keep(&scratch.state(), &plan, bytes.as_bytes()).unwrap();
        }
        let kept: Vec<String> =
            list(&scratch.state(), &plan).iter().map(|path| fs::read_to_string(path).unwrap()).collect();
        assert_eq!(kept, ["4", "3", "2"]);
        assert_eq!(all(&scratch.state()), (3, 3));
    }

    #[test]
    fn a_full_folder_loses_its_oldest_files_only() {
        let scratch = Scratch::new();
        for number in 0..5 {
            let path = scratch.file(&number.to_string(), "");
            let when = std::time::UNIX_EPOCH + std::time::Duration::from_secs(number * 1000);
            fs::File::options().write(true).open(path).unwrap().set_modified(when).unwrap();
        }
        prune(scratch.path("0").parent().unwrap(), 2);
        assert_eq!(scratch.names(), ["3", "4"]);
    }
}
