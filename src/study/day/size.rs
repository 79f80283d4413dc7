//! The smallest label that would do, found by living the day with it.

use super::Life;
use super::run::run;
use crate::units::Charge;

/// Label beyond which the search gives up, Ah: the greatest that a plan may have.
const GREATEST_AH: f64 = 500.0;

/// How close the search comes, Ah.
const CLOSE_AH: f64 = 0.05;

/// The smallest label, new and of the same sort, with which the day leaves this reserve, percent of what may be
/// planned with, and nothing stops; `None` where not even the greatest does.
pub(super) fn smallest(life: &Life<'_>, reserve: f64) -> Option<Charge> {
    let does = |label: f64| {
        let cell = life.cell.with_label(label);
        life.does(&cell, &run(&cell, life.parts, life.drains, &[]), reserve)
    };
    // What is asked over what one ampere-hour of label gives. Without Peukert and cut-outs it is the answer.
    let asked: f64 = life.parts.iter().enumerate().map(|(part, hours)| life.amps(part) * hours.hours).sum();
    let gives = life.cell.depth * life.cell.with_label(1.0).at(life.last_air()).capacity_ah;
    let mut least = asked / (gives * (1.0 - reserve / 100.0).max(0.01));
    if !least.is_finite() || least > GREATEST_AH {
        return None;
    }
    if least <= 0.0 || does(least) {
        return Some(Charge::amp_hours(least.max(0.0)));
    }
    let mut most = GREATEST_AH;
    if !does(most) {
        return None;
    }
    while most - least > CLOSE_AH {
        let middle = f64::midpoint(least, most);
        if does(middle) { most = middle } else { least = middle }
    }
    Some(Charge::amp_hours(most))
}
