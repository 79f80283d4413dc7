//! The repository keeps its own rules: which way imports run, what a layer may not know, how a file opens, how long it
//! gets, that no asset lies about unused.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use gunnel::catalogue::{Catalogue, HullClass, hull};
use gunnel::plan::Spec;
use gunnel::scenarios::SCENARIOS;

/// Which layers a layer may import: the first column may use the second. DEVELOPERS.md has the picture.
const ARROWS: &[(&str, &[&str])] = &[
    ("units", &[]),
    ("shown", &[]),
    ("nearest", &[]),
    ("geometry", &["units"]),
    ("plan", &["units", "geometry", "shown"]),
    ("catalogue", &["units", "geometry", "plan"]),
    ("study", &["units", "geometry", "plan"]),
    ("checks", &["units", "geometry", "plan", "study"]),
    ("edit", &["units", "geometry", "plan", "shown"]),
    ("scenarios", &[]),
    ("compare", &["units", "geometry", "plan", "study", "checks"]),
    ("review", &["units", "geometry", "plan", "study", "checks", "compare", "edit"]),
    ("session", &["units", "geometry", "plan", "study", "checks", "compare", "edit"]),
    ("storage", &["units", "geometry", "plan", "shown", "nearest", "catalogue", "compare", "review"]),
    ("sheets", &["units", "geometry", "plan", "shown", "catalogue", "study", "checks", "compare", "review"]),
    ("terminal", &[]),
    (
        "tui",
        &[
            "units",
            "geometry",
            "plan",
            "shown",
            "catalogue",
            "study",
            "checks",
            "compare",
            "review",
            "edit",
            "scenarios",
            "session",
            "sheets",
        ],
    ),
    (
        "cli",
        &[
            "units",
            "plan",
            "shown",
            "nearest",
            "catalogue",
            "study",
            "checks",
            "compare",
            "review",
            "scenarios",
            "session",
            "sheets",
            "storage",
        ],
    ),
    ("main", &["cli", "tui"]),
];

/// Arrows beside the table: file or folder, what it may name, why. One that is no longer used has to go.
const EXCEPTIONS: &[(&str, &str, &str)] = &[
    ("src/edit/apply.rs", "checks::LIMITS", "a limit can only be set otherwise by a name that the checks have"),
    (
        "src/edit/apply/holes.rs",
        "study::rig",
        "whether an old hole serves a part is asked where the part's holes come out",
    ),
    ("src/edit/drilled.rs", "study::rig", "which holes a part leaves is asked where its holes come out"),
    ("src/edit/readings.rs", "study::rig", "beside a scale's reading stands what the plan had aboard"),
    ("src/edit/readings.rs", "study::weights", "the same"),
    ("src/edit/readings.rs", "study::metered", "what a meter can be put to is said in one place"),
    ("src/storage/document", "session", "the journal keeps the session's own records and replays them"),
    ("src/storage/document", "edit::Edit", "an edit that was lost is shown by its label"),
    ("src/tui/run", "storage", "the rim: the one part of the screen that performs effects on files"),
    ("src/tui/run", "terminal", "the rim: the one part of the screen that owns the terminal"),
    ("src/tui/update.rs", "terminal::input::TermEvent", "what comes in, as a value"),
    ("src/cli", "tui::run::Options", "the command line says how the screen shall look"),
    ("src/cli/doctor", "tui", "which colours and symbols a screen would have is asked where it is decided"),
    ("src/cli/doctor", "terminal::frames", "the same, for how often it is drawn"),
    ("src/cli/arguments.rs", "tui::glyphs", "the same"),
    ("src/cli/arguments.rs", "tui::theme", "the same"),
];

/// What the layers from units to edit, and the session, must not know.
const UNKNOWN: &[&str] =
    &["std::fs", "std::env", "std::io", "std::net", "std::process", "std::time", "ratatui", "crossterm"];
const PURE: &[&str] = &[
    "units",
    "shown",
    "nearest",
    "geometry",
    "plan",
    "catalogue",
    "study",
    "checks",
    "compare",
    "edit",
    "review",
    "session",
];

/// The longest a file gets, in lines. 350 is what to aim at.
const LONGEST: usize = 450;

/// Longer files, and why. One that became shorter has to go from here.
const LONG: &[(&str, &str)] = &[];

