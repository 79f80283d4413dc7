//! The hull's form after the readings: what marked waterlines say of a form that was taken with a tape.
//!
//! The tape's figures stay as they are. The form that floats is the tape's, bent by two figures, the fullness of the
//! bottom and the height of the keel, so that with a known load it floats as marked: the water plane through the marks
//! has to put aside the hull's mass and the load. Common practice, no source; the fit is ordinary least squares.

mod bend;
mod fit;
mod marks;

use std::sync::Arc;

use bend::bent;
use fit::{Aim, Belief, fit};
use marks::{Condition, conditions};

use super::chosen;
use super::float::{Load, equilibrium, water_density};
use super::posture::seated_centre;
use super::scales::Scales;
use super::weights;
use crate::geometry::{Body, Cutter, Form, Point, WaterPlane};
use crate::plan::{Hull, Plan, Taken};

/// How far the bottom's fullness may be off the tape's, percent. Common practice, no source.
pub const FULLNESS_PERCENT: f64 = 5.0;
/// How far the keel's height may be off the tape's, mm. Common practice, no source.
pub const KEEL_MM: f64 = 10.0;
/// How far a marked waterline may be off, mm. Common practice, no source.
pub const MARK_MM: f64 = 3.0;
/// Marks nearer together than this along the boat do not tell its trim, mm. Common practice, no source.
pub const APART_MM: f64 = 500.0;

/// The hull's form as it floats.
#[derive(Clone, Debug, PartialEq)]
pub struct Shape {
    /// The hull as the tape found it.
    hull: Arc<Hull>,
    /// The form bent to the readings; none when nothing was read.
    bent: Option<Form>,
    /// Factor of the half-breadths at the keel, fading out to the greatest width; 1 as the tape found it.
    pub fullness: f64,
    /// How much the keel lies higher than the tape found it, mm; fades out likewise.
    pub keel_mm: f64,
    /// The marked waterlines that count.
    pub readings: Vec<Fitted>,
    /// Marked waterlines that are on and yet cannot count, by their place in the plan: the tape's hull does not float
    /// with that load.
    pub unused: Vec<usize>,
    /// Whether a figure stopped at the most that is believed, three times its spread.
    pub at_bound: bool,
}

/// A marked waterline beside what the hull does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Its place among the plan's readings.
    pub index: usize,
    /// Height over the baseline as marked, mm.
    pub measured_mm: f64,
    /// Height at which the tape's hull floats there, mm, at the trim taken for the marks.
    pub before_mm: f64,
    /// Height at which the bent hull floats there, mm.
    pub after_mm: f64,
}

impl Shape {
    /// Fits the form to the plan's marked waterlines. Without any the form is the plan's own, not a copy.
    ///
    /// Waterlines of one date and one load belong together. Marks at two stations or more give the trim they were
    /// made at; a single one is taken at the trim that the tape's hull takes with the load in the seat.
    pub fn of(plan: &Plan) -> Self {
        let tape = Self {
            hull: Arc::clone(&plan.hull),
            bent: None,
            fullness: 1.0,
            keel_mm: 0.0,
            readings: Vec::new(),
            unused: Vec::new(),
            at_bound: false,
        };
        let counts = plan.readings.iter().any(|r| !r.off && matches!(r.taken, Taken::Waterline { .. }));
        if counts { tape.fitted(plan) } else { tape }
    }

    /// The form that floats.
    pub fn form(&self) -> &Form {
        self.bent.as_ref().unwrap_or(&self.hull.form)
    }

    /// The marked waterline of this place among the plan's readings, if it counts.
    pub fn reading(&self, index: usize) -> Option<&Fitted> {
        self.readings.iter().find(|fitted| fitted.index == index)
    }

    fn fitted(mut self, plan: &Plan) -> Self {
        let tape = &plan.hull.form;
        let (mut afloat, unused) = launched(plan, tape);
        self.unused = unused;
        let Some(before) = heights(tape, &mut afloat) else { return self };
        let aims: Vec<Aim> = afloat.iter().map(Afloat::aim).collect();
        let found = fit(belief(plan), &aims, |bend| heights(&bent(tape, bend), &mut afloat));
        let form = bent(tape, found.bend);
        let after = heights(&form, &mut afloat).unwrap_or_else(|| before.clone());
        self.readings =
            afloat.iter().zip(before.iter().zip(&after)).flat_map(|(lay, heights)| lay.beside(heights)).collect();
        self.readings.sort_by_key(|fitted| fitted.index);
        (self.fullness, self.keel_mm, self.at_bound) = (found.bend.fullness, found.bend.keel_mm, found.at_bound);
        self.bent = Some(form);
        self
    }
}

