//! The README shows what the program's own tables, help and drawing say: each block between two marks is printed from
//! them and compared. `UPDATE_README=1 cargo test readme` writes the blocks anew.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fmt::Write as _;
use std::fs;
use std::path::Path;

use gunnel::checks::{CHECKS, LIMITS};
use gunnel::cli::doctor::{self, Found};
use gunnel::cli::{self, Surroundings};
use gunnel::plan::Plan;
use gunnel::scenarios::SCENARIOS;
use gunnel::storage::load::{self, Format};
use gunnel::storage::paths::Env;
use gunnel::storage::write;
use gunnel::tui::action::{ACTIONS, Context, Row};
use gunnel::tui::areas::Areas;
use gunnel::tui::glyphs::Glyphs;
use gunnel::tui::layer::OUTING_KEYS;
use gunnel::tui::theme::Depth;

use crate::stage::Stage;

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
        ("the day of the battery", fenced("text", &the_day())),
        ("the wires", fenced("text", &wires())),
        ("the keys", keys()),
        ("the keys of the day", keys_of_the_day()),
        ("the checks", checks()),
        ("the limits", limits()),
        ("the exit codes", fenced("text", &help("Exit codes:"))),
        ("a hole and an evening", fenced("text", &hole_and_evening())),
        ("a box afloat", fenced("sh", &float())),
        ("a review set-up", fenced("text", &review_setup())),
        ("the environment", fenced("text", &help("Environment:"))),
        ("a part of a plan", fenced("ron", &first_gear())),
        ("an entry", fenced("ron", &entry())),
        ("an interview", fenced("ron", crate::tape::EXAMPLE)),
    ]
}

fn fenced(language: &str, text: &str) -> String {
    format!("```{language}\n{}\n```\n", text.trim_end())
}

/// The screen with the boat of the pictures open, without colours.
fn screen((columns, rows): (u16, u16)) -> String {
    let stage = Stage::on(boat()).looking(Depth::Mono, Glyphs::Block).sized(columns, rows);
    let lines: Vec<String> = stage.lines().iter().map(|line| line.trim_end().to_string()).collect();
    lines.join("\n")
}

/// The open power budget of that boat, without the boat over it.
fn the_day() -> String {
    let mut stage = Stage::on(boat()).looking(Depth::Mono, Glyphs::Block).sized(120, 40);
    stage.play("1");
    let area = Areas::of(&stage.app).panels[0];
    let lines = stage.lines();
    let lines = lines[usize::from(area.y)..usize::from(area.bottom())].iter().map(|line| line.trim_end().to_string());
    lines.collect::<Vec<String>>().join("\n")
}

/// The keys of the editor of the day.
fn keys_of_the_day() -> String {
    let rows = OUTING_KEYS.iter().map(|(key, does)| format!("| `{key}` | {does} |\n"));
    String::from("| keys | what they do |\n|---|---|\n") + &rows.collect::<String>()
}

/// The Wiring view of the same boat, as it is open on a screen of 120 columns.
fn wires() -> String {
    let mut stage = Stage::on(boat()).looking(Depth::Mono, Glyphs::Block).sized(120, 46);
    stage.play("7 down*2");
    let opened = Areas::of(&stage.app).opened;
    let lines = &stage.lines()[usize::from(opened.y)..usize::from(opened.bottom())];
    lines.iter().map(|line| line.trim_end().to_string()).collect::<Vec<_>>().join("\n")
}

/// The boat of the pictures: the demo plan whose seat was moved, with what no longer fits.
fn boat() -> Plan {
    let demo = SCENARIOS.iter().find(|demo| demo.file == "seat-test.ron").unwrap();
    load::plan(demo.text, Path::new(demo.file), Format::Ron).unwrap()
}

/// The table of actions, by where their keys count.
fn keys() -> String {
    let mut text = String::new();
    let contexts = [
        (Context::Deck, "On the deck"),
        (Context::Hand, "With gear in hand"),
        (Context::Panel, "In a panel, the findings and the start screen"),
        (Context::Wiring, "In Wiring, beside those of a panel"),
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

/// What the program answers to a command with this on its standard input.
fn answer(arguments: &[&str], mut input: &[u8]) -> String {
    let (mut output, mut errors) = (Vec::new(), Vec::new());
    let mut around = Surroundings {
        env: Env::default(),
        input: &mut input,
        output: &mut output,
        errors: &mut errors,
        terminal: false,
    };
    let arguments = ["gunnel"].iter().chain(arguments);
    let code = cli::run(arguments.map(Into::into), &mut around, |_, _| Ok(()));
    assert_eq!(code, cli::exit::CLEAN);
    String::from_utf8(output).unwrap()
}

/// A box in an offsets file, and how it floats.
fn float() -> String {
    let section = |x_mm: u32| format!(r#"{{"x_mm": {x_mm}, "points_mm": [[0, 0], [425, 0], [425, 300]]}}"#);
    let offsets = format!("{{\"sections\": [\n  {},\n  {}\n]}}\n", section(0), section(3600));
    let arguments = ["float", "-", "--mass", "180", "--at", "1800,0,350"];
    format!(
        "$ cat box.json\n{offsets}$ gunnel {} < box.json\n{}",
        arguments.join(" "),
        answer(&arguments, offsets.as_bytes())
    )
}

/// The first hole to drill and the first evening of work on the demo plan that waits for its review.
fn hole_and_evening() -> String {
    let demo = SCENARIOS.iter().find(|demo| demo.file == "ready-for-review.ron").unwrap();
    let part = |arguments: &[&str], from: &str| {
        let sheet = answer(arguments, demo.text.as_bytes());
        let start = sheet.find(from).unwrap();
        let whole = &sheet[start..];
        // A section: its heading, and rows up to the next empty line but one.
        let blocks: Vec<&str> = whole.split("\n\n").take(if from == "To drill" { 2 } else { 1 }).collect();
        format!(
            "$ gunnel {}\n{}\n",
            arguments.join(" ").replacen(" -", " ready-for-review.ron", 1),
            blocks.join("\n\n")
        )
    };
    let drill = part(&["sheet", "drill", "-"], "To drill");
    let work = part(&["sheet", "work", "-", "--start", "2031-05-30"], "Evening 1");
    format!("{drill}\n{work}")
}

/// What the doctor says of a review that is set up well, but for a plan that its group can write.
fn review_setup() -> String {
    let mut facts = crate::test_facts::review();
    if let Some(Found::There(file)) = facts.plan.as_mut().map(|plan| &mut plan.file) {
        (file.mode, file.may.write) = (0o660, true);
    }
    let lines = facts.lines();
    let of_plan = lines.iter().position(|line| line.id == "plan.file").unwrap();
    let command = "sudo -u review gunnel doctor /srv/rigs/boat.ron --as partner";
    format!("$ {command}\n...\n{}", doctor::text(&lines[of_plan..]))
}

/// The lines of `gunnel --help` under a heading.
fn help(heading: &str) -> String {
    let text = answer(&["--help"], &[]);
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
