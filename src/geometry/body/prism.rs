//! Upright prisms as triangles: tanks over any outline, and the room in recesses of a hull, strip by strip.

use crate::geometry::{Point, Polygon, Strip};

/// A part of a recess: over a strip, from a level floor to a top that runs straight from aft to fore. Millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Recess {
    /// What it covers seen from above.
    pub strip: Strip,
    /// Height of its floor over the baseline.
    pub floor: f64,
    /// Height of its top at the strip's aft and fore stations.
    pub top: [f64; 2],
}

/// Corners and triangles of a prism, counter-clockwise seen from outside. Floor and top are fans from the first
/// corner: where an outline is not convex they overlap with opposite signs, which no sum over the body minds.
pub(super) fn prism(outline: &Polygon, low: f64, high: f64) -> (Vec<Point>, Vec<[u32; 3]>) {
    let mut around = outline.corners.clone();
    if outline.edges().map(|(a, b)| a.x * b.y - b.x * a.y).sum::<f64>() < 0.0 {
        around.reverse();
    }
    let count = around.len() as u32;
    let points = around.iter().map(|spot| spot.at(low)).chain(around.iter().map(|spot| spot.at(high))).collect();
    let walls = (0..count).flat_map(|i| {
        let next = (i + 1) % count;
        [[i, next, next + count], [i, next + count, i + count]]
    });
    let lids = (2..count).flat_map(|i| [[0, i, i - 1], [count, count + i - 1, count + i]]);
    (points, walls.chain(lids).collect())
}

/// Corners and triangles of the room in recesses, as seen from outside that room. Where one runs on into the next
/// there is no wall.
pub(super) fn recesses(recesses: &[Recess]) -> (Vec<Point>, Vec<[u32; 3]>) {
    let (mut points, mut triangles) = (Vec::new(), Vec::new());
    for recess in recesses {
        let first = points.len() as u32;
        points.extend(recess.corners());
        let mut wall = |[a, b, c, d]: [u32; 4]| {
            triangles.extend([[a, b, c], [a, c, d]].map(|corners| corners.map(|corner| first + corner)));
        };
        wall([0, 1, 2, 3]);
        wall([4, 7, 6, 5]);
        wall([1, 5, 6, 2]);
        wall([0, 3, 7, 4]);
        if !recesses.iter().any(|other| other.end(1) == recess.end(0)) {
            wall([0, 4, 5, 1]);
        }
        if !recesses.iter().any(|other| other.end(0) == recess.end(1)) {
            wall([3, 2, 6, 7]);
        }
    }
    (points, triangles)
}

impl Recess {
    /// Round the floor from aft to starboard by port and fore, then the same at the top.
    fn corners(&self) -> [Point; 8] {
        let Self { strip, floor, top } = *self;
        let at = |end: usize, y: [f64; 2], z: f64| Point::new(strip.x[end], y[end], z);
        let ring = |z: [f64; 2]| {
            let (starboard, port) = (strip.starboard, strip.port);
            [at(0, starboard, z[0]), at(0, port, z[0]), at(1, port, z[1]), at(1, starboard, z[1])]
        };
        let ([a, b, c, d], [e, f, g, h]) = (ring([floor; 2]), ring(top));
        [a, b, c, d, e, f, g, h]
    }

