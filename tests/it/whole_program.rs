//! The program itself in a terminal: a plan is rigged, saved, killed, brought back, followed, and the terminal left
//! as it was found.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::path::PathBuf;

use gunnel::plan::Plan;
use gunnel::storage::load::{self, Format};
use gunnel::storage::write;
use portable_pty::CommandBuilder;
use rustix::process::{Pid, Signal, kill_process};

use crate::boats::bare;
use crate::terminal_show::Show;

/// A folder that is a person's home, with one plan in it.
pub struct Home {
    folder: tempfile::TempDir,
}

impl Home {
    pub fn new() -> Self {
        let home = Self { folder: tempfile::tempdir().unwrap() };
        fs::write(home.plan_file(), write::plan(&bare(), Format::Ron).unwrap()).unwrap();
        home
    }

    pub fn plan_file(&self) -> PathBuf {
        self.folder.path().join("boat.ron")
    }

    /// The plan as it is on disk.
    pub fn plan(&self) -> Plan {
        let text = fs::read_to_string(self.plan_file()).unwrap();
        load::plan(&text, &self.plan_file(), Format::Ron).unwrap()
    }

    pub fn back_mm(&self) -> f64 {
        self.plan().angler.seat.back.to_mm()
    }

    /// Starts the program with arguments in a terminal of 80 by 24. It sees this home and nothing else.
    pub fn start(&self, arguments: &[&str]) -> Show {
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_gunnel"));
        command.args(arguments);
        command.env_clear();
        for (name, value) in [("TERM", "xterm-256color"), ("COLORTERM", "truecolor"), ("LANG", "C.UTF-8")] {
            command.env(name, value);
        }
        let home = self.folder.path();
        command.env("HOME", home);
        command.env("XDG_DATA_HOME", home.join("data"));
        command.env("XDG_STATE_HOME", home.join("state"));
        command.cwd(home);
        Show::run(command, tempfile::tempdir().unwrap(), 80, 24)
    }

    /// Starts the program on the plan, and waits until it is shown.
    pub fn open(&self) -> Show {
        let show = self.start(&["boat.ron"]);
        show.wait_for("q quit");
        show
    }
}

/// Types keys and waits for what they lead to.
pub fn play(show: &mut Show, steps: &[(&str, &str)]) {
    for (keys, shown) in steps {
        show.type_in(keys);
        show.wait_for(shown);
    }
}

pub fn signal(show: &Show, signal: Signal) {
    let process = i32::try_from(show.child.process_id().unwrap()).unwrap();
    kill_process(Pid::from_raw(process).unwrap(), signal).unwrap();
}

fn resize(show: &Show, cols: u16, rows: u16) {
    let least = |cells: u16| cells.max(1).try_into().unwrap();
    show.parser.lock().unwrap().screen_mut().set_size(least(rows), least(cols));
    show.resize(cols, rows);
}

pub const PLACE_A_CRATE: &[(&str, &str)] =
    &[("a", "take gear"), ("crate with", "› crate with"), ("\r", "let go"), ("\r", "1 edit not saved")];
pub const SAVE: &[(&str, &str)] = &[("\x13", "saved boat.ron")];

#[test]
fn gear_is_placed_and_saved_and_leaving_is_quiet() {
    let home = Home::new();
    let mut show = home.open();
    play(&mut show, PLACE_A_CRATE);
    assert!(home.plan().gear.is_empty(), "nothing is written before it is asked for");
    play(&mut show, SAVE);
    let plan = home.plan();
    assert_eq!(plan.gear.len(), 1);
    assert!(plan.gear[0].is_placed());
    show.type_in("q");
    assert_eq!(show.end(), 0);
    show.is_given_back();
}

