//! Saves that are killed, at every system call they make, one after the other.
//!
//! The file is then byte for byte the old or the new plan; after a write in place, it or its image is.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::cell::Cell;
use std::fs;

use gunnel::storage::atomic::remove_leftovers;
use gunnel::storage::backup;

use crate::child::{can_inject, names};
use crate::storage_stage::{OLD, SAVES, Stage, WRITES_IN_PLACE, new};

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
fn kill_everywhere(old: &str, part: &str, look: impl Fn(&Stage, &str)) -> Vec<&'static str> {
    let mut killed_at = Vec::new();
    for call in CALLS {
        for time in 1..1000 {
            let stage = Stage::new();
            fs::write(&stage.plan, old).unwrap();
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
        let met = killed_at.iter().filter(|call| call.starts_with(name)).count();
        assert!(met >= *least, "killed at {name} {met} times only: {killed_at:?}");
    }
}

#[test]
fn killed_at_any_call_of_a_save_the_plan_is_whole() {
    if !can_inject() {
        return;
    }
    let killed_at = kill_everywhere(OLD, SAVES, |stage, when| {
        stage.is_old_or_new(when);
        remove_leftovers(&stage.plan);
        assert_eq!(names(&stage.folder("plans")), ["boat.ron"], "{when}");
    });
    // The backup, the plan, and the folders of both.
    met(&killed_at, &[("fsync", 4), ("rename", 2), ("write", 2), ("fchmod", 1)]);
}

#[test]
fn killed_at_any_call_of_a_write_in_place_a_whole_version_is_kept() {
    if !can_inject() {
        return;
    }
    // Longer than the new plan, so that between writing and cutting it is neither.
    let old = "the old plan\n".repeat(5000);
    let torn = Cell::new(0);
    let killed_at = kill_everywhere(&old, WRITES_IN_PLACE, |stage, when| {
        let text = fs::read_to_string(&stage.plan).unwrap();
        if text != old && text != new() {
            torn.set(torn.get() + 1);
            let image = backup::unfinished(&stage.folder("state"), &stage.plan);
            let image = image.unwrap_or_else(|| panic!("{when}: no image"));
            assert_eq!(fs::read_to_string(image).unwrap(), old, "{when}");
        }
    });
    assert!(torn.get() > 0, "it was never killed between writing and cutting");
    // The backup, the image, the plan, and the folder of the first two.
    met(&killed_at, &[("fsync", 5), ("rename", 2), ("write", 3), ("ftruncate", 1), ("unlink", 1)]);
}
