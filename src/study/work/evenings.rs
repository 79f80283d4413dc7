//! The tasks dealt out to evenings: nothing before what it waits for, cures run while nobody works.
//!
//! An evening begins at the same time each day. Of what may be done, the earliest act of the order of work is taken
//! first, then what has the longest way to go, then the walk round the boat. Drilling and open contacts are kept to
//! different evenings: swarf shorts what is open. A task longer than an evening has one to itself.

use std::cmp::Ordering;
use std::collections::BTreeSet;

use super::Rhythm;
use super::network::Paths;
use super::task::Task;
use crate::plan::Act;

/// Time of day at which an evening begins, h. Common practice, no source.
pub const BEGINS_H: f64 = 19.0;

/// So many days are planned; what is not done by then is said to be left.
const MOST_DAYS: u32 = 20_000;

/// Rounding of sums of minutes, h.
const ROUNDING_H: f64 = 1.0e-6;

/// The calendar of the work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Calendar {
    /// Evenings with something to do, in order.
    pub evenings: Vec<Evening>,
    /// The last cure: the task and the day on which it ends, counted from the first evening as 0.
    pub cured: Option<(usize, u32)>,
    /// What cannot be planned: it waits for itself, or longer than there are days.
    pub left: Vec<usize>,
}

/// One evening.
#[derive(Clone, Debug, PartialEq)]
pub struct Evening {
    /// Days after the first.
    pub day: u32,
    /// Its tasks, in order.
    pub tasks: Vec<usize>,
    /// Time at them, minutes.
    pub minutes: f64,
}

impl Calendar {
    /// Deals out what is not done yet to evenings. What was ticked off on the first day has taken its time of it.
    pub(super) fn of(tasks: &[Task], paths: &Paths, rhythm: &Rhythm) -> Self {
        let mut deal = Deal::new(tasks, paths, rhythm.length_h());
        let mut day = Some(rhythm.next_evening(0));
        let mut done = deal.done_on(rhythm);
        while let Some(today) = day.filter(|day| *day < MOST_DAYS) {
            deal.evening(today, if today == 0 { std::mem::take(&mut done) } else { Vec::new() });
            day = deal.next_day(today).map(|day| rhythm.next_evening(day));
        }
        let mut left: Vec<bool> = tasks.iter().map(|task| !task.done).collect();
        let dealt = deal.evenings.iter().flat_map(|evening| &evening.tasks);
        dealt.for_each(|task| left[*task] = false);
        let left = (0..tasks.len()).filter(|task| left[*task]).collect();
        Self { evenings: deal.evenings, cured: deal.cured, left }
    }

    /// The first day on which everything is done, counted from the first evening as 0: the day after the last
    /// evening. `None` while something is left.
    pub fn launch(&self) -> Option<u32> {
        let last = self.evenings.last().map_or(0, |evening| evening.day + 1);
        let cured = self.cured.map_or(0, |(_, day)| day);
        self.left.is_empty().then(|| last.max(cured))
    }
}

/// The dealing: hours count from midnight before the first evening.
struct Deal<'a> {
    tasks: &'a [Task],
    tail: &'a [f64],
    length_h: f64,
    /// How many of the tasks before each are not done.
    waits: Vec<usize>,
    /// What comes after each.
    next: Vec<Vec<usize>>,
    /// When everything known before a task is done and has cured.
    free: Vec<f64>,
    /// Tasks that wait for none that is not done.
    open: BTreeSet<usize>,
    evenings: Vec<Evening>,
    cured: Option<(usize, u32)>,
}

impl<'a> Deal<'a> {
    fn new(tasks: &'a [Task], paths: &'a Paths, length_h: f64) -> Self {
        let count = tasks.len();
        let (mut waits, mut next) = (vec![0; count], vec![Vec::new(); count]);
        for (number, task) in tasks.iter().enumerate().filter(|(_, task)| !task.done) {
            for before in task.after.iter().filter(|before| tasks.get(**before).is_some_and(|before| !before.done)) {
                next[*before].push(number);
                waits[number] += 1;
            }
        }
        let open = (0..count).filter(|task| !tasks[*task].done && waits[*task] == 0).collect();
        let (evenings, cured) = (Vec::new(), None);
        Self { tasks, tail: &paths.tail, length_h, waits, next, free: vec![0.0; count], open, evenings, cured }
    }

    /// What was ticked off on the first day.
    fn done_on(&self, rhythm: &Rhythm) -> Vec<usize> {
        let today = |task: &Task| task.ticked.is_some_and(|day| Some(day.date()) == rhythm.start);
        (0..self.tasks.len()).filter(|task| self.tasks[*task].done && today(&self.tasks[*task])).collect()
    }

