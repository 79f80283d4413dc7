//! Two programs that have one plan open at the same time: what is not saved yet is seen, and who is where.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;

use gunnel::edit::Edit;
use rustix::process::Signal;

use crate::boats::name;
use crate::terminal_home::{Home, PLACE_A_CRATE, SAVE, play};
use crate::terminal_show::Show;
use crate::whole_program::signal;

/// The owner and a partner at one plan, who have met.
fn both() -> (Home, Show, Show) {
    let home = Home::new();
    let owner = home.open();
    let partner = home.start(&["review", "boat.ron", "--as", "partner"]);
    owner.wait_for("with partner");
    partner.wait_for("a review, live");
    (home, owner, partner)
}

#[test]
fn what_the_owner_has_not_saved_is_seen_at_once_and_leaves_no_trace() {
    let (home, mut owner, mut partner) = both();
    let before = fs::read(home.plan_file()).unwrap();
    play(&mut owner, PLACE_A_CRATE);
    partner.wait_for("1 edit not saved");
    // The partner can look at what is not in any file.
    play(&mut partner, &[("/", "jump to"), ("crate", "crate with"), ("\r", "crate with")]);
    assert_eq!(fs::read(home.plan_file()).unwrap(), before);
    play(&mut owner, SAVE);
    partner.wait("the save is told", |screen| !screen.contents().contains("not saved"));
    owner.type_in("q");
    assert_eq!(owner.end(), 0);
    partner.wait_for("the owner closed the plan");
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
    let beside: Vec<String> = fs::read_dir(home.plan_file().parent().unwrap())
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.contains("boat.ron"))
        .collect();
    assert_eq!(beside, ["boat.ron"]);
}

#[test]
fn what_the_owner_throws_away_is_thrown_away_at_the_partner_s_too() {
    let (home, mut owner, mut partner) = both();
    play(&mut owner, PLACE_A_CRATE);
    partner.wait_for("crate with trays");
    play(&mut owner, &[("q", "l  leave")]);
    owner.type_in("l");
    assert_eq!(owner.end(), 0);
    partner.wait_for("the owner closed the plan");
    partner.wait("the plan of the file", |screen| !screen.contents().contains("crate with trays"));
    assert!(home.plan().gear.is_empty());
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
}

#[test]
fn one_follows_the_other_until_a_key_and_a_mark_is_seen() {
    let (_home, mut owner, mut partner) = both();
    play(&mut owner, &[("c", "on the centreline")]);
    play(&mut owner, &[(",", "you point there")]);
    partner.wait_for("owner points at");
    play(&mut owner, &[("*", "asked to follow")]);
    partner.wait_for("following owner");
    // The owner goes to the bow; the partner's words tell the same place without a key.
    let at_bow = |show: &Show| {
        let contents = show.parser.lock().unwrap().screen().contents();
        contents.lines().find(|line| line.contains("mm from stern")).map(|line| line.trim().to_string())
    };
    play(&mut owner, &[("\x1b[F", "mm from stern"), ("c", "on the centreline")]);
    let there = at_bow(&owner).unwrap();
    let place = there.split(',').next().unwrap().to_string();
    partner.wait("the view went along", |screen| screen.contents().contains(&place));
    play(&mut partner, &[("\x1b[D", "not following owner any more")]);
    play(&mut owner, &[("#", "follow partner")]);
}

#[test]
fn a_plan_that_changes_while_something_is_tried_is_there_once_that_is_dropped() {
    let home = Home::new();
    let mut partner = home.start(&["review", "boat.ron", "--as", "partner"]);
    play(&mut partner, &[("", "a review"), ("@", "try what you mean"), ("}", "1 edit tried")]);
    home.written(&Edit::RenamePlan { name: name("told anew") });
    partner.wait_for("read anew");
    assert!(!partner.parser.lock().unwrap().screen().contents().contains("told anew"), "the copy is the old plan's");
    play(&mut partner, &[("@", "1 edit was tried"), ("d", "told anew")]);
}

#[test]
fn an_owner_who_is_killed_leaves_the_view_as_it_was_and_comes_back() {
    let (home, mut owner, mut partner) = both();
    play(&mut owner, PLACE_A_CRATE);
    partner.wait_for("1 edit not saved");
    signal(&owner, Signal::KILL);
    owner.end();
    partner.wait_for("owner gone since");
    play(&mut partner, &[("/", "jump to"), ("crate", "crate with"), ("\r", "crate with")]);
    let mut owner = home.start(&["boat.ron"]);
    play(&mut owner, &[("", "1 edit was not saved"), ("r", "recovered")]);
    partner.wait_for("a review, live: 1 edit not saved");
    owner.wait_for("with partner");
}

#[test]
fn after_a_lost_owner_the_next_version_of_the_file_is_shown_as_that() {
    let (home, mut owner, mut partner) = both();
    signal(&owner, Signal::KILL);
    owner.end();
    partner.wait_for("owner gone since");
    home.written(&Edit::RenamePlan { name: name("told anew") });
    partner.wait("the file's plan", |screen| {
        let contents = screen.contents();
        contents.contains("told anew") && contents.contains("only to look at: a review")
    });
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
}

#[test]
fn a_partner_tries_something_suggests_it_and_the_owner_takes_it_over_as_one_step() {
    let (home, mut owner, mut partner) = both();
    let start = home.back_mm();
    play(&mut partner, &[("@", "try what you mean"), ("}", "1 edit tried"), ("}", "2 edits tried")]);
    // What is tried is nobody's but the partner's.
    owner.type_in("c");
    owner.wait_for("saved");
    play(&mut partner, &[("@", "2 edits were tried"), ("s", "why"), ("knees\r", "said")]);
    partner.wait_for("a review, live");
    play(&mut owner, &[("", "§"), ("Y", "knees"), ("\r", "take it over"), ("\r", "taken over by owner")]);
    owner.wait_for("1 edit not saved");
    owner.type_in("\x1b");
    owner.wait("the thread closed", |screen| !screen.contents().contains("knees"));
    play(&mut owner, SAVE);
    assert_eq!(home.back_mm(), start + 50.0);
    play(&mut owner, &[("u", "undone"), ("\x13", "saved boat.ron")]);
    assert_eq!(home.back_mm(), start);
}
