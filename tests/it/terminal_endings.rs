//! A program in a real terminal: one write a frame, no wake-ups, and every way to end, stop and go on.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
#![allow(
    clippy::print_stderr,
    reason = "a test that cannot run here must say so"
)]

use std::fs;
use std::io::{Read, Write};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

use gunnel::terminal::input::{self, TermEvent};
use gunnel::terminal::screen::Screen;
use gunnel::terminal::{guard, signals};
use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use rustix::process::{Pid, Signal, kill_process};

use crate::child::{arguments, can_inject, given, program, works};

/// The longest that anything here may take before it counts as never.
const PATIENCE: Duration = Duration::from_secs(20);
const PLAYS: &str = "terminal_endings::part_plays";

/// A program that shows what it was sent, in order, until it is ended; `p` panics, `w` panics in another thread, `z`
/// suspends, `q` returns. What a crash would lose is one file, `FLUSHED`, so that its saving can be seen.
#[test]
#[ignore = "a part played for the other tests"]
fn part_plays() {
    let flushed = given("FLUSHED");
    let hangs = std::env::var_os("HANG").is_some();
    let flush = move || {
        fs::write(&flushed, "flushed").unwrap();
        if hangs {
            thread::sleep(PATIENCE * 2);
        }
    };
    fs::write(given("PID"), std::process::id().to_string()).unwrap();
    let (sender, events) = channel::<TermEvent>();
    input::start(sender.clone()).unwrap();
    guard::leave_on_panic(flush.clone());
    signals::start(flush, move || {
        let _ = sender.send(input::present_size().unwrap());
    })
    .unwrap();
    let mut screen = Screen::enter().unwrap();
    let mut shown = String::from("ready");
    loop {
        screen
            .draw(|frame| frame.render_widget(shown.as_str(), frame.area()))
            .unwrap();
        match events.recv().unwrap() {
            TermEvent::Key(key) => match key.code.as_char() {
                Some('p') => panic!("in the main thread"),
                Some('w') => {
                    let _ = thread::spawn(|| panic!("in another thread")).join();
                }
                Some('z') => match guard::suspend() {
                    Ok(()) => shown = "stopped".into(),
                    Err(error) => shown = error.to_string(),
                },
                Some('q') => return,
                _ => shown = format!("key {:?}", key.code),
            },
            TermEvent::Resize(columns, rows) => {
                shown = format!("size {columns} x {rows}");
                screen.repaint().unwrap();
            }
            TermEvent::Mouse(mouse) => shown = format!("mouse {} {}", mouse.column, mouse.row),
            TermEvent::Paste(text) => shown = format!("pasted {text:?}"),
            TermEvent::Focus(on) => shown = format!("focus {on}"),
        }
    }
}

/// The part in a terminal of 40 by 5, and everything it wrote.
struct Show {
    child: Box<dyn Child + Send + Sync>,
    master: Box<dyn MasterPty + Send>,
    keys: Box<dyn Write + Send>,
    parser: Arc<Mutex<vt100::Parser>>,
    written: Arc<Mutex<Vec<u8>>>,
    changed: Receiver<()>,
    root: tempfile::TempDir,
}

impl Show {
    /// Starts the part, as the first process of its session, within `wrapper`.
    fn start(wrapper: &[&str]) -> Self {
        let program = program();
        let mut words: Vec<String> = wrapper.iter().map(|word| (*word).to_owned()).collect();
        words.push(program.to_str().unwrap().to_owned());
        words.extend(arguments(PLAYS));
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        Self::start_command(&words)
    }

    /// Starts a command that starts the part.
    fn start_command(words: &[&str]) -> Self {
        let root = tempfile::tempdir().unwrap();
        let pair = native_pty_system()
            .openpty(PtySize {
                rows: 5,
                cols: 40,
                pixel_width: 0,
                pixel_height: 0,
            })
            .unwrap();
        let mut command = CommandBuilder::new(words[0]);
        command.args(&words[1..]);
        command.env("FLUSHED", root.path().join("flushed"));
        command.env("PID", root.path().join("pid"));
        command.env("TERM", "xterm-256color");
        let child = pair.slave.spawn_command(command).unwrap();
        let mut reader = pair.master.try_clone_reader().unwrap();
        let keys = pair.master.take_writer().unwrap();
        let parser = Arc::new(Mutex::new(vt100::Parser::new(
            5.try_into().unwrap(),
            40.try_into().unwrap(),
            0,
        )));
        let written = Arc::new(Mutex::new(Vec::new()));
        let (tell, changed) = channel();
        let (parse, keep) = (Arc::clone(&parser), Arc::clone(&written));
        thread::spawn(move || {
            let mut bytes = [0; 4096];
            while let Ok(length @ 1..) = reader.read(&mut bytes) {
                keep.lock().unwrap().extend_from_slice(&bytes[..length]);
                parse.lock().unwrap().process(&bytes[..length]);
                if tell.send(()).is_err() {
                    return;
                }
            }
        });
        let show = Self {
            child,
            master: pair.master,
            keys,
            parser,
            written,
            changed,
            root,
        };
        show.wait_for("ready");
        show
    }

    fn type_in(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
    }

    /// Waits until the screen says `words`.
    fn wait_for(&self, words: &str) {
        self.wait(words, |screen| screen.contents().contains(words));
    }

