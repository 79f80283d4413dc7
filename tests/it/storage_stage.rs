//! A plan on a stage: the parts that other processes play on it, and what has to be left when they are through.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs::{self, Permissions};
use std::os::unix::fs::PermissionsExt;
use std::os::unix::process::CommandExt;
use std::path::PathBuf;
use std::process::ExitStatus;

use gunnel::storage::atomic::Saver;
use gunnel::storage::holder::Holder;
use gunnel::storage::journal;
use gunnel::storage::lock::{Lock, LockError};
use gunnel::storage::paths::Env;
use gunnel::storage::source::{self, Generation};

use crate::child::{given, names, wrapped};

pub const OLD: &str = "the old plan, whole and readable";
pub const SAVES: &str = "storage_stage::part_saves";
pub const LOCKS: &str = "storage_stage::part_locks";
pub const READS: &str = "storage_stage::part_reads";
pub const FILLS_THE_JOURNAL: &str = "storage_stage::part_fills_the_journal";
pub const FILLS: &str = "storage_stage::part_fills_the_disk";
pub const WRITES_IN_PLACE: &str = "storage_stage::part_writes_in_place";

/// The new plan: longer than the old one, and than a small disk's page.
pub fn new() -> String {
    "the new plan\n".repeat(2000)
}

/// A plan, a state folder, and a file in which the part says how it went.
pub struct Stage {
    pub root: tempfile::TempDir,
    pub plan: PathBuf,
}

impl Stage {
    pub fn new() -> Self {
        let root = tempfile::tempdir().unwrap();
        for folder in ["plans", "state"] {
            fs::create_dir(root.path().join(folder)).unwrap();
        }
        let plan = root.path().join("plans/boat.ron");
        fs::write(&plan, OLD).unwrap();
        Self { root, plan }
    }

    pub fn folder(&self, name: &str) -> PathBuf {
        self.root.path().join(name)
    }

    /// Lets `part` be played inside `wrapper`; returns how the process ended and what the part said.
    pub fn play(&self, wrapper: &[&str], part: &str) -> (ExitStatus, String) {
        self.play_as(None, wrapper, part)
    }

    pub fn play_as(&self, user: Option<u32>, wrapper: &[&str], part: &str) -> (ExitStatus, String) {
        let said = self.folder("said");
        let _ = fs::remove_file(&said);
        fs::write(&said, "").unwrap();
        fs::set_permissions(&said, Permissions::from_mode(0o666)).unwrap();
        let mut command = wrapped(wrapper, part);
        command.env("PLAN", &self.plan).env("STATE", self.folder("state")).env("SAID", &said);
        if let Some(user) = user {
            command.uid(user).gid(user);
        }
        let output = command.output().unwrap();
        (output.status, fs::read_to_string(said).unwrap())
    }

    pub fn is_old_or_new(&self, when: &str) {
        let text = fs::read_to_string(&self.plan).unwrap();
        assert!(text == OLD || text == new(), "{when}: {} bytes", text.len());
    }

    /// The plan is the old one, nothing lies beside it, and the next save works.
    pub fn is_untouched_and_can_be_saved(&self) {
        assert_eq!(fs::read_to_string(&self.plan).unwrap(), OLD);
        assert_eq!(names(&self.folder("plans")), ["boat.ron"]);
        let (_, said) = self.play(&[], SAVES);
        assert_eq!(said, "saved");
        assert_eq!(fs::read_to_string(&self.plan).unwrap(), new());
    }
}

fn say(words: &str) {
    fs::write(given("SAID"), words).unwrap();
}

#[test]
#[ignore = "a part played for the other tests"]
fn part_saves() {
    let plan = given("PLAN");
    let known = Generation::at(&plan).unwrap();
    let saved = Saver::new(Some(given("STATE"))).save(&plan, new().as_bytes(), Some(&known));
    match saved {
        Ok(_) => say("saved"),
        Err(error) => say(&format!("{error:?}")),
    }
}

