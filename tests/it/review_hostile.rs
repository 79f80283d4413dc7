//! What is put into a plan, a name or the folder of comments to hurt: the door refuses it or the screen shows it
//! harmless, whatever is open; and a plan that vanishes or turns into something else leaves the last good one in view.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeMap;
use std::ffi::OsString;
use std::fs;
use std::os::unix::ffi::OsStringExt;
use std::os::unix::fs::symlink;
use std::path::Path;

use gunnel::edit::Edit;
use gunnel::plan::{Anchor, GearId, HoleId, Key, Name, Note, Plan};
use gunnel::review::entries::VERSION;
use gunnel::review::whereabouts::pin;
use gunnel::review::{Deed, Entry, talk};
use gunnel::shown::is_unsafe;
use gunnel::storage::comments::Comments;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use gunnel::tui::action::ACTIONS;
use gunnel::tui::update::perform;

use crate::boats::{bare, many_scripts, name, rich, with};
use crate::stage::Stage;
use crate::terminal_home::{ESC, Home, play};

/// Texts that drive a terminal or pretend to be others. Source: ECMA-48 for the sequences, Unicode Technical Report 36
/// for the invisible and the turned around, from memory.
const DRIVES: &[&str] = &[
    "\u{1b}[31;5;8mevil",
    "\u{1b}]8;;http://evil\u{7}",
    "\u{1b}]52;c;ZXZpbA==\u{7}",
    "\u{1b}P+q6576696c\u{1b}\\",
    "\u{9b}31mevil",
    "\u{9d}0;evil\u{9c}",
    "evil\u{202e}live",
    "evil\u{2066}live",
    "ev\u{200b}il",
    "\u{feff}evil",
    "ev\u{e0041}il",
    "evil\u{7}",
    "evil\u{7f}",
    "evil\rlive",
    "ev\0il",
];

/// Texts that are sound and hard to show: piles of accents, wide ones, from right to left, of many lines.
fn hard() -> Vec<String> {
    vec![
        format!("z{}alg{}o", "\u{301}\u{30f}".repeat(40), "\u{488}".repeat(30)),
        "表示器 九インチ 左舷トラック".repeat(30),
        "עברית شكرا עברית".repeat(20),
        "one\ntwo\tthree\n\n\nfour".into(),
        "x".repeat(16_000),
        "👩\u{1f3fd}🎣🛶 e\u{301}".repeat(50),
    ]
}

/// A text as a plan's file can hold it, each character by its number.
fn numbered(text: &str) -> String {
    text.chars().flat_map(char::escape_unicode).collect()
}

#[test]
fn the_door_refuses_what_drives_a_terminal_and_says_so_harmlessly() {
    let plan = write::plan(&rich(), Format::Ron).unwrap();
    for text in DRIVES {
        assert!(Name::new(*text).is_err() && Note::new(*text).is_err() && Key::new(*text).is_err(), "{text:?}");
        // The plan, gear and a hole.
        for called in ["quiet water", "crate with trays and rod tubes", "cable entry"] {
            let hostile = plan.replacen(called, &numbered(text), 1);
            assert_ne!(hostile, plan, "{called}");
            let refused = load::plan(&hostile, Path::new("boat.ron"), Format::Ron).unwrap_err().to_string();
            assert!(!refused.chars().any(|c| c != '\n' && is_unsafe(c)), "{refused:?}");
        }
    }
}

/// The plan with names of every script, and gear and a hole with the hardest.
fn hard_plan() -> Plan {
    let piled = format!("z{}", "\u{301}".repeat(79));
    let gear = Edit::Rename { gear: GearId(4), label: name(&piled) };
    with(many_scripts(), &[gear])
}

/// A screen on that plan, where much was said that is hard to show and some things could not be read.
fn hard_stage(reviewer: bool, (columns, rows): (u16, u16)) -> Stage {
    let plan = hard_plan();
    let mut stage = if reviewer { Stage::looking_at(plan) } else { Stage::on(plan) };
    let anchors = [Anchor::Plan, Anchor::Gear(GearId(4)), Anchor::Hole(HoleId(1))];
    let plan = stage.plan().clone();
    let said = hard().into_iter().zip(1..).map(|(text, id)| {
        let on = pin(&plan, &anchors[id as usize % anchors.len()]).unwrap();
        Entry { v: VERSION, id, at_s: 1_900_000_000, does: Deed::Comment { on, text: Note::new(text).unwrap() } }
    });
    let files = BTreeMap::from([(Key::new("partner").unwrap(), said.collect())]);
    let voice = &mut stage.app.editor_mut().unwrap().voice;
    voice.talk = talk(&plan, &files);
    voice.troubles = DRIVES.iter().map(|text| format!("{text}.lines: passed over")).collect();
    voice.reviewer = reviewer.then(|| Key::new("mate").unwrap());
    stage.sized(columns, rows)
}

/// No cell of the screen holds a character that drives the terminal, or that is not seen.
fn is_harmless(stage: &Stage, what: &str) {
    let unsafe_cell = stage.buffer().content.iter().find(|cell| cell.symbol().chars().any(is_unsafe)).cloned();
    assert!(unsafe_cell.is_none(), "{what}: {unsafe_cell:?}");
}

