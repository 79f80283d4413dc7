//! `gunnel notes` from outside: what was said, as text, Markdown and a document; nothing of it drives anything.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::edit::Edit;
use gunnel::geometry::Spot;
use gunnel::plan::{Anchor, GearId, Key, Note, Plan};
use gunnel::review::entries::signed;
use gunnel::review::whereabouts::pin;
use gunnel::review::{Deed, ThreadRef, Verdict};
use gunnel::storage::comments::Comments;
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::units::Length;

use crate::boats::rich;
use crate::home::{Home, code, json, out, transcript};

/// A day in 2031.
const NOON: u64 = 1_937_908_800;

fn note(text: &str) -> Note {
    Note::new(text).unwrap()
}

/// A plan a partner went through, and what the owner said to it. The cooler went ashore after the sign-off.
fn home() -> Home {
    let home = Home::new();
    let plan = rich();
    let later = gunnel::edit::apply(&plan, &Edit::PutAshore { gear: GearId(11) }).unwrap();
    home.file("boat.ron", &write::plan(&later, Format::Ron).unwrap());
    let comments = Comments::beside(&home.path("boat.ron"));
    let on = |anchor: Anchor| pin(&plan, &anchor).unwrap();
    let thread = |id| ThreadRef { by: Key::new("partner").unwrap(), id };
    let move_crate = Edit::Move { gear: GearId(4), x: Length::mm(600.0), y: Length::mm(0.0) };
    let said = [
        ("partner", Deed::Comment { on: on(Anchor::Gear(GearId(3))), text: note("why on the *hatch*? <b>") }),
        (
            "partner",
            Deed::Suggest {
                on: on(Anchor::Gear(GearId(4))),
                text: note("clear of the lid"),
                edits: vec![move_crate],
                next: None,
            },
        ),
        ("partner", Deed::Comment { on: on(Anchor::Spot(Spot::new(1500.0, -200.0))), text: note("wet here") }),
        ("owner", Deed::Answer { thread: thread(1), text: note("it comes off for the trip") }),
        ("owner", Deed::Resolve { thread: thread(3) }),
        ("partner", stop("trim", Verdict::Good, "")),
        ("partner", stop("fewer", Verdict::Doubt, "four bolts saved by the track")),
        ("partner", Deed::SignOff { plan: signed(&plan), text: note("drill when dry") }),
    ];
    for (n, (by, does)) in said.into_iter().enumerate() {
        comments.add(&Key::new(by).unwrap(), does, NOON + 60 * n as u64).unwrap();
    }
    home
}

fn stop(key: &str, verdict: Verdict, text: &str) -> Deed {
    Deed::Stop { stop: Key::new(key).unwrap(), verdict, text: Note::new(text).unwrap() }
}

#[test]
fn it_says_what_was_said_and_what_stands() {
    let home = home();
    insta::assert_snapshot!(
        [transcript(&home, &["notes", "boat.ron"]), transcript(&home, &["notes", "boat.ron", "--markdown"])].join("\n")
    );
}

#[test]
fn its_document_counts_and_places() {
    let home = home();
    let notes = json(&home.run(&["notes", "boat.ron", "--json"]));
    assert_eq!(notes["schema"], "gunnel.notes/1");
    let counts = ["open", "answered", "resolved"].map(|state| notes[state].as_u64().unwrap());
    assert_eq!(counts, [1, 1, 1]);
    assert_eq!(notes["threads"][1]["x_mm"], 650.0, "where the crate stands");
    assert_eq!(notes["threads"][1]["suggestion"]["became"], "waiting");
    assert_eq!(notes["sign_offs"][0]["stands"], false);
    assert_eq!(notes["threads"][0]["said"][0]["day"], "2031-05-30");
}

#[test]
fn a_plan_nobody_spoke_about_has_no_notes() {
    let home = Home::new();
    let plan: Plan = rich();
    home.file("boat.ron", &write::plan(&plan, Format::Ron).unwrap());
    let output = home.run(&["notes", "boat.ron"]);
    assert_eq!(code(&output), 0);
    assert!(out(&output).ends_with("nothing was said yet\n"), "{}", out(&output));
    assert!(!home.path("boat.ron.comments").exists(), "looking makes no folder");
}

#[test]
fn text_in_markdown_stays_text() {
    let home = home();
    let page = home.run(&["notes", "boat.ron", "--markdown"]);
    let page = out(&page);
    assert!(page.contains("why on the \\*hatch\\*? \\<b\\>"), "{page}");
}
