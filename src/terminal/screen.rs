//! The screen: everything a frame says goes out in one write, or, while the terminal is the shell's, not at all.

use std::cell::RefCell;
use std::io::{self, Write};
use std::rc::Rc;

use ratatui::Terminal;
use ratatui::layout::{Position, Rect};

use super::guard;
use super::sparing::Sparing;

/// Room for a repaint of a large screen.
const ROOM: usize = 64 * 1024;
/// Terminals that know these hold the picture still in between; the others ignore them.
const BEGIN_FRAME: &[u8] = b"\x1b[?2026h";
const END_FRAME: &[u8] = b"\x1b[?2026l";

/// The terminal, taken over until dropped.
pub struct Screen {
    terminal: Terminal<Sparing<Held>>,
    held: Held,
    /// Whether the next frame is a whole one.
    whole: bool,
}

impl Screen {
    /// Takes the terminal over.
    pub fn enter() -> io::Result<Self> {
        guard::enter()?;
        let held = Held::default();
        match Terminal::new(Sparing::new(held.clone())) {
            Ok(terminal) => Ok(Self { terminal, held, whole: true }),
            Err(error) => {
                guard::end();
                Err(error)
            }
        }
    }

    /// Draws a frame and writes what changed since the last one. A terminal without cells is left alone.
    pub fn draw(&mut self, render: impl FnOnce(&mut ratatui::Frame)) -> io::Result<()> {
        let size = self.terminal.size()?;
        if size.width == 0 || size.height == 0 {
            return Ok(());
        }
        if std::mem::take(&mut self.whole) {
            // The terminal's own `clear` asks it for the cursor and waits up to two seconds for the answer.
            self.terminal.resize(Rect::from((Position::ORIGIN, size)))?;
        }
        self.held.begin();
        self.terminal.draw(render)?;
        self.held.commit(guard::write_all)
    }

    /// Makes the next frame a whole one, because the terminal was resized or something else has written to it.
    pub fn repaint(&mut self) {
        self.whole = true;
    }
}

impl Drop for Screen {
    fn drop(&mut self) {
        guard::end();
    }
}

/// Bytes on their way to the terminal. The drawing library flushes more than once a frame; here that does nothing.
#[derive(Clone, Default)]
struct Held {
    bytes: Rc<RefCell<Vec<u8>>>,
}

impl Held {
    /// Starts a frame. What was held before, the clearing of a repaint, becomes part of it.
    fn begin(&self) {
        let mut bytes = self.bytes.borrow_mut();
        bytes.reserve(ROOM);
        bytes.splice(0..0, BEGIN_FRAME.iter().copied());
    }

    /// Ends the frame and hands it to `write` whole.
    fn commit(&self, write: impl FnOnce(&[u8]) -> io::Result<()>) -> io::Result<()> {
        let mut bytes = self.bytes.borrow_mut();
        bytes.extend_from_slice(END_FRAME);
        let written = if guard::active() { write(&bytes) } else { Ok(()) };
        bytes.clear();
        bytes.shrink_to(ROOM);
        written
    }
}

impl Write for Held {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.bytes.borrow_mut().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}
