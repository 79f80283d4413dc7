//! The day the boat is planned for.

use serde::{Deserialize, Serialize};

use super::{GearId, Name};
use crate::units::{Duration, Mass, Temperature};

/// The day the boat is planned for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Outing {
    /// `tournament day`.
    pub name: Name,
    /// Date as typed, year-month-day.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Name>,
    /// Air temperature at the coldest hour.
    pub air: Temperature,
    /// Water temperature.
    pub water_temperature: Temperature,
    /// Fresh or salt.
    #[serde(default)]
    pub water: Water,
    /// Water that lies loose in the hull, if any is reckoned with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bilge: Option<Mass>,
    /// The parts of the day in order.
    pub phases: Vec<Phase>,
}

/// What the boat floats in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Water {
    /// A lake or river.
    #[default]
    Fresh,
    /// The sea.
    Salt,
}

/// A part of the day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Phase {
    /// `run out before dawn`.
    pub name: Name,
    /// How long.
    pub hours: Duration,
    /// Whether it is dark.
    #[serde(default)]
    pub dark: bool,
    /// How the person sits or stands.
    #[serde(default)]
    pub posture: Posture,
    /// Setting of the motor by its name, if it runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub motor: Option<Name>,
    /// Loads that run otherwise than they usually do.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub duties: Vec<Duty>,
}

/// How much of a phase a load runs.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Duty {
    /// The load.
    pub gear: GearId,
    /// Share of the time, 0 to 1.
    pub share: f64,
}

/// How the person sits or stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Posture {
    /// Seated, low setting.
    #[default]
    SeatedLow,
    /// Seated, high setting.
    SeatedHigh,
    /// Leaning to a side.
    Leaning,
    /// Standing.
    Standing,
}

impl Default for Outing {
    /// Two dark hours and eight of daylight at 15 degrees: an ordinary long day.
    fn default() -> Self {
        let phase = |name: &str, hours, dark| Phase {
            name: fixed(name),
            hours: Duration::hours(hours),
            dark,
            posture: Posture::SeatedLow,
            motor: None,
            duties: Vec::new(),
        };
        Self {
            name: fixed("long day"),
            date: None,
            air: Temperature::celsius(15.0),
            water_temperature: Temperature::celsius(15.0),
            water: Water::Fresh,
            bilge: None,
            phases: vec![phase("dark hours", 2.0, true), phase("daylight", 8.0, false)],
        }
    }
}

/// A name written in this program, known to be sound.
#[allow(clippy::expect_used, reason = "the texts are constants of this file and a test builds them")]
fn fixed(text: &str) -> Name {
    Name::new(text).expect("a constant name")
}

impl Outing {
    /// Length of the whole day.
    pub fn hours(&self) -> Duration {
        self.phases.iter().map(|p| p.hours).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_day_is_ten_hours() {
        assert_eq!(Outing::default().hours(), Duration::hours(10.0));
    }
}
