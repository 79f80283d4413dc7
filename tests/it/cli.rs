//! The command line from outside: the real binary, in an environment of its own.

use std::fs;
use std::path::Path;
use std::process::Stdio;

use gunnel::catalogue::Catalogue;
use gunnel::checks::CHECKS;
use gunnel::storage::holder::Holder;
use gunnel::storage::lock::Lock;
use gunnel::storage::paths::Env;
use serde_json::Value;

use crate::home::{Home, code, errors, json, out, shape_of, transcript, units_are_named};
use crate::load::GOOD;

#[test]
fn help_begins_with_examples_and_names_the_exit_codes() {
    let home = Home::new();
    insta::assert_snapshot!("help", transcript(&home, &["-h"]));
    insta::assert_snapshot!("help_long", transcript(&home, &["--help"]));
    insta::assert_snapshot!("help_check", transcript(&home, &["check", "-h"]));
    insta::assert_snapshot!("help_new", transcript(&home, &["new", "-h"]));
}

#[test]
fn the_version_is_one_line() {
    let output = Home::new().run(&["--version"]);
    assert_eq!(out(&output), format!("gunnel {}\n", env!("CARGO_PKG_VERSION")));
}

#[test]
fn without_a_terminal_the_screen_is_not_opened() {
    let home = Home::new();
    let output = home.run(&[]);
    assert_eq!((code(&output), out(&output)), (2, ""));
    assert!(errors(&output).contains("Examples:"), "{}", errors(&output));
    insta::assert_snapshot!("no_terminal", transcript(&home, &["boat.ron"]));
}

#[test]
fn mistakes_are_told_with_what_to_do() {
    let home = Home::new();
    home.file("empty.ron", "");
    home.file("newer.ron", &GOOD.replace("format: 2", "format: 9"));
    home.file("field.ron", &GOOD.replace("label: \"battery\"", "lable: \"battery\""));
    home.file("evil\u{1b}[2J\u{202e}.ron", "(format: 1, name: \"\u{1b}]0;x\u{7}\")");
    let asked: &[&[&str]] = &[
        &["check"],
        &["chekc", "boat.ron"],
        &["check", "boat.ron", "--jsno"],
        &["check", "boat.ron", "--json", "--plain"],
        &["check", "missing.ron"],
        &["check", "."],
        &["check", "empty.ron"],
        &["check", "newer.ron"],
        &["check", "field.ron"],
        &["check", "field.ron", "--json"],
        &["check", "missing.ron", "--json"],
        &["check", "boat.ron", "--format", "json"],
        &["check", "evil\u{1b}[2J\u{202e}.ron"],
        &["new", "--hull", "angler-12", "-o", "x.ron"],
        &["new", "--hull", "angler-10", "-o", "boat.ron"],
        &["new", "--hull", "angler-10", "-o", "x.ron", "--name", "a\u{202e}b"],
        &["new", "--hull", "angler-10", "-o", "no/such/folder/x.ron"],
        &["new", "--hull", "angler-10"],
        &["explain", "hole-egde"],
        &["catalogue", "zzqqxx"],
        &["completions", "tcl"],
    ];
    let all: Vec<String> = asked.iter().map(|arguments| transcript(&home, arguments)).collect();
    let all = all.join("\n");
    // Only what was typed on the command line may hold such letters, and it is left out here.
    let shown: Vec<&str> = all.lines().filter(|line| !line.starts_with("$ ")).collect();
    assert!(!shown.iter().any(|line| line.chars().any(gunnel::shown::is_unsafe)), "{all:?}");
    let all = all.replace('\u{1b}', "<ESC>").replace('\u{202e}', "<RLO>");
    insta::assert_snapshot!("mistakes", all);
    assert_eq!(fs::read_to_string(home.path("boat.ron")).expect("the plan"), GOOD, "nothing was touched");
}

#[test]
fn damaged_files_are_no_plans_and_missing_ones_are_a_failure_to_read() {
    let home = Home::new();
    fs::write(home.path("zeros.ron"), [0; 4096]).expect("a file");
    fs::write(home.path("latin.ron"), b"(name: \"\xe4\")").expect("a file");
    for (arguments, expected) in [
        (["check", "zeros.ron"], 3),
        (["check", "latin.ron"], 3),
        (["check", "missing.ron"], 4),
        (["show", "missing.ron"], 4),
        (["check", "boat.ron/x"], 4),
    ] {
        let output = home.run(&arguments);
        assert_eq!(code(&output), expected, "{arguments:?}: {}", errors(&output));
        assert!(errors(&output).starts_with("error: ") && out(&output).is_empty());
    }
}

