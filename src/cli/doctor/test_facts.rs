//! A review that is set up as the README says, as the partner's account meets it over ssh: tests change one thing of it,
//! and the README shows what is said of it.
//!
//! Unit tests and the test program share it, so it speaks of the library by its outside name.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(missing_docs, reason = "names say it")]

use gunnel::cli::doctor::{Comments, Entry, Facts, Folders, Found, Kind, Machine, May, PlanFacts, Reading, Streams};
use gunnel::plan::Key;
use gunnel::storage::lock::Standing;
use gunnel::storage::paths::Env;

/// A folder of the owner's that the partner can read.
pub fn folder(path: &str) -> Entry {
    Entry {
        path: path.into(),
        kind: Kind::Folder,
        owner: "owner".into(),
        group: "rigs".into(),
        mine: false,
        mode: 0o755,
        bytes: 4096,
        may: May { read: true, write: false, pass: true },
    }
}

/// The same for a file.
pub fn file(path: &str) -> Entry {
    let may = May { read: true, write: false, pass: false };
    Entry { kind: Kind::File, mode: 0o640, bytes: 1234, may, ..folder(path) }
}

pub fn review() -> Facts {
    let env = Env::of([("TERM", "xterm-256color"), ("LANG", "en_GB.UTF-8"), ("SSH_CONNECTION", "a 1 b 2")]);
    let streams = Streams { input: true, output: true, size: Some((120, 40)) };
    let machine = Machine { debug_build: false, account: "review".into(), ..Machine::of(&env, streams) };
    let state = Entry {
        owner: "review".into(),
        group: "review".into(),
        mine: true,
        mode: 0o700,
        may: May { read: true, write: true, pass: true },
        ..folder("/home/review/.local/state/gunnel")
    };
    let shared = Entry {
        mode: 0o3770,
        may: May { read: true, write: true, pass: true },
        ..folder("/srv/rigs/boat.ron.comments")
    };
    let mut said = Entry { owner: "review".into(), mine: true, ..file("/srv/rigs/boat.ron.comments/partner.lines") };
    said.may.write = true;
    Facts {
        machine,
        folders: Folders {
            data: Some(Found::Missing("/home/review/.local/share/gunnel".into())),
            data_troubles: Vec::new(),
            state: Some(Found::There(state)),
            state_can_be_made: true,
            waiting: Vec::new(),
            backups: (0, 0),
            free: Some(8_000_000_000),
        },
        plan: Some(PlanFacts {
            asked: "/srv/rigs/boat.ron".into(),
            file: Found::There(file("/srv/rigs/boat.ron")),
            folder: Found::There(folder("/srv/rigs")),
            closed: None,
            reading: Reading::Sound(2),
            read_only: None,
            lock: Standing::Free,
            image: None,
            leftovers: 0,
            network: false,
            free: Some(8_000_000_000),
            comments: Comments {
                folder: Found::There(shared),
                authors: vec![file("/srv/rigs/boat.ron.comments/owner.lines"), said.clone()],
                troubles: Vec::new(),
            },
            live: Found::Missing("/srv/rigs/.boat.ron.live".into()),
            own: Some(Found::There(said)),
            group: "rigs".into(),
        }),
        partner: Some(Key::new("partner").unwrap()),
    }
}
