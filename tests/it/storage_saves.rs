//! Saves as people's folders make them: links, modes, other writers, odd names, odd files.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::ffi::OsStr;
use std::fs::{self, Permissions};
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::{MetadataExt, PermissionsExt, symlink};
use std::path::{Path, PathBuf};

use gunnel::storage::atomic::{InPlace, ReadOnly, SaveError, Saver, read_only, remove_leftovers};
use gunnel::storage::source::{self, Generation};
use gunnel::storage::{backup, paths};

use crate::child::names;

/// A folder with plans and a state folder, and a saver that uses it.
struct Place {
    root: tempfile::TempDir,
    saver: Saver,
}

impl Place {
    fn new() -> Self {
        let root = tempfile::tempdir().unwrap();
        fs::create_dir(root.path().join("plans")).unwrap();
        fs::create_dir(root.path().join("state")).unwrap();
        let saver = Saver::new(Some(root.path().join("state")));
        Self { root, saver }
    }

    fn path(&self, name: impl AsRef<OsStr>) -> PathBuf {
        self.root.path().join("plans").join(name.as_ref())
    }

    fn file(&self, name: &str, bytes: impl AsRef<[u8]>) -> PathBuf {
        let path = self.path(name);
        fs::write(&path, bytes).unwrap();
        path
    }

    fn state(&self) -> PathBuf {
        self.root.path().join("state")
    }

    fn names(&self) -> Vec<String> {
        names(&self.root.path().join("plans"))
    }
}

fn version(path: &Path) -> Generation {
    Generation::at(path).unwrap()
}

#[test]
fn a_new_plan_is_made_and_saved_again_and_again() {
    let mut place = Place::new();
    let path = place.path("boat.ron");
    let mut known = place.saver.save(&path, b"one", None).unwrap().generation;
    assert_eq!(known, version(&path), "what a save returns is what is on disk");
    for text in ["two", "three", ""] {
        let saved = place.saver.save(&path, text.as_bytes(), Some(&known)).unwrap();
        assert!(saved.warnings.is_empty(), "{:?}", saved.warnings);
        assert_eq!(fs::read_to_string(&path).unwrap(), text);
        known = saved.generation;
    }
    assert_eq!(place.names(), ["boat.ron"]);
    let kept = backup::list(&place.state(), &path);
    assert_eq!(kept.len(), 1, "one backup for a session");
    assert_eq!(fs::read_to_string(&kept[0]).unwrap(), "one");
}

#[test]
fn each_session_keeps_the_version_it_found() {
    let mut place = Place::new();
    let path = place.file("boat.ron", "0");
    for session in 1..=5 {
        let mut saver = Saver::new(Some(place.state()));
        saver.save(&path, session.to_string().as_bytes(), Some(&version(&path))).unwrap();
    }
    let kept: Vec<String> =
        backup::list(&place.state(), &path).iter().map(|kept| fs::read_to_string(kept).unwrap()).collect();
    assert_eq!(kept, ["4", "3", "2"]);
    place.saver = Saver::new(None);
    let saved = place.saver.save(&path, b"6", Some(&version(&path))).unwrap();
    assert_eq!(saved.warnings.len(), 1, "without a state folder there is a warning, and a save");
}

#[test]
fn what_others_wrote_is_never_written_over() {
    fn check(change: impl FnOnce(&Path), refused: fn(&SaveError) -> bool) {
        let mut place = Place::new();
        let path = place.file("boat.ron", "mine");
        let known = version(&path);
        change(&path);
        let before = fs::read(&path).ok();
        let error = place.saver.save(&path, b"new", Some(&known)).unwrap_err();
        assert!(refused(&error), "{error:?}");
        assert_eq!(fs::read(&path).ok(), before);
        let error = place.saver.save_in_place(&path, b"new", &known).unwrap_err();
        assert!(refused(&error), "{error:?}");
        assert_eq!(fs::read(&path).ok(), before);
    }
    check(|path| fs::write(path, "hers").unwrap(), |error| matches!(error, SaveError::Changed));
    check(|path| fs::write(path, "").unwrap(), |error| matches!(error, SaveError::Changed));
    check(
        |path| {
            let other = path.with_extension("new");
            fs::write(&other, "HERS").unwrap();
            fs::rename(other, path).unwrap();
        },
        |error| matches!(error, SaveError::Changed),
    );
    check(|path| fs::remove_file(path).unwrap(), |error| matches!(error, SaveError::Gone));
    check(
        |path| {
            fs::remove_file(path).unwrap();
            fs::create_dir(path).unwrap();
        },
        |error| matches!(error, SaveError::Unreadable(_)),
    );
}

