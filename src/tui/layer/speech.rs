//! What can be chosen on the pages of what was said: a key, two words, what it does.

use super::Value;
use crate::review::{ThreadRef, Verdict};

/// Something to do about what was said.
#[derive(Clone, Debug, PartialEq)]
pub enum Speech {
    /// Show a thread.
    Open(ThreadRef),
    /// Say something in it.
    Answer(ThreadRef),
    /// Resolve it, or open it again.
    Settle(ThreadRef),
    /// Take a suggestion over.
    Accept(ThreadRef),
    /// Show on the deck what it would make of the plan.
    Lay(ThreadRef),
    /// Do not, and say why.
    Decline(ThreadRef),
    /// Show a stop of the checklist; the one behind the last is the sign-off.
    Stop(usize),
    /// Say what came of a stop.
    Judge(usize, Verdict),
    /// Sign the plan off.
    SignOff,
    /// Take the sign-off back.
    Withdraw,
}

/// A key of a page.
#[derive(Clone, Debug)]
pub struct Verb {
    /// The key by the name the table of actions gives it.
    pub key: &'static str,
    /// What it does, in a word or two.
    pub words: &'static str,
    /// What it gives.
    pub does: Value,
}

impl Verb {
    /// A key that does something about what was said.
    pub fn new(key: &'static str, words: &'static str, does: Speech) -> Self {
        Self { key, words, does: Value::Speech(does) }
    }
}
