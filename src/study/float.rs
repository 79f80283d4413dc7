//! Float: where the boat sits in the water, for every load case that is afloat.
//!
//! [`levels`] tells what the water at rest means for floors, scuppers and every other point of the boat,
//! [`flooding`] the heel at which water comes in, [`leaning`] what a person who leans out does. [`moves`] is no part
//! of it: it looks for what brings the boat level when it is asked.

pub mod flooding;
pub mod leaning;
pub mod levels;
pub mod moves;

mod equilibrium;
mod righting;
mod settle;

pub use equilibrium::{Attitude, Equilibrium, Load, NoFloat, equilibrium, equilibrium_from};
pub use righting::{RightingArm, gz_area, gz_curve, righting_arm};

use super::rig::Rig;
use super::weights::{LoadCase, Weights, livewell_in_use, livewell_water};
use crate::geometry::{Body, BodyError, Form, Outline, Point};
use crate::plan::{Plan, Water};
use crate::units::Temperature;
use flooding::Flooding;
use leaning::Leaning;
use levels::{Levels, Stiffness};

/// How the boat floats, or why its form is no body.
#[derive(Clone, Debug, PartialEq)]
pub struct Float {
    /// Density of the water of the outing, kg per m³.
    pub water_kg_per_m3: f64,
    /// The load cases that are afloat, *as planned* first: all but *transport*.
    pub cases: Result<Vec<Afloat>, BodyError>,
    /// The water as planned, at rest and heeled, and what it reaches.
    pub levels: Levels,
    /// How stiff the boat is by posture, as planned otherwise: seated low, seated high, standing.
    pub stiffness: Vec<Stiffness>,
    /// The angler leaning out to the worse side, as planned otherwise.
    pub leaning: Option<Leaning>,
}

/// One load case in the water.
#[derive(Clone, Debug, PartialEq)]
pub struct Afloat {
    /// The load case's name.
    pub name: &'static str,
    /// What it carries.
    pub load: Load,
    /// Where it rests.
    pub rest: Result<Equilibrium, NoFloat>,
    /// What the water in livewells and bilge takes off `gm_mm`, mm.
    pub free_surface_mm: f64,
    /// Righting levers to starboard; empty when it does not float.
    pub gz: Vec<RightingArm>,
    /// Heights of the gunwale over the water at rest, both sides at every section.
    pub freeboard: Vec<Freeboard>,
    /// The least heel, to the side that takes water first, at which water comes in; `None` beyond 60 degrees.
    pub flooding: Option<Flooding>,
}

/// Height of a spot of the gunwale over the water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Freeboard {
    /// The gunwale, mm in the boat frame.
    pub at: Point,
    /// Its height over the water, mm; negative under it.
    pub height_mm: f64,
}

impl Float {
    /// Floats the plan's load cases.
    pub fn of(plan: &Plan, rig: &Rig, weights: &Weights) -> Self {
        let water_kg_per_m3 = water_density(plan.outing.water, plan.outing.water_temperature);
        let body = Body::of(&plan.hull.form);
        let cases = body.as_ref().map_err(|error| *error).map(|body| {
            let afloat = |case| Afloat::of(plan, rig, body, case, water_kg_per_m3);
            weights.cases.iter().filter(|case| case.name != "transport").map(afloat).collect::<Vec<_>>()
        });
        let planned = cases.as_ref().ok().and_then(|cases| cases.first());
        let levels = Levels::of(plan, body.as_ref().ok(), planned);
        let stiffness = planned.map(|planned| levels::stiffness(plan, planned)).unwrap_or_default();
        let leaning =
            body.as_ref().ok().zip(planned).and_then(|(body, planned)| leaning::worse_side(plan, body, planned));
        Self { water_kg_per_m3, cases, levels, stiffness, leaning }
    }

    /// The load case of this name, if it is afloat.
    pub fn case(&self, name: &str) -> Option<&Afloat> {
        self.cases.as_ref().ok()?.iter().find(|case| case.name == name)
    }

    /// The case *as planned*.
    pub fn planned(&self) -> Option<&Afloat> {
        self.case("as planned")
    }

    /// The boat at rest as planned, if it floats.
    pub fn rest(&self) -> Option<&Equilibrium> {
        self.planned()?.rest.as_ref().ok()
    }
}

