//! One task of the work: what is done to what, how long it takes, with which tools.

use crate::plan::{Act, Day, On};

/// A task.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// What is done.
    pub act: Act,
    /// To what.
    pub on: On,
    /// How many holes it is about.
    pub holes: usize,
    /// Time at it, minutes.
    pub minutes: f64,
    /// How long it has to be left alone after it, hours.
    pub wait_h: f64,
    /// Whether the plan says that it is done.
    pub done: bool,
    /// The day on which it was ticked off.
    pub ticked: Option<Day>,
    /// The tasks that come before it, by their number.
    pub after: Vec<usize>,
}

impl Act {
    /// Whether nothing that comes after may begin before somebody says that it is good.
    pub fn is_gate(self) -> bool {
        matches!(self, Self::PartnersYes | Self::SitAgain | Self::TryAll | Self::LeakTest | Self::FloatTest)
    }

    /// Whether it throws swarf: not on an evening with open electrics.
    pub fn makes_swarf(self) -> bool {
        matches!(self, Self::Pilot | Self::Drill | Self::Deburr | Self::Patch)
    }

    /// Whether contacts lie open.
    pub fn opens_contacts(self) -> bool {
        matches!(self, Self::Connect | Self::TryIt | Self::TryAll)
    }

    /// Minutes for so many holes. Common practice, no source: an unhurried evening in a garage.
    pub fn minutes(self, holes: usize) -> f64 {
        let holes = holes as f64;
        match self {
            Self::PartnersYes | Self::SitAgain => 30.0,
            Self::Mark => 3.0 + 3.0 * holes,
            Self::Pilot => 2.0 + 2.0 * holes,
            // In place; with holes the pilots are tried with screws.
            Self::DryFit => {
                if holes > 0.0 {
                    8.0
                } else {
                    3.0
                }
            }
            Self::Drill => 2.0 + 4.0 * holes,
            Self::Deburr => 2.0 + 2.0 * holes,
            Self::Patch | Self::Fish => 15.0,
            Self::Connect => 10.0,
            Self::TryIt => 5.0,
            // With half an hour of soak.
            Self::TryAll => 45.0,
            Self::Bed => 10.0 + 6.0 * holes,
            Self::Fasten => 3.0,
            Self::Cure => 0.0,
            Self::LeakTest | Self::FloatTest => 60.0,
        }
    }

    /// Tools on the bench. Common practice, no source.
    pub fn tools(self) -> &'static [&'static str] {
        match self {
            Self::Mark => &["tape", "masking tape", "square", "centre punch"],
            Self::Pilot => &["drill", "3 mm bit", "lamp"],
            Self::DryFit | Self::Fasten => &["spanners", "screwdrivers"],
            Self::SitAgain => &["life jacket", "paddle"],
            Self::Drill => &["drill", "bits with stop", "hole saws", "eye protection"],
            Self::Deburr => &["blade", "countersink", "vacuum"],
            Self::Patch => &["plug or plate", "alcohol", "spanners"],
            Self::Fish => &["draw wire", "string", "tape"],
            Self::Connect => &["crimper", "heat gun", "labels"],
            Self::TryIt | Self::TryAll => &["meter"],
            Self::Bed => &["alcohol", "gasket or sealant", "spanners"],
            Self::PartnersYes | Self::Cure => &[],
            Self::LeakTest => &["soap water", "sponge"],
            Self::FloatTest => &["tape", "phone level", "life jacket"],
        }
    }
}
