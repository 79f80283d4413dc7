//! What is still to be told at one end: of each kind the newest, so that a slow reader is never behind.

use std::collections::{BTreeMap, VecDeque};
use std::io::Write;
use std::os::unix::net::UnixStream;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use crate::plan::{Key, Plan};
use crate::review::company::Word;

/// Least time between two sendings: ten a second.
const PAUSE: Duration = Duration::from_millis(100);
/// As many marks as are told at once.
const MOST_POINTS: usize = 8;

/// What is still to be told.
#[derive(Debug, Default)]
struct Waiting {
    hello: Option<Word>,
    plan: Option<(Arc<Plan>, Option<usize>)>,
    /// The last of each person: where they are, or that they left.
    people: BTreeMap<Key, Word>,
    points: VecDeque<Word>,
    lead: Option<Word>,
    bye: bool,
    closed: bool,
    /// Nothing is sent any more.
    ended: bool,
}

/// What is still to be told, and who waits for it.
#[derive(Debug, Default)]
pub(super) struct Outbox {
    waiting: Mutex<Waiting>,
    filled: Condvar,
}

impl Outbox {
    /// Puts a word in; it takes the place of an older one of its kind.
    pub(super) fn put(&self, word: Word) {
        let mut waiting = self.lock();
        match word {
            Word::Hello { .. } => waiting.hello = Some(word),
            Word::Here { ref who, .. } | Word::Left { ref who } => {
                waiting.people.insert(who.clone(), word);
            }
            Word::Point { .. } => {
                if waiting.points.len() == MOST_POINTS {
                    waiting.points.pop_front();
                }
                waiting.points.push_back(word);
            }
            Word::Lead { .. } => waiting.lead = Some(word),
            Word::Plan { plan, unsaved } => waiting.plan = Some((Arc::from(plan), unsaved)),
            Word::Bye => waiting.bye = true,
        }
        drop(waiting);
        self.filled.notify_one();
    }

    /// Puts a plan in without copying it.
    pub(super) fn put_plan(&self, plan: Arc<Plan>, unsaved: Option<usize>) {
        self.lock().plan = Some((plan, unsaved));
        self.filled.notify_one();
    }

    /// Nothing more is told.
    pub(super) fn close(&self) {
        self.lock().closed = true;
        self.filled.notify_all();
    }

    /// After it was closed: waits until the last of it is sent, but no longer than `limit`.
    pub(super) fn wait(&self, limit: Duration) {
        let waiting = self.lock();
        // However it ends, whoever waits goes on.
        drop(self.filled.wait_timeout_while(waiting, limit, |waiting| !waiting.ended));
    }

    /// Sends what is put in until it is closed or the other end is gone.
    pub(super) fn send(&self, stream: &UnixStream) {
        self.send_all(stream);
        self.lock().ended = true;
        self.filled.notify_all();
    }

    fn send_all(&self, mut stream: &UnixStream) {
        loop {
            let mut waiting = self.lock();
            while waiting.is_empty() && !waiting.closed {
                waiting = self.filled.wait(waiting).unwrap_or_else(PoisonError::into_inner);
            }
            let closed = waiting.closed;
            let told = std::mem::replace(&mut *waiting, Waiting { closed, ..Waiting::default() });
            // Whoever puts in must not wait for a plan to be written out.
            drop(waiting);
            let lines = told.lines();
            if stream.write_all(lines.as_bytes()).is_err() || closed {
                return;
            }
            std::thread::sleep(PAUSE);
        }
    }

    fn lock(&self) -> MutexGuard<'_, Waiting> {
        self.waiting.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Waiting {
    fn is_empty(&self) -> bool {
        self.hello.is_none()
            && self.plan.is_none()
            && self.people.is_empty()
            && self.points.is_empty()
            && self.lead.is_none()
            && !self.bye
    }

    /// All of it as lines, in an order that makes sense to who reads them.
    fn lines(self) -> String {
        let plan = self.plan.map(|(plan, unsaved)| Word::Plan { plan: Box::new(Plan::clone(&plan)), unsaved });
        let words = self.hello.into_iter().chain(plan).chain(self.people.into_values()).chain(self.points);
        let words = words.chain(self.lead).chain(self.bye.then_some(Word::Bye));
        // A word is plain data: it cannot fail to be written.
        words.filter_map(|word| serde_json::to_string(&word).ok()).map(|line| line + "\n").collect()
    }
}
