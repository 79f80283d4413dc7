//! What moves it level: the smallest sets of moves of movable heavy things that bring trim and list into range.
//!
//! Asked for on demand, not a part of every study. The search is linear first: from displacement and metacentric
//! heights follow the moments that are missing, from them the places where a thing would do. What it would
//! propose is then made on a copy of the plan and studied whole, so that a proposal says what the boat does, not
//! what was guessed.
//!
//! The work is bounded, whatever the plan: the 24 heaviest things that may be moved with at most some eight thousand
//! places each, three times 1200 trials whether a place is free, 16 whole studies. What is not found within that is not
//! proposed. Two things never change places with each other: each is tried with the other where it is.

mod answer;
mod movers;
mod search;

use super::Attitude;
use crate::plan::{Gear, GearId, Placement, Plan, Seat};
use crate::study::clearance::Surroundings;
use crate::study::{Study, chosen};

/// Trim by the stern up to which a boat at rest is in order, degrees; bow down none is. Common practice, no source.
pub const TRIM_OK_DEG: f64 = 0.5;

/// List to either side up to which a boat at rest is in order, degrees. Common practice, no source.
pub const LIST_OK_DEG: f64 = 0.5;

/// The most proposals in one answer.
const MOST_PROPOSALS: usize = 5;

/// Trim and list as planned, and what brings them into range.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Moves {
    /// How the boat lies as planned; `None` where it finds no rest.
    pub now: Option<Attitude>,
    /// What of that is out of range.
    pub off: Off,
    /// How many things may be moved at all.
    pub movable: usize,
    /// Fewest moves first, then the least moved. Where nothing brings it into range, the one that comes nearest.
    pub proposals: Vec<Proposal>,
}

/// Moves that belong together, and how the boat lies after them.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// One or two.
    pub moves: Vec<Move>,
    /// How much is moved how far, kg m.
    pub moved_kgm: f64,
    /// Trim after them by a whole study, degrees, positive bow down.
    pub trim_deg: f64,
    /// Heel after them, degrees, positive to starboard.
    pub heel_deg: f64,
    /// What still is out of range after them.
    pub left: Off,
}

/// One thing moved.
#[derive(Clone, Debug, PartialEq)]
pub enum Move {
    /// Gear to another place, held and turned as it is.
    Gear {
        /// Which gear.
        gear: GearId,
        /// From here.
        from: Placement,
        /// To here.
        to: Placement,
    },
    /// Gear to the same place on the other side, the other way round.
    Across {
        /// Which gear.
        gear: GearId,
        /// From here.
        from: Placement,
        /// To here.
        to: Placement,
    },
    /// The seat along its rails, the person with it.
    Seat {
        /// As it is set now.
        from: Seat,
        /// As it would be.
        to: Seat,
    },
}

/// What is out of range.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Off {
    /// Trim.
    pub trim: bool,
    /// List.
    pub list: bool,
}

impl Off {
    /// Whether anything is.
    pub fn any(self) -> bool {
        self.trim || self.list
    }
}

impl Moves {
    /// Looks for moves. `sound` says whether a changed plan, with its study, stands no worse than this one.
    pub fn find(plan: &Plan, study: &Study, sound: &Sound<'_>) -> Self {
        let range = Range::of(plan);
        let rest = study.float.rest();
        let Some(now) = rest.map(|rest| Attitude { heel_deg: rest.heel_deg, trim_deg: rest.trim_deg }) else {
            return Self::default();
        };
        let off = range.off(now);
        let found = Self { now: Some(now), off, ..Self::default() };
        if !off.any() {
            return found;
        }
        let Some(answer) = answer::Answer::of(plan, study, range) else { return found };
        let around = Surroundings::of(plan, &study.rig, &study.clearance.envelopes);
        let movers = movers::movers(plan, &around, study, off);
        let movable = movers.len();
        let asked = search::Asked { plan, around: &around, study, sound };
        let mut search = search::Search::new(&asked, answer, movers);
        Self { movable, proposals: search.proposals(now), ..found }
    }
}

impl Moves {
    /// Whether it lies in range as planned, or after one of the proposals.
    pub fn can_be_level(&self) -> bool {
        self.now.is_some() && (!self.off.any() || self.proposals.iter().any(|proposal| !proposal.left.any()))
    }
}

/// Whether a changed plan stands no worse than the one before: its study, and what was moved.
pub type Sound<'a> = dyn Fn(&Plan, &Study, &[Move]) -> bool + 'a;

impl Move {
    /// Makes the move.
    pub fn make(&self, plan: &mut Plan) {
        match self {
            Self::Gear { .. } | Self::Across { .. } => {
                let moved = self.moved(plan);
                if let Some((moved, gear)) = moved.and_then(|moved| Some((moved.clone(), plan.gear_mut(moved.id)?))) {
                    *gear = moved;
                }
            }
            Self::Seat { to, .. } => plan.angler.seat = to.clone(),
        }
    }

    /// The gear it moves.
    pub fn gear(&self) -> Option<GearId> {
        match self {
            Self::Gear { gear, .. } | Self::Across { gear, .. } => Some(*gear),
            Self::Seat { .. } => None,
        }
    }

    /// That gear as it would be.
    fn moved(&self, plan: &Plan) -> Option<Gear> {
        match self {
            Self::Gear { gear, to, .. } => Some(Gear { place: Some(*to), ..plan.gear(*gear)?.clone() }),
            Self::Across { gear, .. } => plan.gear(*gear)?.mirrored(),
            Self::Seat { .. } => None,
        }
    }
}

/// What trim and list may be at rest.
#[derive(Clone, Copy, Debug)]
struct Range {
    stern_deg: f64,
    list_deg: f64,
}

impl Range {
    fn of(plan: &Plan) -> Self {
        Self {
            stern_deg: chosen(plan, "trim-off.right", TRIM_OK_DEG).max(0.0),
            list_deg: chosen(plan, "list-off.note", LIST_OK_DEG).max(0.0),
        }
    }

    /// Level, half of what is allowed by the stern.
    fn middle(self) -> Attitude {
        Attitude { heel_deg: 0.0, trim_deg: -self.stern_deg / 2.0 }
    }

    fn off(self, at: Attitude) -> Off {
        let (trim, list) = self.beyond(at);
        Off { trim: trim > ROUNDING_DEG, list: list > ROUNDING_DEG }
    }

    /// By how much trim and list are out of range, degrees.
    fn beyond(self, at: Attitude) -> (f64, f64) {
        let trim = at.trim_deg.max(-self.stern_deg - at.trim_deg).max(0.0);
        (trim, (at.heel_deg.abs() - self.list_deg).max(0.0))
    }

    /// Both taken together: what a nearest proposal makes least.
    fn excess(self, at: Attitude) -> f64 {
        let (trim, list) = self.beyond(at);
        trim.hypot(list)
    }
}

/// The solver's rest is good to far less; this keeps a boat that is exactly level from bobbing about zero.
const ROUNDING_DEG: f64 = 1.0e-6;
