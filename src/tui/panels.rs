//! The panels as data: headline, gauge, rows. Laying them out is the drawing's business.

mod clearance;
pub mod float;
mod holes;
mod power;
mod reach;
pub mod wiring;

use super::app::Thing;
use crate::checks::{Finding, Severity, Subject};
use crate::plan::Plan;
use crate::study::Study;
use crate::units::Measure;

/// One of the panels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum PanelKind {
    /// Charge and energy of the day.
    Power,
    /// Holes through the skin.
    Penetrations,
    /// What can be touched from the seat.
    Reach,
    /// What runs into what.
    Clearances,
    /// How the boat floats.
    Float,
    /// Who feeds whom, over what wire. It has no place of its own: it is opened.
    Wiring,
}

impl PanelKind {
    /// All of them, in the order of the screen.
    pub const ALL: [Self; 6] =
        [Self::Power, Self::Penetrations, Self::Reach, Self::Clearances, Self::Float, Self::Wiring];

    /// Its title.
    pub fn title(self) -> &'static str {
        match self {
            Self::Power => "Power budget",
            Self::Penetrations => "Penetrations",
            Self::Reach => "Seat reach",
            Self::Clearances => "Clearances",
            Self::Float => "Float",
            Self::Wiring => "Wiring",
        }
    }

    /// The key that opens it. The findings have the one before the last.
    pub fn key(self) -> char {
        match self {
            Self::Power => '1',
            Self::Penetrations => '2',
            Self::Reach => '3',
            Self::Clearances => '4',
            Self::Float => '6',
            Self::Wiring => '7',
        }
    }

    /// Its place in [`Self::ALL`].
    pub fn index(self) -> usize {
        Self::ALL.iter().position(|kind| *kind == self).unwrap_or(0)
    }

    /// The panel a check's findings are counted in.
    pub fn of_check(id: &str) -> Option<Self> {
        let starts = |words: &[&str]| words.iter().any(|word| id.starts_with(word));
        if starts(&AFLOAT) {
            Some(Self::Float)
        } else if starts(&ELECTRIC) {
            Some(Self::Power)
        } else if starts(&["hole-", "seal-", "thermal"]) {
            Some(Self::Penetrations)
        } else if starts(&["reach-", "sight-", "text-", "lean-", "seat-"]) {
            Some(Self::Reach)
        } else if starts(&["load-", "mass-", "lift-", "scale-", "tape-"]) {
            None
        } else {
            Some(Self::Clearances)
        }
    }
}

/// What the checks of the day and of the wires begin with.
const ELECTRIC: [&str; 19] = [
    "battery-short",
    "battery-current",
    "motor-shares",
    "bilge-",
    "cable-",
    "channel-",
    "cold-",
    "compass-",
    "converter-",
    "day-",
    "drop-",
    "fuse-",
    "noise-",
    "plug-",
    "single-control",
    "spares",
    "voltage-",
    "wire-",
    "wiring-",
];

/// How the ids of checks start whose findings are counted in Float.
const AFLOAT: [&str; 10] = [
    "floats-",
    "freeboard-",
    "floor-",
    "trim-",
    "list-",
    "stiffness-",
    "righting-",
    "downflood",
    "transducer-",
    "waterline-",
];

/// What a panel is made from.
#[derive(Clone, Copy)]
pub struct Sources<'a> {
    /// The plan.
    pub plan: &'a Plan,
    /// Its study.
    pub study: &'a Study,
    /// Its findings, heaviest first.
    pub findings: &'a [Finding],
    /// The study before the last change.
    pub before: Option<&'a Study>,
    /// Metric or inches.
    pub tape: Measure,
}

/// A panel's content.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Which one.
    pub kind: PanelKind,
    /// The one number: `34.9 Ah`.
    pub headline: String,
    /// The number before the last change, if it differs: `38.1`.
    pub was: Option<String>,
    /// Share of what is available, 0 to 1 and beyond, with its words.
    pub gauge: Option<(f64, String)>,
    /// The weight of its heaviest finding.
    pub worst: Option<Severity>,
    /// That finding in a few words.
    pub verdict: String,
    /// Its rows.
    pub rows: Vec<PanelRow>,
}

/// One row of a panel.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct PanelRow {
    /// The weight of the heaviest finding about it.
    pub mark: Option<Severity>,
    /// What it is.
    pub label: String,
    /// Its number, right-aligned on the unit.
    pub value: String,
    /// The number's unit.
    pub unit: &'static str,
    /// A word after the number.
    pub note: String,
    /// Where it is on the boat.
    pub thing: Option<Thing>,
    /// A sum or a heading rather than an item.
    pub quiet: bool,
}

impl Panel {
    /// Makes a panel's content.
    pub fn of(kind: PanelKind, from: Sources<'_>) -> Self {
        let mut panel = match kind {
            PanelKind::Power => power::panel(from),
            PanelKind::Penetrations => holes::panel(from),
            PanelKind::Reach => reach::panel(from),
            PanelKind::Clearances => clearance::panel(from),
            PanelKind::Float => float::panel(from),
            PanelKind::Wiring => wiring::panel(from),
        };
        if let Some(worst) = from.findings.iter().find(|f| PanelKind::of_check(f.check) == Some(kind)) {
            panel.worst = Some(worst.severity);
            panel.verdict.clone_from(&worst.says);
        }
        panel
    }
}

/// The weight of the heaviest finding of a panel about a thing.
fn mark(from: Sources<'_>, kind: PanelKind, thing: Thing) -> Option<Severity> {
    let about = |subject: Subject| match (subject, thing) {
        (Subject::Hole(hole), Thing::Hole(id)) => hole == id,
        (subject, Thing::Gear(id)) => subject.gear() == Some(id),
        (Subject::Feature(feature), Thing::Feature(id)) => feature == id,
        (Subject::Zone(zone), Thing::Zone(id)) => zone == id,
        _ => false,
    };
    from.findings.iter().find(|f| PanelKind::of_check(f.check) == Some(kind) && about(f.subject)).map(|f| f.severity)
}

/// The label of a piece of gear.
fn label(plan: &Plan, id: crate::plan::GearId) -> String {
    plan.gear(id).map_or_else(|| id.to_string(), |gear| gear.label.to_string())
}
