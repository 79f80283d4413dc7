//! One reading of a seat test: what it says, what the body makes of it, and which other reading says the opposite.

use super::{ODD_EYE_MM, ODD_MM, Refit};
use crate::geometry::Point;
use crate::plan::{GearId, Often, Plan, Taken};
use crate::study::body::Seated;
use crate::study::reach::gaps_mm;
use crate::study::rig::Rig;

/// What a reading says of touching.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Said {
    /// Touched without a lean; a twist may have been taken.
    Touched,
    /// Touched with a lean, and not without.
    WithLean,
    /// Not touched, leaning too.
    NotTouched,
    /// Not touched without a lean; nobody tried with one.
    NotUpright,
    /// Nothing: it is not touched under way.
    Nothing,
}

/// What became of a reading.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tried {
    /// Its place among the plan's readings.
    pub index: usize,
    /// The gear it is about.
    pub gear: GearId,
    /// What it says of touching.
    pub said: Said,
    /// Where the control was, from the seat as it is set now: boat frame, mm.
    pub at: Point,
    /// How far the unfitted body contradicts it, mm; 0 agrees.
    pub before_mm: f64,
    /// How far the refit body still does, mm.
    pub miss_mm: f64,
    /// The reading that says the opposite, by its place among the plan's.
    pub against: Option<usize>,
    /// The distance from the eye as taped, and with the refit eye, mm.
    pub eye_mm: Option<(f64, f64)>,
    /// Whether it could be read.
    pub seen: Option<bool>,
}

impl Tried {
    /// Whether touching contradicts the refit body by more than so much, mm.
    pub fn is_odd(&self, most_mm: f64) -> bool {
        self.miss_mm > most_mm
    }

    /// How far the refit eye is from where the tape has it, mm.
    pub fn off_eye_mm(&self) -> f64 {
        self.eye_mm.map_or(0.0, |(taped, after)| (after - taped).abs())
    }

    /// Whether nothing about it is odd by the default limits.
    pub fn fits(&self) -> bool {
        !self.is_odd(ODD_MM) && self.off_eye_mm() <= ODD_EYE_MM
    }
}

/// A reading made ready for the fit.
pub(super) struct Trial {
    index: usize,
    gear: GearId,
    said: Said,
    gripped: bool,
    /// The control from the present seat.
    at: Point,
    /// Eye and control at the time, and the distance taped between them.
    taped: Option<(Point, Point, f64)>,
    seen: Option<bool>,
}

/// Controls nearer to each other are in one place, mm.
const SAME_PLACE_MM: f64 = 1.0;

/// The readings that are used: switched on, of gear that is aboard or whose place was noted.
pub(super) fn trials(plan: &Plan, rig: &Rig, now: &Seated) -> Vec<Trial> {
    let mut trials: Vec<Trial> = Vec::new();
    let used = plan.readings.iter().enumerate().filter(|(_, reading)| !reading.off);
    for (index, reading) in used {
        let Taken::SeatTest { gear, touched, leaning, seen, distance, seat, at_mm, .. } = &reading.taken else {
            continue;
        };
        let Some(handling) = plan.gear(*gear).and_then(|gear| gear.spec.handling.as_ref()) else { continue };
        let Some(control) = at_mm.or_else(|| rig.item(*gear)?.control) else { continue };
        let then = seat.as_ref().map(|seat| Seated::on(plan, seat));
        let then = then.as_ref().unwrap_or(now);
        let said = match (handling.touched, touched, leaning) {
            (Often::Never, _, _) => Said::Nothing,
            (_, true, false) => Said::Touched,
            (_, true, true) => Said::WithLean,
            (_, false, true) => Said::NotTouched,
            (_, false, false) => Said::NotUpright,
        };
        let trial = Trial {
            index,
            gear: *gear,
            said,
            gripped: handling.gripped,
            at: control - then.hip + now.hip,
            taped: distance.map(|distance| (then.eye, control, distance.to_mm())),
            seen: *seen,
        };
        trials.retain(|older| older.gear != trial.gear || older.at.distance(trial.at) > SAME_PLACE_MM);
        trials.push(trial);
    }
    trials
}

/// Within reach or beyond it.
#[derive(Clone, Copy, PartialEq)]
enum Sense {
    Within,
    Beyond,
}

