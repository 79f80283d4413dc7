//! The order of work on a page: evening by evening, what comes before what, and when the boat can be launched.

use time::Date;

use super::number::plain;
use super::paper::{DONE, Section, Sheet, TO_DO};
use crate::plan::{Chemistry, Plan, Seal, Tick};
use crate::study::Study;
use crate::study::work::{AT_C, Act, On, Work, cure_hours, cure_slower, cure_source, dates};

const COLUMNS: &[&str] = &["done", "no", "task", "on", "minutes", "wait hours", "after", "tools", "noted"];

/// More predecessors than this are counted, not listed.
const LISTED: usize = 4;

/// The order of work of a plan from a first evening, in evenings of so many minutes.
pub fn work_sheet(plan: &Plan, study: &Study, start: Option<Date>, evening_min: Option<f64>) -> Sheet {
    let work = Work::from(
        plan,
        study,
        start.or_else(|| plan.work.begins.or(plan.work.last_day()).and(dates::last_known(plan))),
        evening_min,
    );
    let page = Page { plan, work: &work, number: numbers(&work) };
    Sheet {
        title: format!("Order of work on {}", plan.name),
        cautions: page.cautions(study),
        drawing: page.summary(),
        columns: COLUMNS,
        sections: page.sections(),
    }
    .without_empty_end()
}

/// What the words of the sheet are made from.
struct Page<'a> {
    plan: &'a Plan,
    work: &'a Work,
    /// The number of each task in the order of the evenings; none for what is done or left.
    number: Vec<Option<usize>>,
}

fn numbers(work: &Work) -> Vec<Option<usize>> {
    let mut number = vec![None; work.tasks.len()];
    let in_order = work.calendar.evenings.iter().flat_map(|evening| &evening.tasks);
    in_order.enumerate().for_each(|(n, task)| number[*task] = Some(n + 1));
    number
}

