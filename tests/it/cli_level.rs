//! `gunnel level` from outside: what it says, its document, its exit codes.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use gunnel::plan::{Kind, Mount, Placement, Plan};
use gunnel::storage::load::Format;
use gunnel::storage::write;
use gunnel::units::{Figure, Length, Mass};

use crate::home::{Home, code, errors, json, out, transcript};
use crate::test_power::{add, mount, plan};

/// The box of `study_level` with weights strapped to its deck: label, kg, x, y.
fn boat(weights: &[(&str, f64, f64, f64)]) -> Plan {
    let mut plan = plan();
    for (label, kg, x, y) in weights {
        let id = add(&mut plan, label, Kind::Storage, Figure::measured(Mass::kg(*kg)), None);
        mount(&mut plan, id, Mount::Strap);
        plan.gear_mut(id).unwrap().place = Some(Placement::at(*x, *y));
    }
    plan
}

fn home(plans: &[(&str, &Plan)]) -> Home {
    let home = Home::new();
    for (file, plan) in plans {
        home.file(file, &write::plan(plan, Format::Ron).unwrap());
    }
    home
}

/// A motor and two boxes at the stern on rails without a second notch: one box is not enough.
fn two_needed() -> Plan {
    let mut plan =
        boat(&[("motor", 20.0, 300.0, 0.0), ("port box", 5.0, 150.0, 200.0), ("other box", 5.0, 150.0, -200.0)]);
    let hull = Arc::make_mut(&mut plan.hull);
    (hull.seat.back_aft, hull.seat.back_fore) = (Length::mm(1500.0), Length::mm(1500.0));
    plan.gear[0].pinned = true;
    plan
}

#[test]
fn it_says_what_to_move_and_where_to() {
    let one = boat(&[("battery", 12.0, 100.0, 0.0)]);
    let listing = boat(&[("cool box", 12.0, 600.0, 300.0), ("crate", 9.0, 2600.0, 120.0)]);
    let mut nearest = two_needed();
    nearest.gear[1].pinned = true;
    let mut fast = boat(&[("battery", 12.0, 100.0, 300.0)]);
    fast.gear[0].pinned = true;
    let home = home(&[
        ("one.ron", &one),
        ("listing.ron", &listing),
        ("two.ron", &two_needed()),
        ("nearest.ron", &nearest),
        ("fast.ron", &fast),
        ("level.ron", &plan()),
    ]);
    let files = ["one.ron", "listing.ron", "two.ron", "nearest.ron", "fast.ron", "level.ron", "boat.ron"];
    let said: Vec<String> = files.iter().map(|file| transcript(&home, &["level", file])).collect();
    insta::assert_snapshot!("level", said.join("\n"));
    insta::assert_snapshot!("help_level", transcript(&home, &["level", "-h"]));
}

#[test]
fn the_document_says_the_same_and_names_its_units() {
    let home = home(&[("one.ron", &boat(&[("battery", 12.0, 100.0, 0.0)])), ("two.ron", &two_needed())]);
    insta::assert_snapshot!("level_json", transcript(&home, &["level", "one.ron", "--json"]));
    let two = json(&home.run(&["level", "two.ron", "--json"]));
    assert_eq!((&two["schema"], &two["ok"]), (&"gunnel.level/1".into(), &true.into()));
    assert_eq!(two["proposals"][0]["moves"].as_array().unwrap().len(), 2);
    let text = home.run(&["level", "two.ron"]);
    assert!(out(&text).contains(two["proposals"][0]["says"].as_str().unwrap()), "{}", out(&text));
}

#[test]
fn exit_codes_say_whether_it_can_be_level() {
    let mut fast = boat(&[("battery", 12.0, 100.0, 300.0)]);
    fast.gear[0].pinned = true;
    let home = home(&[("level.ron", &plan()), ("two.ron", &two_needed()), ("fast.ron", &fast)]);
    for (file, expected) in [("level.ron", 0), ("two.ron", 0), ("fast.ron", 1), ("none.ron", 4)] {
        for arguments in [vec!["level", file], vec!["level", file, "--json"]] {
            let output = home.run(&arguments);
            assert_eq!(code(&output), expected, "{arguments:?}: {}", errors(&output));
        }
    }
    assert_eq!(json(&home.run(&["level", "fast.ron", "--json"]))["ok"], false);
}

/// The 11 ft class with its usual angler lies 0.03 degrees bow down: too little to round to a tenth, yet out of range.
#[test]
fn what_is_to_be_moved_is_not_called_level_before() {
    let home = Home::new();
    home.run(&["new", "--hull", "angler-11", "-o", "bare.ron"]);
    let output = home.run(&["level", "bare.ron"]);
    assert!(out(&output).starts_with("new plan: 0.1 deg bow down, no list\n\nthe seat "), "{}", out(&output));
}