impl Afloat {
    fn of(plan: &Plan, rig: &Rig, body: &Body, case: &LoadCase, water_kg_per_m3: f64) -> Self {
        let load = Load { mass_kg: case.mass.to_kg(), centre: case.centre, water_kg_per_m3 };
        let rest = equilibrium(body, &load);
        let gz = rest.and_then(|_| gz_curve(body, &load)).unwrap_or_default();
        Self {
            name: case.name,
            load,
            free_surface_mm: livewells(plan, rig, case),
            flooding: flooding::first(plan, &gz),
            gz,
            freeboard: rest.map(|rest| freeboard(&plan.hull.form, &rest)).unwrap_or_default(),
            rest,
        }
    }

    /// Metacentric height with the free surface of livewells and bilge, mm.
    pub fn gm_mm(&self) -> Option<f64> {
        self.rest.ok().map(|rest| rest.gm_mm - self.free_surface_mm)
    }

    /// The lowest spot of the gunwale.
    pub fn least_freeboard(&self) -> Option<Freeboard> {
        self.freeboard.iter().copied().min_by(|a, b| a.height_mm.total_cmp(&b.height_mm))
    }

    /// The greatest righting lever and its heel.
    pub fn greatest_lever(&self) -> Option<RightingArm> {
        self.gz.iter().copied().max_by(|a, b| a.gz_mm.total_cmp(&b.gz_mm))
    }
}

/// Heights of the gunwale over the water, port then starboard of each section from aft to bow.
pub fn freeboard(form: &Form, rest: &Equilibrium) -> Vec<Freeboard> {
    let spots = form.sections.iter().flat_map(|section| {
        let (half, z) = section.gunwale();
        [half, -half].map(|y| Point::new(section.x_mm, y, z))
    });
    spots.map(|at| Freeboard { at, height_mm: rest.height(at) }).collect()
}

/// What a level surface of liquid, `length_mm` along and `width_mm` across, takes off the metacentric height
/// of a boat of `mass_kg`, mm: `i rho / m` with `i = l b³ / 12`.
///
/// Valid for small heels and a surface that reaches neither top nor bottom of its tank. Source: any
/// textbook of ship stability, free surface effect.
pub fn free_surface_loss(length_mm: f64, width_mm: f64, liquid_kg_per_m3: f64, mass_kg: f64) -> f64 {
    if mass_kg > 0.0 { length_mm * width_mm.powi(3) / 12.0 * liquid_kg_per_m3 * 1.0e-9 / mass_kg } else { 0.0 }
}

/// Density of water, kg per m³: fresh from the table of ITTC 7.5-02-01-03, straight between 4, 15, 20 and
/// 30 degrees; the sea 1025 at 15 degrees, the shipping convention, with the same change by temperature.
pub fn water_density(water: Water, temperature: Temperature) -> f64 {
    let at = temperature.to_celsius().clamp(4.0, 30.0);
    let fresh = FRESH
        .windows(2)
        .find(|pair| at <= pair[1].0)
        .map_or(FRESH[0].1, |pair| pair[0].1 + (pair[1].1 - pair[0].1) * (at - pair[0].0) / (pair[1].0 - pair[0].0));
    match water {
        Water::Fresh => fresh,
        Water::Salt => SEA_AT_15 + fresh - FRESH[1].1,
    }
}

/// Degrees Celsius and kg per m³.
const FRESH: [(f64, f64); 4] = [(4.0, 999.97), (15.0, 999.10), (20.0, 998.21), (30.0, 995.65)];
const SEA_AT_15: f64 = 1025.0;

/// Loss of metacentric height by the livewells that hold water in a case, mm.
fn livewells(plan: &Plan, rig: &Rig, case: &LoadCase) -> f64 {
    if ["empty hull", "angler only"].contains(&case.name) {
        return 0.0;
    }
    let loss = |item: &super::rig::RigItem| {
        let gear = plan.gear.get(item.index)?;
        livewell_water(gear, item)?;
        let wet = case.name == "livewell full" || livewell_in_use(plan, gear);
        let largest = item.solids.iter().max_by(|a, b| a.height().total_cmp(&b.height()))?;
        let (length, width) = match largest.outline {
            Outline::Rect { half_length, half_width, turn, .. } => {
                // Across the boat counts; a tank set at a slant is taken by the side that lies nearer across.
                let along = turn.to_radians().cos().abs() >= std::f64::consts::FRAC_1_SQRT_2;
                if along { (2.0 * half_length, 2.0 * half_width) } else { (2.0 * half_width, 2.0 * half_length) }
            }
            // The square with the circle's second moment is a shade narrower than the circle is wide.
            Outline::Circle { radius, .. } => {
                let side = radius * (3.0 * std::f64::consts::PI).powf(0.25);
                (side, side)
            }
        };
        wet.then(|| free_surface_loss(length, width, 1000.0, case.mass.to_kg()))
    };
    rig.items.iter().filter_map(loss).sum()
}
