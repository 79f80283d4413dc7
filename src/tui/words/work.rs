//! The work evening by evening, as lines: tonight's tasks first, what cures, what is done.

use std::collections::BTreeSet;

use time::Date;

use crate::plan::{Act, Day, On, Plan, Weekday};
use crate::sheets::task_on;
use crate::study::work::{BEGINS_H, Evening, Work, dates};
use crate::tui::app::Editor;
use crate::tui::layer::{BuildLine, LineOf};

/// The work of a plan as it stands on a day.
pub fn work(editor: &Editor, today: Option<Day>) -> Work {
    let session = &editor.session;
    let start = dates::last_known(session.plan()).max(today.map(Day::date));
    Work::from(session.plan(), session.study(), start, None)
}

/// All lines.
pub fn lines(editor: &Editor, today: Option<Day>) -> Vec<BuildLine> {
    let work = work(editor, today);
    let told = Told { editor, plan: editor.session.plan(), work: &work, today };
    let mut lines = vec![told.times()];
    told.evenings(&mut lines);
    told.rest(&mut lines);
    lines
}

/// How far the work is: `work, 12 of 80 tasks done`.
pub fn title(editor: &Editor, today: Option<Day>) -> String {
    let work = work(editor, today);
    let done = work.tasks.iter().filter(|task| task.done).count();
    format!("work, {done} of {} tasks done", work.tasks.len())
}

struct Told<'a> {
    editor: &'a Editor,
    plan: &'a Plan,
    work: &'a Work,
    today: Option<Day>,
}

