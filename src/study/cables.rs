//! The way of every cable through the boat: step by step, how long, what its plug has to pass, what it comes near.
//!
//! Planned cables and those that circuits imply stand in one list. A cable runs in three rooms: on deck, inside the
//! hull and under it; openings join them. Inside, it goes round foam blocks and tubes and under the floors of wells;
//! on deck, round the wells that neither of its ends stands in. The shortest such way counts. Other gear inside is no
//! obstacle here: a cable is led over or beside it.

mod around;
mod beside;
pub mod bundle;
pub mod ends;
mod gate;
mod obstacle;
mod pinch;
mod room;
mod search;
mod trace;
pub mod words;

use self::bundle::Bundle;
use self::ends::{Tail, wanted};
use self::room::Rooms;
use self::search::Search;
use super::power::Power;
use super::rig::Rig;
use crate::geometry::Point;
use crate::plan::{CableId, CircuitId, FeatureId, GearId, Plan, Signal, Via, ZoneId};

pub use beside::BESIDE_MM;
pub use obstacle::{CLEAR_MM, WELL_MM};
pub use pinch::{BEND_POWER, BEND_SONAR, BOLT_ENDS_MM};

/// The ways of all cables.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Cables {
    /// The planned cables in the plan's order, then those that circuits imply.
    pub runs: Vec<CableRun>,
    /// Every opening that a cable passes, with all that pass it.
    pub bundles: Vec<Bundle>,
}

/// Which cable: one of the plan's, or one that a circuit needs and nobody has planned.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum CableRef {
    /// A cable of the plan.
    Planned(CableId),
    /// The wire of a circuit to this gear: from its battery to its switch unit, or from there to a load.
    Implied(CircuitId, GearId),
}

/// One cable.
#[derive(Clone, Debug, PartialEq)]
pub struct CableRun {
    /// Which.
    pub id: CableRef,
    /// From this gear.
    pub from: GearId,
    /// To this gear.
    pub to: GearId,
    /// What runs in it.
    pub signal: Signal,
    /// Its way from `from` to `to`, or why there is none.
    pub way: Result<Way, NoWay>,
    /// The cable that comes with one of its ends, if one does.
    pub tail: Option<Tail>,
    /// Its length as measured in the boat, if it was; it counts before the way's, mm.
    pub measured_mm: Option<f64>,
    /// What it needs: measured, or the way with slack and both ends, mm; `None` without a way.
    pub needed_mm: Option<f64>,
    /// What is left of the supplied cable to coil, negative what it lacks, mm; `None` when either is not known.
    pub surplus_mm: Option<f64>,
    /// Openings on its way that its plug does not pass.
    pub stuck: Vec<Stuck>,
    /// Where something on its way is too small for the plug: the shortest way on which everything is large enough.
    pub round: Option<Way>,
    /// Places where it is squeezed, cut or bent too sharply.
    pub pinches: Vec<Pinch>,
    /// For a sonar cable: the motor lead along which it runs longest, and how much of it runs close by, mm.
    pub beside: Option<(CableRef, f64)>,
    /// Where the supplied cable of a supply ends and has to be lengthened, if it does.
    pub joint: Option<Point>,
}

/// A way, step by step.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Way {
    /// The steps from one end to the other; both ends are among them.
    pub steps: Vec<Step>,
    /// Length of all legs, no slack, mm.
    pub length_mm: f64,
}

/// One point of a way, and the leg that leads to it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Where, boat frame, mm.
    pub at: Point,
    /// What is there.
    pub passes: Passed,
    /// Length of the leg from the step before, mm; zero at the first step.
    pub leg_mm: f64,
    /// How that leg runs; at the first step how the next one does.
    pub runs: Runs,
}

/// What a cable passes at a step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Passed {
    /// The gear at one of its ends.
    End(GearId),
    /// An opening through the skin.
    Opening(Via),
    /// A foam block or tube inside, a hatch on deck: it goes round.
    Round(FeatureId),
    /// The lid of an inspection port on deck: it goes round.
    RoundLid(GearId),
    /// A part of the deck: inside it goes under it, on deck round it or over its edge.
    Zone(ZoneId),
    /// The deck's edge, where it comes up the side.
    Edge,
    /// The deck itself: a bend where its surface has one.
    Deck,
}

