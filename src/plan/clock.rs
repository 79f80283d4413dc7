//! A time of day as a person types it: `4:30`, `04:30`, `430`.

use std::fmt;

use serde::{Deserialize, Serialize};

use crate::shown::Shown;
use crate::units::Duration;

/// Minutes of a day.
const DAY: u16 = 24 * 60;

/// A time of day to the minute, 00:00 to 23:59. No date, no zone. `"04:30"` in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Clock(u16);

/// The text is not a time of day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockFault(String);

impl fmt::Display for ClockFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\" is not a time of day: type it as 4:30, 04:30 or 430, up to 23:59", Shown(&self.0))
    }
}

impl Clock {
    /// A time of day; `None` past 23:59.
    pub fn new(hours: u16, minutes: u16) -> Option<Self> {
        (hours < 24 && minutes < 60).then_some(Self(hours * 60 + minutes))
    }

    /// Reads a time as typed: hours and minutes parted by a colon or a point, or three or four digits.
    pub fn from_text(text: &str) -> Result<Self, ClockFault> {
        let digits = |part: &str, most: usize| {
            let good = (1..=most).contains(&part.len()) && part.bytes().all(|b| b.is_ascii_digit());
            good.then(|| part.parse::<u16>().ok()).flatten()
        };
        let typed = text.trim();
        let (hours, minutes) = match typed.split_once([':', '.']) {
            Some((hours, minutes)) => (digits(hours, 2), digits(minutes, 2).filter(|_| minutes.len() == 2)),
            None => match digits(typed, 4).filter(|_| typed.len() >= 3) {
                Some(number) => (Some(number / 100), Some(number % 100)),
                None => (None, None),
            },
        };
        let read = hours.zip(minutes).and_then(|(hours, minutes)| Self::new(hours, minutes));
        read.ok_or_else(|| ClockFault(typed.chars().take(20).collect()))
    }

    /// Minutes since midnight.
    pub fn minutes(self) -> u16 {
        self.0
    }

    /// The time of day so much later, to the nearest minute; past midnight it begins anew.
    #[must_use]
    pub fn after(self, later: Duration) -> Self {
        let minutes = (f64::from(self.0) + later.to_minutes()).round().rem_euclid(f64::from(DAY));
        Self((minutes as u16).min(DAY - 1))
    }
}

impl fmt::Display for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.0 / 60, self.0 % 60)
    }
}

impl TryFrom<String> for Clock {
    type Error = ClockFault;
    fn try_from(text: String) -> Result<Self, ClockFault> {
        Self::from_text(&text)
    }
}

impl From<Clock> for String {
    fn from(clock: Clock) -> String {
        clock.to_string()
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;

    fn check(text: &str, shown: Option<&str>) {
        let read = Clock::from_text(text).ok().map(|clock| clock.to_string());
        assert_eq!(read.as_deref(), shown, "{text}");
    }

    #[test]
    fn a_time_is_read_as_it_is_typed() {
        for text in ["4:30", "04:30", "430", "0430", " 4.30 "] {
            check(text, Some("04:30"));
        }
        check("0:00", Some("00:00"));
        check("23:59", Some("23:59"));
        check("1420", Some("14:20"));
    }

    #[test]
    fn what_is_no_time_is_refused() {
        for text in ["", "4", "24:00", "2400", "12:60", "4:3", "4:300", "-4:30", "4:30 pm", "99999", "٤:30", "+4:30"] {
            check(text, None);
        }
        assert!(Clock::from_text("25:00").unwrap_err().to_string().contains("\"25:00\" is not a time of day"));
    }

    #[test]
    fn the_file_has_it_as_text() {
        let clock = Clock::new(4, 30).unwrap();
        assert_eq!(ron::to_string(&clock).unwrap(), "\"04:30\"");
        assert_eq!(ron::from_str::<Clock>("\"04:30\"").unwrap(), clock);
        assert!(ron::from_str::<Clock>("\"noon\"").is_err());
    }

    #[test]
    fn hours_go_on_and_past_midnight_begin_anew() {
        let dawn = Clock::new(4, 30).unwrap();
        assert_eq!(dawn.after(Duration::hours(9.833)).to_string(), "14:20");
        assert_eq!(dawn.after(Duration::hours(20.0)).to_string(), "00:30");
        assert_eq!(Clock::new(23, 59).unwrap().after(Duration::minutes(0.6)).to_string(), "00:00");
        assert_eq!(dawn.after(Duration::hours(f64::NAN)).to_string(), "00:00");
    }
}