#[test]
#[ignore = "a part played for the other tests"]
fn part_writes_in_place() {
    let plan = given("PLAN");
    let known = Generation::at(&plan).unwrap();
    let mut saver = Saver::new(Some(given("STATE")));
    match saver.save_in_place(&plan, new().as_bytes(), &known) {
        Ok(_) => say("saved"),
        Err(error) => say(&format!("{error:?}")),
    }
}

#[test]
#[ignore = "a part played for the other tests"]
fn part_reads() {
    match source::read(&given("PLAN")) {
        Ok(source) => say(&source.text),
        Err(error) => say(&error.to_string()),
    }
}

/// Saves on a small disk of `options`, whose state folder may be elsewhere. The plan's folder is the disk.
#[test]
#[ignore = "a part played for the other tests"]
fn part_fills_the_disk() {
    let plan = given("PLAN");
    let folder = plan.parent().unwrap();
    fs::write(&plan, OLD).unwrap();
    let known = Generation::at(&plan).unwrap();
    let ballast = folder.join("ballast");
    let mut filled = 0;
    while fs::write(folder.join(format!("filler{filled}")), "").is_ok() && filled < 10 {
        filled += 1;
    }
    let _ = fs::write(&ballast, vec![0; 1024 * 1024]);
    let before = names(folder);
    let mut saver = Saver::new(Some(given("STATE")));
    let full = saver.save(&plan, new().as_bytes(), Some(&known)).unwrap_err();
    let full = full.to_string();
    assert_eq!(fs::read_to_string(&plan).unwrap(), OLD);
    assert_eq!(names(folder), before);
    // A write in place has nowhere to grow either, and puts the old bytes back.
    let torn = saver.save_in_place(&plan, vec![b'x'; 1 << 21].as_slice(), &known);
    assert!(torn.is_err());
    assert_eq!(fs::read_to_string(&plan).unwrap(), OLD);
    for name in names(folder).iter().filter(|name| *name != "boat.ron") {
        fs::remove_file(folder.join(name)).unwrap();
    }
    saver.save(&plan, new().as_bytes(), Some(&known)).unwrap();
    assert_eq!(fs::read_to_string(&plan).unwrap(), new());
    say(&full);
}

#[test]
#[ignore = "a part played for the other tests"]
fn part_fills_the_journal() {
    let state = given("STATE");
    let path = journal::Journal::path_for(&state, &given("PLAN")).unwrap();
    let env = Env::of([("USER", "kim")]);
    let header = journal::Header { plan: String::new(), plan_crc: None, holder: Holder::this_process(&env, 0) };
    let mut book = journal::Journal::create(&path, &header).unwrap();
    let large = vec![b'x'; 5000];
    let mut kept = 0;
    while book.append(&large).is_ok() {
        kept += 1;
        assert!(kept < 100, "the disk is never full");
    }
    let contents = journal::read(&path).unwrap();
    assert_eq!((contents.records.len(), contents.damage), (kept, None));
    book.rewrite(&header, [&b"small"[..]]).unwrap_or_else(|_| {
        // Not even room beside it: the old one stands.
        assert_eq!(journal::read(&path).unwrap().records.len(), kept);
    });
    assert!(path.exists());
    say("kept");
}

#[test]
#[ignore = "a part played for the other tests"]
fn part_locks() {
    let me = Holder::this_process(&Env::of([("USER", "kim")]), 0);
    let state = given("STATE");
    let lock = Lock::take(&given("PLAN"), Some(&state), &me).unwrap();
    let second = Lock::take(&given("PLAN"), Some(&state), &me);
    assert!(matches!(second, Err(LockError::Held { .. })), "{second:?}");
    let nowhere = Lock::take(&given("PLAN"), None, &me);
    assert!(matches!(nowhere, Err(LockError::NoPlace)), "{nowhere:?}");
    say(lock.path().to_str().unwrap());
}
