//! The search for rest: Newton's method on the potential energy of boat and water together.
//!
//! With the water's height over the centre of mass `l`, the volume `V` under water, its moment `M` about that
//! centre and the direction `n` straight up, the energy over the water's weight is `l V - n.M - V0 l`, `V0` being
//! the volume that weighs as much as the load. Its slopes are the missing volume and the two moments,
//! its curvatures the waterplane's area and moments. Since it only ever goes down, and for a given attitude
//! is convex in `l`, no start can make the search run for ever.

use super::equilibrium::{Load, M3_PER_MM3, NoFloat};
use crate::geometry::{Body, Cut, Cutter, WaterPlane};

/// What the boat may do while it settles; it may always rise and sink.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Free {
    /// Heel and trim.
    HeelAndTrim,
    /// Trim, held at its heel.
    Trim,
}

/// The attitude found, and the cut there with moments about the centre of mass.
pub(super) struct Rest {
    /// Radians, positive to starboard.
    pub(super) heel: f64,
    /// Radians, positive bow down.
    pub(super) trim: f64,
    pub(super) plane: WaterPlane,
    pub(super) cut: Cut,
}

/// Lets the boat go at a heel and trim, radians, and follows it to rest.
pub(super) fn settle(body: &Body, load: &Load, heel: f64, trim: f64, free: Free) -> Result<Rest, NoFloat> {
    let figures = [load.centre.x, load.centre.y, load.centre.z, load.mass_kg, load.water_kg_per_m3, heel, trim];
    if figures.iter().any(|v| v.abs() > 1.0e9 || v.is_nan()) || load.mass_kg <= 0.0 || load.water_kg_per_m3 <= 0.0 {
        return Err(NoFloat::Nonsense);
    }
    let target = load.mass_kg / (load.water_kg_per_m3 * M3_PER_MM3);
    if target >= body.volume() * FULLEST {
        return Err(NoFloat::TooHeavy { most_kg: body.volume() * load.water_kg_per_m3 * M3_PER_MM3 });
    }
    if target <= body.volume() * LIGHTEST {
        return Err(NoFloat::Nonsense);
    }
    let mut search = Search { cutter: Cutter::new(body), load, target, free };
    let mut now = search.level(heel, trim, None);
    for _ in 0..MOST_STEPS {
        if now.heel.abs() > MOST_HEEL || now.trim.abs() > MOST_TRIM {
            return Err(NoFloat::TurnsOver);
        }
        let step = search.step(&now);
        if step.is_small() {
            break;
        }
        match search.go(&now, &step) {
            Some(next) => now = next,
            None => break,
        }
    }
    Ok(Rest { heel: now.heel, trim: now.trim, plane: now.plane, cut: now.cut })
}

/// Fuller than this share of its volume there is nothing left to stand out of the water.
const FULLEST: f64 = 1.0 - 1.0e-9;
/// Under this share the volume put aside drowns in rounding.
const LIGHTEST: f64 = 1.0e-7;
/// Beyond these, in radians, it counts as turned over.
const MOST_HEEL: f64 = 87.0 * std::f64::consts::PI / 180.0;
const MOST_TRIM: f64 = 80.0 * std::f64::consts::PI / 180.0;
/// Largest turn of one step, radians.
const LARGEST_TURN: f64 = 0.3;
/// A search takes five steps or so; a hundred are never reached but by a body of knife edges.
const MOST_STEPS: usize = 200;
/// How often a step is halved.
const MOST_HALVINGS: usize = 100;
/// Steps shorter than these, in radians and mm, are not taken.
const SMALL_TURN: f64 = 1.0e-9;
const SMALL_SINKAGE: f64 = 1.0e-6;

/// One attitude with everything known about it.
#[derive(Clone, Copy)]
struct State {
    heel: f64,
    trim: f64,
    /// Height of the water over the centre of mass, mm.
    above: f64,
    plane: WaterPlane,
    cut: Cut,
    /// Potential energy over the water's weight, mm⁴.
    energy: f64,
}

/// What to change, and the slope of the energy that way.
struct Step {
    above: f64,
    heel: f64,
    trim: f64,
    slope: f64,
}

impl Step {
    fn is_small(&self) -> bool {
        self.heel.abs() < SMALL_TURN && self.trim.abs() < SMALL_TURN && self.above.abs() < SMALL_SINKAGE
    }
}

struct Search<'a> {
    cutter: Cutter<'a>,
    load: &'a Load,
    /// Volume that weighs as much as the load, mm³.
    target: f64,
    free: Free,
}