#[test]
fn a_plan_is_read_from_standard_input_in_either_format() {
    let home = Home::new();
    let from_file = home.run(&["show", "boat.ron", "--json"]);
    assert_eq!(code(&from_file), 0, "{}", errors(&from_file));
    let ron = home.run_with_input(&["show", "-", "--json"], GOOD.as_bytes());
    assert_eq!(out(&ron), out(&from_file));
    let plan = serde_json::to_string(&json(&from_file)["plan"]).expect("JSON");
    for arguments in [&["show", "-", "--json"][..], &["show", "-", "--json", "--format", "json"]] {
        let marked = format!("\u{feff}{plan}\r\n");
        let output = home.run_with_input(arguments, marked.as_bytes());
        assert_eq!(out(&output), out(&from_file), "{}", errors(&output));
    }
    let wrong = home.run_with_input(&["check", "-", "--format", "ron"], plan.as_bytes());
    assert_eq!(code(&wrong), 3);
    assert!(errors(&wrong).starts_with("error: standard input:1:1:"), "{}", errors(&wrong));
}

/// The sound plan with a new hole through a floor that may not be drilled: a stop.
fn with_a_stop() -> String {
    let hole = "(id: 2, name: \"new hole\", x: Mm(1600), y: Mm(0), bore: Mm(8), purpose: Fitting, fate: New),";
    let floor = "(id: 3, name: \"floor\", outline_mm: [(1500, -300), (2100, -300), (2100, 300), (1500, 300)], \
                 height: (value: Mm(60)), wall: (value: Mm(6)), inside: (value: Mm(40)), \
                 drilling: Forbidden(\"keel\")),";
    GOOD.replace("penetrations: [", &format!("penetrations: [{hole}")).replace("zones: [", &format!("zones: [{floor}"))
}

#[test]
fn the_exit_code_says_whether_a_stop_stands() {
    let home = Home::new();
    home.file("stop.ron", &with_a_stop());
    home.run(&["new", "--hull", "sea-13", "-o", "clean.ron"]);
    let clean = home.run(&["check", "clean.ron", "--json"]);
    assert_eq!((code(&clean), &json(&clean)["ok"]), (0, &Value::Bool(true)), "{}", out(&clean));
    for arguments in [&["check", "stop.ron"][..], &["check", "stop.ron", "--plain"], &["check", "stop.ron", "--json"]] {
        let output = home.run(arguments);
        assert_eq!((code(&output), errors(&output)), (1, ""), "{arguments:?}: {}", out(&output));
        assert!(out(&output).contains("hole-forbidden"), "{}", out(&output));
    }
    assert_eq!(json(&home.run(&["check", "stop.ron", "--json"]))["ok"], Value::Bool(false));
}

#[test]
fn findings_and_plans_read_as_pages() {
    let home = Home::new();
    home.file("stop.ron", &with_a_stop());
    let check = home.run(&["check", "stop.ron"]);
    assert!(out(&check).starts_with("pond boat: ") && out(&check).contains("place: 1600 mm from stern, on the"));
    assert!(out(&check).ends_with("the real load decide.\n"), "advice, not permission");
    let show = home.run(&["show", "stop.ron"]);
    for title in ["Boat", "Gear", "Float as planned", "Power budget", "Penetrations", "Seat reach", "Clearances"] {
        assert!(out(&show).contains(&format!("\n\n{title}\n  ")), "{}", out(&show));
    }
    assert!(out(&show).contains("  display: on deck, 1700 mm from stern, 330 mm to port, bare deck, track\n"));
}

#[test]
fn plain_lines_have_eleven_fields_each() {
    let home = Home::new();
    home.file("stop.ron", &with_a_stop());
    let output = home.run(&["check", "stop.ron", "--plain"]);
    let findings = json(&home.run(&["check", "stop.ron", "--json"]))["findings"].as_array().expect("findings").len();
    assert_eq!(out(&output).lines().count(), findings);
    for line in out(&output).lines() {
        assert_eq!(line.split('\t').count(), 11, "{line}");
        assert!(["stop", "caution", "note"].contains(&line.split('\t').next().unwrap_or_default()), "{line}");
    }
}

