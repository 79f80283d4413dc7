//! Saves while the machine fails: the disk full, the sync in error, no permission.
//!
//! Whatever happens, the file is the old plan, and no half-written neighbour is left by a save that could report.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(clippy::print_stderr, reason = "a test that cannot run here must say so")]

use std::fs::{self, Permissions};
use std::os::unix::fs::{PermissionsExt, chown};
use std::os::unix::process::CommandExt;

use gunnel::storage::atomic::SaveError;

use crate::child::{can_inject, can_mount, names, wrapped};
use crate::storage_stage::{FILLS, FILLS_THE_JOURNAL, LOCKS, OLD, READS, SAVES, Stage, WRITES_IN_PLACE, new};

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
        &["strace", "-f", "-o", trace.to_str().unwrap(), "-e", "trace=fsync,fdatasync", "-e", "inject=fsync:error=EIO"],
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
        &["strace", "-f", "-o", "/dev/null", "-P", stage.plan.to_str().unwrap(), "-e", "inject=read:error=EIO"],
        READS,
    );
    assert!(said.contains("boat.ron") && said.contains("cannot be read"), "{said}");
    assert_eq!(names(&stage.folder("plans")), ["boat.ron"]);
}

#[test]
fn a_full_disk_leaves_the_old_plan_and_space_makes_the_save_work() {
    if !can_mount() {
        return;
    }
    for options in ["size=64k", "size=1m,nr_inodes=6"] {
        let stage = Stage::new();
        let mount = format!("mount -t tmpfs -o {options} none '{}' && exec \"$@\"", stage.folder("plans").display());
        let (status, said) = stage.play(&["unshare", "-Urm", "sh", "-c", &mount, "sh"], FILLS);
        assert!(status.success() && said.contains("the disk is full"), "{options}: {said}");
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
    let mount = format!("mount --bind '{folder}' '{folder}' && mount -o remount,bind,ro '{folder}' && exec \"$@\"");
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
    let mount = format!("mount --bind '{}' '{}' && exec \"$@\"", other.display(), stage.plan.display());
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
    let mount = format!("mount -t tmpfs none '{}' && exec \"$@\"", stage.folder("state").display());
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
    for path in [stage.root.path(), &stage.folder("plans"), &stage.folder("state"), &stage.plan] {
        chown(path, Some(NOBODY), Some(NOBODY)).unwrap();
    }
    let runs = wrapped(&[], READS).arg("--list").uid(NOBODY).gid(NOBODY).output();
    if runs.is_ok_and(|output| output.status.success()) {
        return Some(Some(NOBODY));
    }
    eprintln!("SKIPPED: nobody but the superuser can run {}", crate::child::program().display());
    None
}

#[test]
fn in_a_folder_that_cannot_be_written_to_the_file_itself_is_once_the_person_agrees() {
    let stage = Stage::new();
    let Some(user) = somebody(&stage) else { return };
    let folder = stage.folder("plans");
    fs::set_permissions(&folder, Permissions::from_mode(0o555)).unwrap();
    let (_, said) = stage.play_as(user, &[], LOCKS);
    assert!(said.starts_with(stage.folder("state").to_str().unwrap()), "{said}");
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
    assert_eq!(fs::metadata(&stage.plan).unwrap().permissions().mode() & 0o777, 0o600);
}

#[test]
fn what_a_save_says_tells_what_to_do() {
    let errors = [
        SaveError::Changed,
        SaveError::Gone,
        SaveError::Exists,
        SaveError::Failed { doing: "writing", error: std::io::ErrorKind::StorageFull.into() },
        SaveError::NoImage(std::io::ErrorKind::NotFound.into()),
    ];
    for error in errors {
        let says = error.to_string();
        assert!(says.contains(';') && !says.ends_with('.') && !says.starts_with(char::is_uppercase), "{says}");
    }
}

#[test]
fn a_full_disk_costs_the_journal_one_record_and_not_its_order() {
    if !can_mount() {
        return;
    }
    let stage = Stage::new();
    let mount = format!("mount -t tmpfs -o size=64k none '{}' && exec \"$@\"", stage.folder("state").display());
    let (status, said) = stage.play(&["unshare", "-Urm", "sh", "-c", &mount, "sh"], FILLS_THE_JOURNAL);
    assert!(status.success(), "{said}");
    assert_eq!(said, "kept");
}
