//! Who speaks at this screen, and what was said about the plan as it was last read.

use super::layer::Speech;
use crate::geometry::Spot;
use crate::plan::{Key, Plan};
use crate::review::{Pin, Talk, ThreadRef, Whereabouts, whereabouts};

/// Who speaks here and what was said.
#[derive(Clone, Debug, Default)]
pub struct Voice {
    /// The partner who looks at the plan; none where its owner does.
    pub reviewer: Option<Key>,
    /// What was said, as last read.
    pub talk: Talk,
    /// What of it could not be read; safe to show.
    pub troubles: Vec<String>,
    /// What the form that is open says something about.
    pub about: Option<About>,
    /// The thread gone to last.
    pub at: Option<ThreadRef>,
}

/// What words are asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// A thing of the plan: a new thread.
    Thing(Pin),
    /// A thread: an answer.
    Thread(ThreadRef),
    /// A suggestion that is not taken over: why.
    Declined(ThreadRef),
    /// A stop of the checklist that is in doubt: what about.
    Doubt(usize),
    /// What was tried on a copy: why it is suggested.
    Suggested,
    /// The plan as it was when the words were asked for: a sign-off.
    Signed(Box<Plan>),
}

/// Where threads that wait are marked on the deck.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pinned {
    /// The spot, mm.
    pub spot: Spot,
    /// How many threads.
    pub count: usize,
    /// Whether what they were pinned to is gone.
    pub gone: bool,
}

impl Voice {
    /// Whether a partner looks at the plan.
    pub fn reviews(&self) -> bool {
        self.reviewer.is_some()
    }

    /// The author that entries are written for.
    pub fn author(&self) -> Option<Key> {
        self.reviewer.clone().or_else(|| Key::new("owner").ok())
    }

    /// The marks of the threads that wait, those of one spot together.
    pub fn pinned(&self, plan: &Plan) -> Vec<Pinned> {
        let mut marks: Vec<Pinned> = Vec::new();
        for thread in self.talk.threads.iter().filter(|thread| thread.is_unresolved()) {
            let place = whereabouts(plan, &thread.pin);
            let Some(spot) = place.spot() else { continue };
            let gone = matches!(place, Whereabouts::Gone(_));
            match marks.iter_mut().find(|mark| mark.spot == spot && mark.gone == gone) {
                Some(mark) => mark.count += 1,
                None => marks.push(Pinned { spot, count: 1, gone }),
            }
        }
        marks
    }

    /// What the title says of sign-offs; empty where nobody signed.
    pub fn signed(&self, plan: &Plan) -> String {
        let line = |sign_off: &crate::review::SignOff| match sign_off.void_by(plan).len() {
            0 => format!("signed by {}", sign_off.by),
            1 => "sign-off void: 1 change".into(),
            n => format!("sign-off void: {n} changes"),
        };
        self.talk.sign_offs.iter().map(line).collect::<Vec<_>>().join(", ")
    }

    /// The place of a thread in the list of all.
    pub fn position(&self, id: &ThreadRef) -> Option<usize> {
        self.talk.threads.iter().position(|thread| thread.id == *id)
    }
}

impl About {
    /// The page to go back to once it was said.
    pub fn page(&self) -> Option<Speech> {
        match self {
            Self::Thing(_) | Self::Suggested => None,
            Self::Thread(id) | Self::Declined(id) => Some(Speech::Open(id.clone())),
            Self::Doubt(at) => Some(Speech::Stop(at + 1)),
            Self::Signed(_) => Some(Speech::Stop(crate::review::STOPS.len())),
        }
    }
}
