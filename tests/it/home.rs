//! A home of its own for the real binary, with a sound plan in it.

use std::fs;
use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

use crate::load::GOOD;

/// A person's home with a sound plan in it.
pub struct Home {
    folder: tempfile::TempDir,
}

impl Home {
    pub fn new() -> Self {
        let home = Self { folder: tempfile::tempdir().expect("a folder") };
        home.file("boat.ron", GOOD);
        home
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn file(&self, name: &str, text: &str) -> PathBuf {
        let path = self.path(name);
        fs::create_dir_all(path.parent().expect("a folder")).expect("a folder");
        fs::write(&path, text).expect("a file");
        path
    }

    pub fn command(&self, arguments: &[&str]) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_gunnel"));
        command.args(arguments).env_clear().env("HOME", self.folder.path()).current_dir(self.folder.path());
        command
    }

    pub fn run(&self, arguments: &[&str]) -> Output {
        self.command(arguments).stdin(Stdio::null()).output().expect("the program runs")
    }

    pub fn run_with_input(&self, arguments: &[&str], input: &[u8]) -> Output {
        let mut command = self.command(arguments);
        let mut child =
            command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it");
        child.stdin.take().expect("its input").write_all(input).expect("it reads");
        child.wait_with_output().expect("it ends")
    }
}

pub fn out(output: &Output) -> &str {
    std::str::from_utf8(&output.stdout).expect("text")
}

pub fn errors(output: &Output) -> &str {
    std::str::from_utf8(&output.stderr).expect("text")
}

pub fn code(output: &Output) -> i32 {
    output.status.code().expect("an exit code")
}

pub fn json(output: &Output) -> Value {
    serde_json::from_str(out(output)).unwrap_or_else(|error| panic!("{error}: {}", out(output)))
}

/// Everything a command answers, for a snapshot.
pub fn transcript(home: &Home, arguments: &[&str]) -> String {
    let output = home.run(arguments);
    let text = format!(
        "$ gunnel {}\n-- out\n{}-- errors\n{}-- exit {}\n",
        arguments.join(" "),
        out(&output),
        errors(&output),
        code(&output)
    );
    text.replace(&*home.folder.path().to_string_lossy(), "HOME")
}

/// Endings of keys that name a unit; these words are units themselves.
const UNITS: &[&str] = &[
    "mm", "kg", "ah", "wh", "a", "v", "w", "ohm", "deg", "arcmin", "c", "percent", "hours", "m", "m2", "m3", "cm",
    "kgm", "nm",
];

/// Every number in a document has its unit in its key; counts and ids are whole.
pub fn units_are_named(path: &str, value: &Value) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                let named = key.rsplit('_').next().is_some_and(|ending| UNITS.contains(&ending));
                if value.is_f64() {
                    assert!(named, "{path}.{key} has no unit");
                }
                units_are_named(&format!("{path}.{key}"), value);
            }
        }
        Value::Array(items) => items.iter().for_each(|item| units_are_named(&format!("{path}[]"), item)),
        _ => {}
    }
}

/// Every key of a document with the kind of its value, the items of a list taken together.
pub fn shape_of(path: &str, value: &Value, shape: &mut Vec<String>) {
    match value {
        Value::Object(fields) => {
            fields.iter().for_each(|(key, value)| shape_of(&format!("{path}.{key}"), value, shape));
        }
        Value::Array(items) => {
            shape.push(format!("{path}: list"));
            if let Some(first) = items.first() {
                shape_of(&format!("{path}[]"), first, shape);
            }
        }
        Value::Null => shape.push(format!("{path}: nothing or more")),
        Value::Bool(_) => shape.push(format!("{path}: yes or no")),
        Value::Number(_) => shape.push(format!("{path}: number")),
        Value::String(_) => shape.push(format!("{path}: text")),
    }
}
