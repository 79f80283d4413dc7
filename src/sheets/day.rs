//! The day of one battery in words: how it goes, and what would do where it falls short.

use super::study;
use crate::plan::{GearId, Plan};
use crate::study::Study;

/// How a battery's day goes: `battery: used up at 12:50, flat at 14:20; lowest 12.1 V`. None for one that is not
/// placed.
pub fn day_words(plan: &Plan, from: &Study, battery: GearId) -> Option<String> {
    Some(study::over_the_day(plan, from.power.battery(battery)?, from.day.battery(battery)?))
}

/// What to leave off, what each gains, and the smallest battery of the catalogue that would do with its mass and
/// size; nothing where the battery does.
pub fn remedy_words(plan: &Plan, from: &Study, battery: GearId) -> Vec<String> {
    let both = from.power.battery(battery).zip(from.day.battery(battery));
    both.map_or_else(Vec::new, |(power, day)| study::what_would_do(plan, power, day))
}
