//! How the boat answers when the centre of its mass shifts: linear about the rest that is wanted.

use super::Range;
use crate::geometry::{Body, Point, Spot};
use crate::plan::Plan;
use crate::study::Study;
use crate::study::float::{Attitude, Load, equilibrium, equilibrium_from};

/// The boat's answer to a shift of the centre of its whole mass, mm.
///
/// With `d` that shift along the boat, `tan(trim) = d / GM_L` about the attitude that is wanted, and across it
/// `tan(heel) = -d / GM`, `GM` less what free water in livewells takes off it: `W GM tan(heel)` is the moment
/// `w d` of a weight moved across. Valid for the few degrees about that attitude. Source: any textbook of ship
/// stability, inclining experiment.
pub(super) struct Answer {
    pub(super) range: Range,
    /// Mass of everything aboard and the boat, kg.
    pub(super) mass_kg: f64,
    body: Body,
    load: Load,
    /// The shift that brings it to the middle of the range, mm.
    needed: Spot,
    gm_mm: f64,
    gm_long_mm: f64,
}

impl Answer {
    /// Finds the shift that is needed; `None` where the boat as planned does not float.
    pub(super) fn of(plan: &Plan, study: &Study, range: Range) -> Option<Self> {
        let body = Body::of(&plan.hull.form).ok()?;
        let planned = study.float.planned()?;
        let (load, wanted) = (planned.load, range.middle());
        let mut rest = planned.rest.ok()?;
        let mut needed = Spot::default();
        for _ in 0..MOST_STEPS {
            let (heel, trim) = (rest.heel_deg - wanted.heel_deg, rest.trim_deg - wanted.trim_deg);
            if heel.abs().max(trim.abs()) < NEAR_DEG {
                break;
            }
            let along = -trim.to_radians().tan() * rest.gm_long_mm.max(LEAST_GM_MM);
            let across = heel.to_radians().tan() * rest.gm_mm.max(LEAST_GM_MM);
            let next = needed + Spot::new(along, across);
            let from = Attitude { heel_deg: rest.heel_deg, trim_deg: rest.trim_deg };
            match equilibrium_from(&body, &shifted(&load, next.at(0.0)), from) {
                Ok(found) => (rest, needed) = (found, next),
                Err(_) => break,
            }
        }
        Some(Self {
            range,
            mass_kg: load.mass_kg,
            body,
            load,
            needed,
            gm_mm: (rest.gm_mm - planned.free_surface_mm).max(LEAST_GM_MM),
            gm_long_mm: rest.gm_long_mm.max(LEAST_GM_MM),
        })
    }

    /// The shifts that bring it into range: from the aft starboard corner to the fore port one.
    pub(super) fn window(&self) -> (Spot, Spot) {
        let half_trim = (self.range.stern_deg / 2.0).to_radians().tan() * self.gm_long_mm;
        let half_list = self.range.list_deg.to_radians().tan() * self.gm_mm;
        let half = Spot::new(half_trim, half_list);
        (self.needed - half, self.needed + half)
    }

    /// The attitude that a shift leads to, by the formulas.
    pub(super) fn predict(&self, shift: Spot) -> Attitude {
        let (by, wanted) = (shift - self.needed, self.range.middle());
        Attitude {
            heel_deg: wanted.heel_deg - (by.y / self.gm_mm).atan().to_degrees(),
            trim_deg: wanted.trim_deg + (by.x / self.gm_long_mm).atan().to_degrees(),
        }
    }

    /// How far a shift falls short of the middle of the range or goes beyond it, mm. The same for mirrored plans.
    pub(super) fn miss(&self, shift: Spot) -> f64 {
        let by = shift - self.needed;
        (by.x / self.gm_long_mm).hypot(by.y / self.gm_mm)
    }

    /// The attitude that a shift leads to, by the body.
    pub(super) fn rest(&self, shift: Point) -> Option<Attitude> {
        let rest = equilibrium(&self.body, &shifted(&self.load, shift)).ok()?;
        Some(Attitude { heel_deg: rest.heel_deg, trim_deg: rest.trim_deg })
    }
}

/// The same with its centre elsewhere.
fn shifted(load: &Load, by: Point) -> Load {
    Load { centre: load.centre + by, ..*load }
}

/// Three or four steps are usual.
const MOST_STEPS: usize = 8;
const NEAR_DEG: f64 = 0.005;
/// A boat that is not stiff at all answers to anything; this keeps the numbers numbers.
const LEAST_GM_MM: f64 = 1.0;