#[test]
fn imports_run_one_way() {
    let mut wrong = Vec::new();
    let mut used = BTreeSet::new();
    for file in sources() {
        let Some(layer) = file.layer() else { continue };
        let row = ARROWS.iter().find(|(name, _)| *name == layer);
        let Some((_, allowed)) = row else {
            wrong.push(format!("{}: the layer \"{layer}\" is not in the table", file.name));
            continue;
        };
        for (line, path) in imports(&file) {
            let target = path.split("::").next().unwrap_or_default();
            if target == layer || allowed.contains(&target) {
                continue;
            }
            let covers = |row: &&(&str, &str, &str)| file.name.starts_with(row.0) && path.starts_with(row.1);
            match EXCEPTIONS.iter().find(covers) {
                Some(row) => drop(used.insert((row.0, row.1))),
                None => wrong.push(format!("{}:{line}: {layer} may not know {path}", file.name)),
            }
        }
    }
    for (file, path, _) in EXCEPTIONS {
        if !used.contains(&(*file, *path)) {
            wrong.push(format!("the exception of {file} for {path} is not used any more"));
        }
    }
    none(&wrong);
}

#[test]
fn the_core_knows_no_file_clock_or_terminal() {
    let mut wrong = Vec::new();
    for file in sources().iter().filter(|file| file.layer().is_some_and(|layer| PURE.contains(&layer))) {
        for (line, code) in file.code() {
            for word in UNKNOWN.iter().filter(|word| code.contains(**word)) {
                wrong.push(format!("{}:{line}: {word} below the session", file.name));
            }
        }
    }
    none(&wrong);
}

#[test]
fn every_file_opens_with_its_idea_and_stays_short() {
    let mut wrong = Vec::new();
    for file in files("src").chain(files("tests/it")).chain(files("benches")) {
        if !file.text.starts_with("//! ") {
            wrong.push(format!("{}: does not open with //!", file.name));
        }
        let lines = file.text.lines().count();
        let listed = LONG.iter().any(|(name, _)| *name == file.name);
        if lines > LONGEST && !listed {
            wrong.push(format!("{}: {lines} lines, more than {LONGEST}; part it by ideas", file.name));
        }
        if lines <= LONGEST && listed {
            wrong.push(format!("{}: {lines} lines, it need not be listed as long any more", file.name));
        }
    }
    for (name, _) in LONG.iter().filter(|(name, _)| !root().join(name).exists()) {
        wrong.push(format!("{name} is listed as long and does not exist"));
    }
    none(&wrong);
}

#[test]
fn every_shipped_file_is_in_the_program() {
    let mut wrong = Vec::new();
    for (name, text) in texts("assets/catalogue") {
        let entries: Vec<Spec> = ron::from_str(&text).unwrap();
        if entries.iter().any(|entry| Catalogue::shipped().get(entry.key.as_str()) != Some(entry)) {
            wrong.push(format!("assets/catalogue/{name} is not in the catalogue"));
        }
    }
    for (name, text) in texts("assets/hulls") {
        let class: HullClass = ron::from_str(&text).unwrap();
        if hull(class.key().as_str()) != Some(&class) {
            wrong.push(format!("assets/hulls/{name} is not among the hull classes"));
        }
    }
    let scenarios = texts("scenarios");
    for (name, text) in &scenarios {
        if !SCENARIOS.iter().any(|scenario| scenario.file == name && scenario.text == text) {
            wrong.push(format!("scenarios/{name} is not among the demo plans"));
        }
    }
    for scenario in SCENARIOS.iter().filter(|scenario| !scenarios.contains_key(scenario.file)) {
        wrong.push(format!("the demo plan {} has no file in scenarios/", scenario.file));
    }
    none(&wrong);
}

#[test]
fn the_reading_of_imports_finds_them_and_leaves_out_tests() {
    let text = "//! See [`crate::tui`].\nuse crate::plan::Gear;\nfn f() -> crate::study::Study { crate::a::b() }\n\
                #[cfg(test)]\nmod tests {\n    use crate::checks::X;\n}\n";
    let file = Source { name: "src/edit/x.rs".into(), text: text.into() };
    let found: Vec<(usize, String)> = imports(&file).into_iter().collect();
    assert_eq!(found, [(2, "plan::Gear".into()), (3, "a::b".into()), (3, "study::Study".into())]);
    assert_eq!(file.layer(), Some("edit"));
}

