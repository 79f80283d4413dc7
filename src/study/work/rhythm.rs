//! On which evenings there is time for the work: from which day on, how long, on which days of the week.

use time::Date;

use super::dates;
use crate::plan::{Day, Weekday};

/// When there is time for the work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Rhythm {
    /// The first day; without one the days of the week are not known and every day counts.
    pub start: Option<Date>,
    /// Length of an evening, minutes.
    pub evening_min: f64,
    /// Days of the week with an evening; none listed is any day.
    pub evenings: Vec<Weekday>,
}

impl Rhythm {
    /// Length of an evening, h, never nothing.
    pub fn length_h(&self) -> f64 {
        self.evening_min.max(1.0) / 60.0
    }

    /// The first day with an evening from this one on, counted from the first day as 0.
    pub fn next_evening(&self, day: u32) -> u32 {
        (day..day.saturating_add(7)).find(|day| self.has_evening(*day)).unwrap_or(day)
    }

    fn has_evening(&self, day: u32) -> bool {
        let date = self.start.and_then(|start| dates::on(start, day));
        self.evenings.is_empty() || date.is_none_or(|date| self.evenings.contains(&Weekday::of(date)))
    }

    /// Hours from the end of the evening of a day to the beginning of the first evening; none for one that is later.
    pub fn hours_since(&self, day: Day) -> f64 {
        let days = self.start.map_or(0, |start| start.to_julian_day() - day.date().to_julian_day());
        (24.0 * f64::from(days) - self.length_h()).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rhythm(start: &str, evenings: &[Weekday]) -> Rhythm {
        Rhythm { start: dates::day(start), evening_min: 120.0, evenings: evenings.to_vec() }
    }

    /// By hand: 30 May 2031 is a Friday; the next Tuesday is four days on, the next Saturday one.
    #[test]
    fn evenings_are_on_their_days() {
        let rhythm = rhythm("2031-05-30", &[Weekday::Tue, Weekday::Sat]);
        assert_eq!([0, 1, 2, 4, 5].map(|day| rhythm.next_evening(day)), [1, 1, 4, 4, 8]);
        assert_eq!(super::Rhythm { start: None, ..rhythm.clone() }.next_evening(2), 2);
        assert_eq!(super::Rhythm { evenings: Vec::new(), ..rhythm }.next_evening(2), 2);
    }

    /// By hand: from 21 h on the 28th to 19 h on the 30th are 46 h.
    #[test]
    fn a_cure_runs_from_the_end_of_its_evening() {
        let rhythm = rhythm("2031-05-30", &[]);
        let since = |text: &str| Day::from_text(text).map(|day| rhythm.hours_since(day));
        assert_eq!(since("2031-05-28"), Ok(46.0));
        assert_eq!(since("2031-05-30"), Ok(0.0));
        assert_eq!(since("2031-06-03"), Ok(0.0));
    }
}
