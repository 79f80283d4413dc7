//! `gunnel doctor` from outside: what it finds of a set-up, in which order of weight, and that it changes nothing.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(clippy::print_stderr, reason = "a test that cannot run here must say so")]

use std::fs::{self, Permissions};
use std::io::Read;
use std::os::unix::ffi::OsStrExt;
use std::os::unix::fs::{PermissionsExt, chown, symlink};
use std::os::unix::net::UnixListener;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use gunnel::edit::Edit;
use gunnel::plan::Name;
use gunnel::storage::document::Document;
use gunnel::storage::holder::Holder;
use gunnel::storage::lock::Lock;
use gunnel::storage::paths::Env;
use gunnel::units::Measure;
use portable_pty::{CommandBuilder, PtySize, native_pty_system};
use serde_json::Value;

use crate::child::works;
use crate::home::{Home, code, errors, json, out, transcript};

/// An account that is nobody's on most machines, and a group it is in.
const PARTNER: u32 = 54_321;

/// The line of an answer with this id.
fn line<'a>(document: &'a Value, id: &str) -> &'a Value {
    let lines = document["lines"].as_array().unwrap();
    lines.iter().find(|line| line["id"] == id).unwrap_or_else(|| panic!("no {id} in {document:#}"))
}

fn word(document: &Value, id: &str) -> String {
    line(document, id)["severity"].as_str().unwrap().to_string()
}

fn found(document: &Value, id: &str) -> String {
    line(document, id)["found"].as_str().unwrap().to_string()
}

fn mode(path: &Path, mode: u32) {
    fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
}

fn doctor(home: &Home, arguments: &[&str]) -> Value {
    json(&home.run(&[&["doctor", "--json"], arguments].concat()))
}

#[test]
fn what_it_is_asked_wrongly_it_says() {
    let home = Home::new();
    insta::assert_snapshot!("help_doctor", transcript(&home, &["doctor", "-h"]));
    for arguments in [
        &["doctor", "--as", "partner"][..],
        &["doctor", "boat.ron", "--as", "owner"],
        &["doctor", "boat.ron", "--as", "a\u{1b}[2Jb"],
        &["doctor", "-"],
        &["doctor", "boat.ron", "--json", "--sample"],
    ] {
        let output = home.run(arguments);
        assert_eq!((code(&output), out(&output)), (2, ""), "{arguments:?} {}", errors(&output));
    }
}

#[test]
fn a_plan_of_ones_own_is_in_order_and_looking_changes_nothing() {
    let home = Home::new();
    let output = home.run(&["doctor", "boat.ron", "--json"]);
    let document = json(&output);
    assert_eq!((code(&output), errors(&output)), (0, ""));
    assert_eq!((&document["schema"], &document["ok"]), (&"gunnel.doctor/1".into(), &true.into()));
    for id in ["data", "state", "plan.file", "plan.sound", "plan.save", "plan.lock", "comments.folder", "plan.live"] {
        assert_eq!(word(&document, id), "good", "{id}");
    }
    assert_eq!(found(&document, "plan.sound"), "a sound plan of format 2");
    assert_eq!(crate::child::names(&home.path("")), ["boat.ron"], "no folder, no lock");
    let text = home.run(&["doctor", "boat.ron"]);
    assert!(out(&text).contains("\ngood     a sound plan of format 2\n"), "{}", out(&text));
    assert!(!out(&text).contains("symbols  "), "the sample is for terminals");
    assert!(out(&home.run(&["doctor", "--sample"])).starts_with("symbols  ! ? i $"), "without a locale ASCII");
}

#[test]
fn what_is_no_plan_and_what_is_not_there_end_differently() {
    let home = Home::new();
    home.file("broken.ron", "(format: 2, name: \"x\", hull: 7)");
    home.file("bytes.ron", "(format: 2\0)");
    fs::create_dir(home.path("folder.ron")).unwrap();
    let check = |plan: &str, id: &str, exit: i32, starts: &str| {
        let output = home.run(&["doctor", plan, "--json"]);
        let document = json(&output);
        assert_eq!((code(&output), word(&document, id).as_str()), (exit, "stop"), "{plan}");
        let found = found(&document, id).replace(&*home.path("").to_string_lossy(), "");
        assert!(found.starts_with(starts), "{plan}: {found}");
    };
    check("broken.ron", "plan.sound", 1, "broken.ron:1:");
    check("bytes.ron", "plan.sound", 1, "bytes.ron");
    check("folder.ron", "plan.file", 4, "folder.ron");
    check("vanished.ron", "plan.file", 4, "vanished.ron");
    check("no/such/folder/boat.ron", "plan.file", 4, "no/such/folder/boat.ron");
}

