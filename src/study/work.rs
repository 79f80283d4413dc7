//! The order of work: what there is to do, what comes before what, the longest way to the launch, and on which
//! evenings.

mod cure;
pub mod dates;
mod evenings;
mod list;
pub mod network;
mod task;

pub use cure::{AT_C, hours as cure_hours, slower as cure_slower, source as cure_source};
pub use evenings::{BEGINS_H, Calendar, Evening};
pub use list::is_metered;
pub use task::{Act, On, Task};

use self::network::{Network, Paths};
use super::{Study, chosen};
use crate::plan::Plan;

/// Length of an evening, minutes. Common practice, no source: what is left of a day with a job in it.
pub const EVENING_MIN: f64 = 120.0;

/// The order of work of a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Work {
    /// Every task, done or not.
    pub tasks: Vec<Task>,
    /// Their order and the longest way through what is not done, hours.
    pub paths: Paths,
    /// What is not done, by evenings.
    pub calendar: Calendar,
    /// Length of an evening, minutes.
    pub evening_min: f64,
}

impl Work {
    /// Orders the work of a plan into evenings of this length; without one, of the plan's limit.
    pub fn of(plan: &Plan, study: &Study, evening_min: Option<f64>) -> Self {
        let evening_min = evening_min.unwrap_or_else(|| chosen(plan, "cure-late.evening", EVENING_MIN));
        let tasks = list::of(plan, study);
        let span = |task: &Task| if task.done { 0.0 } else { task.minutes / 60.0 + task.wait_h };
        let network = Network {
            spans: tasks.iter().map(span).collect(),
            before: tasks.iter().map(|t| t.after.clone()).collect(),
        };
        let paths = network.paths();
        let calendar = Calendar::of(&tasks, &paths, evening_min);
        Self { tasks, paths, calendar, evening_min }
    }

    /// The longest way through what is still to do.
    pub fn critical(&self) -> impl Iterator<Item = usize> + '_ {
        self.paths.critical.iter().copied().filter(|task| !self.tasks[*task].done)
    }
}