#[test]
fn a_partner_sees_what_is_saved_and_is_heard_and_a_sign_off_ends_with_the_next_edit() {
    let home = Home::new();
    let mut owner = home.open();
    let mut partner = home.start(&["review", "boat.ron", "--as", "partner"]);
    partner.wait_for("a review, live");
    owner.wait_for("with partner");
    play(&mut owner, PLACE_A_CRATE);
    partner.wait_for("1 edit not saved");
    play(&mut owner, SAVE);
    let saved = fs::read(home.plan_file()).unwrap();
    partner.wait("the save is told", |screen| !screen.contents().contains("not saved"));
    play(&mut partner, &[(";", "say something about"), ("too high\r", "said")]);
    play(
        &mut owner,
        &[("", "§"), ("Y", "too high"), ("\r", "a answer"), ("a", "esc leaves it"), ("lower\r", "owner, ")],
    );
    play(&mut partner, &[("Y", "answered"), ("\r", "lower")]);
    // What is typed while escape is still on its way would be one key with it.
    partner.type_in("\x1b");
    partner.wait("the thread closed", |screen| !screen.contents().contains("lower"));
    partner.type_in("q");
    assert_eq!(partner.end(), 0);
    partner.is_given_back();

    let mut mate = home.start(&["review", "boat.ron", "--as", "mate"]);
    play(&mut mate, &[("", "a review"), ("!", "1 of 40"), (&"\x1b[C".repeat(40), "s sign off")]);
    play(&mut mate, &[("s", "sign the plan off"), ("\r", "signed by mate")]);
    owner.wait_for("signed by mate");
    owner.type_in("\x1b");
    owner.wait("the thread closed", |screen| !screen.contents().contains("lower"));
    play(&mut owner, &[("}", "sign-off void: 1 ch")]);
    assert_eq!(fs::read(home.plan_file()).unwrap(), saved);
    let mut said: Vec<String> = fs::read_dir(home.folder.path().join("boat.ron.comments"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    said.sort();
    assert_eq!(said, ["mate.lines", "owner.lines", "partner.lines"]);
}

#[test]
fn what_a_kill_cut_off_is_offered_again_and_recovered() {
    let home = Home::new();
    let start = home.back_mm();
    let mut show = home.open();
    play(&mut show, &[("}", "1 edit not saved"), ("}", "2 edits not saved")]);
    signal(&show, Signal::KILL);
    show.end();
    assert_eq!(home.back_mm(), start);

    let mut show = home.start(&["boat.ron"]);
    play(&mut show, &[("", "2 edits were not saved"), ("r", "recovered"), ("\x13", "saved boat.ron")]);
    assert_eq!(home.back_mm(), start + 50.0);
    show.type_in("q");
    assert_eq!(show.end(), 0);

    let show = home.open();
    assert!(!show.parser.lock().unwrap().screen().contents().contains("not saved"), "offered once only");
}

#[test]
fn what_was_cut_off_can_be_set_aside() {
    let home = Home::new();
    let start = home.back_mm();
    let mut show = home.open();
    play(&mut show, &[("}", "1 edit not saved")]);
    signal(&show, Signal::KILL);
    show.end();
    let mut show = home.start(&["boat.ron"]);
    play(&mut show, &[("", "1 edit was not saved"), ("d", "q quit")]);
    show.type_in("q");
    assert_eq!(show.end(), 0);
    assert_eq!(home.back_mm(), start);
}

#[test]
fn undo_reaches_back_over_a_restart() {
    let home = Home::new();
    let start = home.back_mm();
    let mut show = home.open();
    play(&mut show, &[("}", "1 edit not saved")]);
    play(&mut show, SAVE);
    show.type_in("q");
    assert_eq!(show.end(), 0);
    assert_eq!(home.back_mm(), start + 25.0);

    let mut show = home.open();
    play(&mut show, &[("u", "undone: move the seat 25 mm forward")]);
    play(&mut show, SAVE);
    assert_eq!(home.back_mm(), start);
}

#[test]
fn the_second_to_open_a_plan_looks_on_and_follows() {
    let home = Home::new();
    let mut first = home.open();
    let mut second = home.open();
    second.wait_for("only to look at");
    play(&mut second, &[("}", "this plan can only be looked at")]);
    play(&mut first, PLACE_A_CRATE);
    play(&mut first, SAVE);
    second.wait_for("read anew");
    second.type_in("q");
    assert_eq!(second.end(), 0);
    assert_eq!(home.plan().gear.len(), 1);
}

#[test]
fn a_request_to_end_keeps_the_edits_and_gives_the_terminal_back() {
    for (sent, code) in [(Signal::TERM, 143), (Signal::HUP, 129)] {
        let home = Home::new();
        let mut show = home.open();
        play(&mut show, &[("}", "1 edit not saved")]);
        signal(&show, sent);
        assert_eq!(show.end(), code);
        show.is_given_back();
        home.start(&["boat.ron"]).wait_for("1 edit was not saved");
    }
}

#[test]
fn no_size_is_too_small_to_come_back_from() {
    let home = Home::new();
    let mut show = home.open();
    for (cols, rows) in [(0, 0), (1, 1), (250, 100), (59, 16), (3, 200)] {
        resize(&show, cols, rows);
        show.type_in("z\x1b[A");
    }
    resize(&show, 20, 3);
    show.wait_for("needs 60 x 16");
    resize(&show, 120, 40);
    show.wait_for("Clearances");
    resize(&show, 80, 24);
    play(&mut show, &[("}", "1 edit not saved")]);
}

#[test]
fn a_plan_left_before_its_first_save_is_offered_on_the_start_screen() {
    let home = Home::new();
    let mut show = home.start(&[]);
    play(
        &mut show,
        &[
            ("", "q quit"),
            ("\x1b[B\x1b[B\x1b[B\r", "never saved"),
            ("}", "move the seat 25 mm forward"),
            ("q", "l  leave"),
            ("l", ""),
        ],
    );
    assert_eq!(show.end(), 0);
    let mut show = home.start(&[]);
    play(&mut show, &[("", "a plan never saved"), ("\x1b[B\x1b[B\x1b[B\r", "brought back")]);
    play(&mut show, &[("u", "undone: move the seat")]);
}

#[test]
fn without_a_plan_one_is_begun_from_a_hull() {
    let home = Home::new();
    let mut show = home.start(&[]);
    play(&mut show, &[("", "12 ft stand-up"), ("\x0f", "open a plan first")]);
    // The last hull of the list, whichever it is, above the one to be measured.
    show.type_in(&"\x1b[B".repeat(60));
    show.type_in("\x1b[A");
    play(&mut show, &[("\r", "never saved"), ("\x13", "save as"), ("\r", "saved new-plan.ron")]);
    show.type_in("q");
    assert_eq!(show.end(), 0);
    assert!(home.folder.path().join("new-plan.ron").is_file());
    home.start(&[]).wait_for("new-plan.ron");
}

#[test]
fn a_hull_is_measured_and_the_plan_on_it_saved() {
    let home = Home::new();
    let mut show = home.start(&[]);
    show.type_in(&"\x1b[B".repeat(60));
    play(&mut show, &[("\r", "most like?"), ("\r", "what is it called?"), ("\r", "Tape interview")]);
    play(&mut show, &[("118 1/2 in\r", "1 of 3"), ("\x13", "never saved"), ("\x13", "save as")]);
    play(&mut show, &[("\r", "saved my-boat.ron"), ("B", "118 1/2 in"), ("\x1b", "q quit")]);
    show.type_in("q");
    assert_eq!(show.end(), 0);
    let text = fs::read_to_string(home.folder.path().join("my-boat.ron")).unwrap();
    assert!(text.contains("In(118.5)"), "{text}");
}
