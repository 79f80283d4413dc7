//! One thing an author did, as it stands in the author's file.

use serde::{Deserialize, Serialize};

use crate::edit::Edit;
use crate::geometry::Spot;
use crate::plan::{Anchor, CableId, CircuitId, GearId, HoleId, Key, Name, Note, Plan};

/// Version of an entry that this program writes. Newer ones are left alone and said to be there.
pub const VERSION: u32 = 1;

/// One thing an author did. The author is the file's.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// See [`VERSION`].
    pub v: u32,
    /// Counts the author's entries from 1.
    pub id: u32,
    /// When, seconds since 1970 in UTC, by the author's clock.
    pub at_s: u64,
    /// What.
    pub does: Deed,
}

/// What an author did.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Deed {
    /// Opened a thread.
    Comment {
        /// What about.
        on: Pin,
        /// What was said.
        text: Note,
    },
    /// Opened a thread with edits that the owner may take over as one step.
    Suggest {
        /// What about.
        on: Pin,
        /// Why.
        text: Note,
        /// The edits in their order.
        edits: Vec<Edit>,
        /// The numbers that the plan they were tried on would have given next.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        next: Option<NextNumbers>,
    },
    /// Said something in a thread.
    Answer {
        /// Which thread.
        thread: ThreadRef,
        /// What was said.
        text: Note,
    },
    /// Settled a thread.
    Resolve {
        /// Which thread.
        thread: ThreadRef,
    },
    /// Opened a settled thread again.
    Reopen {
        /// Which thread.
        thread: ThreadRef,
    },
    /// Took a suggestion over.
    Accept {
        /// Which thread.
        thread: ThreadRef,
    },
    /// Did not take a suggestion over.
    Decline {
        /// Which thread.
        thread: ThreadRef,
        /// Why not.
        reason: Note,
    },
    /// Looked at a stop of the checklist.
    Stop {
        /// Which stop.
        stop: Key,
        /// What came of it.
        verdict: Verdict,
        /// What is to be said of it; may be empty.
        text: Note,
    },
    /// Signed the plan off. The plan as it was then comes along: any difference voids it.
    SignOff {
        /// The plan without its revisions and threads.
        plan: Box<Plan>,
        /// What is to be said of it; may be empty.
        text: Note,
    },
    /// Took back the sign-off.
    Withdraw,
}

/// The numbers that a plan gives next. Edits name what they added by the number it got.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct NextNumbers {
    /// Of gear.
    pub gear: GearId,
    /// Of holes that no gear owns.
    pub hole: HoleId,
    /// Of circuits.
    pub circuit: CircuitId,
    /// Of cables.
    pub cable: CableId,
}

impl NextNumbers {
    /// Those of a plan.
    pub fn of(plan: &Plan) -> Self {
        Self {
            gear: plan.next_gear_id(),
            hole: plan.next_hole_id(),
            circuit: plan.wiring.next_circuit_id(),
            cable: plan.wiring.next_cable_id(),
        }
    }
}

/// What came of a stop of the checklist.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Verdict {
    /// Nothing stands against it.
    Good,
    /// Something is to be settled.
    Doubt,
    /// Does not apply to this boat.
    Apart,
}

impl Verdict {
    /// The word on screen and on paper.
    pub fn word(self) -> &'static str {
        match self {
            Self::Good => "good",
            Self::Doubt => "in doubt",
            Self::Apart => "does not apply",
        }
    }
}

/// What a thread is pinned to, and what to show of it once that is gone.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Pin {
    /// What it is pinned to.
    pub anchor: Anchor,
    /// What that was called.
    pub called: Name,
    /// Where that was, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub spot: Option<Spot>,
}

/// Names a thread: who opened it, and with which entry.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ThreadRef {
    /// The author that opened it.
    pub by: Key,
    /// The author's entry.
    pub id: u32,
}

impl std::fmt::Display for ThreadRef {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} {}", self.by, self.id)
    }
}

/// A plan as a sign-off keeps it: without what is about the plan.
pub fn signed(plan: &Plan) -> Box<Plan> {
    Box::new(Plan { revisions: Vec::new(), threads: Vec::new(), ..plan.clone() })
}
