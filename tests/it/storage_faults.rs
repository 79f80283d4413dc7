//! Saves while the machine fails: killed at every system call, the disk full, the sync in error, no permission.
//!
//! Whatever happens, the file is byte for byte the old or the new plan, and no half-written neighbour is left by a
//! save that could report.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(
    clippy::print_stderr,
    reason = "a test that cannot run here must say so"
)]

use std::fs::{self, Permissions};
use std::os::unix::fs::{PermissionsExt, chown};
use std::os::unix::process::CommandExt;
use std::path::{Path, PathBuf};
use std::process::ExitStatus;

use gunnel::storage::atomic::{SaveError, Saver, remove_leftovers};
use gunnel::storage::holder::Holder;
use gunnel::storage::lock::{Lock, LockError};
use gunnel::storage::paths::Env;
use gunnel::storage::source::{self, Generation};
use gunnel::storage::{backup, journal};

use crate::child::{can_inject, can_mount, given, names, wrapped};

const OLD: &str = "the old plan, whole and readable";
const SAVES: &str = "storage_faults::part_saves";
const LOCKS: &str = "storage_faults::part_locks";
const READS: &str = "storage_faults::part_reads";
const FILLS: &str = "storage_faults::part_fills_the_disk";
const WRITES_IN_PLACE: &str = "storage_faults::part_writes_in_place";

/// The new plan: longer than the old one, and than a small disk's page.
fn new() -> String {
    "the new plan\n".repeat(2000)
}

/// A plan, a state folder, and a file in which the part says how it went.
struct Stage {
    root: tempfile::TempDir,
    plan: PathBuf,
}

impl Stage {
    fn new() -> Self {
        let root = tempfile::tempdir().unwrap();
        for folder in ["plans", "state"] {
            fs::create_dir(root.path().join(folder)).unwrap();
        }
        let plan = root.path().join("plans/boat.ron");
        fs::write(&plan, OLD).unwrap();
        Self { root, plan }
    }

    fn folder(&self, name: &str) -> PathBuf {
        self.root.path().join(name)
    }

    /// Lets `part` be played inside `wrapper`; returns how the process ended and what the part said.
    fn play(&self, wrapper: &[&str], part: &str) -> (ExitStatus, String) {
        self.play_as(None, wrapper, part)
    }

    fn play_as(&self, user: Option<u32>, wrapper: &[&str], part: &str) -> (ExitStatus, String) {
        let said = self.folder("said");
        let _ = fs::remove_file(&said);
        fs::write(&said, "").unwrap();
        fs::set_permissions(&said, Permissions::from_mode(0o666)).unwrap();
        let mut command = wrapped(wrapper, part);
        command
            .env("PLAN", &self.plan)
            .env("STATE", self.folder("state"))
            .env("SAID", &said);
        if let Some(user) = user {
            command.uid(user).gid(user);
        }
        let output = command.output().unwrap();
        (output.status, fs::read_to_string(said).unwrap())
    }

    fn is_old_or_new(&self, when: &str) {
        let text = fs::read_to_string(&self.plan).unwrap();
        assert!(text == OLD || text == new(), "{when}: {} bytes", text.len());
    }