impl Fitted {
    /// How much higher the mark is than the bent hull floats, mm.
    pub fn residual_mm(&self) -> f64 {
        self.measured_mm - self.after_mm
    }

    /// Whether the bent hull floats where it was marked, to the millimetre a person reads.
    pub fn fits(&self) -> bool {
        self.residual_mm().abs() < 0.5
    }

    /// How much higher the mark is than the tape's hull floats, mm.
    pub fn before_residual_mm(&self) -> f64 {
        self.measured_mm - self.before_mm
    }
}

/// A condition in the water: what it weighs in volume, and how it lies.
struct Afloat {
    condition: Condition,
    /// Slope of the water over the baseline, positive bow down.
    slope: f64,
    attitude: WaterPlane,
    volume_mm3: f64,
    /// Where the water was found last, to start from.
    near: Option<f64>,
}

impl Afloat {
    fn aim(&self) -> Aim {
        let readings = self.condition.marks.len() as f64;
        Aim { height_mm: self.condition.height_aft(self.slope), readings }
    }

    /// Each mark beside the heights of the water at the aft end, of the tape's hull and of the bent one.
    fn beside(&self, (before, after): (&f64, &f64)) -> Vec<Fitted> {
        let fitted = |mark: &marks::Mark| Fitted {
            index: mark.index,
            measured_mm: mark.height_mm,
            before_mm: before + self.slope * mark.x_mm,
            after_mm: after + self.slope * mark.x_mm,
        };
        self.condition.marks.iter().map(fitted).collect()
    }
}

/// The conditions in which the tape's hull floats, and the readings of those in which it does not.
fn launched(plan: &Plan, tape: &Form) -> (Vec<Afloat>, Vec<usize>) {
    let (mut afloat, mut unused) = (Vec::new(), Vec::new());
    let body = Body::of(tape).ok();
    let hull = weights::hull(plan, &Scales::of(plan));
    let apart_mm = chosen(plan, "waterline-fit.apart", APART_MM);
    let water_kg_per_m3 = water_density(plan.outing.water, plan.outing.water_temperature);
    for condition in conditions(plan) {
        let (hull_kg, load_kg) = (hull.0.to_kg(), condition.load_kg);
        let mass_kg = hull_kg + load_kg;
        let volume_mm3 = mass_kg / water_kg_per_m3 * MM3_PER_M3;
        let Some(body) = body.as_ref().filter(|body| volume_mm3 > 0.0 && volume_mm3 < body.volume()) else {
            unused.extend(condition.marks.iter().map(|mark| mark.index));
            continue;
        };
        let slope = condition.slope(apart_mm).unwrap_or_else(|| {
            let centre = upright(hull.1, hull_kg, seated_centre(plan), load_kg);
            let rest = equilibrium(body, &Load { mass_kg, centre, water_kg_per_m3 });
            rest.map_or(0.0, |rest| rest.trim_deg.to_radians().tan())
        });
        let attitude = WaterPlane::new(0.0, slope.atan(), 0.0);
        afloat.push(Afloat { condition, slope, attitude, volume_mm3, near: None });
    }
    (afloat, unused)
}

const MM3_PER_M3: f64 = 1.0e9;

/// Common centre of hull and load, on the centreline.
fn upright(hull: Point, hull_kg: f64, load: Point, load_kg: f64) -> Point {
    let mean = |a: f64, b: f64| (a * hull_kg + b * load_kg) / (hull_kg + load_kg);
    Point::new(mean(hull.x, load.x), 0.0, mean(hull.z, load.z))
}

/// Height of the water over the baseline at the aft end in each condition, mm; `None` for a form that is no body.
fn heights(form: &Form, afloat: &mut [Afloat]) -> Option<Vec<f64>> {
    let body = Body::of(form).ok()?;
    let mut cutter = Cutter::new(&body);
    let mut height = |lay: &mut Afloat| {
        let (plane, _) = cutter.level(&lay.attitude, lay.volume_mm3, Point::default(), lay.near, 1.0e-9);
        lay.near = Some(plane.level);
        plane.draft(0.0)
    };
    Some(afloat.iter_mut().map(&mut height).collect())
}

/// The spreads in force; what a plan sets otherwise is kept to what can be computed with.
fn belief(plan: &Plan) -> Belief {
    let within = |limit, default, least: f64, most: f64| {
        let set = chosen(plan, limit, default);
        if set >= least { set.min(most) } else { least }
    };
    Belief {
        fullness: within("waterline-fit.fullness", FULLNESS_PERCENT, 0.0, 20.0) / 100.0,
        keel_mm: within("waterline-fit.keel", KEEL_MM, 0.0, 100.0),
        mark_mm: within("waterline-fit.mark", MARK_MM, 0.1, 100.0),
    }
}