#[test]
fn who_edits_and_what_was_left_is_told() {
    let home = Home::new();
    let kim = Holder::this_process(&Env::of([("USER", "kim")]), 0);
    let lock = Lock::take(&home.path("boat.ron"), None, &kim).unwrap();
    let held = doctor(&home, &["boat.ron"]);
    assert_eq!(word(&held, "plan.lock"), "note");
    assert!(found(&held, "plan.lock").starts_with("kim on "), "{held}");
    drop(lock);

    home.file(".boat.ron.lock", "{\"user\":\"\u{1b}[2J\",\"host\":\"x\",\"pid\":1,\"boot\":\"\",\"since_s\":0}");
    assert!(found(&doctor(&home, &["boat.ron"]), "plan.lock").starts_with("nobody is editing it; "));
    fs::remove_file(home.path(".boat.ron.lock")).unwrap();
    symlink(home.path("boat.ron"), home.path(".boat.ron.lock")).unwrap();
    assert_eq!(word(&doctor(&home, &["boat.ron"]), "plan.lock"), "caution");
}

#[test]
fn edits_that_wait_in_a_journal_are_told_with_their_plan() {
    let home = Home::new();
    let env = Env::of([("HOME", home.path(""))]);
    let (mut document, mut session, _) = Document::open(&home.path("boat.ron"), &env, Measure::default()).unwrap();
    for name in ["one", "two"] {
        session.edit(Edit::RenamePlan { name: Name::new(name).unwrap() }).unwrap();
    }
    document.note(&mut session);
    drop(document);
    let told = doctor(&home, &[]);
    assert_eq!(word(&told, "journal"), "note");
    let says = found(&told, "journal");
    assert!(says.starts_with("2 edits of ") && says.ends_with("boat.ron not in its file"), "{says}");
    assert_eq!(word(&told, "state"), "good");
    mode(&home.path(".local/state/gunnel"), 0o750);
    let told = doctor(&home, &[]);
    assert_eq!(word(&told, "state"), "caution");
    let command = line(&told, "state")["commands"][0].as_str().unwrap();
    assert!(works(&["sh", "-c", command]));
    assert_eq!(word(&doctor(&home, &[]), "state"), "good", "the command does what was asked for");
}

#[test]
fn links_and_sockets_beside_a_plan_are_said_to_be_there() {
    let home = Home::new();
    symlink("boat.ron", home.path("link.ron")).unwrap();
    let says = found(&doctor(&home, &["link.ron"]), "plan.file");
    assert!(says.contains("link.ron leads to ") && says.contains("/boat.ron ("), "{says}");
    let _socket = UnixListener::bind(home.path(".boat.ron.live")).unwrap();
    let told = doctor(&home, &["boat.ron"]);
    assert!(found(&told, "plan.live").starts_with("a live link: "), "{told}");
    fs::remove_file(home.path(".boat.ron.live")).unwrap();
    home.file(".boat.ron.live", "");
    assert_eq!(word(&doctor(&home, &["boat.ron"]), "plan.live"), "caution");
}

#[test]
fn names_and_files_of_others_drive_nothing() {
    let home = Home::new();
    let evil = "evil\u{1b}]0;x\u{7}\u{202e}'$(touch pwned)";
    home.file(&format!("{evil}.ron"), "(format: 2, name: \"\u{1b}[2J\")");
    home.file(&format!("{evil}.ron.comments/{evil}.lines"), "\u{1b}[2J\n{\"v\":1}\n");
    home.file(&format!("{evil}.ron.comments/partner.lines"), "\u{1b}[2J\n");
    mode(&home.path(&format!("{evil}.ron.comments")), 0o777);
    mode(&home.path(&format!("{evil}.ron.comments/partner.lines")), 0o666);
    let plan = format!("{evil}.ron");
    for arguments in [&["doctor", &plan, "--sample"][..], &["doctor", &plan, "--json"]] {
        let output =
            home.command(arguments).env("LANG", evil).env("TERM", evil).env("NO_COLOR", evil).output().unwrap();
        let text = out(&output);
        let wrong = text.chars().filter(|letter| *letter != '\n' && gunnel::shown::is_unsafe(*letter));
        assert_eq!(wrong.count(), 0, "{text:?}");
        assert!(text.contains("lines are no entries"), "{text}");
    }
    let told = doctor(&home, &[&plan]);
    let command = line(&told, "comments.sharing")["commands"][0].as_str().unwrap();
    if works(&["bash", "-c", ":"]) {
        let run = Command::new("bash").args(["-c", command]).current_dir(home.path("")).status().unwrap();
        assert!(run.success(), "{command}");
        assert!(!home.path("pwned").exists());
        let folder = home.path(&format!("{plan}.comments"));
        assert_eq!(fs::metadata(folder).unwrap().permissions().mode() & 0o007, 0, "{command}");
    }
    assert_eq!(Path::new(&plan).as_os_str().as_bytes()[4], 0x1b, "the name was as hostile as it looks");
}

