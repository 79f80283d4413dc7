//! A program in a real terminal: one write a frame, no wake-ups, and every way to end, stop and go on.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::fs;
use std::thread;
use std::time::{Duration, Instant};

use rustix::process::{Pid, Signal};

use crate::child::{arguments, can_inject, program, works};
use crate::terminal_show::{PATIENCE, PLAYS, Show};

#[test]
fn what_is_typed_arrives_and_the_terminal_comes_back() {
    let mut show = Show::start(&[]);
    assert!(!show.cooked());
    for (typed, shown) in [
        ("a", "key Char('a')"),
        ("\x1b[A", "key Up"),
        ("\x1b[200~one\rtwo\x1b[201~", "pasted \"one\\ntwo\""),
        ("\x1b[<0;7;3M", "mouse 6 2"),
        ("\x1b[<0;0;0M", "mouse 0 0"),
        ("\x1b[<0;900;900M", "mouse 39 4"),
        ("\x1b[O", "focus false"),
    ] {
        show.type_in(typed);
        show.wait_for(shown);
    }
    show.type_in("q");
    assert_eq!(show.end(), 0);
    show.is_given_back();
}

#[test]
fn half_a_sequence_holds_nothing_up() {
    let mut show = Show::start(&[]);
    show.type_in("\x1b[<0;");
    show.resize(30, 4);
    show.wait_for("size 30 x 4");
}

/// And keys typed while the window is dragged arrive, all of them, without another key having to push them.
#[test]
fn no_size_at_all_is_survived() {
    let mut show = Show::start(&[]);
    for (cols, rows) in [(0, 0), (1, 1), (0, 7), (500, 200), (0, 0), (20, 3)] {
        show.resize(cols, rows);
        show.type_in("x");
    }
    show.type_in("y");
    show.wait_for("key Char('y')");
    show.resize(21, 3);
    show.wait_for("size 21 x 3");
    show.type_in("q");
    assert_eq!(show.end(), 0);
}

#[test]
fn each_signal_saves_gives_back_and_ends_with_its_code() {
    for (signal, code) in [(Signal::HUP, 129), (Signal::INT, 130), (Signal::QUIT, 131), (Signal::TERM, 143)] {
        let mut show = Show::start(&[]);
        show.signal(signal);
        assert_eq!(show.end(), code);
        assert!(show.flushed());
        show.is_given_back();
    }
}

#[test]
fn a_saving_that_hangs_does_not_keep_it_alive() {
    let mut show = Show::start(&["env", "HANG=1"]);
    show.signal(Signal::TERM);
    assert_eq!(show.end(), 143);
    assert!(show.flushed(), "it had begun");
    show.is_given_back();
}

#[test]
fn a_panic_anywhere_saves_gives_back_and_ends() {
    for (key, words) in [("p", "in the main thread"), ("w", "in another thread")] {
        let mut show = Show::start(&[]);
        show.type_in(key);
        assert_eq!(show.end(), 101);
        assert!(show.flushed());
        show.is_given_back();
        show.wait(words, |_| {
            let written = show.written.lock().unwrap();
            String::from_utf8_lossy(&written).contains(words)
        });
    }
}

/// A shell with jobs, whose first stops and is fetched back when a line is typed.
const SHELL: [&str; 4] =
    ["bash", "-mc", "\"$@\"; echo the shell is back; read line; fg >/dev/null; echo all done", "bash"];

#[test]
fn a_stop_gives_the_terminal_to_the_shell_and_takes_it_again() {
    for by_key in [true, false] {
        let mut show = Show::start(&SHELL);
        if by_key {
            show.type_in("z");
        } else {
            show.signal(Signal::TSTP);
        }
        show.wait_for("the shell is back");
        show.is_given_back();
        // The stopped program is not told of this.
        show.resize(30, 4);
        show.type_in("\n");
        show.wait_for("size 30 x 4");
        assert!(!show.cooked());
        show.type_in("k");
        show.wait_for("key Char('k')");
        show.type_in("q");
        show.wait_for("all done");
        assert_eq!(show.end(), 0);
        show.is_given_back();
    }
}

#[test]
fn after_a_stop_that_nobody_announced_all_is_drawn_anew() {
    let show = Show::start(&[]);
    show.signal(Signal::STOP);
    show.signal(Signal::CONT);
    show.wait_for("size 40 x 5");
    assert!(!show.cooked());
}

#[test]
fn without_a_shell_to_come_back_from_it_does_not_stop() {
    let mut show = Show::start(&[]);
    show.type_in("z");
    show.wait_for("there is no shell");
    show.type_in("k");
    show.wait_for("key Char('k')");
}

#[test]
fn a_lost_terminal_ends_it_however_the_signal_is_set() {
    if !works(&["script", "--version"]) || !works(&["env", "--block-signal=HUP", "true"]) {
        return;
    }
    for setting in ["--default-signal=HUP", "--ignore-signal=HUP", "--block-signal=HUP"] {
        // `script` holds the terminal; killed, it takes it along.
        let words = arguments(PLAYS).join(" ");
        let command = format!("exec env {setting} '{}' {words}", program().display());
        let mut show = Show::start_command(&["script", "-qc", &command, "/dev/null"]);
        let player = show.player();
        show.child.kill().unwrap();
        let start = Instant::now();
        while lives(player) {
            assert!(start.elapsed() < PATIENCE, "{setting}: it lives without a terminal");
            thread::sleep(Duration::from_millis(5));
        }
        assert!(show.flushed(), "{setting}");
    }
}

/// Whether a process runs; one that waits for its parent to notice its end does not.
fn lives(process: Pid) -> bool {
    let stat = fs::read_to_string(format!("/proc/{}/stat", process.as_raw_nonzero()));
    stat.is_ok_and(|stat| !stat.contains(") Z"))
}

#[test]
fn a_frame_is_one_write_and_idling_is_none() {
    if !can_inject() {
        return;
    }
    let trace = tempfile::NamedTempFile::new().unwrap();
    let path = trace.path().to_str().unwrap();
    let mut show = Show::start(&["strace", "-f", "-s", "100000", "-o", path]);
    for key in ["a", "b"] {
        show.type_in(key);
        show.wait_for(&format!("key Char('{key}')"));
    }
    // What the last key set going comes to rest; then nothing happens at all.
    thread::sleep(Duration::from_millis(300));
    let before = fs::read_to_string(path).unwrap();
    thread::sleep(Duration::from_millis(1500));
    let after = fs::read_to_string(path).unwrap();
    assert_eq!(after.strip_prefix(&before), Some(""), "an idle program made system calls");
    show.type_in("q");
    show.end();
    let all = fs::read_to_string(path).unwrap();
    let writes: Vec<&str> = all.lines().filter(|line| line.contains("write(1, \"") && line.contains("\\33[")).collect();
    assert_eq!(writes.len(), 5, "entering, three frames, leaving: {writes:#?}");
    for frame in &writes[1..4] {
        assert!(frame.contains("write(1, \"\\33[?2026h"), "{frame}");
        assert!(frame.contains("\\33[?2026l\","), "{frame}");
    }
}
