//! The day the boat is planned for.

use serde::{Deserialize, Serialize};

use super::{Clock, Craft, GearId, Name};
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
    /// Time of day at which the first phase begins; without it moments are told in hours from there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub starts: Option<Clock>,
    /// Time of day of sunrise, as typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sunrise: Option<Clock>,
    /// Time of day of sunset, as typed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sunset: Option<Clock>,
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
    /// What the boat counts as in the dark and the rule it shows lights by, if it was chosen.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub craft: Option<Craft>,
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
    /// Whether it is said to be dark; otherwise see [`Outing::is_dark`].
    #[serde(default)]
    pub dark: bool,
    /// Air temperature in this part of the day, if other than the outing's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air: Option<Temperature>,
    /// Whether batteries are charged in it. What a charger gives is not counted.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub charging: bool,
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

impl Posture {
    /// All of them, the lowest first.
    pub const ALL: [Self; 4] = [Self::SeatedLow, Self::SeatedHigh, Self::Leaning, Self::Standing];

    /// `seated low`.
    pub fn word(self) -> &'static str {
        match self {
            Self::SeatedLow => "seated low",
            Self::SeatedHigh => "seated high",
            Self::Leaning => "leaning",
            Self::Standing => "standing",
        }
    }
}

impl Default for Outing {
    /// Two dark hours and eight of daylight at 15 degrees: an ordinary long day.
    fn default() -> Self {
        let phase = |name: &str, hours, dark| Phase {
            name: fixed(name),
            hours: Duration::hours(hours),
            dark,
            air: None,
            charging: false,
            posture: Posture::SeatedLow,
            motor: None,
            duties: Vec::new(),
        };
        Self {
            name: fixed("long day"),
            date: None,
            starts: None,
            sunrise: None,
            sunset: None,
            air: Temperature::celsius(15.0),
            water_temperature: Temperature::celsius(15.0),
            water: Water::Fresh,
            bilge: None,
            craft: None,
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

    /// When a phase begins, counted from the first.
    pub fn begins(&self, phase: usize) -> Duration {
        self.phases.iter().take(phase).map(|p| p.hours).sum()
    }

    /// Air temperature in a phase: its own, else the outing's.
    pub fn air_in(&self, phase: usize) -> Temperature {
        self.phases.get(phase).and_then(|phase| phase.air).unwrap_or(self.air)
    }

    /// Whether a phase is dark: it is said to be, or its middle lies before sunrise or after sunset where
    /// the start and these were typed. A phase is taken as a whole.
    pub fn is_dark(&self, phase: usize) -> bool {
        let Some(part) = self.phases.get(phase) else { return false };
        if part.dark {
            return true;
        }
        let Some(starts) = self.starts else { return false };
        let middle = starts.after(self.begins(phase) + Duration::hours(part.hours.to_hours() / 2.0));
        self.sunrise.is_some_and(|rise| middle < rise) || self.sunset.is_some_and(|set| middle >= set)
    }

    /// A moment of the day in words: `at 14:20`, or `9.8 h in` where no start was typed.
    pub fn moment(&self, after: Duration) -> String {
        match self.starts {
            Some(starts) => format!("at {}", starts.after(after)),
            None => format!("{:.1} h in", after.to_hours()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_day_is_ten_hours() {
        assert_eq!(Outing::default().hours(), Duration::hours(10.0));
    }

    #[test]
    fn it_is_dark_where_it_is_said_or_where_the_sun_is_down() {
        let mut day = Outing::default();
        let dark = |day: &Outing| [0, 1, 2].map(|phase| day.is_dark(phase));
        assert_eq!(dark(&day), [true, false, false]);
        day.phases[0].dark = false;
        assert_eq!(dark(&day), [false; 3]);
        // 05:00 to 07:00 and 07:00 to 15:00: their middles are 06:00 and 11:00.
        (day.starts, day.sunrise, day.sunset) = (Clock::new(5, 0), Clock::new(6, 1), Clock::new(11, 1));
        assert_eq!(dark(&day), [true, false, false]);
        (day.sunrise, day.sunset) = (Clock::new(6, 0), Clock::new(11, 0));
        assert_eq!(dark(&day), [false, true, false]);
        day.starts = None;
        assert_eq!(dark(&day), [false; 3]);
    }

    #[test]
    fn a_moment_is_told_by_the_clock_where_one_was_typed() {
        let mut day = Outing::default();
        assert_eq!(day.moment(Duration::hours(9.833)), "9.8 h in");
        day.starts = Clock::new(4, 30);
        assert_eq!(day.moment(Duration::hours(9.833)), "at 14:20");
        assert_eq!(day.begins(1), Duration::hours(2.0));
    }
}