    fn wait(&self, what: &str, done: impl Fn(&vt100::Screen) -> bool) {
        let start = Instant::now();
        while !done(self.parser.lock().unwrap().screen()) {
            let left = PATIENCE.saturating_sub(start.elapsed());
            if self.changed.recv_timeout(left).is_err() {
                panic!(
                    "never {what:?}; the screen says {:?}",
                    self.parser.lock().unwrap().screen().contents()
                );
            }
        }
    }

    /// The process that plays, below whatever wraps it.
    fn player(&self) -> Pid {
        let pid = fs::read_to_string(self.file("pid")).unwrap();
        Pid::from_raw(pid.parse().unwrap()).unwrap()
    }

    fn signal(&self, signal: Signal) {
        kill_process(self.player(), signal).unwrap();
    }

    /// Waits for the end; returns the exit code.
    fn end(&mut self) -> u32 {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.exit_code();
            }
            assert!(start.elapsed() < PATIENCE, "it never ends");
            thread::sleep(Duration::from_millis(5));
        }
    }

    fn flushed(&self) -> bool {
        self.file("flushed").exists()
    }

    fn file(&self, name: &str) -> PathBuf {
        self.root.path().join(name)
    }

    /// Everything the program turned on is off, and the terminal's own mode is what a shell expects.
    fn is_given_back(&self) {
        self.wait("given back", |screen| !screen.alternate_screen());
        let parser = self.parser.lock().unwrap();
        let screen = parser.screen();
        assert!(!screen.hide_cursor());
        assert!(!screen.bracketed_paste());
        assert_eq!(screen.mouse_protocol_mode(), vt100::MouseProtocolMode::None);
        let written = self.written.lock().unwrap();
        let text = String::from_utf8_lossy(&written);
        for mode in ["1002", "1006", "2004", "1004", "1049", "2026"] {
            let (on, off) = (format!("\x1b[?{mode}h"), format!("\x1b[?{mode}l"));
            assert!(text.rfind(&off) > text.rfind(&on), "{mode} stays on");
        }
        assert!(text.contains("\x1b[?1002h") && !text.contains("\x1b[?1003h"));
        assert!(self.cooked());
    }

    fn cooked(&self) -> bool {
        let modes = self.master.get_termios().unwrap();
        let modes = format!("{:?}", modes.local_flags);
        ["ICANON", "ECHO", "ISIG"]
            .iter()
            .all(|mode| modes.contains(mode))
    }
}

impl Drop for Show {
    fn drop(&mut self) {
        let _ = self.child.kill();
    }
}

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
    show.master
        .resize(PtySize {
            rows: 4,
            cols: 30,
            pixel_width: 0,
            pixel_height: 0,
        })
        .unwrap();
    show.wait_for("size 30 x 4");
}

#[test]
fn no_size_at_all_is_survived() {
    let mut show = Show::start(&[]);
    let resize = |show: &Show, cols, rows| {
        show.master
            .resize(PtySize {
                rows,
                cols,
                pixel_width: 0,
                pixel_height: 0,
            })
            .unwrap();
    };
    for (cols, rows) in [(0, 0), (1, 1), (0, 7), (500, 200), (0, 0), (20, 3)] {
        resize(&show, cols, rows);
        show.type_in("x");
    }
    show.type_in("y");
    show.wait_for("key Char('y')");
    resize(&show, 21, 3);
    show.wait_for("size 21 x 3");
    show.type_in("q");
    assert_eq!(show.end(), 0);
}

#[test]
fn each_signal_saves_gives_back_and_ends_with_its_code() {
    for (signal, code) in [
        (Signal::HUP, 129),
        (Signal::INT, 130),
        (Signal::QUIT, 131),
        (Signal::TERM, 143),
    ] {
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
const SHELL: [&str; 4] = [
    "bash",
    "-mc",
    "\"$@\"; echo the shell is back; read line; fg >/dev/null; echo all done",
    "bash",
];

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
        show.type_in("\n");
        show.wait_for("size 40 x 5");
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
    for setting in [
        "--default-signal=HUP",
        "--ignore-signal=HUP",
        "--block-signal=HUP",
    ] {
        // `script` holds the terminal; killed, it takes it along.
        let words = arguments(PLAYS).join(" ");
        let command = format!("exec env {setting} '{}' {words}", program().display());
        let mut show = Show::start_command(&["script", "-qc", &command, "/dev/null"]);
        let player = show.player();
        show.child.kill().unwrap();
        let start = Instant::now();
        while lives(player) {
            assert!(
                start.elapsed() < PATIENCE,
                "{setting}: it lives without a terminal"
            );
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
    assert_eq!(
        after.strip_prefix(&before),
        Some(""),
        "an idle program made system calls"
    );
    show.type_in("q");
    show.end();
    let all = fs::read_to_string(path).unwrap();
    let writes: Vec<&str> = all
        .lines()
        .filter(|line| line.contains("write(1, \"") && line.contains("\\33["))
        .collect();
    assert_eq!(
        writes.len(),
        5,
        "entering, three frames, leaving: {writes:#?}"
    );
    for frame in &writes[1..4] {
        assert!(frame.contains("write(1, \"\\33[?2026h"), "{frame}");
        assert!(frame.contains("\\33[?2026l\","), "{frame}");
    }
}
