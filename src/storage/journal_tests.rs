//! Journals cut at every byte, with every bit turned, and kept within bounds.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::os::unix::fs::MetadataExt;

use super::*;
use crate::storage::paths::Env;
use crate::storage::scratch::Scratch;

fn header() -> Header {
    let holder = Holder::this_process(&Env::of([("USER", "kim")]), 7);
    Header { plan: "/boats/boat.ron".into(), plan_crc: Some(1), holder }
}

/// A journal of three short records, its bytes, and where each whole record ends (the header first).
fn three(scratch: &Scratch) -> (PathBuf, Vec<u8>, Vec<u64>) {
    let path = scratch.path("boat.journal");
    let mut journal = Journal::create(&path, &header()).unwrap();
    let mut ends = vec![journal.length()];
    for payload in [&b"{\"one\":1}"[..], b"", b"{\"three\":3}"] {
        journal.append(payload).unwrap();
        ends.push(journal.length());
    }
    journal.sync().unwrap();
    (path.clone(), fs::read(path).unwrap(), ends)
}

#[test]
fn what_is_appended_is_read_back_and_goes_on() {
    let scratch = Scratch::new();
    let (path, _, _) = three(&scratch);
    assert_eq!(fs::metadata(&path).unwrap().mode() & 0o777, 0o600);
    let contents = read(&path).unwrap();
    assert_eq!(contents.header, Some(header()));
    assert_eq!(contents.damage, None);
    Journal::resume(&path, &contents).unwrap().append(b"four").unwrap();
    let records = read(&path).unwrap().records;
    assert_eq!(records, [&b"{\"one\":1}"[..], b"", b"{\"three\":3}", b"four"]);
    assert!(Journal::create(&path, &header()).is_err(), "somebody's work is not written over");
}

#[test]
fn cut_at_any_byte_it_keeps_the_whole_records_before() {
    let scratch = Scratch::new();
    let (path, bytes, ends) = three(&scratch);
    for cut in 0..=bytes.len() {
        fs::write(&path, &bytes[..cut]).unwrap();
        let contents = read(&path).unwrap();
        let whole = ends.iter().filter(|end| **end <= cut as u64).count();
        assert_eq!(contents.header.is_some(), whole > 0, "cut at {cut}");
        assert_eq!(contents.records.len(), whole.saturating_sub(1), "cut at {cut}");
        assert_eq!(contents.damage.is_none(), ends.contains(&(cut as u64)), "cut at {cut}");
        if whole > 0 {
            let mut journal = Journal::resume(&path, &contents).unwrap();
            journal.append(b"next").unwrap();
            let again = read(&path).unwrap();
            assert_eq!((again.records.len(), again.damage), (whole, None), "cut at {cut}");
        } else {
            assert!(Journal::resume(&path, &contents).is_err());
        }
    }
}

#[test]
fn any_turned_bit_is_found_and_its_record_named() {
    let scratch = Scratch::new();
    let (_, bytes, ends) = three(&scratch);
    for (place, bit) in (0..bytes.len()).flat_map(|place| (0..8).map(move |bit| (place, bit))) {
        let mut turned = bytes.clone();
        turned[place] ^= 1 << bit;
        let contents = parse(&turned);
        let whole = ends.iter().filter(|end| **end <= place as u64).count();
        let start =
            if place < FIRST_LINE.len() { 0 } else { ends[..whole].last().copied().unwrap_or(FIRST_LINE.len() as u64) };
        assert_eq!(contents.damage.map(|damage| damage.offset), Some(start), "bit {bit} of byte {place}");
        assert_eq!(contents.records.len(), whole.saturating_sub(1), "bit {bit} of byte {place}");
    }
}

#[test]
fn zeros_after_a_power_failure_are_damage_not_records() {
    let scratch = Scratch::new();
    let (_, mut bytes, ends) = three(&scratch);
    bytes.extend([0; 4096]);
    let contents = parse(&bytes);
    assert_eq!(contents.records.len(), 3);
    assert_eq!(contents.damage.map(|damage| damage.offset), ends.last().copied());
}

#[test]
fn a_checkpoint_replaces_everything_at_once() {
    let scratch = Scratch::new();
    let (path, _, _) = three(&scratch);
    let mut journal = Journal::resume(&path, &read(&path).unwrap()).unwrap();
    journal.rewrite(&header(), [&b"whole plan"[..]]).unwrap();
    journal.append(b"after").unwrap();
    assert_eq!(read(&path).unwrap().records, [&b"whole plan"[..], b"after"]);
    assert_eq!(fs::metadata(&path).unwrap().len(), journal.length());
    assert_eq!(scratch.names(), ["boat.journal"]);
    journal.remove().unwrap();
    assert!(scratch.names().is_empty());
}

#[test]
fn it_stops_growing_at_its_limit_and_can_be_cut_down() {
    let scratch = Scratch::new();
    let path = scratch.path("boat.journal");
    let mut journal = Journal::create(&path, &header()).unwrap();
    let large = vec![b' '; 10 * 1024 * 1024];
    for _ in 0..3 {
        journal.append(&large).unwrap();
    }
    let full = journal.append(&large).unwrap_err();
    assert_eq!(full.kind(), io::ErrorKind::FileTooLarge);
    journal.append(b"a small one still fits").unwrap();
    assert_eq!(read(&path).unwrap().records.len(), 4);
    let refused = journal.rewrite(&header(), [&large[..]; 4]);
    assert!(refused.is_err());
    journal.rewrite(&header(), [&b"{}"[..]]).unwrap();
    assert!(journal.length() < 1000);
}

#[test]
fn a_link_or_pipe_in_its_place_is_refused() {
    let scratch = Scratch::new();
    let (real, _, _) = three(&scratch);
    let link = scratch.path("link.journal");
    std::os::unix::fs::symlink(&real, &link).unwrap();
    assert!(read(&link).is_err());
    assert!(Journal::create(&link, &header()).is_err());
    assert!(read(scratch.state().as_path()).is_err());
}

#[test]
fn set_aside_keeps_ten_and_a_month() {
    let scratch = Scratch::new();
    let path = scratch.path("boat.journal");
    let at = |day: u64| UNIX_EPOCH + Duration::from_secs(day * 24 * 3600);
    let mut last = PathBuf::new();
    for day in [1, 100, 100, 101, 102, 103, 104, 105, 106, 107, 108, 109, 110] {
        fs::write(&path, day.to_string()).unwrap();
        last = set_aside(&path, at(day)).unwrap();
    }
    assert_eq!(scratch.names().len(), KEPT);
    assert_eq!(fs::read_to_string(last).unwrap(), "110");
    fs::write(&path, "later").unwrap();
    set_aside(&path, at(137)).unwrap();
    assert_eq!(scratch.names().len(), 5, "days 107, 108, 109, 110 and 137");
    fs::write(&path, "the clock went back").unwrap();
    let aside = set_aside(&path, at(1)).unwrap();
    assert!(aside.exists());
    assert_eq!(scratch.names().len(), 6);
}
