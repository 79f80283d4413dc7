//! Keys, mouse, pastes and resizes, read in their own thread and sent as messages into the application's one channel.
//!
//! The library that reads them can sit in `read` after half an escape sequence: only this thread then waits with it.

use std::io;
use std::sync::mpsc::Sender;
use std::thread;
use std::time::Duration;

use crossterm::event::{self, Event, KeyEvent, KeyEventKind, MouseEvent};

/// The shortest wait in which the library looks at all; at zero it says that nothing is there.
const AT_ONCE: Duration = Duration::from_millis(1);

/// What came from the terminal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TermEvent {
    /// A key went down, or repeats. Keys going up are not told.
    Key(KeyEvent),
    /// A button, drag or wheel; the place is always on the screen.
    Mouse(MouseEvent),
    /// Pasted text: lines end in `\n`, and no other control characters are left than that and tabs.
    Paste(String),
    /// The size is now so many columns and rows. Draw everything anew: it is also sent after a suspension.
    Resize(u16, u16),
    /// The terminal got or lost the focus.
    Focus(bool),
}

/// Starts reading. To be called after the plan, if it comes through the standard input, has been read from there.
pub fn start<M: From<TermEvent> + Send + 'static>(sender: Sender<M>) -> io::Result<()> {
    take_terminal()?;
    // The library listens for resizes from its first call on; one that came before the thread ran would be lost.
    event::poll(AT_ONCE)?;
    let mut reader = Reader { size: crossterm::terminal::size()?, resized: false };
    thread::Builder::new().name("input".into()).spawn(move || {
        // The first error is the terminal's end, which is noticed and acted upon elsewhere.
        while let Ok(event) = event::read() {
            let more = || event::poll(AT_ONCE).unwrap_or(false);
            let events = reader.take(event, more);
            if events.into_iter().any(|event| sender.send(event.into()).is_err()) {
                return;
            }
        }
    })?;
    Ok(())
}

/// A resize message of the present size, to have everything drawn anew.
pub fn present_size() -> io::Result<TermEvent> {
    crossterm::terminal::size().map(|(columns, rows)| TermEvent::Resize(columns, rows))
}

/// Puts the terminal, opened again without blocking, in the place of the standard input. It is an open file of its
/// own, so the standard output goes on blocking. Where this does not work the standard input stays as it is.
fn take_terminal() -> io::Result<()> {
    use rustix::fs::{Mode, OFlags};
    let flags = OFlags::RDWR | OFlags::NONBLOCK | OFlags::NOCTTY | OFlags::CLOEXEC;
    match rustix::fs::open("/dev/tty", flags, Mode::empty()) {
        Ok(terminal) => rustix::stdio::dup2_stdin(terminal).map_err(io::Error::from),
        Err(_) => Ok(()),
    }
}

/// Turns the library's events into ours.
struct Reader {
    size: (u16, u16),
    /// A resize that was read and not yet told.
    resized: bool,
}

impl Reader {
    /// What to send for `event`. A resize is held back while more events wait, so that of a window being dragged
    /// only the last size is told, and in its place before the next key.
    fn take(&mut self, event: Event, more: impl Fn() -> bool) -> Vec<TermEvent> {
        let mut out = Vec::new();
        if let Event::Resize(columns, rows) = event {
            self.size = (columns, rows);
            self.resized = true;
        } else if let Some(event) = self.translate(event) {
            self.tell_size(&mut out);
            out.push(event);
        }
        if self.resized && !more() {
            self.tell_size(&mut out);
        }
        out
    }

    fn tell_size(&mut self, out: &mut Vec<TermEvent>) {
        if std::mem::take(&mut self.resized) {
            out.push(TermEvent::Resize(self.size.0, self.size.1));
        }
    }