#[test]
fn no_screen_and_no_layer_shows_it_raw() {
    for (reviewer, size) in [(false, (80, 24)), (false, (120, 40)), (true, (80, 24)), (true, (120, 40))] {
        let mut stage = hard_stage(reviewer, size);
        for row in ACTIONS {
            perform(&mut stage.app, row.action);
            is_harmless(&stage, row.id);
            for key in ["pagedown", "enter", "down", "enter"] {
                stage.play(key);
                is_harmless(&stage, row.id);
            }
            stage.play("esc*5");
        }
        // Nothing is said about a copy.
        stage.app.editor_mut().unwrap().end_draft();
        stage.play("Y");
        assert!(stage.shows("what was said"), "{}", stage.lines().join("\n"));
        for _ in 0..hard().len() + DRIVES.len() {
            is_harmless(&stage, "the list of what was said");
            stage.play("down");
        }
        assert!(stage.lines().join("\n").contains("⟨U+"), "what was passed over is in the list, its marks seen");
        stage.play("esc");
        for _ in hard() {
            stage.play("Z");
            is_harmless(&stage, "a thread");
            stage.play("esc");
        }
    }
}

/// A folder of comments in which one author said something and everything else is there to hurt.
fn hostile_folder(home: &Home) {
    let comments = Comments::beside(&home.plan_file());
    let on = pin(&home.plan(), &Anchor::Plan).unwrap();
    let said = Deed::Comment { on, text: Note::new("a good word").unwrap() };
    comments.add(&Key::new("ana").unwrap(), said, 100).unwrap();
    let good = fs::read_to_string(comments.folder().join("ana.lines")).unwrap();
    let put = |name: OsString, bytes: &[u8]| fs::write(comments.folder().join(name), bytes).unwrap();
    put("b-torn.lines".into(), &good.as_bytes()[..good.len() / 2]);
    put("b-newer.lines".into(), good.replace("\"v\":1", "\"v\":9").as_bytes());
    put("b-no-text.lines".into(), b"\xff\xfe\x80 evil \n");
    put("b-huge.lines".into(), &b"evil ".repeat(9 * 1024 * 1024 / 5));
    put("b-raw.lines".into(), DRIVES.join("\n").as_bytes());
    let escaped = DRIVES.iter().map(|text| good.replace("\"a good word\"", &serde_json::to_string(text).unwrap()));
    put("b-escaped.lines".into(), escaped.collect::<String>().as_bytes());
    for text in DRIVES.iter().filter(|text| !text.contains(['\0', '/'])) {
        put(format!("{text}.lines").into(), good.as_bytes());
    }
    put(OsString::from_vec(b"\xff\x1b[2J.lines".to_vec()), good.as_bytes());
    symlink("/etc/passwd", comments.folder().join("c-link.lines")).unwrap();
    fs::create_dir(comments.folder().join("c-folder.lines")).unwrap();
    let pipe = comments.folder().join("c-pipe.lines");
    let mode = rustix::fs::Mode::from_raw_mode(0o600);
    rustix::fs::mknodat(rustix::fs::CWD, pipe, rustix::fs::FileType::Fifo, mode, 0).unwrap();
    for author in 0..100 {
        put(format!("z{author:03}.lines").into(), b"");
    }
}

#[test]
fn a_hostile_folder_stops_nobody_and_writes_nothing_raw_to_the_terminal() {
    let home = Home::new();
    hostile_folder(&home);
    let files = || crate::child::names(&home.path("boat.ron.comments"));
    let before = files();
    for arguments in [&["boat.ron"][..], &["review", "boat.ron", "--as", "partner"]] {
        let mut show = home.start(arguments);
        show.wait_for("q quit");
        play(&mut show, &[("Y", "a good word"), ("64 authors", "more than 64 authors")]);
        for passed in ["newer gunnel", "no entries", "not an ordinary file", "no name for an author"] {
            show.type_in(ESC);
            show.wait(passed, |screen| !screen.contents().contains("what was said"));
            play(&mut show, &[("Y", "what was said"), (passed, passed)]);
        }
        show.type_in(&"\x1b[B".repeat(40));
        show.type_in(&ESC.repeat(3));
        show.wait("the list closed", |screen| !screen.contents().contains("what was said"));
        show.type_in("q");
        assert_eq!(show.end(), 0);
        show.is_given_back();
        let written = show.written.lock().unwrap();
        for text in DRIVES {
            let raw = written.windows(text.len()).any(|bytes| bytes == text.as_bytes());
            assert!(!raw, "{text:?} went to the terminal of {arguments:?}");
        }
    }
    assert_eq!(files(), before, "what was passed over stays");
}

#[test]
fn a_plan_that_vanishes_or_turns_into_something_else_leaves_the_last_good_one_in_view() {
    let home = Home::new();
    let good = fs::read(home.plan_file()).unwrap();
    let mut show = home.start(&["review", "boat.ron", "--as", "partner"]);
    show.wait_for("a review");
    let renamed = |to: &str| {
        let plan = with(bare(), &[Edit::RenamePlan { name: name(to) }]);
        write::plan(&plan, Format::Ron).unwrap()
    };
    let put = |text: &str| {
        fs::write(home.path("new"), text).unwrap();
        fs::rename(home.path("new"), home.plan_file()).unwrap();
    };
    fs::remove_file(home.plan_file()).unwrap();
    play(&mut show, &[("", "boat.ron: "), ("", "quiet water")]);
    fs::create_dir(home.plan_file()).unwrap();
    play(&mut show, &[("", "a folder"), ("", "quiet water")]);
    fs::remove_dir(home.plan_file()).unwrap();
    put("");
    play(&mut show, &[("", "empty"), ("", "quiet water")]);
    put(&renamed("back again"));
    play(&mut show, &[("", "read anew"), ("", "back again")]);
    for version in 0..8 {
        put(&renamed(&format!("version {version}")));
    }
    show.wait_for("version 7");
    fs::write(home.plan_file(), good).unwrap();
    show.wait_for("quiet water");
    show.type_in("q");
    assert_eq!(show.end(), 0);
}
