//! Reading what somebody calls a plan: damaged, cut, or not a file at all.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;

use gunnel::storage::atomic::Saver;
use gunnel::storage::source::{self, Generation, Trouble};

use crate::storage_stage::{Stage, new};

#[test]
fn only_ordinary_files_are_read_and_nothing_is_waited_for() {
    fn check(path: &Path, refused: fn(&Trouble) -> bool) {
        let error = source::read(path).unwrap_err();
        assert!(refused(&error.trouble), "{error}");
    }
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    rustix::fs::mknodat(rustix::fs::CWD, &pipe, rustix::fs::FileType::Fifo, rustix::fs::Mode::from_raw_mode(0o600), 0)
        .unwrap();
    let _socket = std::os::unix::net::UnixListener::bind(folder.path().join("socket")).unwrap();
    symlink(&pipe, folder.path().join("link")).unwrap();
    for name in ["pipe", "socket", "link", "."] {
        check(&folder.path().join(name), |trouble| matches!(trouble, Trouble::NotAFile { .. }));
    }
    check(Path::new("/dev/zero"), |trouble| matches!(trouble, Trouble::NotAFile { .. }));
    check(Path::new("/dev/tty"), |trouble| matches!(trouble, Trouble::NotAFile { .. } | Trouble::System(_)));
    check(&folder.path().join("missing"), |trouble| matches!(trouble, Trouble::Missing));
    check(Path::new("/proc/self/mem"), |trouble| matches!(trouble, Trouble::System(_)));
    let mut saver = Saver::new(None);
    let plan = folder.path().join("boat.ron");
    fs::write(&plan, "old").unwrap();
    let known = Generation::at(&plan).unwrap();
    assert!(saver.save(&pipe, b"new", Some(&known)).is_err());
    assert!(saver.save(&pipe, b"new", None).is_err());
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
