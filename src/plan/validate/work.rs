//! The door for the log of the work. A tick may be of a task that the plan does not have any more: it is kept.

use std::collections::BTreeSet;

use super::{Door, Plan};
use crate::plan::Tick;

/// Most ticks a plan keeps.
pub const MOST_TICKS: usize = 10_000;

impl Door {
    pub(super) fn work(&mut self, plan: &Plan) {
        let work = &plan.work;
        let count = work.ticks.len();
        self.check(count <= MOST_TICKS, "work, ticks", &format!("{count} entries; a plan keeps at most {MOST_TICKS}"));
        let different: BTreeSet<_> = work.evenings.iter().collect();
        self.check(different.len() == work.evenings.len(), "work, evenings", "a day of the week is named twice");
        if let Some(garage) = work.garage {
            self.air(garage, "work, garage");
        }
        let mut seen = BTreeSet::new();
        for (index, tick) in work.ticks.iter().enumerate() {
            let again = !seen.insert(Tick::task(tick));
            self.check(!again, &format!("work, tick {}", index + 1), "this task is ticked twice; strike one of them");
        }
    }
}
