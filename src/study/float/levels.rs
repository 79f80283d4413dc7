//! The water as planned: how high every point of the boat stands over it, at rest and heeled; floors and scuppers.

use super::Afloat;
use super::wells::Well;
use crate::geometry::{Body, Cutter, Point, WaterPlane};
use crate::plan::{FeatureId, FeatureKind, Plan, Posture, ZoneId};
use crate::study::holes::HEEL_DEG;
use crate::study::posture;

/// The water around the boat as planned.
#[derive(Clone, Debug, PartialEq)]
pub struct Levels {
    /// The water's surface at rest, in the boat frame.
    pub rest: WaterPlane,
    /// The same when the boat heels [`HEEL_DEG`] to port and to starboard.
    pub heeled: [WaterPlane; 2],
    /// Whether it is the hull's stated waterline, because the boat as planned finds no rest.
    pub stated: bool,
    /// Floors that scuppers drain, by their lowest drain.
    pub floors: Vec<Floor>,
    /// Every scupper.
    pub scuppers: Vec<Scupper>,
}

/// A floor that is open to the water through its scuppers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Floor {
    /// The zone.
    pub zone: ZoneId,
    /// Where it is lowest over the water, mm.
    pub at: Point,
    /// Its height over the water there, mm; negative: water stands on it.
    pub height_mm: f64,
    /// Water that stands in it at rest, litres; no load of the boat's, which has no buoyancy there.
    pub standing_l: f64,
}

/// A drain through the hull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scupper {
    /// The feature.
    pub feature: FeatureId,
    /// Its upper end, mm.
    pub at: Point,
    /// Height of the upper end over the water, mm; negative: it lets water in.
    pub height_mm: f64,
}

/// How stiff the boat is in a posture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// The posture.
    pub posture: Posture,
    /// Metacentric height with free surfaces, mm.
    pub gm_mm: f64,
}

impl Levels {
    /// Finds the water; the hull's stated waterline where the boat finds no rest.
    pub(super) fn of(plan: &Plan, wells: &[Well], planned: Option<&Afloat>) -> Self {
        let stated = WaterPlane::new(0.0, 0.0, plan.hull.waterline.value.to_mm());
        let rest = planned.and_then(|case| case.rest.ok());
        let plane = rest.map_or(stated, |rest| rest.plane);
        let heeled = [-HEEL_DEG, HEEL_DEG].map(|heel| {
            let arms = planned.into_iter().flat_map(|case| case.gz.iter().chain(&case.gz_port));
            let held = arms.into_iter().find(|arm| arm.heel_deg == heel && rest.is_some());
            held.map_or_else(
                || WaterPlane::new(heel.to_radians(), 0.0, stated.level * heel.to_radians().cos()),
                |arm| arm.plane,
            )
        });
        let scuppers = scuppers(plan, &plane);
        Self { floors: floors(wells, &plane), scuppers, rest: plane, heeled, stated: rest.is_none() }
    }

    /// Height of a point over the water at rest, mm; negative under it.
    pub fn height(&self, at: Point) -> f64 {
        self.rest.height(at)
    }

    /// The same when the boat heels [`HEEL_DEG`] to the side of the point.
    pub fn height_heeled(&self, at: Point) -> f64 {
        self.heeled[usize::from(at.y < 0.0)].height(at)
    }
}

fn scuppers(plan: &Plan, plane: &WaterPlane) -> Vec<Scupper> {
    let drains = plan.hull.features.iter().filter(|f| matches!(f.kind, FeatureKind::Scupper { .. }));
    drains.map(|f| Scupper { feature: f.id, at: f.at_mm, height_mm: plane.height(f.at_mm) }).collect()
}

/// The floors of wells, by the lowest of their corners over the water.
fn floors(wells: &[Well], plane: &WaterPlane) -> Vec<Floor> {
    let floor = |well: &Well| {
        let height = well.zone.height.value.to_mm();
        let corners = well.zone.outline_mm.corners.iter().map(|corner| corner.at(height));
        let at = corners.min_by(|a, b| plane.height(*a).total_cmp(&plane.height(*b)))?;
        let height_mm = plane.height(at);
        let standing_l = if height_mm < 0.0 { standing(well, plane) } else { 0.0 };
        Some(Floor { zone: well.zone.id, at, height_mm, standing_l })
    };
    wells.iter().filter_map(floor).collect()
}

/// Water in a well as high as the water around the boat, litres.
fn standing(well: &Well, plane: &WaterPlane) -> f64 {
    let room = Body::of_recesses(&well.room);
    room.map_or(0.0, |room| Cutter::new(&room).cut(plane, Point::default()).volume / 1.0e6)
}

/// Metacentric height by posture: at the same displacement the metacentre stays and only the centre of mass
/// moves, `GM' = GM - m_a (z' - z) / m` with `m_a` the angler's mass at height `z` as planned. Valid for small
/// trim and heel. Source: any textbook of ship stability, a mass moved upward.
pub(super) fn stiffness(plan: &Plan, planned: &Afloat) -> Vec<Stiffness> {
    let Some(gm) = planned.gm_mm() else { return Vec::new() };
    let share = plan.angler.mass.value.to_kg() / planned.load.mass_kg;
    let now = posture::seated_centre(plan).z;
    let mut postures = vec![Posture::SeatedLow];
    postures.extend(plan.hull.seat.high.map(|_| Posture::SeatedHigh));
    postures.push(Posture::Standing);
    let stiff = |posture| Stiffness { posture, gm_mm: gm - share * (posture::centre(plan, posture).z - now) };
    postures.into_iter().map(stiff).collect()
}
