//! One battery through one day: from one change to the next.
//!
//! Between two changes (a phase begins, a device drops off, the battery cuts out) every current is constant, so
//! the charge taken grows straight with time and each step is exact: `q += I_c t`, `I_c` the current that counts
//! ([`Cell::counted`]), `V = V_rest(1 - q / C(T)) - I R(T)`. What ends a step is solved for, not searched minute
//! by minute.

use super::cell::{Cell, Chilled};
use crate::plan::GearId;
use crate::units::Temperature;

/// A part of the day at one temperature.
#[derive(Clone, Copy, Debug)]
pub(super) struct Part {
    pub hours: f64,
    pub air: Temperature,
}

/// Something that draws on the battery.
#[derive(Clone, Debug)]
pub(super) struct Drain<'a> {
    pub gear: GearId,
    /// Mean current by part, A.
    pub amps: &'a [f64],
    /// Voltage at the battery below which it stops.
    pub stops_v: Option<f64>,
}

/// A stretch in which nothing changes but the charge.
#[derive(Clone, Copy, Debug)]
pub(super) struct Step {
    /// Which part of the day.
    pub part: usize,
    /// Hours into the day, from and until.
    pub from: f64,
    pub until: f64,
    /// Charge counted out of the battery at its begin and end, Ah.
    pub taken: (f64, f64),
    /// Current, A.
    pub amps: f64,
    pub chilled: Chilled,
}

/// A device that stopped before the day did.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Dropped {
    /// Which drain.
    pub drain: usize,
    /// Hours into the day.
    pub after: f64,
}

/// What came of the day.
#[derive(Clone, Debug, Default)]
pub(super) struct Run {
    pub steps: Vec<Step>,
    /// Hours until what may be planned with is gone.
    pub used_up: Option<f64>,
    /// Hours until it gives nothing more.
    pub empty: Option<f64>,
    pub dropped: Vec<Dropped>,
    /// What the whole day would take, counted, had nothing stopped, Ah.
    pub asked: f64,
}

impl Run {
    /// Hours until more than a share of what may be planned with is taken.
    pub fn passes(&self, cell: &Cell, share: f64) -> Option<f64> {
        self.steps.iter().find_map(|step| {
            let ((from, to), most) = (step.taken, share * cell.depth * step.chilled.capacity_ah);
            let part = (to > most * (1.0 + ROUNDING)).then(|| ((most - from) / (to - from)).clamp(0.0, 1.0));
            part.map(|part| step.from + part * (step.until - step.from))
        })
    }
}

impl Step {
    /// State of charge after so much was taken, 0 to 1.
    pub fn charge(&self, taken: f64) -> f64 {
        1.0 - taken / self.chilled.capacity_ah
    }
}

/// Lives the day of a battery that is full when it begins; `off` are left out of it.
pub(super) fn run(cell: &Cell, parts: &[Part], drains: &[Drain<'_>], off: &[usize]) -> Run {
    let mut day = Living { cell, drains, gone: vec![false; drains.len()], run: Run::default(), time: 0.0, taken: 0.0 };
    for drain in off {
        if let Some(gone) = day.gone.get_mut(*drain) {
            *gone = true;
        }
    }
    for (index, part) in parts.iter().enumerate() {
        day.run.asked += cell.counted(day.current_of_all(index, off)) * part.hours;
    }
    for (index, part) in parts.iter().enumerate() {
        if !day.live(index, part) {
            break;
        }
    }
    day.run.used_up = day.run.passes(cell, 1.0);
    day.run
}

/// The day while it is lived.
struct Living<'a> {
    cell: &'a Cell,
    drains: &'a [Drain<'a>],
    /// Which drains draw no more.
    gone: Vec<bool>,
    run: Run,
    time: f64,
    taken: f64,
}

impl Living<'_> {
    /// Lives one part; false when the battery is empty.
    fn live(&mut self, index: usize, part: &Part) -> bool {
        let chilled = self.cell.at(part.air);
        let ends = self.time + part.hours;
        let mut left = part.hours;
        while left > 0.0 {
            let (amps, first) = self.drawing(index);
            let counted = self.cell.counted(amps);
            let cut_out = self.cell.cut_out_v.unwrap_or(f64::NEG_INFINITY);
            let stops = first.unwrap_or(f64::NEG_INFINITY);
            let last = self.cell.charge_at(stops.max(cut_out), amps, chilled);
            let room = chilled.capacity_ah * (1.0 - last) - self.taken;
            let until_change = if room <= 0.0 { 0.0 } else { room / counted };
            // With a change that is not a number the part is lived to its end.
            let changes = until_change < left;
            if !changes {
                self.advance(index, chilled, amps, (ends, self.taken + counted * left));
                return true;
            }
            self.advance(index, chilled, amps, (self.time + until_change, self.taken + counted * until_change));
            left -= until_change;
            if last <= 0.0 || cut_out >= stops {
                self.run.empty = Some(self.time);
                return false;
            }
            self.drop_off(index, stops);
        }
        true
    }

    /// The current of what still draws in a part, and the highest voltage at which some of it stops.
    fn drawing(&self, part: usize) -> (f64, Option<f64>) {
        let (mut amps, mut first) = (0.0, None::<f64>);
        for (drain, gone) in self.drains.iter().zip(&self.gone) {
            let own = drain.amps.get(part).copied().unwrap_or(0.0);
            if *gone || own <= 0.0 {
                continue;
            }
            amps += own;
            if let Some(stops) = drain.stops_v {
                first = Some(first.map_or(stops, |first| first.max(stops)));
            }
        }
        (amps, first)
    }

    fn current_of_all(&self, part: usize, off: &[usize]) -> f64 {
        let drawn = self.drains.iter().enumerate().filter(|(index, _)| !off.contains(index));
        drawn.filter_map(|(_, drain)| drain.amps.get(part)).sum()
    }

    /// Moves on to a time and a charge taken.
    fn advance(&mut self, part: usize, chilled: Chilled, amps: f64, (until, taken): (f64, f64)) {
        self.run.steps.push(Step { part, from: self.time, until, taken: (self.taken, taken), amps, chilled });
        (self.time, self.taken) = (until, taken);
    }

    /// What stops at this voltage draws no more today.
    fn drop_off(&mut self, part: usize, stops: f64) {
        for (index, drain) in self.drains.iter().enumerate() {
            let draws = drain.amps.get(part).is_some_and(|amps| *amps > 0.0);
            if !self.gone[index] && draws && drain.stops_v.is_some_and(|own| own >= stops) {
                self.gone[index] = true;
                self.run.dropped.push(Dropped { drain: index, after: self.time });
            }
        }
    }
}

/// Charges that differ by less, as a share, are the same: sums of shares of an hour round.
pub(super) const ROUNDING: f64 = 1e-9;
