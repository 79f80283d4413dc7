//! Which holes came and went between two plans, wherever they come from.

use crate::geometry::Spot;
use crate::study::Study;
use crate::study::holes::Hole;

/// How far a hole may be off the one it was, and how much wider, mm: less than a drill wanders. Common practice, no
/// source.
const SAME_MM: f64 = 1.0;

/// Holes without a counterpart of the same bore in the same place, mm.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Holes {
    /// Only then.
    pub gone: Vec<Spot>,
    /// Only now.
    pub new: Vec<Spot>,
}

impl Holes {
    /// Compares the holes of two plans.
    pub(super) fn of(then: &Study, now: &Study) -> Self {
        let (then, now) = (&then.holes.holes, &now.holes.holes);
        Self { gone: only_in(then, now), new: only_in(now, then) }
    }
}

fn only_in(these: &[Hole], those: &[Hole]) -> Vec<Spot> {
    let same =
        |a: &Hole, b: &Hole| a.at.spot().distance(b.at.spot()) <= SAME_MM && (a.bore_mm - b.bore_mm).abs() <= SAME_MM;
    these.iter().filter(|hole| !those.iter().any(|other| same(hole, other))).map(|hole| hole.at.spot()).collect()
}
