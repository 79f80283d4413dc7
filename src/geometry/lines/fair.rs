//! A fair curve through points: smooth, and never beyond the points on both sides of it.

/// Piecewise cubic through points with slopes that keep it monotone between any two.
///
/// Source: F. N. Fritsch and J. Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM
/// J. Sci. Stat. Comput. 5 (1984), the weighted harmonic mean of the slopes on both sides; ends by the three-point
/// formula, cut to keep the shape.
pub(super) struct Fair {
    points: Vec<(f64, f64)>,
    slopes: Vec<f64>,
}

impl Fair {
    /// Through points of increasing x, at least one.
    pub(super) fn new(points: impl Iterator<Item = (f64, f64)>) -> Self {
        let points: Vec<_> = points.collect();
        let slopes = slopes(&points);
        Self { points, slopes }
    }

    /// The height of the curve; level beyond its ends.
    pub(super) fn at(&self, x: f64) -> f64 {
        let after = self.points.partition_point(|point| point.0 <= x);
        let (Some(&(x0, y0)), Some(&(x1, y1))) =
            (self.points.get(after.saturating_sub(1)), self.points.get(after.max(1)))
        else {
            return self.points.last().map_or(0.0, |point| point.1);
        };
        let (m0, m1) = (self.slopes[after.max(1) - 1], self.slopes[after.max(1)]);
        let gap = x1 - x0;
        let t = ((x - x0) / gap).clamp(0.0, 1.0);
        let (t2, t3) = (t * t, t * t * t);
        let y = y0 * (2.0 * t3 - 3.0 * t2 + 1.0)
            + y1 * (3.0 * t2 - 2.0 * t3)
            + gap * (m0 * (t3 - 2.0 * t2 + t) + m1 * (t3 - t2));
        // Rounding errors must not lead beyond the points either.
        y.clamp(y0.min(y1), y0.max(y1))
    }
}

fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let steps: Vec<(f64, f64)> = points
        .windows(2)
        .map(|pair| {
            let gap = pair[1].0 - pair[0].0;
            (gap, (pair[1].1 - pair[0].1) / gap)
        })
        .collect();
    match steps.as_slice() {
        [] => vec![0.0; points.len()],
        [(_, slope)] => vec![*slope; 2],
        [first, second, ..] => {
            let mut slopes = vec![end_slope(*first, *second)];
            slopes.extend(steps.windows(2).map(|pair| inner_slope(pair[0], pair[1])));
            let (last, before) = (steps[steps.len() - 1], steps[steps.len() - 2]);
            slopes.push(end_slope(last, before));
            slopes
        }
    }
}

/// Weighted harmonic mean of the slopes before and after; level at a peak or hollow.
fn inner_slope((gap0, slope0): (f64, f64), (gap1, slope1): (f64, f64)) -> f64 {
    if slope0 * slope1 <= 0.0 {
        return 0.0;
    }
    let (w0, w1) = (2.0 * gap1 + gap0, gap1 + 2.0 * gap0);
    (w0 + w1) / (w0 / slope0 + w1 / slope1)
}

/// The slope at an end, from the step next to it and the one after.
fn end_slope((near, slope): (f64, f64), (far, next): (f64, f64)) -> f64 {
    let three_point = ((2.0 * near + far) * slope - near * next) / (near + far);
    if three_point * slope <= 0.0 {
        0.0
    } else if slope * next < 0.0 && three_point.abs() > 3.0 * slope.abs() {
        3.0 * slope
    } else {
        three_point
    }
}
