//! The README shows what the program's own tables, help and drawing say: each block between two marks is printed from
//! them and compared. `UPDATE_README=1 cargo test readme` writes the blocks anew.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use gunnel::catalogue::{Catalogue, hulls};
use gunnel::checks::{CHECKS, LIMITS};
use gunnel::cli::{self, Surroundings};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{Level, Mount, Name, Placement, Plan};
use gunnel::scenarios::SCENARIOS;
use gunnel::session::Session;
use gunnel::storage::load::Format;
use gunnel::storage::paths::Env;
use gunnel::storage::write;
use gunnel::terminal::input::TermEvent;
use gunnel::tui::action::{ACTIONS, Context, Row};
use gunnel::tui::app::{App, Editor, FileState, Look, Screen};
use gunnel::tui::draw::draw;
use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::theme::{Depth, Ground, Theme};
use gunnel::tui::update::update;
use gunnel::units::Measure;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

#[test]
fn the_readme_shows_what_the_program_says() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/README.md");
    let text = fs::read_to_string(path).unwrap();
    let mut fresh = text.clone();
    for (mark, block) in blocks() {
        let (open, close) = (format!("<!-- {mark}, printed by the program -->\n"), format!("<!-- end of {mark} -->"));
        let from = fresh.find(&open).unwrap_or_else(|| panic!("README.md has no block {mark}")) + open.len();
        let to = from + fresh[from..].find(&close).unwrap_or_else(|| panic!("block {mark} does not end"));
        fresh.replace_range(from..to, &block);
    }
    if std::env::var_os("UPDATE_README").is_some() {
        fs::write(path, fresh).unwrap();
        return;
    }
    let differs = fresh.lines().zip(text.lines()).find(|(new, old)| new != old);
    assert!(fresh == text, "README.md is out of date ({differs:?}): UPDATE_README=1 cargo test readme, then read it");
}

/// All blocks: the name of their marks, and what stands between them.
fn blocks() -> Vec<(&'static str, String)> {
    vec![
        ("the small screen", fenced("text", &screen((80, 24)))),
        ("the screen", fenced("text", &screen((120, 40)))),
        ("the keys", keys()),
        ("the checks", checks()),
        ("the limits", limits()),
        ("the exit codes", fenced("text", &help("Exit codes:"))),
        ("the environment", fenced("text", &help("Environment:"))),
        ("a part of a plan", fenced("ron", &first_gear())),
        ("an entry", fenced("ron", &entry())),
    ]
}

fn fenced(language: &str, text: &str) -> String {
    format!("```{language}\n{}\n```\n", text.trim_end())
}

/// The screen with the boat of the pictures, without colours.
fn screen(size: (u16, u16)) -> String {
    let session = Session::new(boat(), Measure::default());
    let mut app = App {
        screen: Screen::Editor(Box::new(Editor::new(session, FileState::default()))),
        layers: Vec::new(),
        look: Look { theme: Theme::new(Ground::Dark, Depth::Mono), glyphs: Glyphs::Block, tape: Measure::default() },
        toast: None,
        size,
        catalogue: Catalogue::shipped().clone().into(),
        hulls: hulls().to_vec(),
        demos: SCENARIOS,
        recent: Vec::new(),
        lost: Vec::new(),
    };
    update(&mut app, &TermEvent::Resize(size.0, size.1));
    let mut buffer = Buffer::empty(Rect::new(0, 0, size.0, size.1));
    draw(&app, &mut buffer);
    let mut text = String::new();
    for row in buffer.area.rows() {
        let line: String = row.columns().map(|cell| buffer[(cell.x, cell.y)].symbol().to_string()).collect();
        let _ = writeln!(text, "{}", line.trim_end());
    }
    text
}