    /// Fills one evening, of which this was done already.
    fn evening(&mut self, day: u32, mut done: Vec<usize>) {
        let begins = begins(day);
        let spent: f64 = done.iter().map(|task| self.tasks[*task].minutes / 60.0).sum();
        let (ends, mut clock) = (begins + self.length_h, begins + spent);
        let before = done.len();
        while let Some((task, at)) = self.best(&done, clock, ends) {
            clock = at + self.tasks[task].minutes / 60.0;
            self.finish(task, clock);
            done.push(task);
        }
        done.drain(..before);
        if !done.is_empty() {
            let minutes = done.iter().map(|task| self.tasks[*task].minutes).sum();
            self.evenings.push(Evening { day, tasks: done, minutes });
        }
    }

    /// Notes that a task is done: what comes after it may begin when it has cured.
    fn finish(&mut self, task: usize, clock: f64) {
        let ready = clock + self.tasks[task].wait_h;
        if self.tasks[task].wait_h > 0.0 {
            let ends = (ready / 24.0).floor() as u32;
            if self.cured.is_none_or(|(_, last)| last < ends) {
                self.cured = Some((task, ends));
            }
        }
        self.open.remove(&task);
        for next in std::mem::take(&mut self.next[task]) {
            self.waits[next] -= 1;
            self.free[next] = self.free[next].max(ready);
            if self.waits[next] == 0 {
                self.open.insert(next);
            }
        }
    }

    /// What is done next in an evening, and when it begins.
    fn best(&self, done: &[usize], clock: f64, ends: f64) -> Option<(usize, f64)> {
        let allowed = self.open.iter().filter(|task| self.goes_with(**task, done));
        let timed = allowed.map(|task| (*task, self.free[*task].max(clock)));
        let fits = |task: usize, at: f64| {
            let over = at + self.tasks[task].minutes / 60.0 > ends + ROUNDING_H;
            // One too long for any evening begins one.
            !over || (done.is_empty() && at <= clock && self.tasks[task].minutes / 60.0 > self.length_h)
        };
        timed
            .filter(|(task, at)| *at <= ends && fits(*task, *at))
            .min_by(|a, b| a.1.total_cmp(&b.1).then_with(|| self.urgency(a.0, b.0)))
    }

    /// The earlier act first, then the longer way to go, then the order of the list.
    fn urgency(&self, a: usize, b: usize) -> Ordering {
        let act = |task: usize| self.tasks[task].act;
        let longer = if act(a) == Act::Bed { self.tail[b].total_cmp(&self.tail[a]) } else { Ordering::Equal };
        act(a).cmp(&act(b)).then(longer).then(a.cmp(&b))
    }

    /// Whether a task may be done on the same evening as these.
    fn goes_with(&self, task: usize, done: &[usize]) -> bool {
        let act = self.tasks[task].act;
        let others = || done.iter().map(|other| self.tasks[*other].act);
        !(act.makes_swarf() && others().any(Act::opens_contacts)
            || act.opens_contacts() && others().any(Act::makes_swarf))
    }

    /// The next day on which something may begin; `None` when nothing ever may.
    fn next_day(&self, day: u32) -> Option<u32> {
        let free = self.open.iter().map(|task| self.free[*task]).min_by(f64::total_cmp)?;
        // The evening of the day on which it is free, if that is not over.
        let from = ((free - BEGINS_H - self.length_h + ROUNDING_H) / 24.0).ceil().max(0.0);
        Some((from as u32).max(day + 1))
    }
}

fn begins(day: u32) -> f64 {
    f64::from(day) * 24.0 + BEGINS_H
}

#[cfg(test)]
mod tests {
    use super::super::network::Network;
    use super::*;
    use crate::plan::{Day, On};

    fn task(act: Act, minutes: f64, wait_h: f64, after: &[usize]) -> Task {
        Task { act, on: On::Boat, holes: 0, minutes, wait_h, done: false, ticked: None, after: after.to_vec() }
    }

    fn deal(tasks: &[Task], evening_min: f64) -> Calendar {
        let spans = tasks.iter().map(|task| task.minutes / 60.0 + task.wait_h).collect();
        let before = tasks.iter().map(|task| task.after.clone()).collect();
        let start = super::super::dates::day("2031-05-30");
        let rhythm = Rhythm { start, evening_min, evenings: Vec::new() };
        Calendar::of(tasks, &Network { spans, before }.paths(), &rhythm)
    }

