//! The height at which a level surface cuts a given volume off a body: a hull that floats, a tank partly filled.

use crate::geometry::{Cut, Cutter, Point, WaterPlane};

/// A surface at its height, and what it cuts off, moments about the pivot.
#[derive(Clone, Copy)]
pub(super) struct Filled {
    /// Height of the surface over the pivot, mm.
    pub(super) above: f64,
    pub(super) plane: WaterPlane,
    pub(super) cut: Cut,
}

/// Cuts at a height over the pivot, the directions being those of a plane.
pub(super) fn cut_at(cutter: &mut Cutter, lie: &WaterPlane, pivot: Point, above: f64) -> Filled {
    let plane = WaterPlane { level: above + along(lie.up, pivot), ..*lie };
    Filled { above, plane, cut: cutter.cut(&plane, pivot) }
}

/// Finds the height, to a share of the volume. The guess is a height over
/// the pivot. A volume beyond the body's ends at its top.
pub(super) fn fill(
    cutter: &mut Cutter,
    lie: &WaterPlane,
    pivot: Point,
    volume: f64,
    guess: Option<f64>,
    within: f64,
) -> Filled {
    let base = along(lie.up, pivot);
    let (plane, cut) = cutter.level(lie, volume, pivot, guess.map(|above| above + base), within);
    Filled { above: plane.level - base, plane, cut }
}

/// How far a volume may be off where it counts, as a share.
pub(super) const EXACT: f64 = 1.0e-9;

fn along(up: [f64; 3], at: Point) -> f64 {
    up[0] * at.x + up[1] * at.y + up[2] * at.z
}
