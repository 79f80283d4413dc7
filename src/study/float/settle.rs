//! The search for rest: Newton's method on the potential energy of boat and water together.
//!
//! With the water's height over the centre of mass `l`, the volume `V` under water, its moment `M` about that
//! centre and the direction `n` straight up, the energy over the water's weight is `l V - n.M - V0 l`, `V0` being
//! the volume that weighs as much as the load. Its slopes are the missing volume and the two moments,
//! its curvatures the waterplane's area and moments. Since it only ever goes down, and for a given attitude
//! is convex in `l`, no start can make the search run for ever.
//!
//! Liquids aboard add `v n.(c - c0)` each, `v` being the water that weighs as much, `c` where it lies and `c0` where
//! the load counts it; see [`super::liquid`].

use super::equilibrium::{Load, M3_PER_MM3, NoFloat};
use super::fill::{EXACT, Filled, cut_at, fill};
use super::liquid::{Liquid, Slack, Tank};
use crate::geometry::{Body, Cut, Cutter, WaterPlane};

/// What the boat may do while it settles; it may always rise and sink.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Free {
    /// Heel and trim.
    HeelAndTrim,
    /// Trim, held at its heel.
    Trim,
}

/// Where it is let go.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Start {
    /// Radians, positive to starboard.
    pub(super) heel: f64,
    /// Radians, positive bow down.
    pub(super) trim: f64,
    /// Height of the water over the load's centre, mm, if there is a guess.
    pub(super) above: Option<f64>,
}

/// The attitude found, and the cut there with moments about the load's centre.
#[derive(Clone, Copy)]
pub(super) struct Rest {
    /// Radians, positive to starboard.
    pub(super) heel: f64,
    /// Radians, positive bow down.
    pub(super) trim: f64,
    /// Height of the water over the load's centre, mm.
    pub(super) above: f64,
    pub(super) plane: WaterPlane,
    pub(super) cut: Cut,
    pub(super) slack: Slack,
    /// Potential energy over the water's weight, mm⁴.
    energy: f64,
}

/// One boat under one load, let go as often as it is asked.
pub(super) struct Search<'a> {
    cutter: Cutter<'a>,
    tanks: Vec<Tank<'a>>,
    load: Load,
    /// Volume that weighs as much as the load, mm³.
    target: f64,
}

impl<'a> Search<'a> {
    /// Refuses what no attitude could float.
    pub(super) fn new(body: &'a Body, liquids: &'a [Liquid], load: &Load) -> Result<Self, NoFloat> {
        let figures = [load.centre.x, load.centre.y, load.centre.z, load.mass_kg, load.water_kg_per_m3];
        if figures.iter().any(|v| !fair(*v)) || load.mass_kg <= 0.0 || load.water_kg_per_m3 <= 0.0 {
            return Err(NoFloat::Nonsense);
        }
        let target = load.mass_kg / (load.water_kg_per_m3 * M3_PER_MM3);
        if target >= body.volume() * FULLEST {
            return Err(NoFloat::TooHeavy { most_kg: body.volume() * load.water_kg_per_m3 * M3_PER_MM3 });
        }
        if target <= body.volume() * LIGHTEST {
            return Err(NoFloat::Nonsense);
        }
        let tanks = liquids.iter().map(Tank::of).collect();
        Ok(Self { cutter: Cutter::new(body), tanks, load: *load, target })
    }

    /// Lets the boat go and follows it to rest.
    pub(super) fn settle(&mut self, start: Start, free: Free) -> Result<Rest, NoFloat> {
        if !fair(start.heel) || !fair(start.trim) {
            return Err(NoFloat::Nonsense);
        }
        let mut now = self.begin(start);
        for _ in 0..MOST_STEPS {
            if now.heel.abs() > MOST_HEEL || now.trim.abs() > MOST_TRIM {
                return Err(NoFloat::TurnsOver);
            }
            let step = self.step(&now, free);
            if step.is_within(NOTHING) {
                break;
            }
            // What is left of a bowl is put right by what is known of it, without another cut.
            if step.bowl && step.is_within(self.last_step(free)) {
                now = self.nudged(&now, &step);
                break;
            }
            match self.go(&now, &step) {
                Some(next) => now = next,
                None => break,
            }
        }
        if now.cut.area > 0.0 && now.cut.volume > 0.0 { Ok(now) } else { Err(NoFloat::TurnsOver) }
    }
}

