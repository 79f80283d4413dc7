//! What was noted sitting in the boat, and the body that follows from it.
//!
//! A reading says that a control was touched, without or with a lean, or was not; where the eye was from it. Each is an
//! inequality about how far the hand is from it (`gaps_mm` of the reach), or a distance. Three figures of the reach
//! (arm, limits of lean and twist) and two of the eye (height, set-back) are refit by least squares with the unfitted
//! body as prior ([`mod@least`]): what no reading speaks of stays. Readings keep the control's place and the seat's setting
//! of their day, so that moving either does not change what they said.
//!
//! Bounds: no figure goes further than [`MOST_SPREADS`] spreads from the unfitted body; the spreads are common
//! practice, no source. What is still missed then is the reading's residual, and where another reading says the opposite
//! it is named with it. The body found is the one that reach, sight and clearance use.

mod least;
mod tried;

#[cfg(test)]
mod tests;

pub use least::MOST_SPREADS;
pub use tried::{Said, Tried};

use self::least::least;
use self::tried::Trial;
use super::body::Seated;
use super::reach::{self, Band};
use super::rig::Rig;
use crate::geometry::Point;
use crate::plan::{GearId, Plan};

/// The length of the arm, one standard deviation about its ratio or its measure, mm: forearm and hand of one stature
/// differ by 23 mm between persons (ANSUR II), the upper arm by 18.
const ARM_SPREAD_MM: f64 = 30.0;
/// The lean and the twist a person takes for safe: common practice, no source.
const LEAN_SPREAD_DEG: f64 = 6.0;
const TWIST_SPREAD_DEG: f64 = 12.0;
/// The seated eye of one stature: 15 mm between persons (from ANSUR II), and as much for the seat's give.
const EYE_SPREAD_MM: f64 = 25.0;

/// A touched control was within reach by this much, one that was not was out by this much, mm: nobody notes the edge.
const MARGIN_MM: f64 = 5.0;
/// How well it is known where a hand stopped, mm.
const TOUCH_SPREAD_MM: f64 = 3.0;
/// How well a tape finds the distance from the eye, mm.
const TAPE_SPREAD_MM: f64 = 10.0;

/// A reading missed by more contradicts, mm. Common practice, no source.
pub const ODD_MM: f64 = 15.0;
/// A distance from the eye missed by more contradicts, mm. Common practice, no source.
pub const ODD_EYE_MM: f64 = 50.0;

/// By how much the refit body differs from the unfitted one.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Refit {
    /// The arm, mm longer.
    pub arm_mm: f64,
    /// The limit of the lean, degrees further.
    pub lean_deg: f64,
    /// The limit of the twist, degrees further.
    pub twist_deg: f64,
    /// The eye, mm higher.
    pub eye_up_mm: f64,
    /// The eye, mm further aft.
    pub eye_aft_mm: f64,
}

/// A piece of gear before and after the seat tests.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The gear.
    pub gear: GearId,
    /// Its band with the unfitted body.
    pub before: Band,
    /// Its band with the refit one.
    pub after: Band,
}

/// What the seat tests say and what follows.
#[derive(Clone, Debug)]
pub struct SeatTest {
    /// The body with what the readings changed: the one to use.
    pub body: Seated,
    /// The body without.
    pub unfitted: Seated,
    /// The difference.
    pub refit: Refit,
    /// The readings that are used, in the plan's order; of several that tried one control in one place the last.
    pub tried: Vec<Tried>,
    /// Every piece of gear that is touched, if a reading is used.
    pub bands: Vec<Change>,
}

