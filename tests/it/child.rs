//! This test program again, as a process that can be killed, starved or put into a terminal.
//!
//! A part to be played is an ignored test; it finds what it needs in its environment and fails without it.
#![allow(clippy::print_stderr, reason = "a test that cannot run here must say so")]

use std::path::{Path, PathBuf};
use std::process::Command;

/// This program, in which only `part` (`module::name`) will run.
pub fn program() -> PathBuf {
    std::env::current_exe().expect("this program's own path")
}

/// The arguments with which [`program`] plays `part`.
pub fn arguments(part: &str) -> Vec<String> {
    ["--ignored", "--exact", part, "--nocapture", "--test-threads=1"].map(String::from).into()
}

/// Runs `wrapper` (perhaps empty) around this program playing `part`.
pub fn wrapped(wrapper: &[&str], part: &str) -> Command {
    let program = program();
    let mut words: Vec<&Path> = wrapper.iter().map(Path::new).collect();
    words.push(&program);
    let mut command = Command::new(words[0]);
    command.args(&words[1..]).args(arguments(part));
    command
}

/// A variable that the part's process was given.
pub fn given(name: &str) -> PathBuf {
    std::env::var_os(name).unwrap_or_else(|| panic!("this part needs {name}; it is not a test by itself")).into()
}

/// Whether `command` works here; says so where it does not.
pub fn works(command: &[&str]) -> bool {
    let run = Command::new(command[0]).args(&command[1..]).output();
    let works = run.is_ok_and(|output| output.status.success());
    if !works {
        eprintln!("SKIPPED: `{}` does not work on this machine", command.join(" "));
    }
    works
}

/// Whether `strace` can put faults into a process here.
pub fn can_inject() -> bool {
    works(&["strace", "-f", "-o", "/dev/null", "-e", "inject=fsync:error=EIO", "true"])
}

/// Whether a process can have mounts of its own here.
pub fn can_mount() -> bool {
    works(&["unshare", "-Urm", "mount", "-t", "tmpfs", "none", "/mnt"])
}

/// The names in a folder, sorted.
pub fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("a folder")
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into())
        .collect();
    names.sort();
    names
}
