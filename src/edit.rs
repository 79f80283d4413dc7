//! Edits: every change to a plan is a value, and applying it says no with a reason.
//!
//! The journal stores these values, the history labels them, a reviewer suggests them. `apply`
//! never changes its input: it returns a new plan, or why not.

mod apply;
mod cables;
mod drilled;
mod history;
mod label;
mod outing;
mod readings;
mod revisions;
mod wiring;
mod work;

use serde::{Deserialize, Serialize};

pub use apply::{Refusal, apply};
pub use history::{History, Step};
pub use revisions::MOST_REVISIONS;

use crate::plan::parts::Part;
use crate::plan::{
    Act, Angler, AnyQuantity, BuildState, Cable, CableId, Circuit, CircuitId, Craft, FigureRef, GearId, HoleId, Level,
    LimitOverride, Main, Mount, Name, Note, On, Outing, Penetration, Placement, Plug, Reading, Revision, Seal, Seat,
    Spec, Tape, Tick, Via, WorkLog,
};
use crate::units::{Angle, Length, Origin};

/// One change to a plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Edit {
    /// Take gear from the catalogue: ashore, or placed at once.
    Add {
        /// What it is.
        spec: Box<Spec>,
        /// How it is held; `None` takes the spec's preferred mount.
        mount: Option<Mount>,
        /// Where, or ashore.
        place: Option<Placement>,
    },
    /// Put gear that is ashore on the hull, or gear that is aboard somewhere else entirely.
    Place {
        /// Which gear.
        gear: GearId,
        /// Where.
        at: Placement,
        /// How it is held.
        mount: Mount,
    },
    /// Move placed gear.
    Move {
        /// Which gear.
        gear: GearId,
        /// Forward of the aft end.
        x: Length,
        /// To port of the centreline.
        y: Length,
    },
    /// Turn placed gear to an angle.
    Turn {
        /// Which gear.
        gear: GearId,
        /// Counter-clockwise seen from above.
        to: Angle,
    },
    /// Move placed gear to the same place on the other side of the centreline.
    Mirror {
        /// Which gear.
        gear: GearId,
    },
    /// Hold gear another way.
    SetMount {
        /// Which gear.
        gear: GearId,
        /// How.
        how: Mount,
    },
    /// Mount gear on another surface.
    SetLevel {
        /// Which gear.
        gear: GearId,
        /// Which surface.
        level: Level,
    },
    /// Lift gear over its surface.
    Raise {
        /// Which gear.
        gear: GearId,
        /// By this much.
        by: Length,
    },
    /// Exchange what the gear is, keeping label and place.
    Swap {
        /// Which gear.
        gear: GearId,
        /// What it becomes.
        spec: Box<Spec>,
    },
    /// Make a copy, ashore.
    Duplicate {
        /// Which gear.
        gear: GearId,
    },
    /// Take placed gear off the hull.
    PutAshore {
        /// Which gear.
        gear: GearId,
    },
    /// Strike gear from the plan.
    Strike {
        /// Which gear.
        gear: GearId,
    },
    /// Give gear another label.
    Rename {
        /// Which gear.
        gear: GearId,
        /// Its new label.
        label: Name,
    },
    /// Seal gear's holes otherwise.
    SetSeal {
        /// Which gear.
        gear: GearId,
        /// With this.
        seal: Seal,
    },
    /// Record how far the work on gear has come.
    SetState {
        /// Which gear.
        gear: GearId,
        /// How far.
        state: BuildState,
    },
    /// Keep a search from moving gear, or let it.
    Pin {
        /// Which gear.
        gear: GearId,
        /// Whether it is pinned.
        pinned: bool,
    },
    /// Set a figure.
    SetFigure {
        /// Which figure.
        figure: FigureRef,
        /// To what.
        value: AnyQuantity,
        /// Where the value comes from.
        origin: Origin,
    },
    /// Set the hull's form by a tape; zones, features and seat go along.
    SetTape {
        /// The tape; what it leaves out is guessed from the present form.
        tape: Box<Tape>,
    },
    /// Add a hole that no gear owns. Its id is given by the plan.
    AddHole {
        /// The hole.
        hole: Penetration,
    },
    /// Move a hole that does not exist yet.
    MoveHole {
        /// Which hole.
        hole: HoleId,
        /// Forward of the aft end.
        x: Length,
        /// To port of the centreline.
        y: Length,
    },
    /// Note that a hole was drilled.
    DrillHole {
        /// Which hole.
        hole: HoleId,
    },
    /// Strike a hole that does not exist yet.
    StrikeHole {
        /// Which hole.
        hole: HoleId,
    },
    /// Close an existing hole.
    PlugHole {
        /// Which hole.
        hole: HoleId,
        /// How.
        with: Plug,
    },
    /// Let an existing hole serve a piece of gear.
    ReuseHole {
        /// Which hole.
        hole: HoleId,
        /// For which gear.
        gear: GearId,
    },
    /// Leave an existing hole open again.
    ReopenHole {
        /// Which hole.
        hole: HoleId,
    },
    /// Set the seat.
    SetSeat {
        /// How.
        seat: Seat,
    },
    /// Describe the person anew (sides, hand; figures have their own edit).
    SetAngler {
        /// The person.
        angler: Box<Angler>,
    },
    /// Plan another day.
    SetOuting {
        /// The day.
        outing: Box<Outing>,
    },
    /// Choose what the boat counts as in the dark, and the rule it shows lights by.
    SetCraft {
        /// Which; `None` for not chosen.
        craft: Option<Craft>,
    },
    /// Add a circuit or change the one with the same id.
    SetCircuit {
        /// The circuit.
        circuit: Circuit,
    },
    /// Put a load on a circuit, or take it off its own.
    PutOnCircuit {
        /// Which load.
        load: GearId,
        /// The circuit; `None` for none.
        circuit: Option<CircuitId>,
    },
    /// Set the main fuse or breaker of a battery, instead of the one it has.
    SetMain {
        /// The main.
        main: Main,
    },
    /// Strike the main of a battery.
    StrikeMain {
        /// Which battery.
        battery: GearId,
    },
    /// Strike a circuit.
    StrikeCircuit {
        /// Which circuit.
        circuit: CircuitId,
    },
    /// Plan a cable. Its id is given by the plan.
    AddCable {
        /// The cable.
        cable: Cable,
    },
    /// Lead a cable through other openings, or write down its measured length.
    SetCable {
        /// Which cable.
        cable: CableId,
        /// Openings it must pass, in order.
        via: Vec<Via>,
        /// Length, if measured.
        length: Option<Length>,
    },
    /// Strike a cable.
    StrikeCable {
        /// Which cable.
        cable: CableId,
    },
    /// Say when there is time for the work; its ticks are not looked at.
    SetWork {
        /// When.
        work: Box<WorkLog>,
    },
    /// Note a task as done; the states follow.
    Tick {
        /// What was done, and when.
        tick: Tick,
    },
    /// Take a tick back, and the state that followed from it.
    Untick {
        /// What it was done to.
        on: On,
        /// What was done.
        act: Act,
    },
    /// Set a check's limit otherwise, with a reason.
    SetLimit {
        /// The limit.
        limit: LimitOverride,
    },
    /// Go back to a limit's default.
    ClearLimit {
        /// The limit's name.
        limit: String,
    },
    /// Add what was measured on the boat.
    AddReading {
        /// The reading.
        reading: Reading,
    },
    /// Keep a reading from being used, or use it again.
    SwitchReading {
        /// Its place among the plan's readings.
        index: usize,
        /// Whether it is off.
        off: bool,
    },
    /// Strike a reading.
    StrikeReading {
        /// Its place among the plan's readings.
        index: usize,
    },
    /// Give the plan another name.
    RenamePlan {
        /// The name.
        name: Name,
    },
    /// Write the plan's notes.
    SetNotes {
        /// The text.
        notes: Note,
    },
    /// Put parts in instead of those the plan has: what is brought back from a revision, or merged.
    Put {
        /// What for: `bring back switch unit from before the seat test`.
        purpose: Name,
        /// The parts.
        parts: Vec<Part>,
        /// All named states, instead of those the plan has; `None` leaves them.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        revisions: Option<Vec<Revision>>,
    },
    /// Keep the plan as it is under a name, to compare with later.
    NameRevision {
        /// Its name.
        name: Name,
        /// Date, year-month-day.
        date: Option<Name>,
    },
    /// Forget a revision.
    StrikeRevision {
        /// Its place among the plan's revisions.
        index: usize,
    },
    /// Several edits as one step: all of them, or none.
    All {
        /// What they are for, named before the parts: `move it level`.
        purpose: Name,
        /// The parts in their order; none of them is an [`Edit::All`].
        edits: Vec<Edit>,
    },
}
