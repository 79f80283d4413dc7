//! The cursor in words, and what is under it.

pub mod afloat;
pub mod cables;
pub mod day;
pub(crate) mod work;

use crate::checks::Subject;
use crate::geometry::Spot;
use crate::plan::{Feature, FeatureKind, Level, Plan};
use crate::study::Study;
use crate::study::fit::Fit;
use crate::study::rig::{HoleRef, Support};

/// How near a hole or a small feature is still "under the cursor", mm, beside its own radius.
const NEAR_MM: f64 = 15.0;

pub use crate::sheets::place;

/// The thing under a spot: a hole before gear, gear before features.
pub fn under(plan: &Plan, study: &Study, spot: Spot) -> Option<Subject> {
    let hole = study
        .holes
        .holes
        .iter()
        .map(|hole| (hole.at.spot().distance(spot) - hole.bore_mm / 2.0, hole.id))
        .filter(|(off, id)| *off <= NEAR_MM && matches!(id, HoleRef::Own(_)))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    if let Some((_, id)) = hole {
        return Some(Subject::Hole(id));
    }
    if let Some(item) = study.rig.at(spot) {
        return Some(Subject::Gear(item.gear));
    }
    let visible = plan.hull.features.iter().filter(|f| !matches!(f.kind, FeatureKind::Foam { .. }));
    visible
        .map(|feature| (off_feature(feature, spot), feature.id))
        .filter(|(off, _)| *off <= NEAR_MM)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, id)| Subject::Feature(id))
}

/// A thing in words: its name, and for gear how it is held.
pub fn thing(plan: &Plan, study: &Study, subject: Subject) -> String {
    let name = subject.named(plan);
    if let Subject::Circuit(_) = subject {
        return format!("circuit {name}");
    }
    let Subject::Gear(id) = subject else { return name };
    let (Some(gear), Some(item)) = (plan.gear(id), study.rig.item(id)) else { return name };
    let held = match &item.fit {
        Fit::Held(Support::Feature(feature)) => {
            let on = plan.feature(*feature).map_or_else(|| feature.to_string(), |f| f.name.to_string());
            format!("{} on {on}", gear.mount.word())
        }
        Fit::Held(Support::Gear(other)) => {
            let on = plan.gear(*other).map_or_else(|| other.to_string(), |g| g.label.to_string());
            format!("{} on {on}", gear.mount.word())
        }
        Fit::Held(Support::Skin) => gear.mount.word().to_string(),
        Fit::Not(_) => "not held".to_string(),
    };
    let level = if item.level == Level::Deck { String::new() } else { format!(", {}", item.level.word()) };
    format!("{name}{level}, {held}")
}

/// Distance from a spot to a feature's shape, mm; zero on it.
fn off_feature(feature: &Feature, spot: Spot) -> f64 {
    let own = spot - feature.at_mm.spot();
    let rect =
        |length: f64, width: f64| (own.x.abs() - length / 2.0).max(0.0).hypot((own.y.abs() - width / 2.0).max(0.0));
    let round = |bore: f64| (own.distance(Spot::default()) - bore / 2.0).max(0.0);
    let points = |offsets: &[Spot]| offsets.iter().map(|o| o.distance(own)).fold(f64::INFINITY, f64::min);
    match &feature.kind {
        FeatureKind::Track { length, .. } | FeatureKind::Seam { length } => rect(length.to_mm(), 0.0),
        FeatureKind::Inserts { offsets_mm, .. } => points(offsets_mm),
        FeatureKind::Handle { bolts_mm, .. } => points(bolts_mm),
        FeatureKind::Scupper { top, .. } => round(top.to_mm()),
        FeatureKind::Hatch { opening, .. } => {
            let (length, width) = opening.size();
            rect(length, width)
        }
        FeatureKind::WirePort { bore } | FeatureKind::DrainPlug { bore } | FeatureKind::RodTube { bore } => {
            round(bore.to_mm())
        }
        FeatureKind::Foam { length, width, .. }
        | FeatureKind::SeatRail { length, width }
        | FeatureKind::DriveWell { length, width }
        | FeatureKind::TransducerRecess { length, width, .. } => rect(length.to_mm(), width.to_mm()),
    }
}

#[cfg(test)]
mod tests {
    use super::super::sample;
    use super::*;
    use crate::plan::{FeatureId, GearId};
    use crate::units::{Measure, Tape};

    fn check(x: f64, y: f64, tape: Tape, words: &str) {
        assert_eq!(place(&sample::plan(), Spot::new(x, y), Measure(tape)), words);
    }

    #[test]
    fn places_are_words_without_signs() {
        check(1220.0, 400.0, Tape::Metric, "1220 mm from stern, 400 mm to port, gunwale, port, 330 mm up");
        check(
            1220.0,
            -400.0,
            Tape::Inches,
            "48 1/16 in from stern, 15 3/4 in to starboard, gunwale, starboard, 13 in up",
        );
        check(2000.0, 0.0, Tape::Metric, "2000 mm from stern, on the centreline, footwell, 150 mm up");
        check(-100.0, 0.0, Tape::Metric, "100 mm behind the stern, on the centreline, beside the boat");
        check(2000.0, 900.0, Tape::Metric, "2000 mm from stern, 900 mm to port, beside the boat");
    }

    #[test]
    fn gear_hides_what_is_below_it() {
        let plan = sample::plan();
        let study = Study::of(&plan);
        let at = |x, y| under(&plan, &study, Spot::new(x, y));
        assert_eq!(at(2240.0, 372.0), Some(Subject::Gear(GearId(1))));
        assert_eq!(at(2400.0, 372.0), Some(Subject::Feature(FeatureId(1))));
        assert_eq!(at(2700.0, 0.0), Some(Subject::Gear(GearId(2))));
        assert_eq!(at(2000.0, 100.0), None);
        assert_eq!(thing(&plan, &study, Subject::Gear(GearId(2))), "battery 50 ah, inside the hull, bolts");
    }
}
