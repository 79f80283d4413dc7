//! The folder of comments: nothing is lost, nothing hurts.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::os::unix::fs::symlink;
use std::sync::atomic::{AtomicU64, Ordering};

use gunnel::plan::{Anchor, GearId, Key, Note};
use gunnel::review::entries::signed;
use gunnel::review::whereabouts::pin;
use gunnel::review::{Deed, talk};
use gunnel::storage::comments::{CommentError, Comments, LARGEST_BYTES, MOST_AUTHORS, MOST_OPEN};

use crate::boats::rich;
use crate::home::Home;

fn key(text: &str) -> Key {
    Key::new(text).unwrap()
}

fn comment(text: &str) -> Deed {
    Deed::Comment { on: pin(&rich(), &Anchor::Gear(GearId(4))).unwrap(), text: Note::new(text).unwrap() }
}

/// A plan's folder of comments, and the plan's home.
fn folder() -> (Home, Comments) {
    let home = Home::new();
    let comments = Comments::beside(&home.path("boat.ron"));
    (home, comments)
}

/// What was said by an author, oldest first.
fn said(comments: &Comments, author: &str) -> Vec<String> {
    let heard = comments.read();
    let text = |does: &Deed| match does {
        Deed::Comment { text, .. } => text.as_str().to_string(),
        _ => String::new(),
    };
    heard.authors.get(&key(author)).map_or(Vec::new(), |entries| entries.iter().map(|e| text(&e.does)).collect())
}

#[test]
fn what_was_said_is_read_back() {
    let (_home, comments) = folder();
    assert!(comments.read().authors.is_empty() && comments.read().troubles.is_empty());
    let first = comments.add(&key("ana"), comment("one"), 100).unwrap();
    let second = comments.add(&key("ana"), comment("two\nlines"), 101).unwrap();
    comments.add(&key("ben"), comment("three"), 50).unwrap();
    assert_eq!((first.id, second.id), (1, 2));
    assert_eq!(said(&comments, "ana"), ["one", "two\nlines"]);
    assert_eq!(said(&comments, "ben"), ["three"]);
    let heard = comments.read();
    assert_eq!(heard.authors[&key("ana")], [first, second]);
    assert_eq!(talk(&rich(), &heard.authors).threads.len(), 3);
    assert_eq!(heard.troubles, Vec::<String>::new());
}

#[test]
fn a_torn_line_costs_itself_alone() {
    let (_home, comments) = folder();
    comments.add(&key("ana"), comment("one"), 1).unwrap();
    comments.add(&key("ana"), comment("two"), 2).unwrap();
    let file = comments.folder().join("ana.lines");
    let whole = fs::read(&file).unwrap();
    for cut in 0..whole.len() {
        fs::write(&file, &whole[..cut]).unwrap();
        let lines = String::from_utf8_lossy(&whole[..cut]).matches('\n').count();
        // A line that only lacks its line feed is whole.
        let kept = said(&comments, "ana").len();
        assert!(kept == lines || kept == lines + 1, "cut at {cut}: {kept} of {lines}");
        comments.add(&key("ana"), comment("after"), 9).unwrap();
        assert_eq!(said(&comments, "ana").last().unwrap(), "after", "cut at {cut}");
        assert_eq!(said(&comments, "ana").len(), kept + 1);
    }
}

#[test]
fn what_is_hostile_is_passed_over_and_named() {
    let (home, comments) = folder();
    comments.add(&key("ana"), comment("one"), 1).unwrap();
    let put = |name: &str, text: &[u8]| fs::write(comments.folder().join(name), text).unwrap();
    let good = fs::read_to_string(comments.folder().join("ana.lines")).unwrap();
    put("newer.lines", good.replace("\"v\":1", "\"v\":2").as_bytes());
    put("junk.lines", b"\x00\xff\x1b]0;title\x07\n{\"v\":1}\n[[[[\n\n");
    put("escapes.lines", good.replace("one", "a\\u001b[2Jb").as_bytes());
    put("extra.lines", good.replace("\"id\":1", "\"id\":1,\"sudo\":true").as_bytes());
    put("again.lines", format!("{good}{good}").as_bytes());
    put("Not A Key!.lines", good.as_bytes());
    put("notes.txt", b"not ours");
    symlink("/etc/passwd", comments.folder().join("link.lines")).unwrap();
    fs::create_dir(comments.folder().join("folder.lines")).unwrap();
    rustix::fs::mknodat(
        rustix::fs::CWD,
        comments.folder().join("pipe.lines"),
        rustix::fs::FileType::Fifo,
        rustix::fs::Mode::from_raw_mode(0o600),
        0,
    )
    .unwrap();
    let nested = format!("{}{}\n", "[".repeat(100_000), "]".repeat(100_000));
    put("deep.lines", nested.as_bytes());
    let heard = comments.read();
    assert_eq!(said(&comments, "ana"), ["one"]);
    assert_eq!(said(&comments, "again"), ["one"]);
    for author in ["newer", "junk", "escapes", "extra", "deep"] {
        assert_eq!(said(&comments, author), Vec::<String>::new(), "{author}");
    }
    let place = home.path("").display().to_string();
    let mut troubles: Vec<String> = heard.troubles.iter().map(|trouble| trouble.replace(&place, "")).collect();
    troubles.sort();
    insta::assert_snapshot!(troubles.join("\n"));
    assert!(!heard.troubles.iter().any(|trouble| trouble.chars().any(gunnel::shown::is_unsafe)));
}

