//! The work on the boat: when there is time for it, and what was ticked off as done.

use serde::{Deserialize, Serialize};

use super::{BuildState, CableId, CircuitId, Day, GearId, HoleId, Note, Plan, Weekday};
use crate::units::Temperature;

/// When there is time for the work, and what was done. The length of an evening is the limit `cure-late.evening`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorkLog {
    /// The day of the first evening.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub begins: Option<Day>,
    /// The days of the week with an evening for it; none listed is any day.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub evenings: Vec<Weekday>,
    /// The day on which the boat is wanted on the water.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub launch: Option<Day>,
    /// The air where it cures; without it the air of the outing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub garage: Option<Temperature>,
    /// What was done, in the order of its tasks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ticks: Vec<Tick>,
}

/// A task that was done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tick {
    /// To what.
    pub on: On,
    /// What was done.
    pub act: Act,
    /// On which day.
    pub date: Day,
    /// What was read or seen.
    #[serde(default, skip_serializing_if = "Note::is_empty")]
    pub reading: Note,
}

/// What a task is done to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum On {
    /// The boat.
    Boat,
    /// A piece of gear.
    Gear(GearId),
    /// A hole that no gear owns.
    Hole(HoleId),
    /// The main wire of a battery.
    Main(GearId),
    /// The wire of a circuit.
    Circuit(CircuitId),
    /// A cable.
    Cable(CableId),
}

/// What is done, in the order of the work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Act {
    /// A partner looks at the plan and says yes: a gate before the first hole.
    PartnersYes,
    /// Holes are marked from two edges.
    Mark,
    /// Pilots are drilled, and it is looked behind them.
    Pilot,
    /// The part is put in place without sealant.
    DryFit,
    /// The person sits in the boat again with everything in place: a gate before the drill.
    SitAgain,
    /// Holes are drilled to size.
    Drill,
    /// Edges are cleaned on both sides and swarf is taken up.
    Deburr,
    /// An old hole is closed.
    Patch,
    /// A cable is pulled.
    Fish,
    /// A part is connected.
    Connect,
    /// A part is tried: a gate before it is bedded.
    TryIt,
    /// Everything is on at once: a gate before anything is bedded.
    TryAll,
    /// A part is bedded and fastened, in one go: sealant skins.
    Bed,
    /// A part that needs no hole is fastened.
    Fasten,
    /// What was bedded is left alone.
    Cure,
    /// The hull is tried with water: a gate before launch.
    LeakTest,
    /// The boat is floated with everything aboard: a gate before the outing.
    FloatTest,
}

impl Act {
    /// The words on screen and paper.
    pub fn word(self) -> &'static str {
        match self {
            Self::PartnersYes => "partner's yes",
            Self::Mark => "mark",
            Self::Pilot => "pilot, look behind",
            Self::DryFit => "dry fit",
            Self::SitAgain => "sit again",
            Self::Drill => "drill to size",
            Self::Deburr => "deburr, take up swarf",
            Self::Patch => "close old hole",
            Self::Fish => "pull cable",
            Self::Connect => "connect",
            Self::TryIt => "function test",
            Self::TryAll => "everything on at once",
            Self::Bed => "bed and fasten",
            Self::Fasten => "fasten",
            Self::Cure => "leave to cure",
            Self::LeakTest => "leak test",
            Self::FloatTest => "float test",
        }
    }

    /// The state a piece of gear has when this was done to it; `None` where no state says so.
    pub fn reaches(self) -> Option<BuildState> {
        match self {
            Self::DryFit => Some(BuildState::DryFitted),
            Self::Drill => Some(BuildState::Drilled),
            Self::Bed | Self::Fasten => Some(BuildState::Bedded),
            Self::Connect => Some(BuildState::Installed),
            Self::TryIt => Some(BuildState::Tested),
            _ => None,
        }
    }
}

impl Tick {
    /// Which task it is of.
    pub fn task(&self) -> (On, Act) {
        (self.on, self.act)
    }
}

impl WorkLog {
    /// Whether nothing is said.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }

    /// The tick of a task.
    pub fn tick(&self, act: Act, on: On) -> Option<&Tick> {
        self.ticks.get(super::find_by_id(&self.ticks, (on, act), Tick::task)?)
    }

    /// The last day on which something was done.
    pub fn last_day(&self) -> Option<Day> {
        self.ticks.iter().map(|tick| tick.date).max()
    }
}

impl On {
    /// What it is called in a plan; its number when it is not there.
    pub fn named(self, plan: &Plan) -> String {
        let gear = |id: GearId| plan.gear(id).map_or_else(|| id.to_string(), |gear| gear.label.to_string());
        match self {
            Self::Boat => "the boat".into(),
            Self::Gear(id) => gear(id),
            Self::Hole(id) => plan.penetration(id).map_or_else(|| id.to_string(), |hole| hole.name.to_string()),
            Self::Main(battery) => format!("main of {}", gear(battery)),
            Self::Circuit(id) => {
                plan.wiring.circuit(id).map_or_else(|| id.to_string(), |circuit| circuit.name.to_string())
            }
            Self::Cable(id) => {
                let cable = plan.wiring.cables.iter().find(|cable| cable.id == id);
                cable.map_or_else(|| id.to_string(), |cable| format!("{} to {}", gear(cable.from), gear(cable.to)))
            }
        }
    }

    /// Whether a plan has it.
    pub fn is_in(self, plan: &Plan) -> bool {
        match self {
            Self::Boat => true,
            Self::Gear(id) => plan.gear(id).is_some(),
            Self::Hole(id) => plan.penetration(id).is_some(),
            Self::Main(battery) => plan.gear(battery).is_some(),
            Self::Circuit(id) => plan.wiring.circuit(id).is_some(),
            Self::Cable(id) => plan.wiring.cables.iter().any(|cable| cable.id == id),
        }
    }
}