/// The boat of the pictures: a usual rig, with a display too far forward.
fn boat() -> Plan {
    let at = Placement::at;
    let inside = |x, y| Placement { level: Level::Inside, ..at(x, y) };
    let aboard = [
        ("battery-lfp-50", None, inside(2310.0, 0.0)),
        ("display-9", Some(Mount::Track), at(2000.0, 385.0)),
        ("display-12", Some(Mount::Bolts), at(2900.0, 150.0)),
        ("transducer-puck", None, Placement { level: Level::Under, ..at(940.0, -145.0) }),
        ("crate", None, at(650.0, 0.0)),
        ("light-pole-allround", None, at(350.0, 240.0)),
        ("port-usb-dual", None, at(1400.0, 400.0)),
        ("fuse-block-6", None, inside(1210.0, -60.0)),
        ("rod-holder-flush", None, at(1300.0, -395.0)),
    ];
    let start = gunnel::catalogue::new_plan("standup-12").unwrap();
    let mut plan = apply(&start, &Edit::RenamePlan { name: Name::new("quiet water").unwrap() }).unwrap();
    for (key, mount, place) in aboard {
        let spec = Catalogue::shipped().get(key).unwrap_or_else(|| panic!("no {key} in the catalogue"));
        plan = apply(&plan, &Edit::Add { spec: Box::new(spec.clone()), mount, place: Some(place) }).unwrap();
    }
    plan
}

/// The table of actions, by where their keys count.
fn keys() -> String {
    let mut text = String::new();
    let contexts = [
        (Context::Deck, "On the deck"),
        (Context::Hand, "With gear in hand"),
        (Context::Panel, "In a panel, the findings and the start screen"),
        (Context::Anywhere, "Everywhere"),
    ];
    for (context, title) in contexts {
        let _ = writeln!(text, "{title}:\n\n| keys | what they do |\n|---|---|");
        for row in ACTIONS.iter().filter(|row| row.context == context) {
            let _ = writeln!(text, "| {} | {} |", key_names(row), row.title);
        }
        text.push('\n');
    }
    text
}

fn key_names(row: &Row) -> String {
    if row.keys.is_empty() {
        return "from the list of actions".into();
    }
    let names: Vec<String> = row.keys.iter().map(|key| format!("`{key}`")).collect();
    names.join(" ")
}

fn checks() -> String {
    let mut text = String::from("| check | what it says |\n|---|---|\n");
    for check in CHECKS {
        let _ = writeln!(text, "| `{}` | {} |", check.id, check.title);
    }
    text
}

fn limits() -> String {
    let mut text = String::from("| limit | value | source |\n|---|---:|---|\n");
    for limit in LIMITS {
        let _ = writeln!(text, "| `{}` | {} {} | {} |", limit.name, limit.value, limit.unit, limit.source);
    }
    text
}

/// The lines of `gunnel --help` under a heading.
fn help(heading: &str) -> String {
    let (mut output, mut errors) = (Vec::new(), Vec::new());
    let mut around = Surroundings {
        env: Env::default(),
        input: &mut std::io::empty(),
        output: &mut output,
        errors: &mut errors,
        terminal: false,
    };
    let code = cli::run(["gunnel", "--help"].map(Into::into), &mut around, |_, _| Ok(()));
    assert_eq!(code, cli::exit::CLEAN);
    let text = String::from_utf8(output).unwrap();
    let lines = text.lines().skip_while(|line| *line != heading).skip(1);
    let lines: Vec<&str> =
        lines.take_while(|line| !line.is_empty()).map(|line| line.trim_start_matches("  ")).collect();
    assert!(!lines.is_empty(), "the help has no \"{heading}\"");
    lines.join("\n")
}

/// The first piece of gear as the boat's file has it.
fn first_gear() -> String {
    let text = write::plan(&boat(), Format::Ron).unwrap();
    let from = text.find("    gear: [").unwrap();
    let to = from + text[from..].find("\n        ),\n").unwrap();
    format!("{}\n        ),", &text[from..to])
}

/// A short entry of the shipped catalogue, as its file has it.
fn entry() -> String {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("assets/catalogue/fishing.ron")).unwrap();
    let key = text.find("key: \"net\"").unwrap();
    let from = text[..key].rfind("\n    (").unwrap() + 1;
    let to = key + text[key..].find("\n    ),").unwrap() + "\n    ),".len();
    format!("[\n{}\n]", &text[from..to])
}