#[test]
fn there_are_limits_for_each_author_and_for_authors() {
    let (_home, comments) = folder();
    comments.add(&key("ana"), comment("one"), 100).unwrap();
    assert!(matches!(comments.add(&key("ana"), comment("two"), 100), Err(CommentError::TooSoon)));
    comments.add(&key("ana"), comment("two"), 101).unwrap();
    comments.add(&key("ana"), comment("after the clock was set back"), 7).unwrap();
    comments.add(&key("ben"), comment("another author"), 101).unwrap();
    for n in 3..MOST_OPEN as u64 {
        comments.add(&key("ana"), comment("more"), 200 + n).unwrap();
    }
    assert!(matches!(comments.add(&key("ana"), comment("too many"), 5_000), Err(CommentError::TooManyOpen)));
    let resolve = Deed::Resolve { thread: gunnel::review::ThreadRef { by: key("ana"), id: 1 } };
    comments.add(&key("ana"), resolve, 5_001).unwrap();
    comments.add(&key("ana"), comment("room again"), 5_002).unwrap();
    for n in 0..MOST_AUTHORS + 10 {
        fs::write(comments.folder().join(format!("z{n:03}.lines")), "").unwrap();
    }
    let heard = comments.read();
    assert_eq!(heard.authors.len(), MOST_AUTHORS);
    assert!(heard.troubles.iter().any(|trouble| trouble.contains("authors")), "{:?}", heard.troubles);
}

#[test]
fn a_file_that_is_full_takes_no_more() {
    let (_home, comments) = folder();
    comments.add(&key("ana"), comment("one"), 1).unwrap();
    let file = comments.folder().join("ana.lines");
    let mut text = fs::read_to_string(&file).unwrap();
    text.push_str(&" ".repeat(LARGEST_BYTES as usize - text.len() - 10));
    text.push('\n');
    fs::write(&file, &text).unwrap();
    assert!(matches!(comments.add(&key("ana"), comment("two"), 9), Err(CommentError::Full)));
    assert_eq!(said(&comments, "ana"), ["one"]);
}

#[test]
fn links_and_folders_in_the_place_of_a_file_are_refused() {
    let (home, comments) = folder();
    fs::create_dir(comments.folder()).unwrap();
    let target = home.file("target", "keep me");
    symlink(&target, comments.folder().join("ana.lines")).unwrap();
    fs::create_dir(comments.folder().join("ben.lines")).unwrap();
    assert!(matches!(comments.add(&key("ana"), comment("one"), 1), Err(CommentError::System(..))));
    assert!(matches!(comments.add(&key("ben"), comment("one"), 1), Err(CommentError::System(..))));
    assert_eq!(fs::read_to_string(&target).unwrap(), "keep me");
}

#[test]
fn a_thousand_writes_of_many_hands_all_arrive() {
    let (_home, comments) = folder();
    let clock = AtomicU64::new(1);
    // Two windows of each of two authors write at once; the clock never shows one second twice.
    std::thread::scope(|scope| {
        for (author, hand) in [("ana", 0), ("ana", 1), ("ben", 2), ("ben", 3)] {
            let (comments, clock) = (&comments, &clock);
            scope.spawn(move || {
                for n in 0..100 {
                    let mut text = format!("{hand}-{n}");
                    text.push_str(&"x".repeat(n * 10));
                    // Between reading the clock and taking the lock another hand may have written a later second.
                    while let Err(error) =
                        comments.add(&key(author), comment(&text), clock.fetch_add(1, Ordering::SeqCst))
                    {
                        assert!(matches!(error, CommentError::TooSoon), "{error}");
                    }
                }
            });
        }
    });
    for author in ["ana", "ben"] {
        let said = said(&comments, author);
        assert_eq!(said.len(), 200);
        for hand in 0..4 {
            let of_hand: Vec<&String> = said.iter().filter(|text| text.starts_with(&format!("{hand}-"))).collect();
            let numbers = of_hand.iter().map(|text| text[2..].trim_end_matches('x').parse::<usize>().unwrap());
            assert!(numbers.is_sorted(), "{author}, hand {hand}");
        }
    }
    assert!(comments.read().troubles.is_empty());
}

#[test]
fn a_sign_off_brings_its_plan_and_reads_back_whole() {
    let (_home, comments) = folder();
    let plan = rich();
    comments.add(&key("ana"), Deed::SignOff { plan: signed(&plan), text: Note::default() }, 1).unwrap();
    let talk = talk(&plan, &comments.read().authors);
    assert!(talk.sign_offs[0].void_by(&plan).is_empty());
}