impl Said {
    /// What it says of reaching upright, and of reaching with a lean.
    fn senses(self) -> [Option<Sense>; 2] {
        use Sense::{Beyond, Within};
        match self {
            Self::Touched => [Some(Within), Some(Within)],
            Self::WithLean => [Some(Beyond), Some(Within)],
            Self::NotTouched => [Some(Beyond), Some(Beyond)],
            Self::NotUpright => [Some(Beyond), None],
            Self::Nothing => [None, None],
        }
    }

    /// What the person said, in words.
    pub fn word(self) -> &'static str {
        match self {
            Self::Touched => "touched",
            Self::WithLean => "touched with a lean",
            Self::NotTouched => "not touched",
            Self::NotUpright => "not touched without a lean",
            Self::Nothing => "not touched under way",
        }
    }
}

impl Trial {
    /// How far the control is from the hand without and with a lean, mm.
    fn gaps(&self, body: &Seated) -> [f64; 2] {
        gaps_mm(body, self.at, self.gripped)
    }

    /// By how much a body contradicts what is said of upright and of leaning, mm; negative agrees with that to spare.
    pub(super) fn misses(&self, body: &Seated) -> [Option<f64>; 2] {
        if self.said == Said::Nothing {
            return [None, None];
        }
        let (gaps, senses) = (self.gaps(body), self.said.senses());
        let miss =
            |kind: usize| senses[kind].map(|sense| if sense == Sense::Within { gaps[kind] } else { -gaps[kind] });
        // What is touched upright is touched leaning, what is not touched leaning is not upright.
        match self.said {
            Said::Touched => [miss(0), None],
            Said::NotTouched => [None, miss(1)],
            _ => [miss(0), miss(1)],
        }
    }

    /// How far a refit eye is from the taped distance, mm.
    pub(super) fn off_eye(&self, refit: Refit) -> Option<f64> {
        let (_, after) = self.eye(refit)?;
        self.taped.map(|(_, _, taped)| after - taped)
    }

    fn eye(&self, refit: Refit) -> Option<(f64, f64)> {
        let (eye, at, taped) = self.taped?;
        let moved = eye + Point::new(-refit.eye_aft_mm, 0.0, refit.eye_up_mm);
        Some((taped, moved.distance(at)))
    }

    fn worst(&self, body: &Seated) -> f64 {
        self.misses(body).into_iter().flatten().fold(0.0, f64::max)
    }
}

/// What became of each of them.
pub(super) fn judged(trials: &[Trial], unfitted: &Seated, body: &Seated, refit: Refit) -> Vec<Tried> {
    let gaps: Vec<[f64; 2]> = trials.iter().map(|trial| trial.gaps(body)).collect();
    let judge = |(place, trial): (usize, &Trial)| {
        let miss_mm = trial.worst(body);
        let against = if miss_mm > ODD_MM { opposite(trials, &gaps, place) } else { None };
        Tried {
            index: trial.index,
            gear: trial.gear,
            said: trial.said,
            at: trial.at,
            before_mm: trial.worst(unfitted),
            miss_mm,
            against: against.map(|other| trials[other].index),
            eye_mm: trial.eye(refit),
            seen: trial.seen,
        }
    };
    trials.iter().enumerate().map(judge).collect()
}

/// The reading that says the opposite of this one about what is easier to touch, by the most.
fn opposite(trials: &[Trial], gaps: &[[f64; 2]], place: usize) -> Option<usize> {
    let conflict = |other: usize| {
        let (here, there) = (trials[place].said.senses(), trials[other].said.senses());
        let of = |kind: usize| match (here[kind]?, there[kind]?) {
            (Sense::Within, Sense::Beyond) => Some(gaps[place][kind] - gaps[other][kind]),
            (Sense::Beyond, Sense::Within) => Some(gaps[other][kind] - gaps[place][kind]),
            _ => None,
        };
        [of(0), of(1)].into_iter().flatten().fold(0.0, f64::max)
    };
    let others = (0..trials.len()).map(|other| (other, conflict(other)));
    others.filter(|(_, by)| *by > 0.0).max_by(|a, b| a.1.total_cmp(&b.1)).map(|(other, _)| other)
}
