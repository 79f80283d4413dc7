//! What passes an opening together.

use super::ends::usual_mm;
use super::search::Search;
use super::{CableRef, CableRun};
use crate::geometry::Point;
use crate::plan::Via;

/// An opening with every cable that passes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Bundle {
    /// The opening.
    pub opening: Via,
    /// Where, boat frame, mm.
    pub at: Point,
    /// Its bore, of an oblong one the narrow side, mm.
    pub bore_mm: f64,
    /// What passes it, in the order of the report.
    pub cables: Vec<CableRef>,
    /// Cross-sections of the cables over the bore's, percent.
    pub fill_percent: f64,
}

/// All openings that cables pass, in the order in which they are first met.
pub(super) fn all(runs: &[CableRun], search: &Search<'_>) -> Vec<Bundle> {
    let mut bundles: Vec<Bundle> = Vec::new();
    for run in runs {
        let Ok(way) = &run.way else { continue };
        let diameter = run.tail.map_or_else(|| usual_mm(run.signal), |tail| tail.cable_mm);
        for (opening, step) in way.passages() {
            let known = bundles.iter().position(|bundle| bundle.opening == opening);
            let index = known.unwrap_or_else(|| {
                let bore_mm = search.gate(opening).map_or(0.0, |gate| gate.bore_mm);
                bundles.push(Bundle { opening, at: step.at, bore_mm, cables: Vec::new(), fill_percent: 0.0 });
                bundles.len() - 1
            });
            let bundle = &mut bundles[index];
            bundle.cables.push(run.id);
            let share = diameter / bundle.bore_mm;
            bundle.fill_percent += if share.is_finite() { 100.0 * share * share } else { 0.0 };
        }
    }
    bundles
}