/// A file of the repository.
struct Source {
    /// Its path from the root, with `/`.
    name: String,
    text: String,
}

impl Source {
    /// `study` for `src/study.rs` and everything in `src/study/`; none for the crate's root.
    fn layer(&self) -> Option<&str> {
        let path = self.name.strip_prefix("src/")?;
        let layer = path.split('/').next()?.trim_end_matches(".rs");
        (layer != "lib").then_some(layer)
    }

    /// Numbered lines that are neither comment nor test.
    fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let tests = self.text.find("#[cfg(test)]\nmod tests {").or_else(|| self.text.find("#[cfg(test)]\n#[allow("));
        let text = &self.text[..tests.unwrap_or(self.text.len())];
        let numbered = text.lines().enumerate().map(|(index, line)| (index + 1, line.trim_start()));
        numbered.filter(|(_, line)| !line.starts_with("//"))
    }
}

/// What a file names of the crate, by line: `plan::Gear`. Leaving a layer by `super` is refused.
fn imports(file: &Source) -> BTreeSet<(usize, String)> {
    let depth = file.name.split('/').count() - 1;
    let mut found = BTreeSet::new();
    for (line, code) in file.code() {
        for (at, _) in code.match_indices("crate::") {
            // `pub(in crate::x)` and `$crate::` would be read as well, and are.
            let path = &code[at + "crate::".len()..];
            let end = path.find(|c: char| !(c.is_alphanumeric() || c == '_' || c == ':')).unwrap_or(path.len());
            let path = if path.starts_with('{') { "{ (name one layer a line)" } else { &path[..end] };
            found.insert((line, path.trim_end_matches(':').to_string()));
        }
        if code.contains(&"super::".repeat(depth)) {
            found.insert((line, "super (write crate:: to leave a layer)".to_string()));
        }
    }
    found
}

/// The program's own files: those that are compiled for tests alone are left out.
fn sources() -> Vec<Source> {
    let all: Vec<Source> = files("src").collect();
    let mut tests = BTreeSet::new();
    for file in &all {
        let folder = match file.name.as_str() {
            "src/lib.rs" | "src/main.rs" => "src".to_string(),
            other => other.trim_end_matches(".rs").to_string(),
        };
        let lines: Vec<&str> = file.text.lines().collect();
        for (index, _) in lines.iter().enumerate().filter(|(_, line)| **line == "#[cfg(test)]") {
            let next: Vec<&str> = lines[index + 1..].iter().take(2).copied().collect();
            let path = next.iter().find_map(|line| line.strip_prefix("#[path = \"")?.strip_suffix("\"]"));
            let module = next.iter().find_map(|line| line.split_once("mod ")?.1.strip_suffix(';'));
            let parent = Path::new(&file.name).parent().unwrap().to_str().unwrap();
            match (path, module) {
                (Some(path), _) => drop(tests.insert(format!("{parent}/{path}"))),
                (None, Some(module)) => drop(tests.insert(format!("{folder}/{module}.rs"))),
                _ => {}
            }
        }
    }
    all.into_iter().filter(|file| !tests.contains(&file.name)).collect()
}

/// All Rust files below a folder, by name.
fn files(folder: &str) -> impl Iterator<Item = Source> {
    let mut found = Vec::new();
    let mut folders = vec![root().join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found.into_iter().map(|path| {
        let text = fs::read_to_string(&path).unwrap();
        Source { name: path.strip_prefix(root()).unwrap().to_str().unwrap().to_string(), text }
    })
}

/// The RON files of a folder, by name; none where there is no such folder.
fn texts(folder: &str) -> BTreeMap<String, String> {
    let Ok(entries) = fs::read_dir(root().join(folder)) else { return BTreeMap::new() };
    let paths = entries.map(|entry| entry.unwrap().path());
    paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "ron"))
        .map(|path| (path.file_name().unwrap().to_str().unwrap().to_string(), fs::read_to_string(&path).unwrap()))
        .collect()
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn none(wrong: &[String]) {
    assert!(wrong.is_empty(), "\n{}\n", wrong.join("\n"));
}
