//! The heel at which water comes in: the first of gunwale, hatch and open hole that goes under.
//!
//! Concept of ISO 12217 (downflooding angle): hatches count as open, because on the water they are opened.

use super::{Equilibrium, RightingArm};
use crate::geometry::{Form, Point, WaterPlane};
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
pub fn inlets(plan: &Plan, form: &Form) -> Vec<(Inlet, Point)> {
    let mut inlets = Vec::new();
    for section in &form.sections {
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

/// The least heel from upright at which one of the inlets goes under, whichever side that is: where the boat rests,
/// or along one of its curves of levers.
///
/// Between two levers height of the water and trim are taken as straight.
pub(super) fn first(inlets: &[(Inlet, Point)], rest: &Equilibrium, curves: [&[RightingArm]; 2]) -> Option<Flooding> {
    let swamped = under(inlets, &rest.plane).map(|(inlet, at)| Flooding { heel_deg: rest.heel_deg, inlet, at });
    let heeled = curves.into_iter().filter_map(|curve| along(inlets, curve));
    swamped.into_iter().chain(heeled).min_by(|a, b| a.heel_deg.abs().total_cmp(&b.heel_deg.abs()))
}

/// The inlet that lies deepest under a water plane.
fn under(inlets: &[(Inlet, Point)], plane: &WaterPlane) -> Option<(Inlet, Point)> {
    let heights =
        inlets.iter().map(|&(inlet, at)| (plane.height(at), (inlet, at))).filter(|(height, _)| *height <= 0.0);
    heights.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, inlet)| inlet)
}

fn along(inlets: &[(Inlet, Point)], curve: &[RightingArm]) -> Option<Flooding> {
    let upright = curve.first()?;
    if let Some((inlet, at)) = under(inlets, &upright.plane) {
        return Some(Flooding { heel_deg: upright.heel_deg, inlet, at });
    }
    curve.windows(2).find_map(|pair| {
        let crossing = |&(inlet, at): &(Inlet, Point)| {
            let (before, after) = (pair[0].plane.height(at), pair[1].plane.height(at));
            (after <= 0.0).then(|| (before / (before - after), inlet, at))
        };
        let soonest = inlets.iter().filter_map(crossing).min_by(|a, b| a.0.total_cmp(&b.0));
        soonest.map(|(_, inlet, at)| Flooding { heel_deg: passes(pair, at), inlet, at })
    })
}

/// The heel between two levers at which a point passes the water, degrees.
fn passes(pair: &[RightingArm], at: Point) -> f64 {
    let between = |share: f64, figure: fn(&RightingArm) -> f64| {
        let (from, to) = (figure(&pair[0]), figure(&pair[1]));
        from + share * (to - from)
    };
    let (mut dry, mut wet) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(dry, wet);
        let (heel, trim) = (between(middle, |arm| arm.heel_deg), between(middle, |arm| arm.trim_deg));
        let plane = WaterPlane::new(heel.to_radians(), trim.to_radians(), between(middle, |arm| arm.plane.level));
        if plane.height(at) > 0.0 { dry = middle } else { wet = middle }
    }
    between(wet, |arm| arm.heel_deg)
}

/// To a thousandth of a degree.
const HALVINGS: u32 = 13;
