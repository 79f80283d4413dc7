//! Taking the terminal over, and giving it back the way it was from wherever the program ends.
//!
//! [`leave`] may be called from any thread, any number of times, with the standard output locked, with the terminal
//! gone: it waits for nothing and reports nothing.

use std::io;
use std::os::fd::AsFd;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicBool, Ordering};

use rustix::event::{PollFd, PollFlags, Timespec};
use rustix::process::Signal;
use rustix::stdio::{stdin, stdout};
use rustix::termios::{OptionalActions, Termios};

/// Alternate screen, no cursor, mouse (buttons and drags, not every move), pastes as one event, focus.
const ENTER: &[u8] = b"\x1b[?1049h\x1b[?25l\x1b[?1002h\x1b[?1006h\x1b[?2004h\x1b[?1004h";
/// Everything that [`ENTER`] or a frame turns on, off; a frame that was cut short ended.
const LEAVE: &[u8] = b"\x1b[?2026l\x1b[?1004l\x1b[?2004l\x1b[?1006l\x1b[?1002l\x1b[0m\x1b[?25h\x1b[?1049l";
/// How long to wait for a terminal that takes no more bytes.
const PATIENCE: Timespec = Timespec { tv_sec: 0, tv_nsec: 200_000_000 };

/// Whether the terminal is ours at the moment.
static ACTIVE: AtomicBool = AtomicBool::new(false);
/// Whether a stop in between should end with taking it again.
static WANTED: AtomicBool = AtomicBool::new(false);
/// How the terminal was set when the program started.
static BEFORE: OnceLock<Termios> = OnceLock::new();

/// Takes the terminal over; it is an error if there is none. Does nothing if it is ours already.
pub fn enter() -> io::Result<()> {
    if let Ok(before) = rustix::termios::tcgetattr(stdin()) {
        BEFORE.get_or_init(|| before);
    }
    WANTED.store(true, Ordering::SeqCst);
    if active() {
        return Ok(());
    }
    retake()
}

/// Takes the terminal over again after a stop, from which it may come back in any state. An error where the screen
/// was not in use.
pub(super) fn retake() -> io::Result<()> {
    if !WANTED.load(Ordering::SeqCst) {
        return Err(io::ErrorKind::NotConnected.into());
    }
    ACTIVE.store(true, Ordering::SeqCst);
    // `leave` goes past the library's own record of the mode, so that record is reset first.
    let _ = crossterm::terminal::disable_raw_mode();
    let entered = crossterm::terminal::enable_raw_mode().and_then(|()| write_all(ENTER));
    if entered.is_err() {
        leave();
    }
    entered
}

/// Gives the terminal back for good: nothing takes it again by itself.
pub fn end() {
    WANTED.store(false, Ordering::SeqCst);
    leave();
}

/// Gives the terminal back, if it is ours.
pub fn leave() {
    if !ACTIVE.swap(false, Ordering::SeqCst) {
        return;
    }
    let mut ready = [PollFd::from_borrowed_fd(stdout(), PollFlags::OUT)];
    if rustix::event::poll(&mut ready, Some(&PATIENCE)).is_ok_and(|ready| ready > 0) {
        let _ = rustix::io::write(stdout(), LEAVE);
    }
    // In the background the same call would stop the process for good instead of letting it end.
    if let (Some(before), true) = (BEFORE.get(), in_foreground()) {
        let _ = rustix::termios::tcsetattr(stdin(), OptionalActions::Now, before);
    }
}

/// Whether the terminal is ours: no frame is written while it is the shell's.
pub fn active() -> bool {
    ACTIVE.load(Ordering::SeqCst)
}

/// Gives the terminal back and stops, as ^Z does elsewhere. What comes back with the signal to continue is in
/// [`super::signals`]. An error, before anything happened, where nobody could continue the program: when it is the
/// session's first process, as under `ssh host gunnel`, or in that one's group.
pub fn suspend() -> io::Result<()> {
    let group = rustix::process::getpgrp();
    if rustix::process::getsid(None)? == group {
        let says = "there is no shell to come back from; the program goes on";
        return Err(io::Error::new(io::ErrorKind::Unsupported, says));
    }
    leave();
    // The whole group, as the terminal itself would: a script that runs the program stops with it.
    rustix::process::kill_current_process_group(Signal::STOP)?;
    Ok(())
}

/// On a panic in any thread: leave, `flush` what would be lost, then say what happened, then end with code 101. To be
/// called once, by the main thread.
pub fn leave_on_panic(flush: impl Fn() + Send + Sync + 'static) {
    let main = std::thread::current().id();
    let report = std::panic::take_hook();
    std::panic::set_hook(Box::new(move |info| {
        leave();
        flush();
        report(info);
        // The main thread unwinds and ends by itself; without another thread the rest would only look alive.
        if std::thread::current().id() != main {
            signal_hook::low_level::exit(101);
        }
    }));
}

/// Writes to the terminal past every lock and buffer, waiting for one that is only slow.
pub(super) fn write_all(mut bytes: &[u8]) -> io::Result<()> {
    use rustix::io::Errno;
    while !bytes.is_empty() {
        match rustix::io::write(stdout(), bytes) {
            Ok(0) => return Err(io::ErrorKind::WriteZero.into()),
            Ok(written) => bytes = &bytes[written..],
            Err(Errno::INTR) => {}
            // Another program that shares this terminal may have made it non-blocking.
            Err(Errno::AGAIN) => {
                let mut ready = [PollFd::from_borrowed_fd(stdout(), PollFlags::OUT)];
                match rustix::event::poll(&mut ready, None) {
                    Ok(_) | Err(Errno::INTR) => {}
                    Err(errno) => return Err(errno.into()),
                }
            }
            Err(errno) => return Err(errno.into()),
        }
    }
    Ok(())
}

fn in_foreground() -> bool {
    rustix::termios::tcgetpgrp(stdin().as_fd()).is_ok_and(|group| group == rustix::process::getpgrp())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn leaving_undoes_all_that_entering_does() {
        let modes = |bytes: &[u8], end: char| -> Vec<String> {
            let text = String::from_utf8_lossy(bytes).into_owned();
            let mut modes: Vec<String> =
                text.split("\x1b[?").filter_map(|mode| mode.strip_suffix(end).map(str::to_owned)).collect();
            modes.sort();
            modes
        };
        let on = modes(ENTER, 'h');
        assert_eq!(on.len(), 5, "{on:?}");
        let off = String::from_utf8_lossy(LEAVE).into_owned();
        for mode in on {
            assert!(off.contains(&format!("\x1b[?{mode}l")), "{mode} stays on");
        }
        assert_eq!(modes(ENTER, 'l'), ["25"]);
        assert!(off.contains("\x1b[?25h") && off.contains("\x1b[?2026l"));
        assert!(off.ends_with("\x1b[?1049l"), "the cursor and colours are set before the screen goes");
    }

    #[test]
    fn leaving_what_was_never_entered_does_nothing() {
        leave();
        leave();
        assert!(!active());
    }
}