impl Search<'_> {
    fn state(&mut self, heel: f64, trim: f64, above: f64) -> State {
        let mut plane = WaterPlane::new(heel, trim, 0.0);
        plane.level = above + self.centre_along(&plane);
        let cut = self.cutter.cut(&plane, self.load.centre);
        self.with_energy(heel, trim, plane, cut)
    }

    /// The water's height at which the volume is right for an attitude.
    fn level(&mut self, heel: f64, trim: f64, guess: Option<f64>) -> State {
        let plane = WaterPlane::new(heel, trim, 0.0);
        let near = guess.map(|above| above + self.centre_along(&plane));
        let (plane, cut) = self.cutter.level(&plane, self.target, self.load.centre, near);
        self.with_energy(heel, trim, plane, cut)
    }

    fn with_energy(&self, heel: f64, trim: f64, plane: WaterPlane, cut: Cut) -> State {
        let above = plane.level - self.centre_along(&plane);
        let energy = (cut.volume - self.target) * above - dot(plane.up, cut.moment);
        State { heel, trim, above, plane, cut, energy }
    }

    /// Height of the centre of mass along a plane's `up`, mm.
    fn centre_along(&self, plane: &WaterPlane) -> f64 {
        let centre = self.load.centre;
        dot(plane.up, [centre.x, centre.y, centre.z])
    }

    /// Newton's step, turned downhill where the energy is not a bowl.
    fn step(&self, now: &State) -> Step {
        let (cut, plane, moment) = (&now.cut, &now.plane, now.cut.moment);
        let (sh, ch) = now.heel.sin_cos();
        let (st, ct) = now.trim.sin_cos();
        let (along, across, upward) = (dot(plane.fore, moment), dot(plane.port, moment), dot(plane.up, moment));
        let fixed = self.free == Free::Trim;
        // Slopes: volume, heel, trim.
        let missing = cut.volume - self.target;
        let slope = [if fixed { 0.0 } else { -ct * across }, along];
        // Curvatures, and those that tie the water's height to the turns.
        let tie = [if fixed { 0.0 } else { -ct * cut.first[1] }, cut.first[0]];
        let heel_heel = ct * ct * cut.second[2] + ct * (sh * moment[1] + ch * moment[2]);
        let heel_trim = if fixed { 0.0 } else { -ct * cut.second[1] + st * across };
        let trim_trim = cut.second[0] + upward;
        // The height eliminated: the waterplane's moments about its own centre.
        let area = cut.area;
        let left = [slope[0] - tie[0] * missing / area, slope[1] - tie[1] * missing / area];
        let a = if fixed { 1.0 } else { heel_heel - tie[0] * tie[0] / area };
        let b = heel_trim - tie[0] * tie[1] / area;
        let d = trim_trim - tie[1] * tie[1] / area;
        let [mut heel, mut trim] = downhill(a, b, d, left);
        let turn = heel.abs().max(trim.abs());
        if turn > LARGEST_TURN {
            heel *= LARGEST_TURN / turn;
            trim *= LARGEST_TURN / turn;
        }
        let above = -(missing + tie[0] * heel + tie[1] * trim) / area;
        // The slope with the height following the turns, which is what counts once it is corrected.
        Step { above, heel, trim, slope: left[0] * heel + left[1] * trim }
    }

    /// Takes as much of a step as lowers the energy; `None` where only rounding is left.
    fn go(&mut self, now: &State, step: &Step) -> Option<State> {
        let mut share = 1.0;
        let noise = 1.0e-14 * self.target * self.cutter.body().length();
        // A missing volume makes the energy's fall larger than the turns alone promise.
        let enough = |state: &State, share: f64| state.energy <= now.energy + 1.0e-4 * share * step.slope + noise;
        for _ in 0..MOST_HALVINGS {
            let (heel, trim) = (now.heel + share * step.heel, now.trim + share * step.trim);
            let above = now.above + share * step.above;
            let quick = self.state(heel, trim, above);
            let sound = quick.cut.area > 0.0 && (quick.cut.volume - self.target).abs() < 0.2 * self.target;
            if sound && enough(&quick, share) {
                return Some(quick);
            }
            let exact = self.level(heel, trim, Some(above));
            if enough(&exact, share) {
                return Some(exact);
            }
            share /= 2.0;
            if share * step.heel.abs().max(step.trim.abs()) < SMALL_TURN {
                return None;
            }
        }
        None
    }
}

/// Solves for the turn that goes downhill: Newton's where the curvatures `a b / b d` make a bowl; elsewhere
/// the same with each curvature counted as positive along its own axis.
fn downhill(a: f64, b: f64, d: f64, slope: [f64; 2]) -> [f64; 2] {
    let (half, lean) = (f64::midpoint(a, d), (a - d) / 2.0);
    let reach = (lean * lean + b * b).sqrt();
    let (high, low) = (half + reach, half - reach);
    let least = 1.0e-6 * high.abs().max(low.abs()).max(f64::MIN_POSITIVE);
    let (cos2, sin2) = if reach > 0.0 { (lean / reach, b / reach) } else { (1.0, 0.0) };
    // Axis of the greater curvature: half the angle of (cos2, sin2).
    let (c, s) = half_angle(cos2, sin2);
    let (p, q) = (c * slope[0] + s * slope[1], -s * slope[0] + c * slope[1]);
    let (p, q) = (-p / high.abs().max(least), -q / low.abs().max(least));
    [c * p - s * q, s * p + c * q]
}

fn half_angle(cos2: f64, sin2: f64) -> (f64, f64) {
    if cos2 >= 0.0 {
        let c = f64::midpoint(1.0, cos2).sqrt();
        (c, sin2 / (2.0 * c))
    } else {
        let s = f64::midpoint(1.0, -cos2).sqrt();
        (sin2 / (2.0 * s), s)
    }
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
