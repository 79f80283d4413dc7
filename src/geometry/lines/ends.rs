//! How such hulls close beyond the last station that was measured.

use super::LineStation;
use super::fair::Fair;

/// The figures of a usual hull along its length, as shares: of the length, then half-breadth of the greatest one,
/// flat bottom of the width there, gunwale of its lowest height, keel of the gunwale there.
///
/// Source: common practice, no source: the mean of the shipped hull classes.
const USUAL: [[f64; 5]; 15] = [
    [0.000, 0.260, 0.46, 1.085, 0.370],
    [0.015, 0.390, 0.42, 1.080, 0.210],
    [0.050, 0.558, 0.42, 1.068, 0.108],
    [0.110, 0.695, 0.46, 1.050, 0.057],
    [0.190, 0.833, 0.53, 1.030, 0.028],
    [0.290, 0.940, 0.61, 1.014, 0.009],
    [0.390, 0.990, 0.64, 1.003, 0.000],
    [0.490, 1.000, 0.66, 1.000, 0.000],
    [0.590, 0.982, 0.65, 1.009, 0.003],
    [0.680, 0.913, 0.56, 1.030, 0.011],
    [0.770, 0.774, 0.44, 1.066, 0.032],
    [0.850, 0.580, 0.33, 1.108, 0.064],
    [0.915, 0.366, 0.24, 1.150, 0.127],
    [0.965, 0.163, 0.21, 1.188, 0.283],
    [1.000, 0.030, 0.20, 1.215, 0.860],
];

/// The shares of the length at which a usual hull is known.
pub(super) fn stations() -> impl Iterator<Item = f64> {
    USUAL.iter().map(|row| row[0])
}

/// The figures at `x`, beyond `from`: those of a usual hull, scaled to meet it there.
pub(super) fn beyond(from: &LineStation, x: f64, length: f64) -> LineStation {
    let usual = |column: usize| Fair::new(USUAL.iter().map(|row| (row[0], row[column])));
    let ratio = |column: usize| usual(column).at(x / length) / usual(column).at(from.x / length);
    let (here, there) = (usual(4).at(x / length), usual(4).at(from.x / length));
    let width = from.width * ratio(1);
    let gunwale = from.gunwale * ratio(3);
    LineStation {
        x,
        width,
        width_height: from.width_height * ratio(3),
        bottom_width: from.bottom_width * ratio(1) * ratio(2),
        gunwale,
        keel: from.keel + (gunwale - from.keel) * ((here - there) / (1.0 - there)).max(0.0),
    }
    .in_order()
}
