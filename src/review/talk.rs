//! What stands of all that was said: threads, suggestions, stops and sign-offs, folded from the files of all authors.

use std::collections::BTreeMap;

use super::entries::{Deed, Entry, NextNumbers, Pin, ThreadRef, Verdict};
use crate::edit::Edit;
use crate::plan::parts::{Part, PartKey};
use crate::plan::{Act, Key, Note, On, Plan, ThreadState};

/// Everything that stands.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Talk {
    /// The threads, in the order they were opened.
    pub threads: Vec<Thread>,
    /// The last word of each author on each stop of the checklist.
    pub stops: BTreeMap<(Key, Key), (Verdict, Note)>,
    /// The sign-offs that were not withdrawn, at most one an author.
    pub sign_offs: Vec<SignOff>,
    /// Entries about a thread that is not there.
    pub astray: usize,
}

/// A thread.
#[derive(Clone, Debug, PartialEq)]
pub struct Thread {
    /// Its name.
    pub id: ThreadRef,
    /// What it is pinned to.
    pub pin: Pin,
    /// Where it stands.
    pub state: ThreadState,
    /// What was said, oldest first; the first by whoever opened it.
    pub said: Vec<Said>,
    /// What was suggested, if it opened with a suggestion.
    pub suggestion: Option<Suggestion>,
}

/// One thing said.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// Who.
    pub by: Key,
    /// When, seconds since 1970 in UTC.
    pub at_s: u64,
    /// What.
    pub text: Note,
}

/// Edits that somebody suggested, and what became of them.
#[derive(Clone, Debug, PartialEq)]
pub struct Suggestion {
    /// The edits.
    pub edits: Vec<Edit>,
    /// The numbers that the plan they were tried on would have given next.
    pub next: Option<NextNumbers>,
    /// What became of them.
    pub became: Suggested,
}

/// What became of a suggestion.
#[derive(Clone, Debug, PartialEq)]
pub enum Suggested {
    /// It waits.
    Waiting,
    /// Somebody took it over.
    Accepted(Key),
    /// Somebody did not, and said why.
    Declined(Key, Note),
}

/// A sign-off.
#[derive(Clone, Debug, PartialEq)]
pub struct SignOff {
    /// Who.
    pub by: Key,
    /// When, seconds since 1970 in UTC.
    pub at_s: u64,
    /// What was said with it.
    pub text: Note,
    /// The plan that was signed.
    pub plan: Box<Plan>,
}

impl SignOff {
    /// What was changed since: a sign-off stands only while this is empty. That the partner's yes was ticked off is
    /// no change: it says that this was signed.
    pub fn void_by(&self, now: &Plan) -> Vec<Part> {
        let mut parts = self.plan.differences(now);
        parts.retain(|part| part.key() != PartKey::Tick(On::Boat, Act::PartnersYes));
        parts
    }
}

impl Thread {
    /// Whether it waits for somebody.
    pub fn is_unresolved(&self) -> bool {
        self.state != ThreadState::Resolved
    }
}

/// Folds what all authors did. Each author's own order counts before the clocks: a clock that was set back moves
/// nothing, and two that differ only decide between authors. Threads that a plan brings along come first.
pub fn talk(plan: &Plan, files: &BTreeMap<Key, Vec<Entry>>) -> Talk {
    let mut talk = Talk { threads: brought_along(plan), ..Talk::default() };
    for (by, at_s, entry) in in_order(files) {
        talk.take(by, at_s, entry);
    }
    talk
}

/// All entries: by time, where no time is before an earlier one of the same author; then by author.
fn in_order(files: &BTreeMap<Key, Vec<Entry>>) -> Vec<(&Key, u64, &Entry)> {
    let mut all = Vec::new();
    for (by, entries) in files {
        let mut latest = 0;
        for entry in entries {
            latest = entry.at_s.max(latest);
            all.push((by, latest, entry));
        }
    }
    all.sort_by_key(|(_, at_s, _)| *at_s);
    // An answer whose author's clock is behind may come before what it answers; threads are opened first then.
    let opens = |entry: &Entry| matches!(entry.does, Deed::Comment { .. } | Deed::Suggest { .. });
    let (opening, rest): (Vec<_>, Vec<_>) = all.into_iter().partition(|(_, _, entry)| opens(entry));
    opening.into_iter().chain(rest).collect()
}

