//! The heel at which water comes in: the first of gunwale, hatch and open hole that goes under.
//!
//! Concept of ISO 12217 (downflooding angle): hatches count as open, because on the water they are opened.

use super::RightingArm;
use crate::geometry::{Point, WaterPlane};
use crate::plan::{Fate, FeatureId, FeatureKind, HoleId, Plan, Seal};

/// Where water comes in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inlet {
    /// Over the gunwale.
    Gunwale,
    /// Through a hatch of the hull.
    Hatch(FeatureId),
    /// Through a hole that nothing closes.
    Hole(HoleId),
}

/// The first water that comes in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Flooding {
    /// The heel, degrees, positive to starboard.
    pub heel_deg: f64,
    /// Where it comes in.
    pub inlet: Inlet,
    /// The place, mm in the boat frame.
    pub at: Point,
}

/// Every place where water can come in; an opening by its lowest points.
pub fn inlets(plan: &Plan) -> Vec<(Inlet, Point)> {
    let mut inlets = Vec::new();
    for section in &plan.hull.form.sections {
        let (half, z) = section.gunwale();
        inlets.extend([half, -half].map(|y| (Inlet::Gunwale, Point::new(section.x_mm, y, z))));
    }
    for feature in &plan.hull.features {
        if let FeatureKind::Hatch { opening, .. } = feature.kind {
            let (length, width) = opening.size();
            for (x, y) in [(0.5, 0.0), (-0.5, 0.0), (0.0, 0.5), (0.0, -0.5)] {
                let rim = feature.at_mm + Point::new(x * length, y * width, 0.0);
                inlets.push((Inlet::Hatch(feature.id), rim));
            }
        }
    }
    for hole in &plan.penetrations {
        let unsealed = matches!(hole.fate, Fate::New | Fate::Reused(_)) && hole.seal == Seal::None;
        if hole.fate == Fate::Open || unsealed {
            let spot = hole.spot();
            inlets.push((Inlet::Hole(hole.id), spot.at(plan.hull.surface(spot).unwrap_or_default())));
        }
    }
    inlets
}

/// The least heel of a curve of levers at which one of the inlets goes under; straight between its points.
///
/// A curve to starboard asks as well what a heel to port does: the boat's load may be off its middle, but its
/// openings are looked at on both sides.
pub fn first(plan: &Plan, curve: &[RightingArm]) -> Option<Flooding> {
    let inlets = inlets(plan);
    let under = |plane: &WaterPlane, at: Point| plane.height(at) <= 0.0;
    let start = curve.first()?;
    if let Some(&(inlet, at)) = inlets.iter().find(|(_, at)| under(&start.plane, *at)) {
        return Some(Flooding { heel_deg: start.heel_deg, inlet, at });
    }
    curve.windows(2).find_map(|pair| {
        let crossing = |&(inlet, at): &(Inlet, Point)| {
            let (before, after) = (pair[0].plane.height(at), pair[1].plane.height(at));
            let share = before / (before - after);
            (after <= 0.0).then(|| Flooding {
                heel_deg: pair[0].heel_deg + share * (pair[1].heel_deg - pair[0].heel_deg),
                inlet,
                at,
            })
        };
        inlets.iter().filter_map(crossing).min_by(|a, b| a.heel_deg.abs().total_cmp(&b.heel_deg.abs()))
    })
}