    fn days(calendar: &Calendar) -> Vec<(u32, Vec<usize>)> {
        calendar.evenings.iter().map(|evening| (evening.day, evening.tasks.clone())).collect()
    }

    /// By hand: 60 and 60 fill an evening of 120 minutes to the last; one more minute needs another.
    #[test]
    fn an_evening_is_filled_and_not_overfilled() {
        let tasks = |last: f64| [task(Act::Mark, 60.0, 0.0, &[]), task(Act::DryFit, last, 0.0, &[0])];
        assert_eq!(days(&deal(&tasks(60.0), 120.0)), [(0, vec![0, 1])]);
        assert_eq!(days(&deal(&tasks(61.0), 120.0)), [(0, vec![0]), (1, vec![1])]);
    }

    /// By hand: bedded from 19 to 20 h, free 48 h later at 20 h of day 2, within that evening; 50 h later at 22 h of
    /// day 2, when the evening is over: the test is on day 3. A cure of 4 h ends on the day itself, of 5 h after
    /// midnight.
    #[test]
    fn a_cure_is_waited_for() {
        let tasks = |hours: f64| [task(Act::Bed, 60.0, hours, &[]), task(Act::LeakTest, 60.0, 0.0, &[0])];
        assert_eq!(days(&deal(&tasks(48.0), 120.0)), [(0, vec![0]), (2, vec![1])]);
        assert_eq!(days(&deal(&tasks(50.0), 120.0)), [(0, vec![0]), (3, vec![1])]);
        assert_eq!(deal(&tasks(48.0), 120.0).cured, Some((0, 2)));
        assert_eq!(deal(&tasks(3.9), 120.0).cured, Some((0, 0)));
        assert_eq!(deal(&tasks(4.1), 120.0).cured, Some((0, 1)));
        assert_eq!(deal(&tasks(48.0), 120.0).launch(), Some(3));
    }

    #[test]
    fn swarf_and_open_contacts_keep_apart() {
        let tasks = [task(Act::Drill, 10.0, 0.0, &[]), task(Act::Connect, 10.0, 0.0, &[])];
        assert_eq!(days(&deal(&tasks, 120.0)), [(0, vec![0]), (1, vec![1])]);
        let apart = [task(Act::Mark, 10.0, 0.0, &[]), task(Act::Connect, 10.0, 0.0, &[])];
        assert_eq!(days(&deal(&apart, 120.0)), [(0, vec![0, 1])]);
    }

    /// By hand: of 120 minutes of the first day 60 are spent on what was ticked off, so that of two tasks of 60 one
    /// fits; what threw swarf that evening keeps contacts to the next.
    #[test]
    fn what_was_done_tonight_has_taken_its_time() {
        let today = Day::from_text("2031-05-30").ok();
        let done = Task { done: true, ticked: today, ..task(Act::Drill, 60.0, 0.0, &[]) };
        let tasks = [done.clone(), task(Act::Mark, 60.0, 0.0, &[]), task(Act::Mark, 60.0, 0.0, &[])];
        assert_eq!(days(&deal(&tasks, 120.0)), [(0, vec![1]), (1, vec![2])]);
        let tasks = [done, task(Act::Connect, 10.0, 0.0, &[])];
        assert_eq!(days(&deal(&tasks, 120.0)), [(1, vec![1])]);
    }

    #[test]
    fn what_is_longer_than_an_evening_has_one_to_itself() {
        let tasks = [task(Act::Mark, 10.0, 0.0, &[]), task(Act::Drill, 300.0, 0.0, &[0])];
        assert_eq!(days(&deal(&tasks, 120.0)), [(0, vec![0]), (1, vec![1])]);
    }

    #[test]
    fn circles_and_endless_cures_are_left_and_nothing_hangs() {
        let circle = [task(Act::Mark, 10.0, 0.0, &[1]), task(Act::Pilot, 10.0, 0.0, &[0])];
        let calendar = deal(&circle, 120.0);
        assert_eq!((calendar.left.clone(), calendar.launch()), (vec![0, 1], None));
        let endless = [task(Act::Bed, 10.0, 1.0e9, &[]), task(Act::LeakTest, 10.0, 0.0, &[0])];
        assert_eq!(deal(&endless, 120.0).left, [1]);
        let nonsense = [task(Act::Bed, f64::NAN, f64::NAN, &[])];
        assert!(deal(&nonsense, f64::NAN).evenings.len() <= 1);
    }

    #[test]
    fn nothing_to_do_is_launched_at_once() {
        assert_eq!(deal(&[], 120.0).launch(), Some(0));
    }
}
