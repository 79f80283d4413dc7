//! A body cut by a water plane: what is under it by the divergence theorem, and the plane's own moments.
//!
//! With the body's middle as apex every triangle makes a wedge; the waterplane makes the last one. Its
//! area and moments follow from the cut's edges alone (Green's theorem), so no polygon is ever put together.

use super::{Body, RUN, wedge};
use crate::geometry::Point;

/// A water plane as the boat sees it.
///
/// The boat heels about its own length, then trims about the level athwartships line: trim is the angle
/// of the keel baseline to the level, heel that of the athwartships line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaterPlane {
    /// Level direction forward, boat frame.
    pub fore: [f64; 3],
    /// Level direction to port.
    pub port: [f64; 3],
    /// Straight up.
    pub up: [f64; 3],
    /// Height of the plane along `up` over the boat's origin, mm.
    pub level: f64,
}

/// What a water plane cuts off, in the boat frame.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Cut {
    /// Volume under the plane, mm³.
    pub volume: f64,
    /// First moment of that volume about the pivot, mm⁴.
    pub moment: [f64; 3],
    /// Area of the waterplane, mm².
    pub area: f64,
    /// Its first moments forward and to port about the pivot, mm³.
    pub first: [f64; 2],
    /// Its second moments about the pivot, mm⁴: forward by forward, forward by port, port by port.
    pub second: [f64; 3],
}

/// Cuts one body again and again without asking for memory.
#[derive(Clone, Debug)]
pub struct Cutter<'a> {
    body: &'a Body,
    /// Height of every corner over the plane, mm.
    heights: Vec<f64>,
}

impl WaterPlane {
    /// The plane for a heel (radians, positive to starboard), a trim (radians, positive bow down) and a
    /// height in mm over the boat's origin, measured straight up.
    pub fn new(heel: f64, trim: f64, level: f64) -> Self {
        let ((sh, ch), (st, ct)) = (heel.sin_cos(), trim.sin_cos());
        Self { fore: [ct, sh * st, ch * st], port: [0.0, ch, -sh], up: [-st, sh * ct, ch * ct], level }
    }

    /// Height of a point over the water, mm; negative under it.
    pub fn height(&self, at: Point) -> f64 {
        dot(self.up, [at.x, at.y, at.z]) - self.level
    }

    /// Height of the water over the keel baseline on the centreline at a station, mm.
    pub fn draft(&self, x: f64) -> f64 {
        self.level_at(x, 0.0)
    }
}

impl<'a> Cutter<'a> {
    /// Ready to cut this body.
    pub fn new(body: &'a Body) -> Self {
        Self { body, heights: vec![0.0; body.corners.len()] }
    }

    /// The body that is cut.
    pub fn body(&self) -> &'a Body {
        self.body
    }

    /// Two heights along a plane's `up` between which the body lies, mm over the boat's origin: those of the box
    /// around it.
    pub fn extent(&self, plane: &WaterPlane) -> (f64, f64) {
        let (base, reach) = (dot(plane.up, self.middle()), spread(plane.up, self.body.half));
        (base - reach, base + reach)
    }

    /// Cuts the body; moments are about the pivot, mm in the boat frame.
    pub fn cut(&mut self, plane: &WaterPlane, pivot: Point) -> Cut {
        let middle = self.middle();
        let level = plane.level - dot(plane.up, middle);
        let [ux, uy, uz] = plane.up;
        for (height, [x, y, z]) in self.heights.iter_mut().zip(&self.body.corners) {
            *height = ux * x + uy * y + uz * z - level;
        }
        let mut sums = Sums { fore: plane.fore, port: plane.port, wedges: [0.0; 4], ring: [0.0; 6] };
        let (triangles, wedges) = (self.body.triangles.chunks(RUN), self.body.wedges.chunks(RUN));
        for (run, (triangles, wedges)) in self.body.runs.iter().zip(triangles.zip(wedges)) {
            let height = dot(plane.up, run.middle) - level;
            let reach = spread(plane.up, run.half);
            if height > reach {
                continue;
            }
            if height < -reach {
                sums.add(&run.wedges);
                continue;
            }
            for (triangle, wedge) in triangles.iter().zip(wedges) {
                let [a, b, c] = triangle.map(|i| i as usize);
                let heights = [self.heights[a], self.heights[b], self.heights[c]];
                match heights.map(|height| usize::from(height <= 0.0)) {
                    [0, 0, 0] => {}
                    [1, 1, 1] => sums.add(wedge),
                    under => {
                        let at = [self.body.corners[a], self.body.corners[b], self.body.corners[c]];
                        sums.cross(wedge, at, heights, under);
                    }
                }
            }
        }
        sums.cut(level, plane.up).about([pivot.x - middle[0], pivot.y - middle[1], pivot.z - middle[2]], plane)
    }

    fn middle(&self) -> [f64; 3] {
        [self.body.middle.x, self.body.middle.y, self.body.middle.z]
    }
}