#[test]
fn a_new_plan_does_not_take_the_name_of_an_old_file() {
    let mut place = Place::new();
    let path = place.file("boat.ron", "somebody's");
    let error = place.saver.save(&path, b"new", None).unwrap_err();
    assert!(matches!(error, SaveError::Exists), "{error:?}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "somebody's");
}

#[test]
fn the_same_bytes_with_other_stamps_are_no_change() {
    let mut place = Place::new();
    let path = place.file("boat.ron", "mine");
    let known = version(&path);
    fs::remove_file(&path).unwrap();
    fs::write(&path, "mine").unwrap();
    place.saver.save(&path, b"new", Some(&known)).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "new");
}

#[test]
fn a_change_of_the_same_size_in_the_same_tick_is_seen() {
    let mut place = Place::new();
    for round in 0..100 {
        let path = place.file("boat.ron", "aaaa");
        let stamp = fs::metadata(&path).unwrap().modified().unwrap();
        let known = version(&path);
        fs::write(&path, "aaab").unwrap();
        fs::File::options().write(true).open(&path).unwrap().set_modified(stamp).unwrap();
        let saved = place.saver.save(&path, b"new", Some(&known));
        assert!(matches!(saved, Err(SaveError::Changed)), "round {round}");
    }
}

#[test]
fn a_file_made_read_only_stays_as_it_is() {
    let mut place = Place::new();
    let path = place.file("boat.ron", "old");
    let known = version(&path);
    assert_eq!(read_only(&path), None);
    fs::set_permissions(&path, Permissions::from_mode(0o444)).unwrap();
    assert_eq!(read_only(&path), Some(ReadOnly::Mode));
    for error in [
        place.saver.save(&path, b"new", Some(&known)).unwrap_err(),
        place.saver.save_in_place(&path, b"new", &known).unwrap_err(),
    ] {
        assert!(matches!(error, SaveError::ReadOnly(ReadOnly::Mode)), "{error:?}");
    }
    assert_eq!(fs::read_to_string(&path).unwrap(), "old");
    assert_eq!(fs::metadata(&path).unwrap().mode() & 0o777, 0o444);
    assert_eq!(place.names(), ["boat.ron"]);
}

#[test]
fn mode_owner_and_attributes_stay() {
    let mut place = Place::new();
    for mode in [0o600, 0o640, 0o664, 0o755] {
        let path = place.file("boat.ron", "old");
        fs::set_permissions(&path, Permissions::from_mode(mode)).unwrap();
        let attribute = rustix::fs::setxattr(&path, "user.note", b"mine", rustix::fs::XattrFlags::empty());
        if rustix::process::geteuid().is_root() {
            std::os::unix::fs::chown(&path, Some(1234), Some(4321)).unwrap();
        }
        let before = fs::metadata(&path).unwrap();
        let saved = place.saver.save(&path, b"new", Some(&version(&path))).unwrap();
        assert!(saved.warnings.is_empty(), "{:?}", saved.warnings);
        let after = fs::metadata(&path).unwrap();
        assert_eq!((after.mode(), after.uid(), after.gid()), (before.mode(), before.uid(), before.gid()));
        assert_ne!(after.ino(), before.ino(), "it was replaced, not written over");
        if attribute.is_ok() {
            let mut value = [0; 16];
            let length = rustix::fs::getxattr(&path, "user.note", &mut value[..]).unwrap();
            assert_eq!(&value[..length], b"mine");
        }
        fs::remove_file(path).unwrap();
    }
}

