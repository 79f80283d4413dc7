//! Days of the calendar, checked at the door, and days of the week.

use std::fmt;

use serde::{Deserialize, Serialize};
use time::macros::format_description;

use crate::shown::Shown;

/// A day of the calendar, `"2031-05-30"` in the file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Day(time::Date);

/// The text is no day of the calendar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayFault(String);

impl fmt::Display for DayFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\" is not a day of the calendar: type year-month-day, as 2031-05-30", Shown(&self.0))
    }
}

impl Day {
    /// Reads a day as typed, year-month-day.
    ///
    /// # Errors
    /// Any other text, and days that the calendar does not have.
    pub fn from_text(text: &str) -> Result<Self, DayFault> {
        let typed = text.trim();
        let read = time::Date::parse(typed, format_description!("[year]-[month]-[day]"));
        read.map(Self).map_err(|_| DayFault(typed.chars().take(20).collect()))
    }

    /// The day as the calendar's library has it.
    pub fn date(self) -> time::Date {
        self.0
    }
}

impl From<time::Date> for Day {
    fn from(date: time::Date) -> Self {
        Self(date)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0.to_string())
    }
}

impl TryFrom<String> for Day {
    type Error = DayFault;
    fn try_from(text: String) -> Result<Self, DayFault> {
        Self::from_text(&text)
    }
}

impl From<Day> for String {
    fn from(day: Day) -> Self {
        day.to_string()
    }
}

/// A day of the week.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[allow(missing_docs, reason = "the days say what they are")]
pub enum Weekday {
    Mon,
    Tue,
    Wed,
    Thu,
    Fri,
    Sat,
    Sun,
}

impl Weekday {
    /// All of them, from Monday on.
    pub const ALL: [Self; 7] = [Self::Mon, Self::Tue, Self::Wed, Self::Thu, Self::Fri, Self::Sat, Self::Sun];

    /// The day of the week of a date.
    pub fn of(date: time::Date) -> Self {
        Self::ALL[usize::from(date.weekday().number_days_from_monday()) % 7]
    }

    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::Mon => "Mon",
            Self::Tue => "Tue",
            Self::Wed => "Wed",
            Self::Thu => "Thu",
            Self::Fri => "Fri",
            Self::Sat => "Sat",
            Self::Sun => "Sun",
        }
    }

    /// Reads days as typed, parted by commas or blanks: the first three letters count. In the order of the week,
    /// each once.
    ///
    /// # Errors
    /// The first word that is no day.
    pub fn list_from_text(text: &str) -> Result<Vec<Self>, String> {
        let mut days = Vec::new();
        for word in text.split([',', ' ']).filter(|word| !word.is_empty()) {
            let start: String = word.chars().take(3).collect();
            let day = Self::ALL.into_iter().find(|day| day.word().eq_ignore_ascii_case(&start));
            days.push(day.ok_or_else(|| format!("\"{}\" is no day of the week: mon, tue, wed ...", Shown(word)))?);
        }
        days.sort_unstable();
        days.dedup();
        Ok(days)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_days_of_the_calendar_are_days() {
        assert_eq!(Day::from_text(" 2032-02-29 ").map(|day| day.to_string()), Ok("2032-02-29".into()));
        for text in ["", "2031-02-29", "2031-13-01", "30.5.2031", "tomorrow", "2031-05-30T10:00", "\u{1b}[2J"] {
            let fault = Day::from_text(text).expect_err(text).to_string();
            assert!(fault.contains("year-month-day") && !fault.contains('\u{1b}'), "{fault}");
        }
    }

    /// 30 May 2031 is a Friday; from memory, and by the library's own reckoning of another day: 1 January 2000 was a
    /// Saturday.
    #[test]
    fn days_of_the_week() {
        let of = |text: &str| Day::from_text(text).map(|day| Weekday::of(day.date()));
        assert_eq!(of("2000-01-01"), Ok(Weekday::Sat));
        assert_eq!(of("2031-05-30"), Ok(Weekday::Fri));
        assert_eq!(Weekday::list_from_text("sat, Tuesday tue"), Ok(vec![Weekday::Tue, Weekday::Sat]));
        assert_eq!(Weekday::list_from_text(" "), Ok(Vec::new()));
        assert!(Weekday::list_from_text("sat, every day").is_err());
    }
}