impl Cut {
    /// The same cut with moments about another pivot, given from the present one.
    fn about(mut self, pivot: [f64; 3], plane: &WaterPlane) -> Self {
        for (moment, offset) in self.moment.iter_mut().zip(pivot) {
            *moment -= self.volume * offset;
        }
        let (u, v) = (dot(plane.fore, pivot), dot(plane.port, pivot));
        let ([fu, fv], a) = (self.first, self.area);
        self.second[0] += a * u * u - 2.0 * u * fu;
        self.second[1] += a * u * v - u * fv - v * fu;
        self.second[2] += a * v * v - 2.0 * v * fv;
        self.first = [fu - a * u, fv - a * v];
        self
    }
}

/// Running sums about the body's middle.
struct Sums {
    fore: [f64; 3],
    port: [f64; 3],
    /// Volume and first moment of the wedges of the wet skin.
    wedges: [f64; 4],
    /// The waterplane's area, first and second moments, from its edges.
    ring: [f64; 6],
}

impl Sums {
    #[inline]
    fn add(&mut self, wedge: &[f64; 4]) {
        for (sum, value) in self.wedges.iter_mut().zip(wedge) {
            *sum += value;
        }
    }

    /// A triangle with one corner alone on its side of the plane.
    fn cross(&mut self, whole: &[f64; 4], at: [[f64; 3]; 3], heights: [f64; 3], under: [usize; 3]) {
        let alone_under = under[0] + under[1] + under[2] == 1;
        let alone = under.iter().position(|&wet| (wet == 1) == alone_under).unwrap_or(0);
        let (next, last) = ((alone + 1) % 3, (alone + 2) % 3);
        let onward = between(at[alone], at[next], heights[alone], heights[next]);
        let back = between(at[alone], at[last], heights[alone], heights[last]);
        let tip = wedge([at[alone], onward, back]);
        if alone_under {
            self.add(&tip);
            self.edge(back, onward);
        } else {
            self.add(whole);
            self.add(&tip.map(|value| -value));
            self.edge(onward, back);
        }
    }

    /// One edge of the waterplane, with the water's body to its left seen from above.
    fn edge(&mut self, from: [f64; 3], to: [f64; 3]) {
        let (u0, v0) = (dot(self.fore, from), dot(self.port, from));
        let (u1, v1) = (dot(self.fore, to), dot(self.port, to));
        let turn = u0 * v1 - u1 * v0;
        let values = [
            turn / 2.0,
            turn * (u0 + u1) / 6.0,
            turn * (v0 + v1) / 6.0,
            turn * (u0 * u0 + u0 * u1 + u1 * u1) / 12.0,
            turn * (u0 * v1 + 2.0 * u0 * v0 + 2.0 * u1 * v1 + u1 * v0) / 24.0,
            turn * (v0 * v0 + v0 * v1 + v1 * v1) / 12.0,
        ];
        for (sum, value) in self.ring.iter_mut().zip(values) {
            *sum += value;
        }
    }