#[test]
fn the_check_document_keeps_its_promises() {
    let home = Home::new();
    home.file("stop.ron", &with_a_stop());
    let output = home.run(&["check", "stop.ron", "--json"]);
    let document = json(&output);
    assert_eq!(document["schema"], "gunnel.check/1");
    let keys = |value: &Value| value.as_object().expect("an object").keys().cloned().collect::<Vec<_>>();
    let reports = [
        "backup",
        "clearance",
        "float",
        "lights",
        "penetrations",
        "power",
        "reach",
        "readings",
        "seat_test",
        "sight",
        "transducer",
        "weights",
        "wiring",
    ];
    assert_eq!(keys(&document["study"]), reports);
    let findings = document["findings"].as_array().expect("findings");
    assert!(!findings.is_empty());
    for finding in findings {
        for key in ["check", "severity", "subject", "unit", "says", "do", "source"] {
            assert!(finding[key].is_string(), "{key}: {finding}");
        }
        for key in ["value", "limit", "margin"] {
            assert!(finding[key].is_number() || finding[key].is_null(), "{key}: {finding}");
        }
        assert!(CHECKS.iter().any(|check| finding["check"] == check.id), "{finding}");
    }
    units_are_named("study", &document["study"]);
    assert_eq!(document["study"]["weights"]["rating_kg"], 158.757);
    assert_eq!(document["study"]["penetrations"]["counts"]["new"], 1);
    assert_eq!(document["study"]["power"]["loads"][0]["typical_a"], 1.14);
    assert_eq!(document["study"]["reach"]["items"][0]["label"], "display");
    assert!(!out(&output).contains("NaN"));
    assert_eq!(out(&home.run(&["check", "stop.ron", "--json"])), out(&output), "the same twice");
    let mut shape = Vec::new();
    shape_of("", &document, &mut shape);
    shape.dedup();
    insta::assert_snapshot!("check_json_keys", shape.join("\n"));
}

#[test]
fn the_shown_plan_can_be_read_again() {
    let home = Home::new();
    let document = json(&home.run(&["show", "boat.ron", "--json"]));
    assert_eq!(document["schema"], "gunnel.show/1");
    let again = home.file("again.json", &document["plan"].to_string());
    let read = json(&home.run(&["show", &again.to_string_lossy(), "--json"]));
    assert_eq!(read, document);
    units_are_named("study", &document["study"]);
}

#[test]
fn errors_are_json_when_json_was_asked_for() {
    let home = Home::new();
    home.file("field.ron", &GOOD.replace("label: \"battery\"", "lable: \"battery\""));
    let output = home.run(&["check", "field.ron", "--json"]);
    let document = json(&output);
    assert_eq!((code(&output), errors(&output)), (3, ""));
    assert_eq!(
        (&document["schema"], &document["ok"], &document["exit_code"]),
        (&"gunnel.error/1".into(), &false.into(), &3.into())
    );
    let detail = &document["details"][0];
    assert_eq!(
        (&detail["line"], &detail["column"], &detail["field"]),
        (&68.into(), &20.into(), &"gear, entry 2".into())
    );
    assert!(document["hint"].as_str().is_some_and(|hint| hint.contains("label")));
}

#[test]
fn a_reader_that_goes_away_is_no_failure() {
    let home = Home::new();
    for arguments in [&["show", "boat.ron", "--json"][..], &["catalogue", "--json"], &["man"], &["completions", "bash"]]
    {
        let mut child = home.command(arguments).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it runs");
        // Nobody reads: the pipe is closed before or while the answer is written.
        drop(child.stdout.take());
        let output = child.wait_with_output().expect("it ends");
        assert_eq!((code(&output), errors(&output)), (0, ""), "{arguments:?}");
    }
}

#[test]
fn a_full_disk_behind_the_answer_is_a_failure() {
    let home = Home::new();
    let full = fs::File::options().write(true).open("/dev/full").expect("the full device");
    let output = home.command(&["catalogue"]).stdout(full).output().expect("it runs");
    assert_eq!(code(&output), 4);
    assert!(errors(&output).starts_with("error: the answer cannot be written"), "{}", errors(&output));
}