impl SeatTest {
    /// Reads what was noted and refits the body.
    pub fn of(plan: &Plan, rig: &Rig) -> Self {
        let unfitted = Seated::of(plan);
        let trials = tried::trials(plan, rig, &unfitted);
        if trials.is_empty() {
            let body = unfitted.clone();
            return Self { body, unfitted, refit: Refit::default(), tried: Vec::new(), bands: Vec::new() };
        }
        let refit = fit(&unfitted, &trials);
        let body = refit.applied(&unfitted);
        let tried = tried::judged(&trials, &unfitted, &body, refit);
        let bands = reach::touched(plan, rig).map(|(gear, handling, control)| {
            let [before, after] = [&unfitted, &body].map(|body| reach::band(body, control, handling.gripped));
            Change { gear, before, after }
        });
        Self { tried, bands: bands.collect(), body, unfitted, refit }
    }

    /// The last reading used that is about this gear.
    pub fn of_gear(&self, gear: GearId) -> Option<&Tried> {
        self.tried.iter().rev().find(|tried| tried.gear == gear)
    }

    /// What became of a reading, by its place among the plan's.
    pub fn reading(&self, index: usize) -> Option<&Tried> {
        self.tried.iter().find(|tried| tried.index == index)
    }

    /// The root of the mean square of what the readings of touching miss by, mm.
    pub fn residual_mm(&self) -> f64 {
        let squares: f64 = self.tried.iter().map(|tried| tried.miss_mm * tried.miss_mm).sum();
        (squares / self.tried.len().max(1) as f64).sqrt()
    }

    /// The gear whose band the readings changed.
    pub fn changes(&self) -> impl Iterator<Item = &Change> {
        self.bands.iter().filter(|change| change.before != change.after)
    }
}

impl Refit {
    /// The body with these differences.
    pub fn applied(self, body: &Seated) -> Seated {
        let mut body = body.clone();
        for arm in [&mut body.grip, &mut body.fingertip, &mut body.lengths.grip, &mut body.lengths.fingertip] {
            *arm = (*arm + self.arm_mm).max(1.0);
        }
        body.lean_limit_deg = (body.lean_limit_deg + self.lean_deg).max(0.0);
        body.twist_limit_deg = (body.twist_limit_deg + self.twist_deg).max(0.0);
        let eye = Point::new(-self.eye_aft_mm, 0.0, self.eye_up_mm);
        (body.eye, body.head_top) = (body.eye + eye, body.head_top + Point { x: 0.0, ..eye });
        body.lengths.eye_over_shoulder += self.eye_up_mm;
        body.lengths.head_over_shoulder += self.eye_up_mm;
        body
    }

    /// Whether nothing differs by as much as can be told.
    pub fn is_nothing(&self) -> bool {
        let figures = [self.arm_mm, self.lean_deg, self.twist_deg, self.eye_up_mm, self.eye_aft_mm];
        figures.iter().all(|figure| figure.abs() < 0.5)
    }
}

/// The reach and the eye have no figure in common: each is refit by itself.
fn fit(body: &Seated, trials: &[Trial]) -> Refit {
    let reached = |[arm, lean, twist]: [f64; 3]| Refit {
        arm_mm: arm * ARM_SPREAD_MM,
        lean_deg: lean * LEAN_SPREAD_DEG,
        twist_deg: twist * TWIST_SPREAD_DEG,
        ..Refit::default()
    };
    let seen = |[up, aft]: [f64; 2]| Refit {
        eye_up_mm: up * EYE_SPREAD_MM,
        eye_aft_mm: aft * EYE_SPREAD_MM,
        ..Refit::default()
    };
    let touching = least(|at| {
        let body = reached(at).applied(body);
        let violated = |miss: f64| (miss + MARGIN_MM).max(0.0) / TOUCH_SPREAD_MM;
        trials.iter().flat_map(|trial| trial.misses(&body)).flatten().map(violated).collect()
    });
    let seeing = least(|at| {
        let off = trials.iter().filter_map(|trial| trial.off_eye(seen(at)));
        off.map(|off| off / TAPE_SPREAD_MM).collect()
    });
    let eye = seen(seeing);
    Refit { eye_up_mm: eye.eye_up_mm, eye_aft_mm: eye.eye_aft_mm, ..reached(touching) }
}
