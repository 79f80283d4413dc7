//! A finding: the verdict of a check, with its working.

use std::cmp::Ordering;
use std::fmt;

use crate::geometry::Point;
use crate::plan::{CableId, CircuitId, FeatureId, GearId, Plan, ZoneId};
use crate::study::rig::HoleRef;

/// How heavy a finding weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing.
    Note,
    /// Think again.
    Caution,
    /// Do not go on like this.
    Stop,
}

impl Severity {
    /// The word on the screen and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Caution => "caution",
            Self::Stop => "stop",
        }
    }
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Subject {
    /// The plan as a whole.
    Plan,
    /// A piece of gear.
    Gear(GearId),
    /// A hole.
    Hole(HoleRef),
    /// A feature of the hull.
    Feature(FeatureId),
    /// A zone of the deck.
    Zone(ZoneId),
    /// A circuit.
    Circuit(CircuitId),
    /// A cable.
    Cable(CableId),
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Plan => write!(f, "plan"),
            Self::Gear(id) => write!(f, "{id}"),
            Self::Hole(hole) => write!(f, "{hole}"),
            Self::Feature(id) => write!(f, "{id}"),
            Self::Zone(id) => write!(f, "{id}"),
            Self::Circuit(id) => write!(f, "{id}"),
            Self::Cable(id) => write!(f, "{id}"),
        }
    }
}

impl Subject {
    /// The subject by its name, as a person knows it.
    pub fn named(self, plan: &Plan) -> String {
        let gear = |id: GearId| plan.gear(id).map_or_else(|| id.to_string(), |g| g.label.to_string());
        match self {
            Self::Plan => "the plan".into(),
            Self::Gear(id) => gear(id),
            Self::Hole(HoleRef::Own(id)) => plan.penetration(id).map_or_else(|| id.to_string(), |p| p.name.to_string()),
            Self::Hole(HoleRef::Gear(id, n)) => format!("{}, hole {}", gear(id), n + 1),
            Self::Feature(id) => plan.feature(id).map_or_else(|| id.to_string(), |f| f.name.to_string()),
            Self::Zone(id) => plan.zone(id).map_or_else(|| id.to_string(), |z| z.name.to_string()),
            Self::Circuit(id) => plan.wiring.circuit(id).map_or_else(|| id.to_string(), |c| c.name.to_string()),
            Self::Cable(id) => {
                let cable = plan.wiring.cables.iter().find(|cable| cable.id == id);
                cable.map_or_else(|| id.to_string(), |c| format!("cable from {} to {}", gear(c.from), gear(c.to)))
            }
        }
    }

    /// The gear concerned, if the subject is gear or a hole of gear.
    pub fn gear(self) -> Option<GearId> {
        match self {
            Self::Gear(id) | Self::Hole(HoleRef::Gear(id, _)) => Some(id),
            _ => None,
        }
    }
}

/// The verdict of a check, with value, limit, margin, source, remedy and place.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Id of the check.
    pub check: &'static str,
    /// How heavy.
    pub severity: Severity,
    /// What it is about.
    pub subject: Subject,
    /// Where on the boat, if anywhere.
    pub at: Option<Point>,
    /// What was found, in `unit`.
    pub value: f64,
    /// What it is held against, in `unit`.
    pub limit: f64,
    /// How far on the right side of the limit, in `unit`; negative is the wrong side.
    pub margin: f64,
    /// Unit of the three numbers: `mm`, `Ah`, `percent`, `deg`, `days`, `count`.
    pub unit: &'static str,
    /// One sentence: what is wrong.
    pub says: String,
    /// One sentence: what to do.
    pub remedy: String,
    /// Published section, or "common practice, no source".
    pub source: &'static str,
}

/// Source line of rules that no published page states.
pub const COMMON_PRACTICE: &str = "common practice, no source";

impl Finding {
    /// Heavier first; then the worst margin relative to its limit; then id and subject, so that the
    /// order is the same in every run.
    pub fn by_weight(a: &Self, b: &Self) -> Ordering {
        let relative = |f: &Self| f.margin / f.limit.abs().max(1.0);
        b.severity
            .cmp(&a.severity)
            .then_with(|| relative(a).total_cmp(&relative(b)))
            .then_with(|| a.check.cmp(b.check))
            .then_with(|| a.subject.cmp(&b.subject))
    }

    /// Says so when the plan set the limit of this check otherwise.
    pub(super) fn note_override(&mut self, plan: &Plan) {
        for set in &plan.limits {
            let of_this = set.limit.rsplit_once('.').is_some_and(|(check, _)| check == self.check);
            if of_this {
                self.says.push_str(&format!(" (limit set by you: {})", set.reason));
            }
        }
    }
}
