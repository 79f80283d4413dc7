//! A small program in a terminal of its own, and all it takes to type to it, watch it and see it end.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

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
use ratatui::text::Text;
use rustix::process::{Pid, Signal, kill_process};

use crate::child::{arguments, given, program};

/// The longest that anything here may take before it counts as never.
pub const PATIENCE: Duration = Duration::from_secs(20);
pub const PLAYS: &str = "terminal_show::part_plays";

/// A program that shows the last size and the last other thing it was sent, until it is ended; `p` panics, `w` panics
/// in another thread, `z` suspends, `q` returns. What a crash would lose is one file, `FLUSHED`, so that its saving can
/// be seen.
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
    let mut size = String::new();
    loop {
        let text = Text::from(format!("{size}\n{shown}"));
        screen.draw(|frame| frame.render_widget(&text, frame.area())).unwrap();
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
                size = format!("size {columns} x {rows}");
                screen.repaint();
            }
            TermEvent::Mouse(mouse) => shown = format!("mouse {} {}", mouse.column, mouse.row),
            TermEvent::Paste(text) => shown = format!("pasted {text:?}"),
            TermEvent::Focus(on) => shown = format!("focus {on}"),
        }
    }
}

/// A program in a terminal, and everything it wrote.
pub struct Show {
    pub child: Box<dyn Child + Send + Sync>,
    pub master: Box<dyn MasterPty + Send>,
    keys: Box<dyn Write + Send>,
    pub parser: Arc<Mutex<vt100::Parser>>,
    pub written: Arc<Mutex<Vec<u8>>>,
    changed: Receiver<()>,
    root: tempfile::TempDir,
}

impl Show {
    /// Starts the part, as the first process of its session, within `wrapper`.
    pub fn start(wrapper: &[&str]) -> Self {
        let program = program();
        let mut words: Vec<String> = wrapper.iter().map(|word| (*word).to_owned()).collect();
        words.push(program.to_str().unwrap().to_owned());
        words.extend(arguments(PLAYS));
        let words: Vec<&str> = words.iter().map(String::as_str).collect();
        Self::start_command(&words)
    }

    /// Starts a command that starts the part.
    pub fn start_command(words: &[&str]) -> Self {
        let root = tempfile::tempdir().unwrap();
        let mut command = CommandBuilder::new(words[0]);
        command.args(&words[1..]);
        command.env("FLUSHED", root.path().join("flushed"));
        command.env("PID", root.path().join("pid"));
        command.env("TERM", "xterm-256color");
        command.cwd(root.path());
        let show = Self::run(command, root, 40, 5);
        show.wait_for("ready");
        show
    }

    /// Starts any program in a terminal of this size, and keeps a folder for as long as it runs.
    pub fn run(command: CommandBuilder, root: tempfile::TempDir, cols: u16, rows: u16) -> Self {
        let size = PtySize { rows, cols, pixel_width: 0, pixel_height: 0 };
        let pair = native_pty_system().openpty(size).unwrap();
        let child = pair.slave.spawn_command(command).unwrap();
        let mut reader = pair.master.try_clone_reader().unwrap();
        let keys = pair.master.take_writer().unwrap();
        let parser = vt100::Parser::new(rows.try_into().unwrap(), cols.try_into().unwrap(), 0);
        let parser = Arc::new(Mutex::new(parser));
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
        Self { child, master: pair.master, keys, parser, written, changed, root }
    }

    pub fn type_in(&mut self, keys: &str) {
        self.keys.write_all(keys.as_bytes()).unwrap();
    }

    pub fn resize(&self, cols: u16, rows: u16) {
        let size = PtySize { rows, cols, pixel_width: 0, pixel_height: 0 };
        self.master.resize(size).unwrap();
    }

    /// Waits until the screen says `words`.
    pub fn wait_for(&self, words: &str) {
        self.wait(words, |screen| screen.contents().contains(words));
    }

    pub fn wait(&self, what: &str, done: impl Fn(&vt100::Screen) -> bool) {
        let start = Instant::now();
        while !done(self.parser.lock().unwrap().screen()) {
            let left = PATIENCE.saturating_sub(start.elapsed());
            let told = self.changed.recv_timeout(left);
            assert!(
                told.is_ok(),
                "never {what:?}; the screen says {:?}",
                self.parser.lock().unwrap().screen().contents()
            );
        }
    }

    /// The process that plays, below whatever wraps it.
    pub fn player(&self) -> Pid {
        let pid = fs::read_to_string(self.file("pid")).unwrap();
        Pid::from_raw(pid.parse().unwrap()).unwrap()
    }

    pub fn signal(&self, signal: Signal) {
        kill_process(self.player(), signal).unwrap();
    }

    /// Waits for the end; returns the exit code.
    pub fn end(&mut self) -> u32 {
        let start = Instant::now();
        loop {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.exit_code();
            }
            assert!(start.elapsed() < PATIENCE, "it never ends");
            thread::sleep(Duration::from_millis(5));
        }
    }

    pub fn flushed(&self) -> bool {
        self.file("flushed").exists()
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.root.path().join(name)
    }

    /// Everything the program turned on is off, and the terminal's own mode is what a shell expects.
    pub fn is_given_back(&self) {
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

    pub fn cooked(&self) -> bool {
        let modes = self.master.get_termios().unwrap();
        let modes = format!("{:?}", modes.local_flags);
        ["ICANON", "ECHO", "ISIG"].iter().all(|mode| modes.contains(mode))
    }
}

impl Drop for Show {
    fn drop(&mut self) {
        let _ = self.child.kill();
    }
}
