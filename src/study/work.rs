//! The order of work: what there is to do, what comes before what, the longest way to the launch, and on which
//! evenings.

mod cure;
pub mod dates;
mod evenings;
mod list;
pub mod network;
mod rhythm;
mod task;

pub use crate::plan::{Act, On};
pub use cure::{AT_C, hours as cure_hours, slower as cure_slower, source as cure_source};
pub use evenings::{BEGINS_H, Calendar, Evening};
pub use list::is_metered;
pub use rhythm::Rhythm;
pub use task::Task;

use std::collections::BTreeSet;

use time::Date;

use self::network::{Network, Paths};
use super::{Study, chosen};
use crate::plan::{Plan, Tick};

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
    /// On which evenings there is time for it.
    pub rhythm: Rhythm,
}

impl Work {
    /// Orders the work of a plan into evenings of this length, from the last day that the plan knows of; without a
    /// length, of the plan's limit.
    pub fn of(plan: &Plan, study: &Study, evening_min: Option<f64>) -> Self {
        Self::from(plan, study, dates::last_known(plan), evening_min)
    }

    /// The same from a first day on; without one the evenings are only counted.
    pub fn from(plan: &Plan, study: &Study, start: Option<Date>, evening_min: Option<f64>) -> Self {
        let evening_min = evening_min.unwrap_or_else(|| chosen(plan, "cure-late.evening", EVENING_MIN));
        let rhythm = Rhythm { start, evening_min, evenings: plan.work.evenings.clone() };
        let tasks = list::of(plan, study, &rhythm);
        let span = |task: &Task| if task.done { 0.0 } else { task.minutes / 60.0 + task.wait_h };
        let network = Network {
            spans: tasks.iter().map(span).collect(),
            before: tasks.iter().map(|t| t.after.clone()).collect(),
        };
        let paths = network.paths();
        let calendar = Calendar::of(&tasks, &paths, &rhythm);
        Self { tasks, paths, calendar, rhythm }
    }

    /// The date of a day counted from the first; `None` without a first one and past the calendar.
    pub fn date(&self, day: u32) -> Option<Date> {
        dates::on(self.rhythm.start?, day)
    }

    /// The first day on which everything is done.
    pub fn launch(&self) -> Option<Date> {
        self.date(self.calendar.launch()?)
    }

    /// Ticks of the plan that are of none of its tasks.
    pub fn gone<'a>(&'a self, plan: &'a Plan) -> impl Iterator<Item = &'a Tick> {
        let known: BTreeSet<(On, Act)> = self.tasks.iter().map(|task| (task.on, task.act)).collect();
        plan.work.ticks.iter().filter(move |tick| !known.contains(&tick.task()))
    }

    /// What stands before a task and is not done.
    pub fn missing(&self, task: usize) -> impl Iterator<Item = usize> + '_ {
        self.tasks[task].after.iter().copied().filter(|before| !self.tasks[*before].done)
    }

    /// The longest way through what is still to do.
    pub fn critical(&self) -> impl Iterator<Item = usize> + '_ {
        self.paths.critical.iter().copied().filter(|task| !self.tasks[*task].done)
    }
}
