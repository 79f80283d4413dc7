//! Two people and one plan: locks that end with their holder, saves that never lose the other's.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(clippy::print_stdout, reason = "a part tells the test how far it is")]

use std::fs;
use std::io::{BufRead, BufReader};
use std::process::Stdio;

use gunnel::storage::atomic::{SaveError, Saver};
use gunnel::storage::holder::Holder;
use gunnel::storage::journal::{self, Header, Journal};
use gunnel::storage::lock::{Lock, LockError};
use gunnel::storage::paths::Env;
use gunnel::storage::source;

use crate::child::{given, wrapped};

fn me() -> Holder {
    Holder::this_process(&Env::of([("USER", "kim")]), 1)
}

/// Holds the lock and writes a journal until killed.
#[test]
#[ignore = "a part played for the other tests"]
fn part_holds() {
    let plan = given("PLAN");
    let _lock = Lock::take(&plan, None, &me()).unwrap();
    let path = Journal::path_for(&given("STATE"), &plan).unwrap();
    let header = Header { plan: "boat".into(), plan_crc: None, holder: me() };
    let mut journal = Journal::create(&path, &header).unwrap();
    for number in 0_u32.. {
        journal.append(number.to_string().as_bytes()).unwrap();
        if number == 100 {
            println!("at work");
        }
        assert!(number < 10_000_000, "nobody kills this part");
    }
}

#[test]
fn killed_it_loses_its_lock_and_nothing_that_it_did() {
    let root = tempfile::tempdir().unwrap();
    let plan = root.path().join("boat.ron");
    fs::write(&plan, "").unwrap();
    let mut child = wrapped(&[], "storage_locks::part_holds")
        .env("PLAN", &plan)
        .env("STATE", root.path())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    assert!(lines.any(|line| line.unwrap().contains("at work")));
    match Lock::take(&plan, None, &me()) {
        Err(LockError::Held { by: Some(by) }) => assert_eq!(by.pid, child.id()),
        other => panic!("{other:?}"),
    }
    child.kill().unwrap();
    child.wait().unwrap();
    let lock = Lock::take(&plan, None, &me()).unwrap();
    let path = Journal::path_for(root.path(), &plan).unwrap();
    let contents = journal::read(&path).unwrap();
    assert!(contents.records.len() > 100);
    for (number, record) in contents.records.iter().enumerate() {
        assert_eq!(record, number.to_string().as_bytes());
    }
    drop(lock);
    assert!(!root.path().join(".boat.ron.lock").exists());
}

#[test]
fn of_two_who_save_without_a_lock_neither_loses_a_line() {
    let root = tempfile::tempdir().unwrap();
    let plan = root.path().join("boat.ron");
    fs::write(&plan, "").unwrap();
    // Two editors, each with the version it last read, taking turns at the throw of a fixed coin.
    let mut savers = [Saver::new(None), Saver::new(None)];
    let mut seen = [source::read(&plan).unwrap(), source::read(&plan).unwrap()];
    let mut written = Vec::new();
    let mut refused = 0;
    let mut coin = 1_u32;
    for turn in 0..1000 {
        coin = coin.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        let who = (coin >> 31) as usize;
        let line = format!("{turn} by {who}\n");
        let text = format!("{}{line}", seen[who].text);
        match savers[who].save(&plan, text.as_bytes(), Some(&seen[who].generation)) {
            Ok(saved) => {
                written.push(line);
                seen[who] = source::Source { text, generation: saved.generation };
            }
            Err(SaveError::Changed) => {
                refused += 1;
                seen[who] = source::read(&plan).unwrap();
            }
            Err(error) => panic!("{error}"),
        }
    }
    assert!(refused > 100, "they never met");
    assert_eq!(fs::read_to_string(&plan).unwrap(), written.concat());
}