/// Runs as an account that owns nothing and is in the group of the plan; only root can become it.
fn as_partner(home: &Home, arguments: &[&str]) -> Output {
    let account = PARTNER.to_string();
    let mut command = Command::new("setpriv");
    command.args(["--reuid", &account, "--regid", &account, "--clear-groups", env!("CARGO_BIN_EXE_gunnel")]);
    command.args(arguments).env_clear().env("HOME", home.path("")).current_dir(home.path(""));
    command.stdin(Stdio::null()).output().unwrap()
}

/// Whether this test may become another account; says so where it may not.
fn can_become_another() -> bool {
    let account = PARTNER.to_string();
    works(&[
        "setpriv",
        "--reuid",
        &account,
        "--regid",
        &account,
        "--clear-groups",
        env!("CARGO_BIN_EXE_gunnel"),
        "--version",
    ])
}

/// The set-up of the README: a plan the group may read, a folder of comments it may write in.
fn set_up(home: &Home) {
    mode(&home.path(""), 0o755);
    let (plan, comments) = (home.path("boat.ron"), home.path("boat.ron.comments"));
    fs::create_dir(&comments).unwrap();
    for path in [&plan, &comments] {
        chown(path, None, Some(PARTNER)).unwrap();
    }
    mode(&plan, 0o640);
    mode(&comments, 0o3770);
}

#[test]
fn a_partners_account_meets_what_the_owner_opened_and_no_more() {
    if !can_become_another() {
        return;
    }
    let home = Home::new();
    set_up(&home);
    let asked = &["doctor", "boat.ron", "--as", "partner", "--json"];
    let output = as_partner(&home, asked);
    let told = json(&output);
    assert_eq!((code(&output), errors(&output)), (0, ""), "{told:#}");
    for id in [
        "account",
        "plan.sound",
        "comments.folder",
        "comments.sharing",
        "partner.plan",
        "partner.folder",
        "partner.file",
    ] {
        assert_eq!(word(&told, id), "good", "{id} {told:#}");
    }

    let check = |id: &str, expected: &str, exit: i32| {
        let output = as_partner(&home, asked);
        let told = json(&output);
        assert_eq!((word(&told, id).as_str(), code(&output)), (expected, exit), "{told:#}");
        line(&told, id)["commands"].as_array().unwrap().iter().map(|c| c.as_str().unwrap().to_string()).collect()
    };
    let repaired = |commands: Vec<String>| {
        assert!(!commands.is_empty());
        for command in &commands {
            assert!(works(&["sh", "-c", command]), "{command}");
        }
        assert_eq!(code(&as_partner(&home, asked)), 0, "{commands:?}");
    };
    let (plan, comments) = (home.path("boat.ron"), home.path("boat.ron.comments"));
    mode(&plan, 0o660);
    repaired(check("partner.plan", "caution", 0));
    mode(&plan, 0o600);
    repaired(check("partner.read", "stop", 4));
    mode(&comments, 0o3750);
    repaired(check("comments.folder", "stop", 1));
    fs::remove_dir(&comments).unwrap();
    repaired(check("comments.folder", "stop", 1));
    mode(&home.path(""), 0o700);
    repaired(check("partner.way", "stop", 4));
    mode(&home.path(""), 0o755);
    home.file("boat.ron.comments/partner.lines", "");
    let _: Vec<String> = check("partner.file", "stop", 1);
    chown(home.path("boat.ron.comments/partner.lines"), Some(PARTNER), None).unwrap();
    mode(&home.path("boat.ron.comments/partner.lines"), 0o600);
    let _: Vec<String> = check("partner.file", "caution", 0);
    home.file("boat.ron.comments/owner.lines", "");
    chown(home.path("boat.ron.comments/owner.lines"), Some(PARTNER), None).unwrap();
    let _: Vec<String> = check("comments.owner", "stop", 1);
}

#[test]
fn in_a_terminal_its_size_is_told_and_a_sample_is_shown() {
    let home = Home::new();
    let pty = native_pty_system();
    let pair = pty.openpty(PtySize { rows: 15, cols: 80, pixel_width: 0, pixel_height: 0 }).unwrap();
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_gunnel"));
    command.arg("doctor");
    command.env_clear();
    for (name, value) in [("TERM", "xterm-256color"), ("LANG", "C.UTF-8")] {
        command.env(name, value);
    }
    command.env("HOME", home.path(""));
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader().unwrap();
    let mut bytes = Vec::new();
    // The last read of a terminal whose program has ended is an error on this system.
    let _ = reader.read_to_end(&mut bytes);
    let text = String::from_utf8(bytes).unwrap();
    assert_eq!(child.wait().unwrap().exit_code(), 1, "too few rows are a stop: {text}");
    assert!(text.contains("stop     80 x 15 cells: the screen needs 60 x 16"), "{text}");
    assert!(text.contains("good     input and output are a terminal"), "{text}");
    assert!(text.starts_with("symbols  ! ? i §") && text.contains("\u{1b}["), "{text:?}");
}
