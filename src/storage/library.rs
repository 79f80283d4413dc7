//! A person's own catalogue entries and hull classes: RON files in `catalogue/` and `hulls/` of the data folder.
//!
//! A file that cannot be used is named with its reason and left out; the others count.

use std::path::{Path, PathBuf};

use super::{load, paths, source};
use crate::catalogue::{self, Catalogue, HullClass};
use crate::plan::{Fault, Spec};

/// What a person adds to the shipped catalogue.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Library {
    /// Own gear; an entry with the key of a shipped one takes its place.
    pub entries: Vec<Spec>,
    /// Own hull classes; the same holds.
    pub hulls: Vec<HullClass>,
    /// Why files were left out.
    pub troubles: Vec<String>,
}

impl Library {
    /// Reads what is in the data folder, in the order of file names; nothing where there is no such folder.
    pub fn read(data: Option<&Path>) -> Self {
        let mut library = Self::default();
        let Some(data) = data else { return library };
        for file in files(&data.join("catalogue")) {
            match entries(&file) {
                Ok(entries) => library.entries.extend(entries),
                Err(why) => library.troubles.push(why),
            }
        }
        for file in files(&data.join("hulls")) {
            match class(&file) {
                Ok(class) => library.hulls.push(class),
                Err(why) => library.troubles.push(why),
            }
        }
        library
    }

    /// The shipped catalogue with the own entries.
    pub fn catalogue(&self) -> Catalogue {
        Catalogue::shipped().clone().with_own(self.entries.clone())
    }

    /// All hull classes: the shipped ones, or the own ones of the same key, then the other own ones.
    pub fn all_hulls(&self) -> Vec<&HullClass> {
        let own = |key: &str| self.hulls.iter().rev().find(|class| class.key().as_str() == key);
        let shipped = catalogue::hulls();
        let new = self.hulls.iter().filter(|class| shipped.iter().all(|known| known.key() != class.key()));
        shipped.iter().map(|class| own(class.key().as_str()).unwrap_or(class)).chain(new).collect()
    }

    /// The hull class with this key.
    pub fn hull(&self, key: &str) -> Option<&HullClass> {
        self.all_hulls().into_iter().rev().find(|class| class.key().as_str() == key)
    }
}

/// The RON files of a folder, by name.
fn files(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = folder.read_dir() else { return Vec::new() };
    let mut files: Vec<PathBuf> = entries
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .collect();
    files.sort();
    files
}

/// One entry, or a list of them.
fn entries(file: &Path) -> Result<Vec<Spec>, String> {
    let text = source::read(file).map_err(|error| error.to_string())?.text;
    let entries: Vec<Spec> =
        if load::is_list(&text) { load::part(&text, file) } else { load::part(&text, file).map(|one| vec![one]) }
            .map_err(|error| error.to_string())?;
    for entry in &entries {
        entry.validate().map_err(|faults| refused(file, &faults))?;
    }
    Ok(entries)
}

/// A hull class, which must make a sound plan.
fn class(file: &Path) -> Result<HullClass, String> {
    let text = source::read(file).map_err(|error| error.to_string())?.text;
    let class: HullClass = load::part(&text, file).map_err(|error| error.to_string())?;
    catalogue::plan_on(&class.hull).validate().map_err(|faults| refused(file, &faults))?;
    Ok(class)
}

fn refused(file: &Path, faults: &[Fault]) -> String {
    let first = faults.first().map(ToString::to_string).unwrap_or_default();
    format!("{}: {first}", paths::shown(file))
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use std::fs;

    fn library(files: &[(&str, String)]) -> Library {
        let folder = tempfile::tempdir().unwrap();
        for (name, text) in files {
            let path = folder.path().join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, text).unwrap();
        }
        Library::read(Some(folder.path()))
    }

    fn crate_named(key: &str, name: &str) -> String {
        let spec = Catalogue::shipped().get("crate").unwrap().clone();
        let text = ron::to_string(&spec).unwrap();
        text.replacen("\"crate\"", &format!("\"{key}\""), 1).replacen(spec.name.as_str(), name, 1)
    }

    #[test]
    fn own_entries_come_one_by_one_or_in_lists_and_win() {
        let library = library(&[
            (
                "catalogue/a.ron",
                format!(
                    "#![enable(implicit_some)]\n// mine\n[{}, {}]",
                    crate_named("crate", "my crate"),
                    crate_named("bucket", "bucket")
                ),
            ),
            ("catalogue/b.ron", crate_named("tub", "tub")),
            ("catalogue/notes.txt", "not looked at".into()),
        ]);
        assert_eq!(library.troubles, Vec::<String>::new());
        let all = library.catalogue();
        assert_eq!(all.get("crate").unwrap().name.as_str(), "my crate");
        assert_eq!(all.entries().len(), Catalogue::shipped().entries().len() + 2);
    }

    #[test]
    fn a_bad_file_is_named_and_left_out() {
        let library = library(&[
            ("catalogue/a.ron", crate_named("tub", "tub").replacen("mass:", "maas:", 1)),
            (
                "catalogue/b.ron",
                crate_named("tub", "tub")
                    .replacen("mounts:[", "mounts:[],cables:[", 1)
                    .replace("cables:[(how", "x:[(how"),
            ),
            ("catalogue/c.ron", crate_named("tub", "tub")),
            ("hulls/d.ron", "(about: \"a raft\")".into()),
        ]);
        assert_eq!(library.entries.len(), 1);
        assert_eq!(library.troubles.len(), 3);
        assert!(
            library.troubles[0].contains("a.ron:1:") && library.troubles[0].contains("maas"),
            "{:?}",
            library.troubles
        );
        assert!(library.troubles[2].contains("d.ron:1:"), "{:?}", library.troubles);
    }

    #[test]
    fn own_hulls_stand_beside_the_shipped_ones() {
        let class = |key: &str| {
            let text = ron::to_string(catalogue::hull("angler-10").unwrap()).unwrap();
            text.replacen("\"angler-10\"", &format!("\"{key}\""), 1)
        };
        let library = library(&[("hulls/a.ron", class("raft")), ("hulls/b.ron", class("angler-10"))]);
        assert_eq!(library.troubles, Vec::<String>::new());
        assert_eq!(library.all_hulls().len(), catalogue::hulls().len() + 1);
        assert!(library.hull("raft").is_some() && library.hull("angler-10").is_some() && library.hull("ark").is_none());
        assert_eq!(Library::read(None), Library::default());
    }
}
