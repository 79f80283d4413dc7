//! Where the hull's skin meets a water plane, station by station.

use super::{Form, Point, WaterPlane};

/// Steps from keel to gunwale in which a crossing is looked for before it is narrowed down.
const STEPS: usize = 24;
/// Halvings of the step in which it was found.
const HALVINGS: usize = 20;

impl WaterPlane {
    /// Height of the water over the keel baseline at a station and a distance to port, mm.
    pub fn level_at(&self, x: f64, y: f64) -> f64 {
        let [ux, uy, uz] = self.up;
        (self.level - ux * x - uy * y) / uz
    }
}

impl Form {
    /// Distance from the centreline at which the skin leaves the water at a station, mm; `side` is 1 to port, -1
    /// to starboard. The gunwale's where that is under water; `None` where no skin of that side is wet.
    ///
    /// Sides that fold back inward count by their widest place, see [`Form::half_breadth`].
    pub fn wet_half_breadth(&self, water: &WaterPlane, x: f64, side: f64) -> Option<f64> {
        let (keel, (edge, rim)) = (self.keel(x)?, self.gunwale(x)?);
        let half = |z: f64| self.half_breadth(x, z).unwrap_or(edge);
        let wet = |z: f64| water.height(Point::new(x, side * half(z), z)) <= 0.0;
        if wet(rim) {
            return Some(edge);
        }
        let at = |step: usize| rim + (keel - rim) * step as f64 / STEPS as f64;
        let found = (1..=STEPS).find(|step| wet(at(*step)))?;
        let (mut low, mut high) = (at(found), at(found - 1));
        for _ in 0..HALVINGS {
            let middle = f64::midpoint(low, high);
            if wet(middle) { low = middle } else { high = middle }
        }
        Some(half(low))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Section;

    /// 3 m long, 400 mm wide at the keel, 800 at the gunwale 300 mm above it.
    fn trough() -> Form {
        let points_mm = vec![(0.0, 0.0), (200.0, 0.0), (400.0, 300.0)];
        let at = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
        Form { sections: vec![at(0.0), at(3000.0)] }
    }

    fn check(heel_deg: f64, level: f64, side: f64, expected: Option<f64>) {
        let water = WaterPlane::new(heel_deg.to_radians(), 0.0, level);
        match (trough().wet_half_breadth(&water, 1000.0, side), expected) {
            (Some(found), Some(expected)) => assert!((found - expected).abs() < 0.1, "{found} is not {expected}"),
            (found, expected) => assert_eq!(found, expected),
        }
    }

    #[test]
    fn upright_it_is_the_section_at_the_waters_height() {
        // The side runs 200 mm out over 300 mm up: half of it at half the height.
        check(0.0, 150.0, 1.0, Some(300.0));
        check(0.0, 150.0, -1.0, Some(300.0));
        check(0.0, 400.0, 1.0, Some(400.0));
        check(0.0, -1.0, 1.0, None);
    }

    /// By hand: heel t to starboard, z cos t + y sin t = 150 with y = 200 + 2/3 z to port; at tan t = 0.3 and
    /// cos t = 0.95783, z = 80.5 and y = 253.7. To starboard z cos t - y sin t = 150, z = 270.8, y = 380.5.
    #[test]
    fn heeled_it_is_the_crossing_of_two_lines() {
        let heel = 0.3_f64.atan().to_degrees();
        let z = |sign: f64| (150.0 / 0.957_83 - sign * 0.3 * 200.0) / (1.0 + sign * 0.2);
        check(heel, 150.0, 1.0, Some(200.0 + z(1.0) / 1.5));
        check(heel, 150.0, -1.0, Some(200.0 + z(-1.0) / 1.5));
    }

    #[test]
    fn the_level_is_where_points_have_no_height() {
        let water = WaterPlane::new(0.2, 0.05, 120.0);
        let at = Point::new(700.0, 250.0, water.level_at(700.0, 250.0));
        assert!(water.height(at).abs() < 1.0e-9);
    }
}