#[test]
fn links_stay_links_and_lead_where_they_led() {
    let mut place = Place::new();
    fs::create_dir(place.path("deep")).unwrap();
    let plan = place.file("deep/boat.ron", "old");
    symlink("deep/boat.ron", place.path("second")).unwrap();
    symlink("second", place.path("first")).unwrap();
    let first = place.path("first");
    place.saver.save(&first, b"new", Some(&version(&first))).unwrap();
    assert_eq!(fs::read_to_string(&plan).unwrap(), "new");
    assert_eq!(fs::read_link(&first).unwrap(), Path::new("second"));
    assert_eq!(names(&place.path("deep")), ["boat.ron"]);

    symlink("deep/made.ron", place.path("dangling")).unwrap();
    place.saver.save(&place.path("dangling"), b"made", None).unwrap();
    assert_eq!(fs::read_to_string(place.path("deep/made.ron")).unwrap(), "made");
    assert!(place.path("dangling").is_symlink());

    symlink("round", place.path("round")).unwrap();
    let error = place.saver.save(&place.path("round"), b"new", None).unwrap_err();
    assert!(matches!(error, SaveError::Failed { .. }), "{error:?}");
    assert!(source::read(&place.path("round")).is_err());
}

#[test]
fn both_names_of_a_file_get_the_new_plan_once_the_person_agrees() {
    let mut place = Place::new();
    let path = place.file("boat.ron", "old, and longer than the new one");
    let other = place.path("other.ron");
    fs::hard_link(&path, &other).unwrap();
    let known = version(&path);
    let error = place.saver.save(&path, b"new", Some(&known)).unwrap_err();
    assert!(matches!(error, SaveError::NeedsInPlace(InPlace::HardLinks(2))), "{error:?}");
    assert!(fs::read_to_string(&path).unwrap().starts_with("old"));
    let saved = place.saver.save_in_place(&path, b"new", &known).unwrap();
    assert_eq!(fs::read_to_string(&path).unwrap(), "new");
    assert_eq!(fs::read_to_string(&other).unwrap(), "new");
    assert_eq!(saved.generation, version(&path));
    assert_eq!(backup::unfinished(&place.state(), &path), None, "the guard is gone");
    place.saver.save_in_place(&path, b"and longer again", &saved.generation).unwrap();
    assert_eq!(fs::read_to_string(&other).unwrap(), "and longer again");
}

#[test]
fn nothing_is_written_in_place_without_a_guard() {
    let place = Place::new();
    let path = place.file("boat.ron", "old");
    let error = Saver::new(None).save_in_place(&path, b"new", &version(&path)).unwrap_err();
    assert!(matches!(error, SaveError::NoImage(_)), "{error:?}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "old");
}

#[test]
fn names_of_any_kind_can_be_saved() {
    let mut place = Place::new();
    let longest = "b".repeat(255);
    for name in [longest.as_bytes(), b"two\nlines.ron", b"\x1b[2J.ron", b"caf\xe9.ron", b"-", b"~"] {
        let path = place.path(OsStr::from_bytes(name));
        let known = place.saver.save(&path, b"one", None).unwrap().generation;
        place.saver.save(&path, b"two", Some(&known)).unwrap();
        assert_eq!(source::read(&path).unwrap().text, "two");
        assert_eq!(place.names().len(), 1, "{name:?}");
        let shown = paths::shown(&path);
        assert!(!shown.contains(char::is_control), "{shown}");
        fs::remove_file(path).unwrap();
    }
}

#[test]
fn only_what_a_killed_save_left_is_swept() {
    let place = Place::new();
    let path = place.file("boat.ron", "");
    for stays in [
        ".boat.ron.tmp",
        ".boat.ron.abc.tmp",
        ".other.ron.abcd1234.tmp",
        "boat.ron.abcd1234.tmp",
        ".boat.ron.ab-d1234.tmp",
    ] {
        place.file(stays, "");
    }
    place.file(".boat.ron.abcd1234.tmp", "half");
    place.file(".boat.ron.ABCD1234.tmp", "half");
    assert_eq!(remove_leftovers(&path), 2);
    assert_eq!(place.names().len(), 6);
    assert_eq!(remove_leftovers(&path), 0);
    assert_eq!(remove_leftovers(Path::new("/no/such/folder/boat.ron")), 0);
}
