//! A folder for one test, with a plan in it and a state folder beside.

use std::fs;
use std::path::PathBuf;

/// Removed with everything in it when dropped.
pub(crate) struct Scratch {
    root: tempfile::TempDir,
}

impl Scratch {
    pub(crate) fn new() -> Self {
        let root = tempfile::tempdir().expect("a folder for the test");
        fs::create_dir(root.path().join("plans")).expect("a folder for plans");
        fs::create_dir(root.path().join("state")).expect("a state folder");
        Self { root }
    }

    /// A path in the plans folder; nothing is made.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.root.path().join("plans").join(name)
    }

    /// A file in the plans folder with these bytes.
    pub(crate) fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        fs::write(&path, bytes).expect("a file for the test");
        path
    }

    pub(crate) fn state(&self) -> PathBuf {
        self.root.path().join("state")
    }

    /// The names in the plans folder, sorted: shows what a failure left behind.
    pub(crate) fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = fs::read_dir(self.root.path().join("plans"))
            .expect("the plans folder")
            .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into())
            .collect();
        names.sort();
        names
    }
}
