//! Least squares of a few figures with a prior at zero, each in its own spread, within bounds.
//!
//! The sum is `|p|² + |r(p)|²` with the figures `p` in spreads and what the readings miss, `r`, in theirs. Steps of
//! Levenberg and Marquardt; a figure that stands on a bound and wants beyond is left there. No step is taken that does
//! not lower the sum, so it ends. The prior gives the sum one bowl to roll into where the readings are smooth; they are
//! but for kinks where the other hand gets nearer.

/// No figure goes further from its prior than so many spreads. Common practice, no source: beyond three standard
/// deviations the reading is doubted, not the body.
pub const MOST_SPREADS: f64 = 3.0;
/// Steps; five to ten are usual.
const MOST_STEPS: usize = 30;
/// The step, in spreads, over which slopes are taken.
const PROBE: f64 = 1.0e-4;
/// After a step smaller than this, in spreads, the next would not be seen.
const SMALL_STEP: f64 = 1.0e-4;
/// How much a step is damped at first, and beyond which it is given up.
const DAMPED: f64 = 1.0e-3;
const MOST_DAMPED: f64 = 1.0e6;

/// The figures, in spreads, with the least sum.
pub(super) fn least<const N: usize>(misses: impl Fn([f64; N]) -> Vec<f64>) -> [f64; N] {
    let sum = |at: [f64; N], missed: &[f64]| at.iter().chain(missed).map(|value| value * value).sum::<f64>();
    let mut at = [0.0; N];
    let mut missed = misses(at);
    let mut damping = DAMPED;
    if missed.iter().all(|miss| *miss == 0.0) {
        return at;
    }
    let mut small = 0;
    for _ in 0..MOST_STEPS {
        let slopes = slopes(&misses, at, &missed);
        let taken = loop {
            let step = step(at, &missed, &slopes, damping);
            let next = clamped(at, step);
            let there = misses(next);
            if sum(next, &there) < sum(at, &missed) {
                damping /= 10.0;
                let moved = (0..N).map(|i| (next[i] - at[i]).abs()).fold(0.0, f64::max);
                (at, missed) = (next, there);
                break moved;
            }
            damping *= 10.0;
            if damping > MOST_DAMPED {
                break 0.0;
            }
        };
        // After one small step a figure may leave its bound.
        small = if taken < SMALL_STEP { small + 1 } else { 0 };
        if small == 2 {
            break;
        }
    }
    at
}

/// How each miss changes with each figure, taken away from the nearer bound.
fn slopes<const N: usize>(misses: impl Fn([f64; N]) -> Vec<f64>, at: [f64; N], missed: &[f64]) -> Vec<[f64; N]> {
    let mut slopes = vec![[0.0; N]; missed.len()];
    for i in 0..N {
        let probe = if at[i] > 0.0 { -PROBE } else { PROBE };
        let mut beside = at;
        beside[i] += probe;
        for ((slope, there), here) in slopes.iter_mut().zip(misses(beside)).zip(missed) {
            slope[i] = (there - here) / probe;
        }
    }
    slopes
}

/// The damped step, without the figures that stand on a bound and would go beyond.
fn step<const N: usize>(at: [f64; N], missed: &[f64], slopes: &[[f64; N]], damping: f64) -> [f64; N] {
    let downhill: [f64; N] =
        std::array::from_fn(|i| -at[i] - slopes.iter().zip(missed).map(|(slope, miss)| slope[i] * miss).sum::<f64>());
    let held = |i: usize| at[i].abs() >= MOST_SPREADS && at[i] * downhill[i] > 0.0;
    let curve = |i: usize, j: usize| {
        if held(i) || held(j) {
            return f64::from(u8::from(i == j));
        }
        let own = if i == j { 1.0 } else { 0.0 };
        let curve = own + slopes.iter().map(|slope| slope[i] * slope[j]).sum::<f64>();
        if i == j { curve * (1.0 + damping) } else { curve }
    };
    let matrix = std::array::from_fn(|i| std::array::from_fn(|j| curve(i, j)));
    solved(matrix, std::array::from_fn(|i| if held(i) { 0.0 } else { downhill[i] }))
}

/// Gauss without pivots: the matrix has the prior's ones on its diagonal, added to squares.
fn solved<const N: usize>(mut matrix: [[f64; N]; N], mut right: [f64; N]) -> [f64; N] {
    for i in 0..N {
        for j in i + 1..N {
            let factor = matrix[j][i] / matrix[i][i];
            let row = matrix[i];
            matrix[j].iter_mut().zip(row).for_each(|(below, above)| *below -= factor * above);
            right[j] -= factor * right[i];
        }
    }
    for i in (0..N).rev() {
        let known: f64 = (i + 1..N).map(|j| matrix[i][j] * right[j]).sum();
        right[i] = (right[i] - known) / matrix[i][i];
    }
    right
}

fn clamped<const N: usize>(at: [f64; N], step: [f64; N]) -> [f64; N] {
    std::array::from_fn(|i| (at[i] + step[i]).clamp(-MOST_SPREADS, MOST_SPREADS))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near<const N: usize>(found: [f64; N], wanted: [f64; N]) {
        assert!(found.iter().zip(wanted).all(|(a, b)| (a - b).abs() < 1e-3), "{found:?} is not {wanted:?}");
    }

    #[test]
    fn a_straight_miss_is_worked_out_by_hand() {
        // p² + (3 (p - 1))² is least at 9/10; with a second figure that nothing speaks of.
        near(least(|[p, _]: [f64; 2]| vec![3.0 * (p - 1.0)]), [0.9, 0.0]);
        // Two figures of which the sum is read, p + q = 2 with weight 4: each takes half of 2 · 32 / 33.
        near(least(|[p, q]: [f64; 2]| vec![4.0 * (p + q - 2.0)]), [32.0 / 33.0, 32.0 / 33.0]);
    }

    #[test]
    fn a_bound_holds_and_the_other_figure_goes_on() {
        // p + q = 20 with weight 1000: 3 and 3. With q three times as strong, q is at its bound first.
        near(least(|[p, q]: [f64; 2]| vec![1000.0 * (p + q - 20.0)]), [3.0, 3.0]);
        near(least(|[p, q]: [f64; 2]| vec![1000.0 * (p + 3.0 * q - 10.0)]), [1.0, 3.0]);
    }

    #[test]
    fn what_is_met_changes_nothing() {
        near(least(|[p]: [f64; 1]| vec![(p - 1.0).max(0.0)]), [0.0]);
        near(least(|[p, _, _]: [f64; 3]| vec![(0.5 - p).max(0.0) * 100.0]), [0.49995, 0.0, 0.0]);
    }
}