/// The author of threads that a plan brings along, where no person's name fits a key.
const IN_PLAN: &str = "plan";

fn brought_along(plan: &Plan) -> Vec<Thread> {
    let Ok(nobody) = Key::new(IN_PLAN) else { return Vec::new() };
    let author = |name: &str| Key::new(name.to_lowercase().replace(' ', "-")).unwrap_or_else(|_| nobody.clone());
    let thread = |thread: &crate::plan::ReviewThread| {
        let said = thread.messages.iter().map(|message| Said {
            by: author(message.author.as_str()),
            at_s: 0,
            text: message.text.clone(),
        });
        Some(Thread {
            id: ThreadRef { by: nobody.clone(), id: thread.id.0 },
            pin: super::whereabouts::pin(plan, &thread.anchor)?,
            state: thread.state,
            said: said.collect(),
            suggestion: None,
        })
    };
    plan.threads.iter().filter_map(thread).collect()
}

impl Talk {
    /// The thread of this name.
    pub fn thread(&self, id: &ThreadRef) -> Option<&Thread> {
        self.threads.iter().find(|thread| thread.id == *id)
    }

    /// Threads that wait for somebody.
    pub fn unresolved(&self) -> impl Iterator<Item = &Thread> {
        self.threads.iter().filter(|thread| thread.is_unresolved())
    }

    fn take(&mut self, by: &Key, at_s: u64, entry: &Entry) {
        let said = |text: &Note| Said { by: by.clone(), at_s, text: text.clone() };
        match &entry.does {
            Deed::Comment { on, text } => self.open(by, entry.id, on, said(text), None),
            Deed::Suggest { on, text, edits, next } => {
                let suggestion = Suggestion { edits: edits.clone(), next: *next, became: Suggested::Waiting };
                self.open(by, entry.id, on, said(text), Some(suggestion));
            }
            Deed::Answer { thread, text } => self.at(thread, |thread| thread.answer(said(text))),
            Deed::Resolve { thread } => self.at(thread, |thread| thread.state = ThreadState::Resolved),
            Deed::Reopen { thread } => self.at(thread, |thread| thread.state = ThreadState::Open),
            Deed::Accept { thread } => self.at(thread, |thread| thread.settle(Suggested::Accepted(by.clone()))),
            Deed::Decline { thread, reason } => {
                self.at(thread, |thread| thread.settle(Suggested::Declined(by.clone(), reason.clone())));
            }
            Deed::Stop { stop, verdict, text } => {
                self.stops.insert((by.clone(), stop.clone()), (*verdict, text.clone()));
            }
            Deed::SignOff { plan, text } => {
                self.sign_offs.retain(|other| other.by != *by);
                self.sign_offs.push(SignOff { by: by.clone(), at_s, text: text.clone(), plan: plan.clone() });
            }
            Deed::Withdraw => self.sign_offs.retain(|other| other.by != *by),
        }
    }

    fn open(&mut self, by: &Key, id: u32, pin: &Pin, said: Said, suggestion: Option<Suggestion>) {
        let id = ThreadRef { by: by.clone(), id };
        self.threads.push(Thread { id, pin: pin.clone(), state: ThreadState::Open, said: vec![said], suggestion });
    }

    fn at(&mut self, id: &ThreadRef, change: impl FnOnce(&mut Thread)) {
        match self.threads.iter_mut().find(|thread| thread.id == *id) {
            Some(thread) => change(thread),
            None => self.astray += 1,
        }
    }
}

impl Thread {
    /// An answer by another than whoever spoke first; their own words keep waiting for one. It never opens what is
    /// settled.
    fn answer(&mut self, said: Said) {
        if self.is_unresolved() {
            let own = self.said.first().is_some_and(|first| first.by == said.by);
            self.state = if own { ThreadState::Open } else { ThreadState::Answered };
        }
        self.said.push(said);
    }

    /// A suggestion is taken over or declined once; the first word stands.
    fn settle(&mut self, became: Suggested) {
        let Some(suggestion) = self.suggestion.as_mut().filter(|it| it.became == Suggested::Waiting) else { return };
        suggestion.became = became;
        self.state = ThreadState::Resolved;
    }
}
