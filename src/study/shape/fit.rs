//! Least squares for fullness and keel height, with what is believed of them beforehand.
//!
//! Both are measured in their own spread, `u = (f - 1) / s_f` and `v = k / s_k`, so that the belief that the tape is right
//! adds `u² + v²` to the squares of the readings. One reading is then enough, and the sum always has one bowl to roll
//! into. Gauss-Newton; no step is taken that does not lower the sum, so the search cannot run for ever.

use super::bend::Bend;

/// How far things may be off, one standard deviation each.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Belief {
    /// The fullness, about 1; zero holds it.
    pub(super) fullness: f64,
    /// The keel's height, mm; zero holds it.
    pub(super) keel_mm: f64,
    /// A marked waterline, mm; over zero.
    pub(super) mark_mm: f64,
}

/// What the water's height has to come to in one condition.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Aim {
    /// Height over the baseline at the aft end, mm.
    pub(super) height_mm: f64,
    /// How many readings say so.
    pub(super) readings: f64,
}

/// The bend found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fit {
    pub(super) bend: Bend,
    /// Whether a figure stopped at [`MOST_SPREADS`].
    pub(super) at_bound: bool,
}

/// Fits the bend. `heights` answers how high the water stands at the aft end in each condition for a form so bent, mm,
/// or nothing for a form that cannot be.
pub(super) fn fit(belief: Belief, aims: &[Aim], heights: impl FnMut(Bend) -> Option<Vec<f64>>) -> Fit {
    let mut search = Search { belief, aims, heights };
    let mut now = [0.0, 0.0];
    let mut misses = search.misses(now);
    for _ in 0..MOST_STEPS {
        let Some(step) = misses.as_ref().and_then(|misses| search.step(now, misses)) else { break };
        let Some((next, missed, share)) = search.downhill(now, misses.as_deref(), step) else { break };
        (now, misses) = (next, Some(missed));
        if share * step[0].abs().max(step[1].abs()) < SMALL_STEP {
            break;
        }
    }
    let spreads = [belief.fullness, belief.keel_mm];
    let at_bound = (0..2).any(|i| spreads[i] > 0.0 && now[i].abs() >= MOST_SPREADS * (1.0 - 1.0e-9));
    Fit { bend: search.bend(now), at_bound }
}

/// Neither figure goes further from the tape's than this many spreads. Common practice, no source: beyond three
/// standard deviations the reading is doubted, not the tape.
pub(super) const MOST_SPREADS: f64 = 3.0;
/// Two or three steps are usual.
const MOST_STEPS: usize = 12;
/// How often a step is halved before it is given up.
const MOST_HALVINGS: usize = 12;
/// The step, in spreads, over which slopes are taken.
const PROBE: f64 = 1.0e-3;
/// After a step smaller than this, in spreads, the next would be a thousandth of it.
const SMALL_STEP: f64 = 1.0e-3;

/// Fullness and keel in spreads.
type Pair = [f64; 2];

struct Search<'a, H> {
    belief: Belief,
    aims: &'a [Aim],
    heights: H,
}