/// How a leg runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Runs {
    /// Inside the hull.
    Inside,
    /// On deck.
    Deck,
    /// On deck, along its edge.
    DeckEdge,
    /// Under the hull.
    Under,
    /// Up the side, outside.
    Side,
    /// Through a tube.
    Tube,
}

/// Why a cable has no way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoWay {
    /// This end is ashore.
    Ashore(GearId),
    /// Both ends are the same gear.
    SameEnd(GearId),
    /// This opening is not there, or is closed.
    NoOpening(Via),
    /// No opening leads from one end to the other.
    Closed,
    /// The openings it must pass, in their order, do not lead from one end to the other.
    Order,
}

/// An opening that a plug does not pass.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stuck {
    /// The opening.
    pub opening: Via,
    /// Where, boat frame, mm.
    pub at: Point,
    /// Its bore, mm.
    pub bore_mm: f64,
    /// Largest diameter of the plug, mm.
    pub plug_mm: f64,
}

/// A place where a cable suffers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pinch {
    /// Where, boat frame, mm.
    pub at: Point,
    /// By what.
    pub by: Pincher,
}

/// What makes a cable suffer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pincher {
    /// A lid that closes on it: a hatch or an inspection port.
    Lid(Via),
    /// The seat, which slides on this rail.
    SeatRail(FeatureId),
    /// A slot with the feet and bolts of what stands in it.
    Track(FeatureId),
    /// The bolt ends of this gear, mm away.
    Bolts(GearId, f64),
    /// A bend of this radius where it needs the other, mm.
    Bend {
        /// The widest bend that fits.
        radius_mm: f64,
        /// The narrowest it stands.
        least_mm: f64,
    },
}

impl Cables {
    /// Finds the ways of a plan's cables.
    pub fn of(plan: &Plan, rig: &Rig, power: &Power) -> Self {
        let wanted = wanted(plan, power);
        if wanted.is_empty() {
            return Self::default();
        }
        let rooms = Rooms::of(plan, rig);
        let search = Search::new(plan, &rooms, gate::gates(plan, rig, &rooms));
        let mut runs: Vec<CableRun> = wanted.iter().map(|cable| trace::run(plan, rig, &search, cable)).collect();
        beside::mark(&mut runs);
        Self { bundles: bundle::all(&runs, &search), runs }
    }

    /// The run of this cable.
    pub fn run(&self, id: CableRef) -> Option<&CableRun> {
        self.runs.iter().find(|run| run.id == id)
    }

    /// The supply that runs between two pieces of gear, whichever way round; one that is planned before one that is
    /// not.
    pub fn supply(&self, a: GearId, b: GearId) -> Option<&CableRun> {
        self.runs
            .iter()
            .find(|run| ends::is_supply(run.signal) && ((run.from, run.to) == (a, b) || (run.from, run.to) == (b, a)))
    }
}

impl CableRef {
    /// Whether the plan has it.
    pub fn is_planned(self) -> bool {
        matches!(self, Self::Planned(_))
    }
}

impl Way {
    /// The openings it passes, in order, each once for a passage.
    pub fn openings(&self) -> impl Iterator<Item = Via> + '_ {
        self.passages().map(|(via, _)| via)
    }

    /// The openings it passes with their steps; a tube counts at its far mouth.
    fn passages(&self) -> impl Iterator<Item = (Via, &Step)> + '_ {
        let next = self.steps.iter().skip(1).map(Some).chain([None]);
        self.steps.iter().zip(next).filter_map(|(step, next)| match step.passes {
            Passed::Opening(via) if next.is_none_or(|next| next.runs != Runs::Tube) => Some((via, step)),
            _ => None,
        })
    }
}

impl Runs {
    /// The words on the screen and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Inside => "inside the hull",
            Self::Deck => "on deck",
            Self::DeckEdge => "along the deck edge",
            Self::Under => "under the hull",
            Self::Side => "up the side",
            Self::Tube => "through the tube",
        }
    }
}
