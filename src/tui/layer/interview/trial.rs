//! What a hull would be with the tape so far: its form, how it would float, what looks wrong.

use std::sync::Arc;

use crate::geometry::{Body, Cutter, Point, WaterPlane};
use crate::plan::{Doubt, Hull, Plan, Tape};
use crate::study::float::{Bare, Equilibrium, Load, water_density};
use crate::study::rig::Rig;
use crate::study::weights::Weights;
use crate::units::Mass;

/// The waterline at which hulls are compared, mm over the baseline.
pub const COMPARED_AT_MM: f64 = 120.0;
/// Kilograms and cubic millimetres: a density in kg per m³ times this.
const PER_MM3: f64 = 1.0e-9;

/// A hull on trial.
#[derive(Clone, Debug)]
pub struct Trial {
    /// The tape, its gaps filled with guesses.
    pub tape: Tape,
    /// The hull with the form of that tape.
    pub hull: Arc<Hull>,
    /// What looks wrong, contradictions first.
    pub doubts: Vec<Doubt>,
    /// How it floats, or why not.
    pub rest: Result<Resting, String>,
}

/// How a hull on trial floats.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resting {
    /// What it carries level at [`COMPARED_AT_MM`], kg.
    pub carries_kg: f64,
    /// The mass of the plan, hull and person included.
    pub mass: Mass,
    /// Where it rests with that mass.
    pub at: Equilibrium,
}

impl Trial {
    /// Tries a tape on a plan's hull.
    pub fn of(plan: &Plan, tape: &Tape) -> Self {
        let hull = Arc::new(plan.hull.taped(tape.clone()));
        let tape = hull.form.tape().cloned().unwrap_or_default();
        let doubts = tape.doubts();
        let rest = rest(&Plan { hull: Arc::clone(&hull), ..plan.clone() });
        Self { tape, hull, doubts, rest }
    }
}

/// What a doubt says, without the place it begins with.
pub(super) fn says<'a>(tape: &Tape, doubt: &'a Doubt) -> &'a str {
    let place = format!("{}: ", tape.place_words(doubt.about));
    doubt.says.strip_prefix(&place).unwrap_or(&doubt.says)
}

fn rest(plan: &Plan) -> Result<Resting, String> {
    let body = Body::of(&plan.hull.form).map_err(|why| why.to_string())?;
    let water_kg_per_m3 = water_density(plan.outing.water, plan.outing.water_temperature);
    let level = WaterPlane::new(0.0, 0.0, COMPARED_AT_MM);
    let carries_kg = Cutter::new(&body).cut(&level, Point::default()).volume * water_kg_per_m3 * PER_MM3;
    let weights = Weights::of(plan, &Rig::of(plan));
    let mass = weights.cases.first().map(|case| case.mass).unwrap_or(Mass::kg(0.0));
    let load = Load { mass_kg: mass.to_kg(), centre: weights.centre(), water_kg_per_m3 };
    let at = Bare::of_hull(&plan.hull, &load).map_err(|why| why.to_string())?.rest;
    Ok(Resting { carries_kg, mass, at })
}