fn fair(figure: f64) -> bool {
    figure.abs() <= 1.0e9
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
/// How near the volume has to be before the turns are looked at, as a share.
const ROUGH: f64 = 0.02;
/// Steps shorter than these, in radians and mm, are not taken.
const NOTHING: (f64, f64) = (1.0e-9, 1.0e-6);
/// Steps shorter than these are the last where the energy is a bowl. The figures of the waterplane are then taken as
/// they are, which neglects no more than a strip around the waterline: nothing at all of a boat at rest.
const LAST: (f64, f64) = (1.0e-6, 1.0e-4);
/// The same for a lever: some thousandths of a millimetre.
const LAST_OF_LEVER: (f64, f64) = (5.0e-4, 0.6);

/// What to change, and the slope of the energy that way.
struct Step {
    above: f64,
    heel: f64,
    trim: f64,
    slope: f64,
    /// Whether the energy is a bowl there.
    bowl: bool,
}

impl Step {
    fn is_within(&self, (turn, rise): (f64, f64)) -> bool {
        self.heel.abs() < turn && self.trim.abs() < turn && self.above.abs() < rise
    }
}

impl Search<'_> {
    /// The water's height to begin with, roughly.
    fn begin(&mut self, start: Start) -> Rest {
        if let Some(above) = start.above {
            let first = self.state(start.heel, start.trim, above);
            if self.is_sound(&first) {
                return first;
            }
        }
        self.level(start.heel, start.trim, start.above, ROUGH)
    }

    fn state(&mut self, heel: f64, trim: f64, above: f64) -> Rest {
        let lie = WaterPlane::new(heel, trim, 0.0);
        let found = cut_at(&mut self.cutter, &lie, self.load.centre, above);
        self.with_liquids(heel, trim, found)
    }

    /// The attitude with the water at the height at which the volume is right.
    fn level(&mut self, heel: f64, trim: f64, guess: Option<f64>, within: f64) -> Rest {
        let lie = WaterPlane::new(heel, trim, 0.0);
        let found = fill(&mut self.cutter, &lie, self.load.centre, self.target, guess, within);
        self.with_liquids(heel, trim, found)
    }

    fn with_liquids(&mut self, heel: f64, trim: f64, Filled { above, plane, cut }: Filled) -> Rest {
        let mut slack = Slack::default();
        for tank in &mut self.tanks {
            tank.add_to(&mut slack, &plane, self.load.water_kg_per_m3);
        }
        let energy = (cut.volume - self.target) * above - dot(plane.up, cut.moment) + slack.energy;
        Rest { heel, trim, above, plane, cut, slack, energy }
    }

    /// Liquids are never left to a nudge: a film of water runs from side to side within a fraction of a degree.
    fn last_step(&self, free: Free) -> (f64, f64) {
        if free == Free::Trim && self.tanks.is_empty() { LAST_OF_LEVER } else { LAST }
    }

    fn is_sound(&self, state: &Rest) -> bool {
        state.cut.area > 0.0 && (state.cut.volume - self.target).abs() < 0.2 * self.target
    }

    /// Newton's step, turned downhill where the energy is not a bowl.
    fn step(&self, now: &Rest, free: Free) -> Step {
        let (cut, plane, moment) = (&now.cut, &now.plane, now.moment());
        let second = [0, 1, 2].map(|i| cut.second[i] - now.slack.second[i]);
        let (sh, ch) = now.heel.sin_cos();
        let (st, ct) = now.trim.sin_cos();
        let (along, across, upward) = (dot(plane.fore, moment), dot(plane.port, moment), dot(plane.up, moment));
        let fixed = free == Free::Trim;
        // Slopes: volume, heel, trim.
        let missing = cut.volume - self.target;
        let slope = [if fixed { 0.0 } else { -ct * across }, along];
        // Curvatures, and those that tie the water's height to the turns.
        let tie = [if fixed { 0.0 } else { -ct * cut.first[1] }, cut.first[0]];
        let heel_heel = ct * ct * second[2] + ct * (sh * moment[1] + ch * moment[2]);
        let heel_trim = if fixed { 0.0 } else { -ct * second[1] + st * across };
        let trim_trim = second[0] + upward;
        // The height eliminated: the waterplane's moments about its own centre.
        let area = cut.area;
        let left = [slope[0] - tie[0] * missing / area, slope[1] - tie[1] * missing / area];
        let b = heel_trim - tie[0] * tie[1] / area;
        let d = trim_trim - tie[1] * tie[1] / area;
        // A heel that is held has no slope; any curvature does.
        let a = if fixed { d } else { heel_heel - tie[0] * tie[0] / area };
        let ([mut heel, mut trim], bowl) = downhill(a, b, d, left);
        let turn = heel.abs().max(trim.abs());
        if turn > LARGEST_TURN {
            heel *= LARGEST_TURN / turn;
            trim *= LARGEST_TURN / turn;
        }
        let above = -(missing + tie[0] * heel + tie[1] * trim) / area;
        // The slope with the height following the turns, which is what counts once it is corrected.
        Step { above, heel, trim, slope: left[0] * heel + left[1] * trim, bowl }
    }

    /// Takes as much of a step as lowers the energy; `None` where only rounding is left.
    fn go(&mut self, now: &Rest, step: &Step) -> Option<Rest> {
        let mut share = 1.0;
        let noise = 1.0e-14 * self.target * self.cutter.body().length();
        // A missing volume makes the energy's fall larger than the turns alone promise.
        let enough = |state: &Rest, share: f64| state.energy <= now.energy + 1.0e-4 * share * step.slope + noise;
        for _ in 0..MOST_HALVINGS {
            let (heel, trim) = (now.heel + share * step.heel, now.trim + share * step.trim);
            let above = now.above + share * step.above;
            let quick = self.state(heel, trim, above);
            if self.is_sound(&quick) && enough(&quick, share) {
                return Some(quick);
            }
            let exact = self.level(heel, trim, Some(above), EXACT);
            if enough(&exact, share) {
                return Some(exact);
            }
            share /= 2.0;
            if share * step.heel.abs().max(step.trim.abs()) < NOTHING.0 {
                return None;
            }
        }
        None
    }

    /// A step so small that the layer between the old water and the new is counted as one over the old waterplane:
    /// with `u` forward and `v` to port it is `a + b u + c v` thick.
    fn nudged(&self, now: &Rest, step: &Step) -> Rest {
        let Rest { mut cut, plane: old, .. } = *now;
        let (a, b, c) = (step.above, step.trim, -now.trim.cos() * step.heel);
        let ([fu, fv], [uu, uv, vv]) = (cut.first, cut.second);
        let layer = a * cut.area + b * fu + c * fv;
        let (fore, port) = (a * fu + b * uu + c * uv, a * fv + b * uv + c * vv);
        for i in 0..3 {
            cut.moment[i] += fore * old.fore[i] + port * old.port[i] + layer * now.above * old.up[i];
        }
        cut.volume += layer;
        let (heel, trim, above) = (now.heel + step.heel, now.trim + step.trim, now.above + step.above);
        let mut plane = WaterPlane::new(heel, trim, 0.0);
        let centre = self.load.centre;
        plane.level = above + dot(plane.up, [centre.x, centre.y, centre.z]);
        Rest { heel, trim, above, plane, cut, ..*now }
    }
}

