//! What a day looks like: charge and voltage to plot, their lowest points, the sag with everything on.

use super::cell::Cell;
use super::run::{Part, Run, Step};
use crate::units::{Current, Duration, Voltage};

/// Most moments of a plotted day.
const MOST: usize = 200;

/// A battery at a moment.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Hours into the day.
    pub hours: f64,
    /// State of charge, percent of what is there at that temperature.
    pub charge_percent: f64,
    /// Voltage at the terminals under ordinary currents; nothing once it is empty.
    pub volts: f64,
}

/// The whole day, a moment each so many whole minutes, and its end: at most [`MOST`].
pub(super) fn series(cell: &Cell, parts: &[Part], run: &Run) -> Vec<Moment> {
    let hours: f64 = parts.iter().map(|part| part.hours).sum();
    if run.steps.is_empty() || !hours.is_finite() {
        return Vec::new();
    }
    let pace = (hours * 60.0 / (MOST - 2) as f64).ceil().max(1.0) / 60.0;
    let count = (hours / pace).ceil() as usize;
    let mut steps = run.steps.iter().peekable();
    let times = (0..count).map(|index| index as f64 * pace).chain([hours]);
    times.filter_map(|time| moment(cell, run, &mut steps, time)).collect()
}

/// The battery at a time; `steps` is walked on to the step that holds it.
fn moment<'a>(
    cell: &Cell,
    run: &Run,
    steps: &mut std::iter::Peekable<impl Iterator<Item = &'a Step> + Clone>,
    time: f64,
) -> Option<Moment> {
    if run.empty.is_some_and(|empty| time >= empty) {
        let last = run.steps.last()?;
        return Some(Moment { hours: time, charge_percent: percent(last.charge(last.taken.1)), volts: 0.0 });
    }
    while steps.peek().is_some_and(|step| step.until <= time) && steps.clone().nth(1).is_some() {
        steps.next();
    }
    let step = steps.peek()?;
    let long = step.until - step.from;
    let share = if long > 0.0 { ((time - step.from) / long).clamp(0.0, 1.0) } else { 1.0 };
    let charge = step.charge(step.taken.0 + share * (step.taken.1 - step.taken.0));
    Some(Moment { hours: time, charge_percent: percent(charge), volts: cell.volts(charge, step.amps, step.chilled) })
}

/// Least state of charge, percent, and when. A full battery where nothing was lived.
pub(super) fn lowest_charge(run: &Run) -> (f64, Duration) {
    let low = least(run.steps.iter().map(|step| (step.charge(step.taken.1), step.until)));
    low.map_or((100.0, Duration::hours(0.0)), |(charge, time)| (percent(charge), Duration::hours(time)))
}

/// Least voltage under ordinary currents, and when: at the end of a step, for it falls within each.
pub(super) fn lowest_volts(cell: &Cell, run: &Run) -> (Voltage, Duration) {
    let volts = |step: &Step| (cell.volts(step.charge(step.taken.1), step.amps, step.chilled), step.until);
    let full = run.steps.is_empty().then_some((0.0, 0.0));
    let (volts, time) = least(run.steps.iter().map(volts)).or(full).unwrap_or_default();
    (Voltage::volts(volts), Duration::hours(time))
}

/// Least voltage with everything on, while charge is left that may be planned with, and when.
pub(super) fn sag(cell: &Cell, run: &Run, peak: Current) -> Option<(Voltage, Duration)> {
    let amps = peak.to_amps();
    let low = |step: &Step| {
        let usable = cell.depth * step.chilled.capacity_ah;
        let taken = step.taken.1.min(usable);
        let grown = step.taken.1 - step.taken.0;
        let share = if grown > 0.0 { ((taken - step.taken.0) / grown).clamp(0.0, 1.0) } else { 1.0 };
        let time = step.from + share * (step.until - step.from);
        (cell.volts(step.charge(taken), amps, step.chilled), time)
    };
    let low = if amps > 0.0 { least(run.steps.iter().map(low)) } else { None };
    low.map(|(volts, time)| (Voltage::volts(volts), Duration::hours(time)))
}

fn least(values: impl Iterator<Item = (f64, f64)>) -> Option<(f64, f64)> {
    values.min_by(|a, b| a.0.total_cmp(&b.0))
}

/// Within 0 and 100: a colder hour can hold less than was taken before it.
fn percent(share: f64) -> f64 {
    (100.0 * share).clamp(0.0, 100.0)
}
