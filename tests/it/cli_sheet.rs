//! `gunnel sheet` from outside: what it prints, that no name gets out of its cell, what it refuses.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;

use gunnel::plan::{Chemistry, Kind};
use gunnel::scenarios::SCENARIOS;
use gunnel::storage::load::Format;
use gunnel::storage::write;

use crate::home::{Home, code, errors, out, transcript};
use crate::test_power::{add_electric, battery, circuit, load, plan};

fn home() -> Home {
    let home = Home::new();
    let seat_test = SCENARIOS.iter().find(|scenario| scenario.file.contains("seat-test")).unwrap();
    home.file("rig.ron", seat_test.text);
    home
}

/// A plan whose names try to be formulas, cells and markup.
fn hostile() -> String {
    let mut plan = plan();
    let lithium = battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
    let source = add_electric(&mut plan, "=cmd|' /c calc'!A1", Kind::Battery, lithium);
    let lamp = add_electric(&mut plan, "@lamp, \"aft\"", Kind::Light, load(12.0, 1.0, 1.0));
    let pump = add_electric(&mut plan, "| a | <b>*pump*</b> [x](y)", Kind::Pump, load(12.0, 1.0, 1.0));
    circuit(&mut plan, "+1+1", source, &[lamp]);
    circuit(&mut plan, "-2", source, &[pump]);
    write::plan(&plan, Format::Ron).unwrap()
}

#[test]
fn the_wiring_reads_as_a_page_and_as_a_table() {
    let home = home();
    for form in ["text", "markdown", "csv"] {
        let told = transcript(&home, &["sheet", "wiring", "rig.ron", "--format", form]);
        insta::assert_snapshot!(format!("sheet_wiring_{form}"), told);
    }
    insta::assert_snapshot!("help_sheet", transcript(&home, &["sheet", "-h"]));
    insta::assert_snapshot!("sheet_wiring_nothing", transcript(&home, &["sheet", "wiring", "boat.ron"]));
}

#[test]
fn no_name_gets_out_of_its_cell() {
    let home = home();
    home.file("hostile.ron", &hostile());
    let printed = home.run(&["sheet", "wiring", "hostile.ron", "--format", "csv"]);
    let mut reader = csv::Reader::from_reader(out(&printed).as_bytes());
    let columns = reader.headers().unwrap().len();
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!(rows.len(), 2);
    for row in &rows {
        assert_eq!(row.len(), columns);
        assert!(row.iter().all(|cell| !cell.starts_with(['=', '+', '-', '@'])), "{row:?}");
    }
    assert_eq!(rows.iter().map(|row| &row[1]).collect::<Vec<_>>(), ["'+1+1", "'-2"]);
    assert_eq!(&rows[0][3], "'@lamp, \"aft\"");
    let markdown = home.run(&["sheet", "wiring", "hostile.ron", "--format", "markdown"]);
    for line in out(&markdown).lines().filter(|line| line.starts_with("| ")) {
        let bars = line.replace("\\|", "").matches('|').count();
        assert_eq!(bars, columns + 1, "{line}");
        assert!(!line.replace("\\<", "").contains('<'), "{line}");
    }
}

#[test]
fn a_file_is_written_whole_and_never_over_another_unasked() {
    let home = home();
    let asked = ["sheet", "wiring", "rig.ron", "--format", "csv", "-o", "wires.csv"];
    let first = home.run(&asked);
    assert_eq!((code(&first), out(&first), errors(&first)), (0, "", ""));
    let printed = home.run(&["sheet", "wiring", "rig.ron", "--format", "csv", "-o", "-"]);
    assert_eq!(fs::read_to_string(home.path("wires.csv")).unwrap(), out(&printed));
    home.file("wires.csv", "mine");
    let refused = home.run(&asked);
    assert_eq!(code(&refused), 4, "{}", errors(&refused));
    assert!(errors(&refused).contains("--force"), "{}", errors(&refused));
    assert_eq!(fs::read_to_string(home.path("wires.csv")).unwrap(), "mine");
    let replaced = home.run(&[&asked[..], &["--force"]].concat());
    assert_eq!(code(&replaced), 0, "{}", errors(&replaced));
    assert_eq!(fs::read_to_string(home.path("wires.csv")).unwrap(), out(&printed));
}

#[test]
fn what_is_asked_wrongly_is_refused() {
    let home = home();
    let before = fs::read_to_string(home.path("rig.ron")).unwrap();
    for (asked, expected) in [
        (&["sheet", "wirring", "rig.ron"][..], 2),
        (&["sheet", "wiring"], 2),
        (&["sheet", "wiring", "rig.ron", "--format", "yaml"], 2),
        (&["sheet", "wiring", "rig.ron", "-o", "rig.ron", "--force"], 2),
        (&["sheet", "wiring", "rig.ron", "-o", "./rig.ron", "--force"], 2),
        (&["sheet", "wiring", "none.ron"], 4),
        (&["sheet", "wiring", "rig.ron", "-o", "no/such/folder.csv"], 4),
    ] {
        let output = home.run(asked);
        assert_eq!((code(&output), out(&output)), (expected, ""), "{asked:?}: {}", errors(&output));
    }
    home.file("torn.ron", "(format: 2,");
    assert_eq!(code(&home.run(&["sheet", "wiring", "torn.ron"])), 3);
    assert_eq!(fs::read_to_string(home.path("rig.ron")).unwrap(), before);
    let piped = home.run_with_input(&["sheet", "wiring", "-"], before.as_bytes());
    assert_eq!(out(&piped), out(&home.run(&["sheet", "wiring", "rig.ron"])));
}
