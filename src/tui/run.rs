//! The loop: messages in, effects performed, frames out.

mod asking;
mod files;
mod live;
mod look;
mod rim;
mod speech;
mod today;

use std::path::PathBuf;
use std::sync::mpsc::RecvTimeoutError;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

use anyhow::{Context, Result};

pub use self::look::{Reasons, reasons};
use self::rim::Rim;
use super::glyphs::GlyphChoice;
use super::theme::{ColourChoice, Depth};
use super::update::Effect;
use crate::plan::Key;
use crate::storage::document::Document;
use crate::storage::live::Arrival;
use crate::storage::paths::Env;
use crate::terminal::frames::FrameCap;
use crate::terminal::input::TermEvent;
use crate::terminal::screen::Screen as Terminal;

/// What the command line says about the screen.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The plan to open; none shows the start screen.
    pub plan: Option<PathBuf>,
    /// How many colours.
    pub colour: ColourChoice,
    /// Which symbols.
    pub glyphs: GlyphChoice,
    /// Dark on light.
    pub light: bool,
    /// Lengths in inches.
    pub inches: bool,
    /// At most so many frames a second.
    pub max_fps: Option<u32>,
    /// Open only to look.
    pub read_only: bool,
    /// A partner who looks at the plan and says something about it.
    pub reviewer: Option<Key>,
}

/// What arrives at the loop.
enum Message {
    Terminal(TermEvent),
    FileChanged,
    /// By the link of this number.
    Live(u64, Arrival),
    /// The mark of this number has been there long enough.
    Faded(u64),
}

impl From<TermEvent> for Message {
    fn from(event: TermEvent) -> Self {
        Self::Terminal(event)
    }
}

/// The document, where a signal's thread can reach it too.
type SharedDocument = Arc<Mutex<Option<Document>>>;

/// Runs the program on the terminal until the person quits.
///
/// # Errors
/// A plan that cannot be read, or no terminal.
pub fn run(options: &Options, env: &Env) -> Result<()> {
    let document: SharedDocument = Arc::default();
    let ended = work(options, env, &document);
    // Threads that wait for signals hold the document too: it is closed here, not when it is dropped.
    let last = lock(&document).take();
    if let Some(document) = last {
        document.close();
    }
    ended
}

fn work(options: &Options, env: &Env, document: &SharedDocument) -> Result<()> {
    let mut rim = Rim::new(options, env, Arc::clone(document));
    let mut app = rim.app(options);
    // The library that writes colours reads NO_COLOR for itself; what was decided here wins.
    crossterm::style::force_color_output(app.look.theme.depth() != Depth::Mono);
    if let Some(path) = &options.plan {
        rim.open(&mut app, path)?;
    }
    let receiver = rim.take_terminal(Arc::clone(document))?;
    let mut terminal = Terminal::enter().context("this is not a terminal gunnel can draw on")?;
    let mut cap = FrameCap::new(options.max_fps, env.over_ssh());
    let start = Instant::now();
    loop {
        let message = match cap.wait(start.elapsed()) {
            Some(Duration::ZERO) => receiver.try_recv().ok(),
            Some(wait) => match receiver.recv_timeout(wait) {
                Err(RecvTimeoutError::Disconnected) => return Ok(()),
                received => received.ok(),
            },
            None => match receiver.recv() {
                Err(_) => return Ok(()),
                received => received.ok(),
            },
        };
        if let Some(message) = message {
            cap.mark();
            if matches!(message, Message::Terminal(TermEvent::Resize(..))) {
                terminal.repaint();
            }
            for effect in rim.take(&mut app, message) {
                match effect {
                    Effect::Quit => return Ok(()),
                    Effect::Repaint => terminal.repaint(),
                    effect => {
                        if rim.perform(&mut app, effect) {
                            return Ok(());
                        }
                    }
                }
            }
            rim.keep_told(&app);
            continue;
        }
        if cap.due(start.elapsed()) {
            terminal.draw(|frame| super::draw::draw(&app, frame.buffer_mut()))?;
            cap.drawn(start.elapsed());
        }
    }
}

/// A thread that panicked while holding the document leaves it usable: its records are whole.
fn lock(document: &SharedDocument) -> MutexGuard<'_, Option<Document>> {
    document.lock().unwrap_or_else(PoisonError::into_inner)
}
