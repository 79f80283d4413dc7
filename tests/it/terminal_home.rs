//! A person's home with one plan in it, and the program in a terminal there.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::path::PathBuf;

use gunnel::edit::{Edit, apply};
use gunnel::plan::Plan;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use portable_pty::CommandBuilder;

use crate::boats::bare;
use crate::terminal_show::Show;

/// The program itself.
pub const PROGRAM: &str = env!("CARGO_BIN_EXE_gunnel");
/// Escape, written so that what is typed behind it is no part of it.
pub const ESC: &str = "\x1b[27u";

pub const PLACE_A_CRATE: &[(&str, &str)] =
    &[("a", "take gear"), ("crate with", "› crate with"), ("\r", "let go"), ("\r", "1 edit not saved")];
pub const SAVE: &[(&str, &str)] = &[("\x13", "saved boat.ron")];

/// A folder that is a person's home, with one plan in it.
pub struct Home {
    folder: tempfile::TempDir,
}

impl Home {
    /// A home with a bare boat.
    pub fn new() -> Self {
        Self::with(&bare())
    }

    /// A home with this plan.
    pub fn with(plan: &Plan) -> Self {
        let home = Self { folder: tempfile::tempdir().unwrap() };
        fs::write(home.plan_file(), write::plan(plan, Format::Ron).unwrap()).unwrap();
        home
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn plan_file(&self) -> PathBuf {
        self.path("boat.ron")
    }

    /// The plan as it is on disk.
    pub fn plan(&self) -> Plan {
        let text = fs::read_to_string(self.plan_file()).unwrap();
        load::plan(&text, &self.plan_file(), Format::Ron).unwrap()
    }

    /// Another program changes the plan on disk, at one stroke.
    pub fn written(&self, edit: &Edit) {
        let plan = apply(&self.plan(), edit).unwrap();
        let beside = self.path("written");
        fs::write(&beside, write::plan(&plan, Format::Ron).unwrap()).unwrap();
        fs::rename(beside, self.plan_file()).unwrap();
    }

    pub fn back_mm(&self) -> f64 {
        self.plan().angler.seat.back.to_mm()
    }

    /// Starts the program with arguments in a terminal of 80 by 24. It sees this home and nothing else.
    pub fn start(&self, arguments: &[&str]) -> Show {
        self.start_within(&[], arguments)
    }

    /// The same within `wrapper`, a command that runs it.
    pub fn start_within(&self, wrapper: &[&str], arguments: &[&str]) -> Show {
        let words: Vec<&str> = [wrapper, &[PROGRAM], arguments].concat();
        self.start_command(&words)
    }

    /// Starts any command in such a terminal.
    pub fn start_command(&self, words: &[&str]) -> Show {
        let mut command = CommandBuilder::new(words[0]);
        command.args(&words[1..]);
        command.env_clear();
        for (name, value) in [("TERM", "xterm-256color"), ("COLORTERM", "truecolor"), ("LANG", "C.UTF-8")] {
            command.env(name, value);
        }
        command.env("PATH", std::env::var_os("PATH").unwrap_or_default());
        let home = self.folder.path();
        command.env("HOME", home);
        command.env("XDG_DATA_HOME", home.join("data"));
        command.env("XDG_STATE_HOME", home.join("state"));
        command.cwd(home);
        Show::run(command, tempfile::tempdir().unwrap(), 80, 24)
    }

    /// Starts the program on the plan, and waits until it is shown.
    pub fn open(&self) -> Show {
        let show = self.start(&["boat.ron"]);
        show.wait_for("q quit");
        show
    }
}

/// Types keys and waits for what they lead to.
pub fn play(show: &mut Show, steps: &[(&str, &str)]) {
    for (keys, shown) in steps {
        show.type_in(keys);
        show.wait_for(shown);
    }
}

/// Says something: closes what is open, opens what `open` opens, and types `last`, until `done` is shown. An author is
/// heard once a second: who comes too soon says it again.
pub fn say(show: &mut Show, open: &[(&str, &str)], last: &str, done: &str) {
    loop {
        show.type_in(&ESC.repeat(3));
        // What an earlier try led to must not be taken for this one's.
        show.wait("the way is clear", |screen| !screen.contents().contains("wait a second"));
        play(show, open);
        show.type_in(last);
        show.wait(done, |screen| [done, "wait a second"].iter().any(|words| screen.contents().contains(words)));
        if show.parser.lock().unwrap().screen().contents().contains(done) {
            return;
        }
    }
}
