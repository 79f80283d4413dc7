//! Days of the calendar, as typed in a plan and counted on from a first one.

use time::{Date, Duration};

use crate::plan::{Day, Plan};

/// A day as typed, year-month-day; `None` for anything else.
pub fn day(text: &str) -> Option<Date> {
    Day::from_text(text).ok().map(Day::date)
}

/// A day so many days on; `None` past the last of the calendar.
pub fn on(start: Date, days: u32) -> Option<Date> {
    start.checked_add(Duration::days(i64::from(days)))
}

/// The last day that the plan knows of, by its log of the work, its readings and its revisions: the work that is left
/// begins no earlier.
pub fn last_known(plan: &Plan) -> Option<Date> {
    let log = plan.work.begins.into_iter().chain(plan.work.last_day()).map(Day::date);
    let readings = plan.readings.iter().filter_map(|reading| reading.date.as_ref());
    let revisions = plan.revisions.iter().filter_map(|revision| revision.date.as_ref());
    readings.chain(revisions).filter_map(|text| day(text.as_str())).chain(log).max()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_and_counted_on() {
        let leap = day(" 2032-02-28 ").and_then(|date| on(date, 2));
        assert_eq!(leap.map(|date| date.to_string()), Some("2032-03-01".into()));
        for text in ["", "30.5.2031", "2031-13-01", "2031-02-29", "tomorrow"] {
            assert_eq!(day(text), None, "{text}");
        }
        assert_eq!(day("9999-12-31").and_then(|date| on(date, 1)), None);
    }
}