impl Page<'_> {
    fn sections(&self) -> Vec<Section> {
        let rows = |tasks: &[usize]| tasks.iter().map(|task| self.row(*task)).collect();
        let evenings = self.work.calendar.evenings.iter().enumerate().map(|(n, evening)| Section {
            heading: format!(
                "Evening {}, {}: {:.0} of {:.0} minutes",
                n + 1,
                self.day(evening.day),
                evening.minutes,
                self.work.rhythm.evening_min
            ),
            rows: rows(&evening.tasks),
        });
        let mut sections: Vec<Section> = evenings.collect();
        let done: Vec<usize> = (0..self.work.tasks.len()).filter(|task| self.work.tasks[*task].done).collect();
        for (heading, tasks) in [("Cannot be planned", &self.work.calendar.left), ("Done already", &done)] {
            if !tasks.is_empty() {
                sections.push(Section { heading: format!("{heading}: {}", tasks.len()), rows: rows(tasks) });
            }
        }
        let gone = self.gone();
        if !gone.is_empty() {
            let heading = format!("Ticked, and no task of the plan any more: {}", gone.len());
            sections.push(Section { heading, rows: gone });
        }
        sections
    }

    /// Ticks of what the plan does not have any more.
    fn gone(&self) -> Vec<Vec<String>> {
        let row = |tick: &Tick| {
            let mut row = vec![String::new(); COLUMNS.len()];
            row[0] = DONE.into();
            row[2] = tick.act.word().into();
            row[3] = tick.on.named(self.plan);
            row[8] = noted(tick);
            row
        };
        self.work.gone(self.plan).map(row).collect()
    }

    fn row(&self, number: usize) -> Vec<String> {
        let task = &self.work.tasks[number];
        let gate = if task.act.is_gate() { "GATE: " } else { "" };
        vec![
            if task.done { DONE } else { TO_DO }.into(),
            self.number[number].map_or(String::new(), |n| n.to_string()),
            format!("{gate}{}", task.act.word()),
            self.on(task.on, task.holes),
            format!("{:.0}", task.minutes),
            if task.wait_h > 0.0 { format!("{:.0}", task.wait_h.ceil()) } else { String::new() },
            self.after(&task.after),
            task.act.tools().join(", "),
            self.plan.work.tick(task.act, task.on).map_or(String::new(), noted),
        ]
    }

    /// `3, 4`; `1, 2, 3, 4 and 12 more`.
    fn after(&self, before: &[usize]) -> String {
        let mut numbers: Vec<usize> = before.iter().filter_map(|task| self.number[*task]).collect();
        numbers.sort_unstable();
        let listed: Vec<String> = numbers.iter().take(LISTED).map(ToString::to_string).collect();
        match numbers.len().saturating_sub(LISTED) {
            0 => listed.join(", "),
            more => format!("{} and {more} more", listed.join(", ")),
        }
    }

    fn on(&self, on: On, holes: usize) -> String {
        task_on(self.plan, on, holes)
    }

    /// The date of a day counted from the first; without a first one `day 3`.
    fn day(&self, day: u32) -> String {
        match (self.work.rhythm.start, self.work.date(day)) {
            (_, Some(date)) => date.to_string(),
            (Some(_), None) => "past the calendar".into(),
            (None, None) => format!("day {}", day + 1),
        }
    }

    /// How long it takes, the longest way, and what has to cure.
    fn summary(&self) -> Vec<String> {
        let calendar = &self.work.calendar;
        let hours = calendar.evenings.iter().map(|evening| evening.minutes).sum::<f64>() / 60.0;
        let launch = match calendar.launch() {
            Some(day) => format!("earliest launch {}", self.day(day)),
            None => "no launch: some of it cannot be planned".into(),
        };
        let late = self.plan.work.launch.zip(self.work.launch()).filter(|(wanted, at)| *at > wanted.date());
        let launch = match late {
            Some((wanted, _)) => format!("{launch}, wanted on {wanted}"),
            None => launch,
        };
        let mut lines = vec![format!("{} evenings, {} h at it, {launch}.", calendar.evenings.len(), plain(hours))];
        let path: Vec<String> = self
            .work
            .critical()
            .map(|task| {
                let task = &self.work.tasks[task];
                format!("{} ({})", task.act.word(), self.on(task.on, 0))
            })
            .collect();
        if !path.is_empty() {
            let long = self.work.paths.tail.iter().copied().fold(0.0, f64::max);
            lines.push(format!("Longest way, {} h of work and waiting: {}.", plain(long), path.join(" > ")));
        }
        lines.extend(self.cures());
        lines
    }

    /// What has to cure, for how long, and where the figure is from.
    fn cures(&self) -> Vec<String> {
        let garage = self.plan.work.garage;
        let air = garage.unwrap_or(self.plan.outing.air);
        let place = if garage.is_some() { "garage" } else { "outing" };
        let cures = |seal: &Seal| {
            let gear = self.plan.gear.iter().filter(|gear| gear.is_placed() && gear.seal == *seal).map(|gear| gear.id);
            let on: Vec<On> = gear.map(On::Gear).collect();
            let own = self.plan.penetrations.iter().filter(|hole| hole.seal == *seal).map(|hole| On::Hole(hole.id));
            let on: Vec<On> = on.into_iter().chain(own).collect();
            self.work.tasks.iter().any(|task| task.act == Act::Cure && !task.done && on.contains(&task.on))
        };
        let line = |seal: Seal| {
            let hours = cure_hours(seal);
            format!(
                "{}: {hours:.0} h at {AT_C:.0} C ({}), {:.0} h at the {place}'s {:.0} C.",
                seal.word(),
                cure_source(seal),
                (hours * cure_slower(air)).ceil(),
                air.to_celsius()
            )
        };
        Seal::ALL.into_iter().filter(cures).map(line).collect()
    }

    fn cautions(&self, study: &Study) -> Vec<String> {
        let mut cautions = vec![
            "No hole before a partner has looked at the plan and said yes; none to size before everything was fitted dry \
             and you sat in the boat again."
                .to_string(),
            "Drilling and open contacts are on different evenings: swarf shorts them. Batteries are connected last."
                .into(),
            "Minutes are common practice, no source. What the maker of a sealant says of its cure goes before this sheet."
                .into(),
            "Leak test with some water or a breath of air: a pump pops hatches. First float near the shore, in a life \
             jacket, with a helper."
                .into(),
        ];
        if study.power.batteries.iter().any(|battery| battery.chemistry == Chemistry::LithiumIronPhosphate) {
            cautions.push("Lithium battery: fuse at its terminal before it is connected; never open it.".into());
        }
        if !self.work.paths.circles.is_empty() {
            cautions.insert(0, "Some tasks wait for each other and cannot be planned: see the end.".into());
        }
        cautions.extend(self.too_late());
        cautions
    }

    /// A cure that ends after the day of the outing.
    fn too_late(&self) -> Option<String> {
        let outing = dates::day(self.plan.outing.date.as_ref()?.as_str())?;
        let (task, day) = self.work.calendar.cured?;
        let cured = self.work.date(day)?;
        let what = self.on(self.work.tasks[task].on, 0);
        (cured > outing).then(|| format!("{what} has cured on {cured}, after the outing on {outing}."))
    }
}

/// The day of a tick and what was read: `2031-05-30, dry after an hour`.
fn noted(tick: &Tick) -> String {
    let reading = tick.reading.as_str().replace(['\n', '\t'], " ");
    if reading.is_empty() { tick.date.to_string() } else { format!("{}, {reading}", tick.date) }
}

/// What a task is done to, in words: `USB socket, 3 holes`.
pub fn task_on(plan: &Plan, on: On, holes: usize) -> String {
    let name = on.named(plan);
    if holes > 1 { format!("{name}, {holes} holes") } else { name }
}