impl<H: FnMut(Bend) -> Option<Vec<f64>>> Search<'_, H> {
    fn bend(&self, [u, v]: Pair) -> Bend {
        Bend { fullness: 1.0 + u * self.belief.fullness, keel_mm: v * self.belief.keel_mm }
    }

    /// By how much each condition misses its aim, in spreads of a mark, weighted by its readings.
    fn misses(&mut self, at: Pair) -> Option<Vec<f64>> {
        let bend = self.bend(at);
        let heights = (self.heights)(bend)?;
        let miss = |(height, aim): (&f64, &Aim)| (height - aim.height_mm) * aim.readings.sqrt() / self.belief.mark_mm;
        let misses: Vec<f64> = heights.iter().zip(self.aims).map(miss).collect();
        misses.iter().all(|miss| miss.is_finite()).then_some(misses)
    }

    /// The step to the least sum as far as slopes tell. A section that meets the beam gives the fullness one slope
    /// towards fuller and another towards leaner: each side is tried with its own, leaner where fuller gains nothing.
    fn step(&mut self, now: Pair, misses: &[f64]) -> Option<Pair> {
        let (low, high) = (now.map(|at| -MOST_SPREADS - at), now.map(|at| MOST_SPREADS - at));
        let keel = self.slope(now, misses, [0.0, PROBE])?;
        let mut least = |probe: f64, bounds: (f64, f64)| -> Option<Pair> {
            let fullness = self.slope(now, misses, [probe, 0.0])?;
            Some(Bowl::of(now, misses, [&fullness, &keel]).least([bounds, (low[1], high[1])]))
        };
        let fuller = least(PROBE, (0.0, high[0]))?;
        if fuller[0] > 0.0 { Some(fuller) } else { least(-PROBE, (low[0], 0.0)) }
    }

    /// How the misses change with a step, per spread.
    fn slope(&mut self, now: Pair, misses: &[f64], step: Pair) -> Option<Vec<f64>> {
        let there = self.misses([now[0] + step[0], now[1] + step[1]])?;
        Some(there.iter().zip(misses).map(|(there, here)| (there - here) / (step[0] + step[1])).collect())
    }

    /// As much of a step as lowers the sum: where it leads, what it misses there, which share was taken.
    fn downhill(&mut self, now: Pair, misses: Option<&[f64]>, step: Pair) -> Option<(Pair, Vec<f64>, f64)> {
        let before = sum(now, misses?);
        let mut share = 1.0;
        for _ in 0..MOST_HALVINGS {
            let next = [now[0] + share * step[0], now[1] + share * step[1]];
            if let Some(missed) = self.misses(next).filter(|missed| sum(next, missed) < before) {
                return Some((next, missed, share));
            }
            share /= 2.0;
        }
        None
    }
}

/// The sum of squares: the belief's and the readings'.
fn sum(at: Pair, misses: &[f64]) -> f64 {
    at.iter().chain(misses).map(|value| value * value).sum()
}

/// Half the sum of squares about a place, to second order: slope and curvature.
struct Bowl {
    slope: Pair,
    curve: [Pair; 2],
}

impl Bowl {
    fn of(now: Pair, misses: &[f64], slopes: [&[f64]; 2]) -> Self {
        let dot = |a: &[f64], b: &[f64]| a.iter().zip(b).map(|(a, b)| a * b).sum::<f64>();
        let across = dot(slopes[0], slopes[1]);
        Self {
            slope: [now[0] + dot(slopes[0], misses), now[1] + dot(slopes[1], misses)],
            curve: [[1.0 + dot(slopes[0], slopes[0]), across], [across, 1.0 + dot(slopes[1], slopes[1])]],
        }
    }

    fn height(&self, [u, v]: Pair) -> f64 {
        let [[a, b], [_, d]] = self.curve;
        self.slope[0] * u + self.slope[1] * v + (a * u * u + 2.0 * b * u * v + d * v * v) / 2.0
    }

    /// The lowest place between bounds: the free one, or the lowest along an edge.
    fn least(&self, bounds: [(f64, f64); 2]) -> Pair {
        let [[a, b], [_, d]] = self.curve;
        let [p, q] = self.slope;
        let inside = |i: usize, value: f64| value.max(bounds[i].0).min(bounds[i].1);
        let det = a * d - b * b;
        let free = [(b * q - d * p) / det, (b * p - a * q) / det];
        if (0..2).all(|i| inside(i, free[i]) == free[i]) {
            return free;
        }
        let along_v = |u: f64| [u, inside(1, -(q + b * u) / d)];
        let along_u = |v: f64| [inside(0, -(p + b * v) / a), v];
        let (left, right) = (along_v(bounds[0].0), along_v(bounds[0].1));
        let edges = [left, right, along_u(bounds[1].0), along_u(bounds[1].1)];
        edges.into_iter().min_by(|a, b| self.height(*a).total_cmp(&self.height(*b))).unwrap_or_default()
    }
}
