//! How high the water stands for a volume: Newton's method between bounds that close in.

use super::{Cut, Cutter, WaterPlane};
use crate::geometry::Point;

impl Cutter<'_> {
    /// The water plane of the same attitude with this volume in mm³ under it, and the cut there; moments are about
    /// the pivot. A height that is near, over the boat's origin in mm, saves cuts.
    ///
    /// The volume may be off by the share `within`. One the body has not ends at its lowest or highest corner.
    pub fn level(
        &mut self,
        attitude: &WaterPlane,
        volume: f64,
        pivot: Point,
        near: Option<f64>,
        within: f64,
    ) -> (WaterPlane, Cut) {
        let at = |level| WaterPlane { level, ..*attitude };
        let (mut low, mut high) = self.extent(attitude);
        let mut plane = at(near.filter(|level| *level > low && *level < high).unwrap_or(f64::midpoint(low, high)));
        let mut cut = self.cut(&plane, pivot);
        for _ in 0..MOST_CUTS {
            let missing = volume - cut.volume;
            if missing.abs() <= within * volume {
                break;
            }
            (low, high) = if missing > 0.0 { (plane.level, high) } else { (low, plane.level) };
            let newton = plane.level + missing / cut.area;
            let next = if newton > low && newton < high { newton } else { f64::midpoint(low, high) };
            if next == plane.level {
                break;
            }
            plane = at(next);
            cut = self.cut(&plane, pivot);
        }
        (plane, cut)
    }
}

/// Halving alone would take half as many to reach the last digit.
const MOST_CUTS: usize = 100;

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::geometry::{Body, Form, Section};

    /// A box 3 000 by 800 by 300 mm, level: height is volume over area.
    #[test]
    fn the_height_of_a_box_is_volume_over_area() {
        let points_mm = vec![(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)];
        let at = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
        let body = Body::of(&Form { sections: vec![at(0.0), at(3000.0)] }).unwrap();
        let check = |volume: f64, near, level: f64| {
            let attitude = WaterPlane::new(0.0, 0.0, 0.0);
            let (plane, cut) = Cutter::new(&body).level(&attitude, volume, Point::default(), near, 1.0e-9);
            assert!((plane.level - level).abs() < 1.0e-6, "{volume}: {} is not {level}", plane.level);
            assert!((cut.volume - volume.clamp(0.0, body.volume())).abs() <= 1.0e-6 * body.volume());
        };
        check(2.4e8, None, 100.0);
        check(2.4e8, Some(99.0), 100.0);
        check(2.4e8, Some(-7.0), 100.0);
        check(2.4e9, None, 300.0);
        check(-1.0, None, 0.0);
    }
}