impl Rest {
    /// First moment of the water put aside about the centre of mass, liquids where they lie, mm⁴.
    pub(super) fn moment(&self) -> [f64; 3] {
        [0, 1, 2].map(|i| self.cut.moment[i] - self.slack.moment[i])
    }
}

/// Solves for the turn that goes downhill: Newton's where the curvatures `a b / b d` make a bowl; elsewhere
/// the same with each curvature counted as positive along its own axis. Tells as well whether it is a bowl.
fn downhill(a: f64, b: f64, d: f64, slope: [f64; 2]) -> ([f64; 2], bool) {
    let (half, lean) = (f64::midpoint(a, d), (a - d) / 2.0);
    let reach = (lean * lean + b * b).sqrt();
    let (high, low) = (half + reach, half - reach);
    let least = 1.0e-6 * high.abs().max(low.abs()).max(f64::MIN_POSITIVE);
    let (cos2, sin2) = if reach > 0.0 { (lean / reach, b / reach) } else { (1.0, 0.0) };
    // Axis of the greater curvature: half the angle of (cos2, sin2).
    let (c, s) = half_angle(cos2, sin2);
    let (p, q) = (c * slope[0] + s * slope[1], -s * slope[0] + c * slope[1]);
    let (p, q) = (-p / high.abs().max(least), -q / low.abs().max(least));
    ([c * p - s * q, s * p + c * q], low > least)
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
