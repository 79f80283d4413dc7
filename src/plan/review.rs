//! What a plan remembers of its past and of what others said: revisions and threads.

use serde::{Deserialize, Serialize};

use super::{CableId, GearId, HoleId, Name, Note, Plan, ThreadId};
use crate::geometry::Spot;

/// A named earlier state of the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Revision {
    /// `before the seat test`.
    pub name: Name,
    /// Date as typed, year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Name>,
    /// The plan as it was, without revisions of its own.
    pub plan: Box<Plan>,
}

/// A review comment and what was answered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ReviewThread {
    /// Stable number.
    pub id: ThreadId,
    /// What it is pinned to.
    pub anchor: Anchor,
    /// Where it stands.
    #[serde(default)]
    pub state: ThreadState,
    /// What was said, oldest first.
    pub messages: Vec<Message>,
}

/// What a thread is pinned to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Anchor {
    /// The plan as a whole.
    Plan,
    /// A piece of gear; follows it when it moves.
    Gear(GearId),
    /// A hole that no gear owns.
    Hole(HoleId),
    /// A cable.
    Cable(CableId),
    /// A check, by its id.
    Check(String),
    /// A spot on deck, mm.
    Spot(Spot),
}

/// Where a thread stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum ThreadState {
    /// Waiting for an answer.
    #[default]
    Open,
    /// Answered, not settled.
    Answered,
    /// Settled.
    Resolved,
}

/// One thing said.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Message {
    /// Who said it.
    pub author: Name,
    /// Date as typed, year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Name>,
    /// What.
    pub text: Note,
}
