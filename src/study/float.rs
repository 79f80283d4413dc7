//! Float: where the boat sits in the water, for every load case that is afloat.
//!
//! [`levels`] tells what the water at rest means for floors, scuppers and every other point of the boat,
//! [`flooding`] the heel at which water comes in, [`leaning`] what a person who leans out does. Wells that scuppers
//! open to the water have no buoyancy; water in livewells and bilge runs as the boat heels. [`moves`] is
//! no part of it: it looks for what brings the boat level when it is asked.

pub mod flooding;
pub mod leaning;
pub mod levels;
pub mod loose;
pub mod moves;

mod bare;
mod equilibrium;
mod fill;
mod liquid;
mod righting;
mod settle;
mod wells;

#[cfg(test)]
mod tests;
#[cfg(test)]
mod tests_loose;

pub use bare::{Bare, NoBare};
pub use equilibrium::{
    Attitude, Equilibrium, Load, NoFloat, Vessel, equilibrium, equilibrium_from, heel_way, trim_way,
};
pub use liquid::Liquid;
pub use righting::{RightingArm, STEP_DEG, gz_area, gz_curve, heel_under, righting_arm};

use super::rig::Rig;
use super::weights::{LoadCase, Weights};
use crate::geometry::{Body, BodyError, Form, Point};
use crate::plan::{Plan, Side, Water};
use crate::units::Temperature;
use flooding::{Flooding, Inlet};
use leaning::Leaning;
use levels::{Levels, Stiffness};
use loose::Loose;
use righting::Levers;

/// How the boat floats, or why its form is no body.
#[derive(Clone, Debug, PartialEq)]
pub struct Float {
    /// Density of the water of the outing, kg per m³.
    pub water_kg_per_m3: f64,
    /// The load cases that are afloat, *as planned* first: all but *transport*. Each displaces its own mass; water that
    /// stands in wells is not part of it.
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
    /// What the water in livewells and bilge takes off `gm_mm` at rest, mm.
    pub free_surface_mm: f64,
    /// Righting levers to starboard, from upright; empty when it does not float.
    pub gz: Vec<RightingArm>,
    /// Righting levers to port, from upright: heels and the levers that right the boat are negative.
    pub gz_port: Vec<RightingArm>,
    /// Heights of the gunwale over the water at rest, both sides at every section.
    pub freeboard: Vec<Freeboard>,
    /// The least heel from upright, to the side that takes water first, at which water comes in; `None` beyond 60
    /// degrees.
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

impl Freeboard {
    /// The lowest of them; of two at the same height the first, whatever the last digits say.
    pub fn least(spots: &[Self]) -> Option<Self> {
        let lower = |a: Self, b: Self| if b.height_mm < a.height_mm - SAME_MM { b } else { a };
        spots.iter().copied().reduce(lower)
    }
}

/// Heights that differ by less are the same, mm.
const SAME_MM: f64 = 1.0e-6;

impl Float {
    /// Floats the plan's load cases in the form that the readings leave of the hull's.
    pub fn of(plan: &Plan, form: &Form, rig: &Rig, weights: &Weights) -> Self {
        let water_kg_per_m3 = water_density(plan.outing.water, plan.outing.water_temperature);
        let (wells, loose) = (wells::of(&plan.hull, form), Loose::of(plan, rig));
        let body = wells::body(form, &wells);
        let cases = body.as_ref().map_err(|error| *error).map(|body| {
            let waters = Waters { body, loose: &loose, form, inlets: &flooding::inlets(plan, form), water_kg_per_m3 };
            waters.all(weights)
        });
        let planned = cases.as_ref().ok().and_then(|cases| cases.first());
        let levels = Levels::of(plan, &wells, planned);
        let stiffness = planned.map(|planned| levels::stiffness(plan, planned)).unwrap_or_default();
        let lean = |(body, planned): (&Body, &Afloat)| {
            planned.rest.ok()?;
            let vessel = Vessel { body, liquids: loose.aboard(planned.name) };
            Some(leaning::worse_side(plan, form, vessel, &planned.load))
        };
        let leaning = body.as_ref().ok().zip(planned).and_then(lean);
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

/// What is the same for every load case.
struct Waters<'a> {
    body: &'a Body,
    loose: &'a Loose,
    form: &'a Form,
    inlets: &'a [(Inlet, Point)],
    water_kg_per_m3: f64,
}

impl Waters<'_> {
    /// Floats the cases one by one; one that carries the same as another has the same answer.
    fn all(&self, weights: &Weights) -> Vec<Afloat> {
        let mut floated: Vec<Afloat> = Vec::new();
        for case in weights.cases.iter().filter(|case| case.name != "transport") {
            let (load, liquids) = (self.load(case), self.loose.aboard(case.name));
            let same = |other: &&Afloat| {
                let theirs = self.loose.aboard(other.name);
                let alike = std::ptr::eq(theirs, liquids) || theirs.is_empty() && liquids.is_empty();
                alike && other.load == load
            };
            let afloat = match floated.iter().find(same) {
                Some(other) => Afloat { name: case.name, ..other.clone() },
                None => self.float(case.name, load, Vessel { body: self.body, liquids }),
            };
            floated.push(afloat);
        }
        floated
    }

    fn load(&self, case: &LoadCase) -> Load {
        Load { mass_kg: case.mass.to_kg(), centre: case.centre, water_kg_per_m3: self.water_kg_per_m3 }
    }

    fn float(&self, name: &'static str, load: Load, vessel: Vessel) -> Afloat {
        let rest = vessel.rest(&load);
        let mut afloat = Afloat {
            name,
            load,
            free_surface_mm: rest.map_or(0.0, |rest| rest.free_surface_mm),
            freeboard: rest.map(|rest| freeboard(self.form, &rest)).unwrap_or_default(),
            rest,
            gz: Vec::new(),
            gz_port: Vec::new(),
            flooding: None,
        };
        if let (Ok(rest), Ok(mut levers)) = (rest, Levers::new(vessel, &load)) {
            [afloat.gz, afloat.gz_port] = levers.curves(Some(&rest)).unwrap_or_default();
            let held = |heel: f64, beside: &RightingArm| levers.beside(heel, beside);
            afloat.flooding = flooding::first(self.inlets, &rest, [&afloat.gz, &afloat.gz_port], held);
        }
        afloat
    }
}

impl Afloat {
    /// Metacentric height with the free surface of livewells and bilge, mm.
    pub fn gm_mm(&self) -> Option<f64> {
        self.rest.ok().map(|rest| rest.gm_mm - self.free_surface_mm)
    }

    /// The lowest spot of the gunwale.
    pub fn least_freeboard(&self) -> Option<Freeboard> {
        Freeboard::least(&self.freeboard)
    }

    /// The greatest righting lever to starboard and its heel.
    pub fn greatest_lever(&self) -> Option<RightingArm> {
        self.greatest_lever_to(Side::Starboard)
    }

    /// The greatest righting lever to one side and its heel; to port both are negative.
    pub fn greatest_lever_to(&self, side: Side) -> Option<RightingArm> {
        let curve = if side == Side::Port { &self.gz_port } else { &self.gz };
        curve.iter().copied().max_by(|a, b| (-side.sign() * a.gz_mm).total_cmp(&(-side.sign() * b.gz_mm)))
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
