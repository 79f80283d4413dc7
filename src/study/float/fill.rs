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

/// Finds the height: Newton between bounds that close in, to a share of the volume. The guess is a height over
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
    let (low, high) = cutter.extent(lie);
    let (mut low, mut high) = (low - base, high - base);
    let start = guess.filter(|above| *above > low && *above < high).unwrap_or(f64::midpoint(low, high));
    let mut now = cut_at(cutter, lie, pivot, start);
    for _ in 0..MOST_CUTS {
        let missing = volume - now.cut.volume;
        if missing.abs() <= within * volume {
            break;
        }
        (low, high) = if missing > 0.0 { (now.above, high) } else { (low, now.above) };
        let newton = now.above + missing / now.cut.area;
        let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
        if next == now.above {
            break;
        }
        now = cut_at(cutter, lie, pivot, next);
    }
    now
}

/// How far a volume may be off where it counts, as a share.
pub(super) const EXACT: f64 = 1.0e-9;
/// How often the height is halved or corrected.
const MOST_CUTS: usize = 100;

fn along(up: [f64; 3], at: Point) -> f64 {
    up[0] * at.x + up[1] * at.y + up[2] * at.z
}