    /// Adds the wedge of the waterplane itself.
    fn cut(&self, level: f64, up: [f64; 3]) -> Cut {
        let [area, fu, fv, uu, uv, vv] = self.ring;
        let [volume, mx, my, mz] = self.wedges;
        let lid = |i: usize| level / 4.0 * (self.fore[i] * fu + self.port[i] * fv + up[i] * level * area);
        Cut {
            volume: volume + level * area / 3.0,
            moment: [mx + lid(0), my + lid(1), mz + lid(2)],
            area,
            first: [fu, fv],
            second: [uu, uv, vv],
        }
    }
}

/// Where the edge from one corner to another meets the plane.
fn between(from: [f64; 3], to: [f64; 3], above: f64, below: f64) -> [f64; 3] {
    let share = above / (above - below);
    [from[0] + share * (to[0] - from[0]), from[1] + share * (to[1] - from[1]), from[2] + share * (to[2] - from[2])]
}

/// How far a box of this half size reaches along a direction.
#[inline]
fn spread(along: [f64; 3], half: [f64; 3]) -> f64 {
    along[0].abs() * half[0] + along[1].abs() * half[1] + along[2].abs() * half[2]
}

#[inline]
fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::geometry::{Form, Section};

    fn check(value: f64, expected: f64) {
        assert!((value - expected).abs() <= 1.0e-9 * expected.abs().max(1.0), "{value} is not {expected}");
    }

    /// A box 3 000 by 800 by 300 mm.
    fn block() -> Body {
        let points_mm = vec![(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)];
        let at = |x_mm| Section { x_mm, points_mm: points_mm.clone() };
        Body::of(&Form { sections: vec![at(0.0), at(3000.0)] }).unwrap()
    }

    #[test]
    fn a_level_box_cuts_into_a_box() {
        let (body, origin) = (block(), Point::new(0.0, 0.0, 0.0));
        let cut = Cutter::new(&body).cut(&WaterPlane::new(0.0, 0.0, 100.0), origin);
        check(cut.volume, 2.4e8);
        check(cut.moment[0] / cut.volume, 1500.0);
        check(cut.moment[1] / cut.volume, 0.0);
        check(cut.moment[2] / cut.volume, 50.0);
        check(cut.area, 2.4e6);
        check(cut.first[0] / cut.area, 1500.0);
        check(cut.second[0], 800.0 * 3000.0_f64.powi(3) / 3.0);
        check(cut.second[2], 3000.0 * 800.0_f64.powi(3) / 12.0);
    }

    /// A plane through a bottom corner line at 45 degrees leaves a prism of 300 by 300 mm half.
    #[test]
    fn a_heeled_box_cuts_into_a_prism() {
        let body = block();
        let plane = WaterPlane::new(std::f64::consts::FRAC_PI_4, 0.0, -100.0 * std::f64::consts::FRAC_1_SQRT_2);
        let cut = Cutter::new(&body).cut(&plane, Point::new(0.0, 0.0, 0.0));
        check(cut.volume, 3000.0 * 300.0 * 300.0 / 2.0);
        check(cut.moment[1] / cut.volume, -300.0);
        check(cut.moment[2] / cut.volume, 100.0);
        check(cut.area, 3000.0 * 300.0 * std::f64::consts::SQRT_2);
    }

    #[test]
    fn all_or_nothing_under_water_has_no_waterplane() {
        let body = block();
        let cut = |level| Cutter::new(&body).cut(&WaterPlane::new(0.3, 0.1, level), Point::new(0.0, 0.0, 0.0));
        check(cut(-5000.0).volume, 0.0);
        check(cut(5000.0).volume, body.volume());
        assert_eq!((cut(-5000.0).area, cut(5000.0).area), (0.0, 0.0));
    }

    #[test]
    fn heights_and_drafts_are_measured_as_the_water_lies() {
        let plane = WaterPlane::new(0.0, 0.1, 100.0);
        check(plane.height(Point::new(0.0, 7.0, 0.0)), -100.0);
        check(plane.draft(1000.0) - plane.draft(0.0), 1000.0 * 0.1_f64.tan());
    }
}
