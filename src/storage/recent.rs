//! Plans opened before, the latest first: one path a line in the state folder.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

/// Name of the list in the state folder.
const FILE: &str = "recent";
/// How many are kept.
const KEPT: usize = 9;

/// The plans opened before that still exist. A list that cannot be read is empty.
pub fn load(state: &Path) -> Vec<PathBuf> {
    let text = fs::read_to_string(state.join(FILE)).unwrap_or_default();
    text.lines().map(PathBuf::from).filter(|path| path.is_file()).take(KEPT).collect()
}

/// Puts a plan at the head of the list. Paths that are not text or hold a line break are left out.
pub fn note(state: &Path, plan: &Path) -> io::Result<()> {
    let plan = plan.canonicalize()?;
    let mut lines = vec![plan.clone()];
    lines.extend(load(state).into_iter().filter(|known| *known != plan));
    let sound = lines.iter().filter_map(|path| path.to_str()).filter(|path| !path.contains('\n'));
    let text = sound.take(KEPT).collect::<Vec<_>>().join("\n");
    // Written beside and renamed: two programs that end together leave one whole list.
    let beside = tempfile::NamedTempFile::new_in(state)?;
    fs::write(beside.path(), text)?;
    beside.persist(state.join(FILE)).map_err(|error| error.error)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;

    #[test]
    fn the_latest_comes_first_and_once() {
        let folder = tempfile::tempdir().unwrap();
        let plans = ["a.ron", "b.ron"].map(|name| folder.path().join(name));
        for plan in &plans {
            fs::write(plan, "").unwrap();
        }
        for plan in [&plans[0], &plans[1], &plans[0]] {
            note(folder.path(), plan).unwrap();
        }
        let names: Vec<_> = load(folder.path()).iter().map(|p| p.file_name().unwrap().to_owned()).collect();
        assert_eq!(names, ["a.ron", "b.ron"]);
        fs::remove_file(&plans[1]).unwrap();
        assert_eq!(load(folder.path()).len(), 1);
    }
}
