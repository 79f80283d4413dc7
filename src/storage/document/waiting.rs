//! Work that is in journals and in no file, of all plans together: for whoever looks a state folder over.

use std::path::{Path, PathBuf};

use super::recall::{self, Net};

/// A journal with edits that were never saved, or one that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    /// The journal.
    pub journal: PathBuf,
    /// The plan's path as the journal has it: not safe to show.
    pub plan: String,
    /// How many edits, or why nobody knows.
    pub edits: Result<usize, String>,
}

/// The journals in `state` that wait to be recovered. That of a plan which is being edited just now is among them.
pub fn waiting(state: &Path) -> Vec<Waiting> {
    let entries = state.read_dir().into_iter().flatten().flatten();
    let mut journals: Vec<PathBuf> = entries.map(|entry| entry.path()).filter(|path| is_journal(path)).collect();
    journals.sort();
    journals.into_iter().map(looked_into).filter(|found| found.edits != Ok(0)).collect()
}

/// Those that were set aside have a number for an ending.
fn is_journal(path: &Path) -> bool {
    path.extension().is_some_and(|ending| ending == "journal")
}

fn looked_into(journal: PathBuf) -> Waiting {
    match recall::read(&journal) {
        Ok(past) => {
            let plan = past.contents.header.map(|header| header.plan).unwrap_or_default();
            Waiting { journal, plan, edits: Ok(Net::of(&past.entries).count()) }
        }
        Err(why) => Waiting { journal, plan: String::new(), edits: Err(why) },
    }
}