    fn translate(&self, event: Event) -> Option<TermEvent> {
        match event {
            Event::Key(key) => (key.kind != KeyEventKind::Release).then_some(TermEvent::Key(key)),
            Event::Mouse(mouse) => Some(TermEvent::Mouse(MouseEvent {
                column: clamp(mouse.column, self.size.0),
                row: clamp(mouse.row, self.size.1),
                ..mouse
            })),
            Event::Paste(text) => Some(TermEvent::Paste(plain(&text))),
            Event::FocusGained => Some(TermEvent::Focus(true)),
            Event::FocusLost => Some(TermEvent::Focus(false)),
            Event::Resize(..) => None,
        }
    }
}

/// The nearest cell on the screen. Reports count from one; one of zero has wrapped round by the time it is here.
fn clamp(cell: u16, cells: u16) -> u16 {
    if cell == u16::MAX { 0 } else { cell.min(cells.saturating_sub(1)) }
}

fn plain(text: &str) -> String {
    text.replace("\r\n", "\n")
        .replace('\r', "\n")
        .chars()
        .filter(|letter| !letter.is_control() || matches!(letter, '\n' | '\t'))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crossterm::event::{KeyCode, KeyModifiers, MouseEventKind};

    /// What is told of `events` that all wait at once.
    fn check(events: &[Event], expected: &[TermEvent]) {
        let mut reader = Reader { size: (80, 24), resized: false };
        let told: Vec<TermEvent> = events
            .iter()
            .enumerate()
            .flat_map(|(at, event)| reader.take(event.clone(), || at + 1 < events.len()))
            .collect();
        assert_eq!(told, expected);
    }

    fn key(letter: char, kind: KeyEventKind) -> KeyEvent {
        KeyEvent::new_with_kind(KeyCode::Char(letter), KeyModifiers::NONE, kind)
    }

    fn mouse(column: u16, row: u16) -> MouseEvent {
        MouseEvent { kind: MouseEventKind::Moved, column, row, modifiers: KeyModifiers::NONE }
    }

    #[test]
    fn keys_going_up_are_not_told() {
        let down = key('a', KeyEventKind::Press);
        let again = key('a', KeyEventKind::Repeat);
        check(
            &[Event::Key(down), Event::Key(again), Event::Key(key('a', KeyEventKind::Release))],
            &[TermEvent::Key(down), TermEvent::Key(again)],
        );
    }

    #[test]
    fn the_mouse_never_leaves_the_screen() {
        for (told, expected) in [
            ((0, 0), (0, 0)),
            ((79, 23), (79, 23)),
            ((80, 24), (79, 23)),
            ((500, 3), (79, 3)),
            ((u16::MAX, u16::MAX), (0, 0)),
        ] {
            check(&[Event::Mouse(mouse(told.0, told.1))], &[TermEvent::Mouse(mouse(expected.0, expected.1))]);
        }
        check(
            &[Event::Resize(0, 0), Event::Mouse(mouse(7, 7))],
            &[TermEvent::Resize(0, 0), TermEvent::Mouse(mouse(0, 0))],
        );
    }

    #[test]
    fn of_many_sizes_the_last_is_told_and_before_the_next_key() {
        let down = key('a', KeyEventKind::Press);
        let up = key('a', KeyEventKind::Release);
        check(&[Event::Resize(9, 9), Event::Resize(7, 5)], &[TermEvent::Resize(7, 5)]);
        check(
            &[Event::Resize(9, 9), Event::Resize(8, 8), Event::Key(down), Event::Resize(7, 5)],
            &[TermEvent::Resize(8, 8), TermEvent::Key(down), TermEvent::Resize(7, 5)],
        );
        check(&[Event::Resize(9, 9), Event::Key(up)], &[TermEvent::Resize(9, 9)]);
    }

    #[test]
    fn a_paste_is_lines_of_text() {
        check(
            &[Event::Paste("a\r\nb\rc\n\td\x1b[2J\u{7}\u{9b}é".into())],
            &[TermEvent::Paste("a\nb\nc\n\td[2Jé".into())],
        );
    }
}