#[test]
fn a_new_plan_is_written_once_and_replaced_only_when_asked() {
    let home = Home::new();
    for class in gunnel::catalogue::hulls() {
        let (key, file) = (class.key().as_str(), format!("{}.ron", class.key()));
        let output = home.run(&["new", "--hull", key, "-o", &file]);
        assert_eq!((code(&output), out(&output), errors(&output)), (0, "", ""));
        let check = home.run(&["check", &file, "--json"]);
        assert_eq!(code(&check), 0, "{key}: {}", out(&check));
        assert_eq!(json(&home.run(&["show", &file, "--json"]))["plan"]["hull"]["class"], key);
    }
    let first = fs::read_to_string(home.path("sea-13.ron")).expect("the plan");
    let output = home.run(&["new", "--hull", "angler-10", "-o", "sea-13.ron"]);
    assert_eq!(code(&output), 4);
    assert_eq!(fs::read_to_string(home.path("sea-13.ron")).expect("the plan"), first);
    let output = home.run(&["new", "--hull", "angler-10", "-o", "sea-13.ron", "--force", "--name", "mine"]);
    assert_eq!(code(&output), 0, "{}", errors(&output));
    assert_eq!(json(&home.run(&["show", "sea-13.ron", "--json"]))["plan"]["name"], "mine");
    let backups = home.path(".local/state/gunnel/backups");
    let kept: Vec<_> = fs::read_dir(backups).expect("backups").flatten().map(|entry| entry.path()).collect();
    assert!(kept.iter().any(|backup| fs::read_to_string(backup).is_ok_and(|text| text == first)));
    let output = home.run(&["new", "--hull", "angler-10", "-o", "-", "--format", "json"]);
    assert_eq!(json(&output)["format"], gunnel::plan::FORMAT);
}

#[test]
fn a_plan_that_somebody_edits_is_not_replaced() {
    let home = Home::new();
    let me = Holder::this_process(&Env::of([("USER", "kim")]), 0);
    let _lock = Lock::take(Path::new(&home.path("boat.ron")), None, &me).expect("the lock");
    let output = home.run(&["new", "--hull", "angler-10", "-o", "boat.ron", "--force"]);
    assert_eq!(code(&output), 5);
    assert!(errors(&output).contains("kim on ") && errors(&output).contains("hint: "), "{}", errors(&output));
    assert_eq!(fs::read_to_string(home.path("boat.ron")).expect("the plan"), GOOD);
    assert_eq!(errors(&home.run(&["check", "boat.ron"])), "", "looking is free");
}

#[test]
fn every_check_is_explained() {
    let home = Home::new();
    let list = home.run(&["explain"]);
    assert_eq!(out(&list).lines().count(), CHECKS.len());
    for check in CHECKS {
        assert!(out(&list).contains(check.id), "{}", check.id);
        let output = home.run(&["explain", check.id]);
        assert_eq!(code(&output), 0);
        assert!(out(&output).starts_with(&format!("{}: {}\n", check.id, check.title)), "{}", out(&output));
        assert!(out(&output).contains("What to do"));
    }
    let limited = home.run(&["explain", "hole-splash"]);
    assert!(out(&limited).contains("hole-splash.caution: 60 mm (common practice, no source)"), "{}", out(&limited));
}

#[test]
fn the_catalogue_is_searched_and_ones_own_entries_win() {
    let home = Home::new();
    let all = json(&home.run(&["catalogue", "--json"]));
    assert_eq!(all["schema"], "gunnel.catalogue/1");
    assert_eq!(all["entries"].as_array().expect("entries").len(), Catalogue::shipped().entries().len());
    units_are_named("", &all);
    let found = json(&home.run(&["catalogue", "disp", "9", "--json"]));
    assert_eq!(found["entries"][0]["key"], "display-9");
    insta::assert_snapshot!("catalogue", transcript(&home, &["catalogue", "pump"]));

    let mine = Catalogue::shipped().get("crate").expect("a crate").clone();
    let text = ron::to_string(&mine).expect("RON").replacen(mine.name.as_str(), "my own crate", 1);
    home.file(".local/share/gunnel/catalogue/mine.ron", &text);
    home.file(".local/share/gunnel/catalogue/bad.ron", "(key: \"bad\"");
    let output = home.run(&["catalogue", "crate"]);
    assert!(out(&output).contains("my own crate"), "{}", out(&output));
    assert!(
        errors(&output).starts_with("warning: ") && errors(&output).contains("bad.ron:1:1:"),
        "{}",
        errors(&output)
    );
    assert_eq!(code(&output), 0);
}

#[test]
fn completions_and_manual_are_printed() {
    let home = Home::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let output = home.run(&["completions", shell]);
        assert_eq!(code(&output), 0);
        assert!(out(&output).contains("gunnel") && out(&output).contains("catalogue"), "{shell}");
    }
    let manual = home.run(&["man"]);
    assert!(out(&manual).contains(".TH gunnel 1") && out(&manual).contains("Exit codes"), "{}", out(&manual));
}

#[test]
fn nothing_is_written_by_looking() {
    let home = Home::new();
    for arguments in [&["check", "boat.ron"][..], &["show", "boat.ron", "--json"], &["explain"], &["catalogue"]] {
        home.run(arguments);
    }
    let names = crate::child::names(&home.path(""));
    assert_eq!(names, ["boat.ron"]);
}