    /// The plan is the old one, nothing lies beside it, and the next save works.
    fn is_untouched_and_can_be_saved(&self) {
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

/// The system calls of a save, by the names that kernels know them by.
const CALLS: [&str; 18] = [
    "openat",
    "read",
    "write",
    "close",
    "lseek",
    "statx",
    "newfstatat",
    "faccessat",
    "fchmod",
    "ftruncate",
    "fsync",
    "rename",
    "renameat",
    "renameat2",
    "unlink",
    "unlinkat",
    "mkdir",
    "fgetxattr",
];

/// Kills the part at the first, second, third... time it makes each system call, until it lives, and looks at the
/// plan each time. Returns at which calls it was killed.
fn kill_everywhere(part: &str, look: impl Fn(&Stage, &str)) -> Vec<&'static str> {
    let mut killed_at = Vec::new();
    for call in CALLS {
        for time in 1..1000 {
            let stage = Stage::new();
            let inject = format!("inject={call}:signal=KILL:when={time}");
            let strace = ["strace", "-f", "-o", "/dev/null", "-e", &inject];
            let (status, said) = stage.play(&strace, part);
            look(&stage, &format!("killed at {call} {time}"));
            if status.success() {
                assert_eq!(said, "saved");
                break;
            }
            killed_at.push(call);
        }
    }
    killed_at
}

/// That the test above did what it says: the calls without which there is no save were met.
fn met(killed_at: &[&str], calls: &[(&str, usize)]) {
    for (name, least) in calls {
        let met = killed_at
            .iter()
            .filter(|call| call.starts_with(name))
            .count();
        assert!(
            met >= *least,
            "killed at {name} {met} times only: {killed_at:?}"
        );
    }
}

#[test]
fn killed_at_any_call_of_a_save_the_plan_is_whole() {
    if !can_inject() {
        return;
    }
    let killed_at = kill_everywhere(SAVES, |stage, when| {
        stage.is_old_or_new(when);
        remove_leftovers(&stage.plan);
        assert_eq!(names(&stage.folder("plans")), ["boat.ron"], "{when}");
    });
    // The backup, the plan, and the folders of both.
    met(
        &killed_at,
        &[("fsync", 4), ("rename", 2), ("write", 2), ("fchmod", 1)],
    );
}

#[test]
fn killed_at_any_call_of_a_write_in_place_a_whole_version_is_kept() {
    if !can_inject() {
        return;
    }
    let killed_at = kill_everywhere(WRITES_IN_PLACE, |stage, when| {
        let text = fs::read_to_string(&stage.plan).unwrap();
        if text != OLD && text != new() {
            let image = backup::unfinished(&stage.folder("state"), &stage.plan);
            let image = image.unwrap_or_else(|| panic!("{when}: no image"));
            assert_eq!(fs::read_to_string(image).unwrap(), OLD, "{when}");
        }
    });
    // The backup, the image, the plan, and the folder of the first two.
    met(
        &killed_at,
        &[
            ("fsync", 5),
            ("rename", 2),
            ("write", 3),
            ("ftruncate", 1),
            ("unlink", 1),
        ],
    );
}

#[test]
fn a_system_call_that_fails_leaves_the_old_plan_and_nothing_beside() {
    if !can_inject() {
        return;
    }
    // The backup syncs and renames first; its failing is a warning. What follows from `when` on is the plan's own.
    for (call, error, when, words) in [
        ("fsync", "EIO", "1+", "syncing"),
        ("fsync", "ENOSPC", "1+", "syncing"),
        ("rename,renameat,renameat2", "EACCES", "1+", "renaming"),
        ("rename,renameat,renameat2", "EPERM", "1+", "renaming"),
        ("rename,renameat,renameat2", "EBUSY", "1+", "MountPoint"),
        ("fchmod", "EPERM", "1+", "setting the mode"),
    ] {
        let stage = Stage::new();
        let inject = format!("inject={call}:error={error}:when={when}");
        let (_, said) = stage.play(&["strace", "-f", "-o", "/dev/null", "-e", &inject], SAVES);
        assert!(said.contains(words), "{call} {error}: {said}");
        stage.is_untouched_and_can_be_saved();
    }
}

#[test]
fn a_sync_in_error_is_not_tried_again_on_the_same_file() {
    if !can_inject() {
        return;
    }
    let stage = Stage::new();
    // No state folder, so that the backup syncs nothing.
    fs::remove_dir(stage.folder("state")).unwrap();
    fs::write(stage.folder("state"), "").unwrap();
    let trace = stage.folder("trace");
    let (_, said) = stage.play(
        &[
            "strace",
            "-f",
            "-o",
            trace.to_str().unwrap(),
            "-e",
            "trace=fsync,fdatasync",
            "-e",
            "inject=fsync:error=EIO",
        ],
        SAVES,
    );
    assert!(said.contains("syncing"), "{said}");
    let syncs = fs::read_to_string(trace).unwrap().matches("sync(").count();
    assert_eq!(syncs, 1, "one attempt, for the one file");
}

#[test]
fn an_error_while_reading_is_told_with_the_path() {
    if !can_inject() {
        return;
    }
    let stage = Stage::new();
    let (_, said) = stage.play(
        &[
            "strace",
            "-f",
            "-o",
            "/dev/null",
            "-P",
            stage.plan.to_str().unwrap(),
            "-e",
            "inject=read:error=EIO",
        ],
        READS,
    );
    assert!(
        said.contains("boat.ron") && said.contains("cannot be read"),
        "{said}"
    );
    assert_eq!(names(&stage.folder("plans")), ["boat.ron"]);
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
    let full = saver
        .save(&plan, new().as_bytes(), Some(&known))
        .unwrap_err();
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
fn a_full_disk_leaves_the_old_plan_and_space_makes_the_save_work() {
    if !can_mount() {
        return;
    }
    for options in ["size=64k", "size=1m,nr_inodes=6"] {
        let stage = Stage::new();
        let mount = format!(
            "mount -t tmpfs -o {options} none '{}' && exec \"$@\"",
            stage.folder("plans").display()
        );
        let (status, said) = stage.play(&["unshare", "-Urm", "sh", "-c", &mount, "sh"], FILLS);
        assert!(
            status.success() && said.contains("the disk is full"),
            "{options}: {said}"
        );
    }
}

#[test]
fn a_file_size_limit_is_an_error_and_not_the_end() {
    let stage = Stage::new();
    let limited = "trap '' XFSZ; ulimit -f 4; exec \"$@\"";
    let (_, said) = stage.play(&["sh", "-c", limited, "sh"], SAVES);
    assert!(said.contains("writing"), "{said}");
    stage.is_untouched_and_can_be_saved();
}

#[test]
fn a_disk_mounted_read_only_says_so() {
    if !can_mount() {
        return;
    }
    let stage = Stage::new();
    let folder = stage.folder("plans");
    let folder = folder.display();
    let mount = format!(
        "mount --bind '{folder}' '{folder}' && mount -o remount,bind,ro '{folder}' && exec \"$@\""
    );
    let (_, said) = stage.play(&["unshare", "-Urm", "sh", "-c", &mount, "sh"], SAVES);
    assert_eq!(said, "ReadOnly(FileSystem)");
    stage.is_untouched_and_can_be_saved();
}

#[test]
fn a_plan_that_is_a_mount_point_is_written_in_place() {
    if !can_mount() {
        return;
    }
    let stage = Stage::new();
    let other = stage.folder("other");
    fs::write(&other, OLD).unwrap();
    let mount = format!(
        "mount --bind '{}' '{}' && exec \"$@\"",
        other.display(),
        stage.plan.display()
    );
    let wrapper = ["unshare", "-Urm", "sh", "-c", &mount, "sh"];
    let (_, said) = stage.play(&wrapper, SAVES);
    assert_eq!(said, "NeedsInPlace(MountPoint)");
    assert_eq!(fs::read_to_string(&other).unwrap(), OLD);
    assert_eq!(names(&stage.folder("plans")), ["boat.ron"]);
    let (_, said) = stage.play(&wrapper, WRITES_IN_PLACE);
    assert_eq!(said, "saved");
    assert_eq!(fs::read_to_string(&other).unwrap(), new());
}

#[test]
fn a_state_folder_on_another_disk_changes_nothing() {
    if !can_mount() {
        return;
    }
    let stage = Stage::new();
    let mount = format!(
        "mount -t tmpfs none '{}' && exec \"$@\"",
        stage.folder("state").display()
    );
    let wrapper = ["unshare", "-Urm", "sh", "-c", &mount, "sh"];
    for part in [SAVES, WRITES_IN_PLACE] {
        let (_, said) = stage.play(&wrapper, part);
        assert_eq!(said, "saved");
    }
}

/// A user who is not the superuser: the superuser may write everywhere.
fn somebody(stage: &Stage) -> Option<Option<u32>> {
    const NOBODY: u32 = 65534;
    if !rustix::process::geteuid().is_root() {
        return Some(None);
    }
    for path in [
        stage.root.path(),
        &stage.folder("plans"),
        &stage.folder("state"),
        &stage.plan,
    ] {
        chown(path, Some(NOBODY), Some(NOBODY)).unwrap();
    }
    let runs = wrapped(&[], READS)
        .arg("--list")
        .uid(NOBODY)
        .gid(NOBODY)
        .output();
    if runs.is_ok_and(|output| output.status.success()) {
        return Some(Some(NOBODY));
    }
    eprintln!(
        "SKIPPED: nobody but the superuser can run {:?}",
        crate::child::program()
    );
    None
}

#[test]
fn in_a_folder_that_cannot_be_written_to_the_file_itself_is_once_the_person_agrees() {
    let stage = Stage::new();
    let Some(user) = somebody(&stage) else { return };
    let folder = stage.folder("plans");
    fs::set_permissions(&folder, Permissions::from_mode(0o555)).unwrap();
    let (_, said) = stage.play_as(user, &[], LOCKS);
    assert!(
        said.starts_with(stage.folder("state").to_str().unwrap()),
        "{said}"
    );
    let (_, said) = stage.play_as(user, &[], SAVES);
    assert_eq!(said, "NeedsInPlace(Folder)");
    assert_eq!(fs::read_to_string(&stage.plan).unwrap(), OLD);
    let (_, said) = stage.play_as(user, &[], WRITES_IN_PLACE);
    assert_eq!(said, "saved");
    assert_eq!(fs::read_to_string(&stage.plan).unwrap(), new());
    fs::set_permissions(&folder, Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn a_file_one_may_only_read_is_not_replaced_though_the_folder_would_allow_it() {
    let stage = Stage::new();
    let Some(Some(user)) = somebody(&stage) else {
        eprintln!("SKIPPED: giving a file to somebody else needs the superuser");
        return;
    };
    chown(&stage.plan, Some(0), Some(0)).unwrap();
    fs::set_permissions(&stage.plan, Permissions::from_mode(0o644)).unwrap();
    for part in [SAVES, WRITES_IN_PLACE] {
        let (_, said) = stage.play_as(Some(user), &[], part);
        assert_eq!(said, "ReadOnly(Denied)");
    }
    assert_eq!(fs::read_to_string(&stage.plan).unwrap(), OLD);
}

#[test]
fn a_group_that_cannot_be_kept_loses_its_access_and_a_warning_says_so() {
    let stage = Stage::new();
    let Some(Some(user)) = somebody(&stage) else {
        eprintln!("SKIPPED: giving a file to another group needs the superuser");
        return;
    };
    chown(&stage.plan, Some(user), Some(0)).unwrap();
    fs::set_permissions(&stage.plan, Permissions::from_mode(0o660)).unwrap();
    let (_, said) = stage.play_as(Some(user), &[], SAVES);
    assert_eq!(said, "saved");
    assert_eq!(
        fs::metadata(&stage.plan).unwrap().permissions().mode() & 0o777,
        0o600
    );
}

#[test]
fn a_plan_cut_or_zeroed_anywhere_is_read_as_it_is_and_never_changed() {
    let stage = Stage::new();
    let whole = new();
    for part in 0..64 {
        let cut = whole.len() * part / 64;
        fs::write(&stage.plan, &whole[..cut]).unwrap();
        assert_eq!(source::read(&stage.plan).unwrap().text, whole[..cut]);
        let mut zeroed = whole.clone().into_bytes();
        zeroed[cut..].fill(0);
        fs::write(&stage.plan, &zeroed).unwrap();
        let error = source::read(&stage.plan).unwrap_err().to_string();
        assert!(error.contains(&format!("at byte {cut};")), "{error}");
        assert_eq!(fs::read(&stage.plan).unwrap(), zeroed);
    }
}

#[test]
fn what_a_save_says_tells_what_to_do() {
    let errors = [
        SaveError::Changed,
        SaveError::Gone,
        SaveError::Exists,
        SaveError::Failed {
            doing: "writing",
            error: std::io::ErrorKind::StorageFull.into(),
        },
        SaveError::NoImage(std::io::ErrorKind::NotFound.into()),
    ];
    for error in errors {
        let says = error.to_string();
        assert!(
            says.contains(';') && !says.ends_with('.') && !says.starts_with(char::is_uppercase),
            "{says}"
        );
    }
}

#[test]
fn a_full_disk_costs_the_journal_one_record_and_not_its_order() {
    if !can_mount() {
        return;
    }
    let stage = Stage::new();
    let mount = format!(
        "mount -t tmpfs -o size=64k none '{}' && exec \"$@\"",
        stage.folder("state").display()
    );
    let (status, said) = stage.play(
        &["unshare", "-Urm", "sh", "-c", &mount, "sh"],
        "storage_faults::part_fills_the_journal",
    );
    assert!(status.success(), "{said}");
    assert_eq!(said, "kept");
}

#[test]
#[ignore = "a part played for the other tests"]
fn part_fills_the_journal() {
    let state = given("STATE");
    let path = journal::Journal::path_for(&state, &given("PLAN")).unwrap();
    let env = Env::of([("USER", "kim")]);
    let header = journal::Header {
        plan: String::new(),
        plan_crc: None,
        holder: Holder::this_process(&env, 0),
    };
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
    assert!(Path::new(&path).exists());
    say("kept");
}
