//! The heel at which water comes in: the first of gunwale, hatch and open hole that goes under.
//!
//! Concept of ISO 12217 (downflooding angle): hatches count as open, because on the water they are opened.

use super::righting::crossing;
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
/// or along one of its curves of levers. `held` holds the boat at a heel, starting from a lever nearby.
pub(super) fn first(
    inlets: &[(Inlet, Point)],
    rest: &Equilibrium,
    curves: [&[RightingArm]; 2],
    held: impl FnMut(f64, &RightingArm) -> Option<RightingArm>,
) -> Option<Flooding> {
    let heeled = curves.into_iter().filter_map(|curve| along(inlets, curve));
    let soonest = heeled.min_by(|a, b| a.0.heel_deg.abs().total_cmp(&b.0.heel_deg.abs()));
    let heeled = soonest.map(|(flooding, between)| match between {
        // At the gunwale's own heel the deck goes under, and nothing is straight: the boat is held there in between.
        Some(pair) => {
            let height = |arm: &RightingArm| arm.plane.height(flooding.at);
            Flooding { heel_deg: crossing(pair, height, held, NEAR_MM), ..flooding }
        }
        None => flooding,
    });
    let swamped = under(inlets, &rest.plane).map(|(inlet, at)| Flooding { heel_deg: rest.heel_deg, inlet, at });
    swamped.into_iter().chain(heeled).min_by(|a, b| a.heel_deg.abs().total_cmp(&b.heel_deg.abs()))
}

/// The inlet that lies deepest under a water plane.
fn under(inlets: &[(Inlet, Point)], plane: &WaterPlane) -> Option<(Inlet, Point)> {
    let heights =
        inlets.iter().map(|&(inlet, at)| (plane.height(at), (inlet, at))).filter(|(height, _)| *height <= 0.0);
    heights.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, inlet)| inlet)
}

/// The first inlet that goes under along a curve, roughly where, and the levers before and after; none for an inlet
/// that is under from the start.
fn along<'a>(inlets: &[(Inlet, Point)], curve: &'a [RightingArm]) -> Option<(Flooding, Option<[&'a RightingArm; 2]>)> {
    let upright = curve.first()?;
    if let Some((inlet, at)) = under(inlets, &upright.plane) {
        return Some((Flooding { heel_deg: upright.heel_deg, inlet, at }, None));
    }
    curve.windows(2).find_map(|pair| {
        let crossing = |&(inlet, at): &(Inlet, Point)| {
            let after = pair[1].plane.height(at);
            (after <= 0.0).then(|| Flooding { heel_deg: straight([&pair[0], &pair[1]], at), inlet, at })
        };
        let crossings = inlets.iter().filter_map(crossing);
        let soonest = crossings.min_by(|a, b| a.heel_deg.abs().total_cmp(&b.heel_deg.abs()));
        soonest.map(|flooding| (flooding, Some([&pair[0], &pair[1]])))
    })
}

/// The heel at which a point passes the water, heights taken as straight between two levers, degrees.
fn straight([dry, wet]: [&RightingArm; 2], at: Point) -> f64 {
    let (before, after) = (dry.plane.height(at), wet.plane.height(at));
    dry.heel_deg + before / (before - after) * (wet.heel_deg - dry.heel_deg)
}

/// Near enough, mm of height: less than a hundredth of a degree at half a metre from the middle.
const NEAR_MM: f64 = 0.05;