    /// The face at one end: station, starboard, port, floor, top.
    fn end(&self, end: usize) -> [f64; 5] {
        [self.strip.x[end], self.strip.starboard[end], self.strip.port[end], self.floor, self.top[end]]
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::super::{Body, closed};
    use super::*;
    use crate::geometry::{Cutter, Form, Section, Spot, WaterPlane, strips};

    fn check(found: f64, expected: f64) {
        assert!((found - expected).abs() <= 1.0e-9 * expected.abs().max(1.0), "{found} is not {expected}");
    }

    /// An L of 300 by 300 mm with a notch of 200 by 100 at its fore port corner.
    fn corner() -> Polygon {
        let corners = [(0.0, 0.0), (300.0, 0.0), (300.0, 100.0), (200.0, 100.0), (200.0, 300.0), (0.0, 300.0)];
        Polygon::new(corners.map(Spot::from).to_vec())
    }

    #[test]
    fn a_prism_holds_its_area_times_its_height_whichever_way_round() {
        let mut outline = corner();
        for _ in 0..2 {
            let body = Body::prism(&outline, 50.0, 250.0).unwrap();
            check(body.volume(), outline.area() * 200.0);
            assert!(closed(body.points().count(), body.triangles()));
            let cut = Cutter::new(&body).cut(&WaterPlane::new(0.0, 0.0, 100.0), Point::default());
            check(cut.volume, outline.area() * 50.0);
            // 300 x 100 at 50 and 200 x 200 at 200 over the starboard edge.
            check(cut.moment[1] / cut.volume, (300.0 * 100.0 * 50.0 + 200.0 * 200.0 * 200.0) / 70_000.0);
            outline.corners.reverse();
        }
        assert!(Body::prism(&Polygon::default(), 0.0, 1.0).is_err());
        assert!(Body::prism(&outline, 50.0, 50.0).is_err());
    }

    /// Corners at one place are one corner.
    fn merged(points: &[Point], triangles: &[[u32; 3]]) -> Vec<[u32; 3]> {
        let first = |i: u32| points.iter().position(|p| *p == points[i as usize]).unwrap() as u32;
        triangles.iter().map(|t| t.map(first)).collect()
    }

    #[test]
    fn recesses_side_by_side_close() {
        let along = strips(&[&corner()], &[], &[120.0]);
        let parts: Vec<_> =
            along.iter().map(|&strip| Recess { strip, floor: 40.0, top: strip.x.map(|x| 100.0 + x / 10.0) }).collect();
        let (points, triangles) = recesses(&parts);
        assert!(closed(points.len(), &merged(&points, &triangles)));
        // Two of the three faces between strips are shared; the step of the L is not.
        assert_eq!((parts.len(), triangles.len()), (3, 3 * 12 - 4));
        // The mean of a top that rises by a tenth: 100 plus a tenth of the centre's x, less the floor.
        let middle = (200.0 * 300.0 * 100.0 + 100.0 * 100.0 * 250.0) / 70_000.0;
        check(Body::of_recesses(&parts).unwrap().volume(), 70_000.0 * (60.0 + middle / 10.0));
    }

    #[test]
    fn a_box_with_a_well_lacks_what_is_in_the_well() {
        let points_mm = vec![(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)];
        let sections = [0.0, 3000.0].map(|x_mm| Section { x_mm, points_mm: points_mm.clone() });
        let hull = Body::of(&Form { sections: sections.to_vec() }).unwrap();
        let strip = Strip { x: [1000.0, 2000.0], starboard: [-250.0; 2], port: [250.0; 2] };
        let body = hull.clone().without(&[Recess { strip, floor: 100.0, top: [300.0; 2] }]).unwrap();
        check(body.volume(), hull.volume() - 1000.0 * 500.0 * 200.0);
        let cut = |level: f64, body: &Body| Cutter::new(body).cut(&WaterPlane::new(0.0, 0.0, level), Point::default());
        check(cut(80.0, &body).volume, cut(80.0, &hull).volume);
        check(cut(150.0, &body).volume, cut(150.0, &hull).volume - 1000.0 * 500.0 * 50.0);
        check(cut(150.0, &body).area, 3000.0 * 800.0 - 1000.0 * 500.0);
        let lost = 1000.0 * 500.0_f64.powi(3) / 12.0;
        check(cut(150.0, &body).second[2], 3000.0 * 800.0_f64.powi(3) / 12.0 - lost);
        assert_eq!(hull.clone().without(&[]), Ok(hull));
    }
}
