//! A rework told as two states of one plan: what moved after the seat test, what it saved, what it broke.
//!
//! Places and mounts are read off the two states in `scenarios/seat-test.ron`; what is expected follows by subtraction.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeSet;

use gunnel::checks;
use gunnel::compare::{Comparison, Detail, How, Side, Turn};
use gunnel::plan::{Mount, Plan};
use gunnel::scenarios::SCENARIOS;
use gunnel::study::Study;

use crate::boats::demo;
use crate::home::{Home, code, json, out};

const BEFORE: &str = "before the seat test";

/// The demo's kept state and the demo, compared.
fn compared() -> (Plan, Plan, Comparison) {
    let now = demo("seat-test.ron");
    let then = now.revisions.iter().find(|kept| kept.name.as_str() == BEFORE).unwrap().plan.clone();
    let (study_then, study_now) = (Study::of(&then), Study::of(&now));
    let (findings_then, findings_now) = (checks::run(&then, &study_then), checks::run(&now, &study_now));
    let comparison = Comparison::of(
        Side { plan: &then, study: &study_then, findings: &findings_then },
        Side { plan: &now, study: &study_now, findings: &findings_now },
    );
    (Plan::clone(&then), now, comparison)
}

/// Label, millimetres forward and to port of all gear that was moved.
fn moved(comparison: &Comparison) -> Vec<(&str, f64, f64)> {
    let shift = |detail: &Detail| match detail {
        Detail::Moved { from, to, .. } => Some((to.x - from.x, to.y - from.y)),
        _ => None,
    };
    let of = |how: &How| match how {
        How::Altered(details) => details.iter().find_map(shift),
        How::Added | How::Gone => None,
    };
    comparison.changes.iter().filter_map(|c| of(&c.how).map(|(x, y)| (c.name.as_str(), x, y))).collect()
}

fn named(comparison: &Comparison, wanted: fn(&How) -> bool) -> Vec<&str> {
    comparison.changes.iter().filter(|change| wanted(&change.how)).map(|change| change.name.as_str()).collect()
}

/// Then and now of a number.
fn number(comparison: &Comparison, key: &str) -> (f64, f64) {
    let number = comparison.numbers.iter().find(|number| number.key == key).unwrap();
    (number.then.unwrap(), number.now.unwrap())
}

/// Check and subject of the findings that turned this way.
fn turned(comparison: &Comparison, turn: Turn) -> BTreeSet<(&str, &str)> {
    let turned = comparison.verdicts.iter().filter(|verdict| verdict.turn == turn);
    turned.map(|verdict| (verdict.finding.check, verdict.subject.as_str())).collect()
}

/// The display stood at (2190, 340) and stands at (2140, 340); the rod holder went from (2400, 310) to (2350, 330).
#[test]
fn display_and_rod_holder_followed_the_seat_and_a_socket_came_aboard() {
    let (then, now, comparison) = compared();
    assert_eq!(moved(&comparison), [("display", -50.0, 0.0), ("rod holder", -50.0, 20.0)]);
    // Two notches of 25 mm.
    assert_eq!((now.angler.seat.back - then.angler.seat.back).to_mm(), -50.0);
    assert_eq!(named(&comparison, |how| *how == How::Added), ["USB socket"]);
    assert!(named(&comparison, |how| *how == How::Gone).is_empty());
}

/// The rod holder was to be bolted, with four holes, and sits on inserts; the socket asks for a bore and two screws.
#[test]
fn four_holes_were_saved_and_three_are_new() {
    let (then, now, comparison) = compared();
    let mount = |plan: &Plan| plan.gear.iter().find(|gear| gear.label.as_str() == "rod holder").unwrap().mount;
    assert_eq!((mount(&then), mount(&now)), (Mount::Bolts, Mount::Inserts));
    assert_eq!(number(&comparison, "new_fasteners"), (4.0, 2.0));
    assert_eq!(number(&comparison, "new_passages"), (0.0, 1.0));
    assert_eq!(number(&comparison, "new_holes"), (4.0, 3.0));
    // The old holes stay what they were: one plugged, one open.
    assert_eq!((number(&comparison, "plugged"), number(&comparison, "open")), ((1.0, 1.0), (1.0, 1.0)));
}

#[test]
fn what_it_cured_and_what_it_broke() {
    let (_, _, comparison) = compared();
    let broken = [
        ("hole-edge", "USB socket, hole 1"),
        ("plug-stuck", "cable from transducer to display"),
        ("stroke-blocked", "camera boom"),
    ];
    assert_eq!(turned(&comparison, Turn::New), BTreeSet::from(broken));
    let worse = [("battery-short", "battery"), ("reach-over", "switch unit")];
    assert_eq!(turned(&comparison, Turn::Worse), BTreeSet::from(worse));
    let cleared = turned(&comparison, Turn::Cleared);
    // A seat test is noted now, and the rod holder is not drilled for.
    for cured in [("order-broken", "extra track, port"), ("hole-avoidable", "rod holder, hole 1")] {
        assert!(cleared.contains(&cured), "{cleared:?}");
    }
}

#[test]
fn the_command_line_tells_the_same_story() {
    let home = Home::new();
    let scenario = SCENARIOS.iter().find(|scenario| scenario.file == "seat-test.ron").unwrap();
    home.file("boat.ron", scenario.text);
    let told = home.run(&["diff", "boat.ron", "--from", BEFORE]);
    assert_eq!(code(&told), 1);
    for words in [
        "display: moved 50 mm aft",
        "rod holder: moved 50 mm aft, 20 mm to port; held by inserts, was bolts",
        "USB socket: added",
        "Penetrations, new holes: 3, was 4",
        "new stop, hole-edge, USB socket, hole 1",
        "cleared caution, order-broken, extra track, port",
    ] {
        assert!(out(&told).contains(words), "{words}\n{}", out(&told));
    }
    assert_eq!(json(&home.run(&["diff", "boat.ron", "--from", BEFORE, "--json"]))["same"], false);
}
