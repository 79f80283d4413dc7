//! Being told to end, to stop or to go on; and noticing that the terminal is gone, which nobody may tell.
//!
//! The main loop is no part of this: it may be drawing to a terminal that takes no bytes. A thread waits for signals
//! and another for the terminal's hanging up; whichever is first saves what would be lost, gives the terminal back
//! and ends the process.

use std::io;
use std::os::fd::{AsFd, OwnedFd};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::Duration;

use rustix::event::{PollFd, PollFlags};
use signal_hook::consts::{SIGCONT, SIGHUP, SIGINT, SIGQUIT, SIGSTOP, SIGTERM, SIGTSTP, SIGXFSZ};
use signal_hook::iterator::Signals;
use signal_hook::{flag, low_level};

use super::guard;

/// After this the process ends even if what would be lost is still on its way to the disk.
const LONGEST_FAREWELL: Duration = Duration::from_millis(500);

/// Starts both threads. `flush` saves what would be lost and may be called from any thread, once; `resumed` is
/// called when the program continues after a stop and has the terminal again: everything is to be drawn anew.
pub fn start(flush: impl Fn() + Send + Sync + 'static, resumed: impl Fn() + Send + 'static) -> io::Result<()> {
    let death = Death { flush: Arc::new(flush), begun: Arc::new(AtomicBool::new(false)) };
    // A person who insists is obeyed at once. A second SIGHUP is not insisting: the kernel and the shell both send one.
    for signal in [SIGTERM, SIGINT, SIGQUIT] {
        let insisted = Arc::new(AtomicBool::new(false));
        flag::register_conditional_shutdown(signal, 128 + signal, Arc::clone(&insisted))?;
        flag::register(signal, insisted)?;
    }
    // A file size limit is then an error of the write that met it, and not the end.
    flag::register(SIGXFSZ, Arc::new(AtomicBool::new(false)))?;

    let mut signals = Signals::new([SIGHUP, SIGTERM, SIGINT, SIGQUIT, SIGTSTP, SIGCONT])?;
    let on_signal = death.clone();
    thread::Builder::new().name("signals".into()).spawn(move || {
        for signal in signals.forever() {
            match signal {
                SIGTSTP => {
                    guard::leave();
                    let _ = low_level::raise(SIGSTOP);
                }
                SIGCONT => {
                    if guard::retake().is_ok() {
                        resumed();
                    }
                }
                signal => on_signal.come(128 + signal),
            }
        }
    })?;

    let terminal = rustix::stdio::stdin().as_fd().try_clone_to_owned()?;
    thread::Builder::new().name("hang-up".into()).spawn(move || {
        wait_for_hang_up(&terminal);
        death.come(128 + SIGHUP);
    })?;
    Ok(())
}

/// Returns when the terminal is gone. No events are asked for, so only the hanging up, which is always reported,
/// ends the wait: keys do not, and an idle program is not woken.
fn wait_for_hang_up(terminal: &OwnedFd) {
    loop {
        let mut watched = [PollFd::new(terminal, PollFlags::empty())];
        match rustix::event::poll(&mut watched, None) {
            Ok(_) | Err(rustix::io::Errno::INTR) => {}
            // Not something that can be waited for: the signals have to do.
            Err(_) => loop {
                thread::park();
            },
        }
        let gone = PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL;
        if watched[0].revents().intersects(gone) {
            return;
        }
    }
}

/// The end of the process, which comes once.
#[derive(Clone)]
struct Death {
    flush: Arc<dyn Fn() + Send + Sync>,
    begun: Arc<AtomicBool>,
}

impl Death {
    /// Saves, leaves, ends. If another thread is at it already, nothing: that one ends the process.
    fn come(&self, code: i32) {
        if self.begun.swap(true, Ordering::SeqCst) {
            return;
        }
        let _ = thread::Builder::new().spawn(move || {
            thread::sleep(LONGEST_FAREWELL);
            guard::leave();
            low_level::exit(code);
        });
        (self.flush)();
        guard::leave();
        low_level::exit(code);
    }
}