impl Told<'_> {
    /// When there is time for the work, and when the boat can be launched.
    fn times(&self) -> BuildLine {
        let log = &self.plan.work;
        let mut said = vec![match log.begins {
            Some(day) => format!("start {day}"),
            None => "start: not set".into(),
        }];
        said.push(format!("evenings of {:.0} min", self.work.rhythm.evening_min));
        if !log.evenings.is_empty() {
            said.push(log.evenings.iter().map(|day| day.word()).collect::<Vec<_>>().join(" "));
        }
        said.extend(log.garage.map(|garage| format!("garage {:.0} C", garage.to_celsius())));
        said.extend(log.launch.map(|day| format!("wanted {day}")));
        let earliest = self.work.calendar.launch().map(|day| format!("earliest launch {}", self.day(day)));
        let late = log.launch.zip(self.work.launch()).map(|(wanted, at)| days_between(wanted.date(), at));
        let late = late.filter(|days| *days > 0).map(|days| format!("{days} days late"));
        let detail = late.into_iter().chain(earliest).collect::<Vec<_>>().join(", ");
        BuildLine { of: LineOf::Times, label: said.join(", "), detail }
    }

    fn evenings(&self, lines: &mut Vec<BuildLine>) {
        let evenings = &self.work.calendar.evenings;
        let done_tonight = self.done_tonight();
        if !done_tonight.is_empty() && evenings.first().is_none_or(|evening| evening.day > 0) {
            lines.push(heading(self.tonight(), "its time is spent".into()));
            lines.extend(done_tonight.iter().map(|task| self.task(*task, true)));
        }
        lines.extend(self.cures());
        for (n, evening) in evenings.iter().enumerate() {
            let tonight = evening.day == 0;
            lines.push(self.evening(n, evening));
            if tonight {
                lines.extend(done_tonight.iter().map(|task| self.task(*task, true)));
            }
            lines.extend(evening.tasks.iter().map(|task| self.task(*task, tonight)));
        }
        if evenings.is_empty() && self.work.calendar.left.is_empty() {
            lines.push(heading("nothing is left to do".into(), String::new()));
        }
    }

    fn done_tonight(&self) -> Vec<usize> {
        let today = |day: Day| Some(day.date()) == self.work.rhythm.start;
        (0..self.work.tasks.len())
            .filter(|task| self.work.tasks[*task].done && self.work.tasks[*task].ticked.is_some_and(today))
            .collect()
    }

    /// `tonight, Fri 2031-05-30: 95 of 120 minutes`, with its tools.
    fn evening(&self, n: usize, evening: &Evening) -> BuildLine {
        let name = match (evening.day, self.work.rhythm.start) {
            (0, None) => "tonight".to_string(),
            (0, Some(_)) => self.tonight(),
            (day, _) => format!("evening {}, {}", n + 1, self.day(day)),
        };
        let minutes = format!("{:.0} of {:.0} minutes", evening.minutes, self.work.rhythm.evening_min);
        let tools: BTreeSet<&str> =
            evening.tasks.iter().flat_map(|task| self.work.tasks[*task].act.tools()).copied().collect();
        heading(format!("{name}: {minutes}"), tools.into_iter().collect::<Vec<_>>().join(", "))
    }

    /// The first day by its name: tonight where it is today.
    fn tonight(&self) -> String {
        let is_later = self.today.is_some_and(|today| Some(today.date()) != self.work.rhythm.start);
        format!("{}, {}", if is_later { "first evening" } else { "tonight" }, self.day(0))
    }

    /// `Fri 2031-05-30`; `day 3` without a first date.
    fn day(&self, day: u32) -> String {
        match (self.work.rhythm.start, self.work.date(day)) {
            (_, Some(date)) => format!("{} {date}", Weekday::of(date).word()),
            (Some(_), None) => "past the calendar".into(),
            (None, None) => format!("day {}", day + 1),
        }
    }

    fn task(&self, number: usize, tonight: bool) -> BuildLine {
        let task = &self.work.tasks[number];
        let gate = if task.act.is_gate() { "GATE: " } else { "" };
        let mark = if task.done { "[x]" } else { "[ ]" };
        let name = task_on(self.plan, task.on, task.holes);
        BuildLine {
            of: LineOf::Task { act: task.act, on: task.on, tonight: tonight && !task.done },
            label: format!("{mark} {gate}{}  {name}", task.act.word()),
            detail: if task.done { self.done(task.act, task.on) } else { self.to_do(number) },
        }
    }

    fn to_do(&self, number: usize) -> String {
        let task = &self.work.tasks[number];
        if task.act == Act::PartnersYes {
            return self.signed();
        }
        let wait = if task.wait_h > 0.0 { format!(", then {:.0} h alone", task.wait_h.ceil()) } else { String::new() };
        format!("{:.0} min{wait}", task.minutes)
    }

    /// What the comments beside the plan say of a partner's yes.
    fn signed(&self) -> String {
        match self.editor.voice.signed(self.plan) {
            signed if signed.is_empty() => "nobody signed the plan".into(),
            signed => signed,
        }
    }

    /// `2031-05-30  12.6 V`; `noted as bedded` of what was not ticked.
    fn done(&self, act: Act, on: On) -> String {
        match (self.plan.work.tick(act, on), on) {
            (Some(tick), _) => {
                format!("{}  {}", tick.date, tick.reading.as_str().replace(['\n', '\t'], " ")).trim_end().to_string()
            }
            (None, On::Gear(id)) if self.plan.gear(id).is_some() => {
                let state = self.plan.gear(id).map(|gear| gear.state.word()).unwrap_or_default();
                format!("noted as {state}")
            }
            (None, _) => "by readings and states".into(),
        }
    }

    /// What was bedded and has not cured.
    fn cures(&self) -> Vec<BuildLine> {
        let curing = self.work.tasks.iter().filter(|task| {
            let bed = self.plan.work.tick(Act::Bed, task.on);
            task.act == Act::Cure && !task.done && bed.is_some()
        });
        let line = |task: &crate::study::work::Task| {
            let until = self.day(((BEGINS_H + task.wait_h) / 24.0).floor() as u32);
            let label = format!("cures until {until}: {}", task_on(self.plan, task.on, 0));
            BuildLine { of: LineOf::Wait, label, detail: format!("{:.0} h left", task.wait_h.ceil()) }
        };
        curing.map(line).collect()
    }

    /// What cannot be planned, what is done, and ticks of what is not in the plan any more.
    fn rest(&self, lines: &mut Vec<BuildLine>) {
        let tonight = self.done_tonight();
        let left = self.work.calendar.left.clone();
        let done: Vec<usize> =
            (0..self.work.tasks.len()).filter(|task| self.work.tasks[*task].done && !tonight.contains(task)).collect();
        for (words, tasks) in [("cannot be planned", left), ("done", done)] {
            if !tasks.is_empty() {
                lines.push(heading(format!("{words}: {}", tasks.len()), String::new()));
                lines.extend(tasks.iter().map(|task| self.task(*task, false)));
            }
        }
        let gone: Vec<BuildLine> = self.gone().collect();
        if !gone.is_empty() {
            lines.push(heading(format!("ticked, and no task of the plan any more: {}", gone.len()), String::new()));
            lines.extend(gone);
        }
    }

    fn gone(&self) -> impl Iterator<Item = BuildLine> + '_ {
        self.work.gone(self.plan).map(|tick| BuildLine {
            of: LineOf::Task { act: tick.act, on: tick.on, tonight: false },
            label: format!("[x] {}  {}", tick.act.word(), tick.on.named(self.plan)),
            detail: self.done(tick.act, tick.on),
        })
    }
}

fn heading(label: String, detail: String) -> BuildLine {
    BuildLine { of: LineOf::Heading, label, detail }
}

fn days_between(from: Date, to: Date) -> i32 {
    to.to_julian_day() - from.to_julian_day()
}
