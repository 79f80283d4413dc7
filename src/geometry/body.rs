//! A closed triangulated body made from a hull's form, ready to be cut by a water plane.
//!
//! Both sides are mirrored, the deck is laid straight across from gunwale to gunwale, and the first
//! and last sections close the ends. Recesses that are open to the water are taken out as bodies turned
//! inside out: every figure of a cut is a sum over triangles, so what they lack of buoyancy, waterplane and
//! stiffness comes out exactly.

mod cut;
mod level;
mod loft;
mod prism;

use std::fmt;

pub use cut::{Cut, Cutter, WaterPlane};
pub use prism::Recess;

use super::{Form, Point, Polygon};

/// A closed body of triangles whose normals point outward.
///
/// Everything a cut needs is laid out flat and computed once: the wedge that each triangle makes with
/// the body's middle, its volume and first moment, so that a triangle wholly under water costs four sums. Runs of
/// neighbouring triangles are put in boxes, so that most runs are counted or passed over as a whole.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// Middle of the enclosing box, mm: what corners and wedges are measured from.
    middle: Point,
    /// Half the box's size each way, mm.
    half: [f64; 3],
    /// Corners from the middle, mm.
    corners: Vec<[f64; 3]>,
    /// Three corners each, counter-clockwise seen from outside.
    triangles: Vec<[u32; 3]>,
    /// Volume, mm³, and first moment, mm⁴, of the wedge from the middle to each triangle.
    wedges: Vec<[f64; 4]>,
    /// Runs of [`RUN`] triangles, the last one of what is left.
    runs: Vec<Run>,
    /// Volume enclosed, mm³.
    volume: f64,
    /// Least and greatest x, mm.
    ends: (f64, f64),
}

/// Some neighbouring triangles: the box around them, from the body's middle, and the sum of their wedges.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Run {
    middle: [f64; 3],
    half: [f64; 3],
    wedges: [f64; 4],
}

/// Why a form or a mesh is no body that can float.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BodyError {
    /// Fewer than two sections.
    OneSection,
    /// All sections at one station, or a body without length.
    ZeroLength,
    /// A section with fewer than two points, at this x in mm.
    FewPoints(f64),
    /// A number that is not finite or beyond 100 m.
    Nonsense,
    /// The section at this x in mm is not forward of the one before it.
    SectionsCross(f64),
    /// The section at this x in mm crosses itself or the centreline.
    SectionFolds(f64),
    /// Triangles leave a gap, or name a corner that is not there.
    Open,
    /// The skin encloses nothing, or faces inward.
    InsideOut,
}

impl Body {
    /// The body of a form: straight between points and sections, decked across the gunwale.
    ///
    /// A patch between two sections that is not flat is split about its middle, so that neither
    /// diagonal is preferred and port and starboard are mirror images.
    pub fn of(form: &Form) -> Result<Self, BodyError> {
        let (points, triangles) = loft::loft(form)?;
        // A closed skin is the loft's business; looking for gaps would take longer than floating.
        Self::assembled(&points, triangles)
    }

    /// A body from corners in mm and triangles of three corners, counter-clockwise seen from outside.
    pub fn new(points: &[Point], triangles: Vec<[u32; 3]>) -> Result<Self, BodyError> {
        if !closed(points.len(), &triangles) {
            return Err(BodyError::Open);
        }
        Self::assembled(points, triangles)
    }

    /// An upright prism over an outline, between two heights in mm.
    pub fn prism(outline: &Polygon, low: f64, high: f64) -> Result<Self, BodyError> {
        let (points, triangles) = prism::prism(outline, low, high);
        Self::assembled(&points, triangles)
    }

    /// The room in recesses that lie side by side, taken as a body of its own.
    pub fn of_recesses(recesses: &[Recess]) -> Result<Self, BodyError> {
        let (points, triangles) = prism::recesses(recesses);
        Self::assembled(&points, triangles)
    }

    /// The body without the room in some recesses. They have to lie inside it and apart from each other.
    pub fn without(self, recesses: &[Recess]) -> Result<Self, BodyError> {
        if recesses.is_empty() {
            return Ok(self);
        }
        let (points, triangles) = prism::recesses(recesses);
        let first = self.corners.len() as u32;
        let all: Vec<Point> = self.points().chain(points).collect();
        let inverted = triangles.iter().map(|&[a, b, c]| [a + first, c + first, b + first]);
        Self::assembled(&all, self.triangles.iter().copied().chain(inverted).collect())
    }

    /// A body of triangles that are known to close.
    fn assembled(points: &[Point], triangles: Vec<[u32; 3]>) -> Result<Self, BodyError> {
        if !points.iter().all(|p| [p.x, p.y, p.z].iter().all(|v| v.abs() <= FARTHEST_MM)) {
            return Err(BodyError::Nonsense);
        }
        let (low, high) = bounds(points);
        if high.x - low.x <= 0.0 {
            return Err(BodyError::ZeroLength);
        }
        let middle = Point::new(f64::midpoint(low.x, high.x), 0.0, f64::midpoint(low.z, high.z));
        let half = [(high.x - low.x) / 2.0, high.y.abs().max(low.y.abs()), (high.z - low.z) / 2.0];
        let corners: Vec<_> = points.iter().map(|p| [p.x - middle.x, p.y, p.z - middle.z]).collect();
        let wedges: Vec<_> = triangles.iter().map(|t| wedge(t.map(|i| corners[i as usize]))).collect();
        let runs: Vec<_> =
            triangles.chunks(RUN).zip(wedges.chunks(RUN)).map(|(t, w)| Run::of(&corners, t, w)).collect();
        let volume = runs.iter().map(|run| run.wedges[0]).sum();
        let smallest = SLIVER * (high.x - low.x).powi(3);
        if volume <= smallest {
            return Err(BodyError::InsideOut);
        }
        Ok(Self { middle, half, corners, triangles, wedges, runs, volume, ends: (low.x, high.x) })
    }

    /// Volume enclosed, mm³.
    pub fn volume(&self) -> f64 {
        self.volume
    }

    /// Least and greatest x, mm.
    pub fn ends(&self) -> (f64, f64) {
        self.ends
    }

    /// Length between the ends, mm.
    pub fn length(&self) -> f64 {
        self.ends.1 - self.ends.0
    }

    /// How many triangles it has.
    pub fn triangle_count(&self) -> usize {
        self.triangles.len()
    }

    /// Its corners, mm.
    pub fn points(&self) -> impl Iterator<Item = Point> + '_ {
        let m = self.middle;
        self.corners.iter().map(move |c| Point::new(c[0] + m.x, c[1] + m.y, c[2] + m.z))
    }

    /// Its triangles, by number of corner, counter-clockwise seen from outside.
    pub fn triangles(&self) -> &[[u32; 3]] {
        &self.triangles
    }
}

impl fmt::Display for BodyError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OneSection => write!(f, "a hull needs at least two sections; add one at the other end"),
            Self::ZeroLength => write!(f, "the hull has no length; check the sections' x"),
            Self::FewPoints(x) => write!(f, "the section at {x} mm has fewer than two points; add keel and gunwale"),
            Self::Nonsense => write!(f, "a coordinate of the hull is not a number or beyond 100 m; correct it"),
            Self::SectionsCross(x) => {
                write!(f, "the section at {x} mm is not forward of the one before it; order them from aft to bow")
            }
            Self::SectionFolds(x) => {
                write!(
                    f,
                    "the section at {x} mm crosses itself or the centreline; list its points from keel to gunwale"
                )
            }
            Self::Open => write!(f, "the hull's skin has a gap; every edge needs a triangle on both sides"),
            Self::InsideOut => {
                write!(f, "the hull's skin is inside out or encloses nothing; list points from keel to gunwale")
            }
        }
    }
}

impl std::error::Error for BodyError {}

/// No boat reaches farther from its origin, mm.
const FARTHEST_MM: f64 = 100_000.0;
/// A body of less volume than this share of its length cubed is taken for a flat one.
const SLIVER: f64 = 1.0e-12;
/// Triangles in a run: about two patches of skin.
const RUN: usize = 8;

fn bounds(points: &[Point]) -> (Point, Point) {
    let (mut low, mut high) = (Point::new(f64::MAX, f64::MAX, f64::MAX), Point::new(f64::MIN, f64::MIN, f64::MIN));
    for p in points {
        low = Point::new(low.x.min(p.x), low.y.min(p.y), low.z.min(p.z));
        high = Point::new(high.x.max(p.x), high.y.max(p.y), high.z.max(p.z));
    }
    (low, high)
}

impl Run {
    fn of(corners: &[[f64; 3]], triangles: &[[u32; 3]], wedges: &[[f64; 4]]) -> Self {
        let (mut low, mut high) = ([f64::MAX; 3], [f64::MIN; 3]);
        for corner in triangles.iter().flatten().map(|&i| corners[i as usize]) {
            for axis in 0..3 {
                low[axis] = low[axis].min(corner[axis]);
                high[axis] = high[axis].max(corner[axis]);
            }
        }
        let mut sums = [0.0; 4];
        for wedge in wedges {
            for (sum, value) in sums.iter_mut().zip(wedge) {
                *sum += value;
            }
        }
        let each = |f: fn(f64, f64) -> f64| [f(low[0], high[0]), f(low[1], high[1]), f(low[2], high[2])];
        Self { middle: each(f64::midpoint), half: each(|low, high| (high - low) / 2.0), wedges: sums }
    }
}

/// Whether every edge is passed as often one way as the other.
fn closed(count: usize, triangles: &[[u32; 3]]) -> bool {
    if triangles.is_empty() || triangles.iter().flatten().any(|&i| i as usize >= count) {
        return false;
    }
    let edges = triangles.iter().flat_map(|&[a, b, c]| [(a, b), (b, c), (c, a)]);
    let mut passes: Vec<(u32, u32, i32)> =
        edges.map(|(a, b)| (a.min(b), a.max(b), if a < b { 1 } else { -1 })).collect();
    passes.sort_unstable();
    let same = |one: &(u32, u32, i32), next: &(u32, u32, i32)| (one.0, one.1) == (next.0, next.1);
    passes.chunk_by(same).all(|edge| edge[0].0 == edge[0].1 || edge.iter().map(|pass| pass.2).sum::<i32>() == 0)
}

/// Volume and first moment of the tetrahedron from the origin to a triangle.
fn wedge([a, b, c]: [[f64; 3]; 3]) -> [f64; 4] {
    let volume =
        (a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0]))
            / 6.0;
    let quarter = volume / 4.0;
    [volume, quarter * (a[0] + b[0] + c[0]), quarter * (a[1] + b[1] + c[1]), quarter * (a[2] + b[2] + c[2])]
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::*;
    use crate::geometry::Section;

    fn form(sections: &[(f64, &[(f64, f64)])]) -> Form {
        Form { sections: sections.iter().map(|(x_mm, p)| Section { x_mm: *x_mm, points_mm: p.to_vec() }).collect() }
    }

    const BOX: &[(f64, f64)] = &[(0.0, 0.0), (400.0, 0.0), (400.0, 300.0)];

    #[test]
    fn a_box_encloses_its_volume() {
        let body = Body::of(&form(&[(0.0, BOX), (3000.0, BOX)])).unwrap();
        assert!((body.volume() - 3000.0 * 800.0 * 300.0).abs() < 1.0e-3);
        assert_eq!(body.ends(), (0.0, 3000.0));
        assert_eq!(body.length(), 3000.0);
    }

    #[test]
    fn sections_of_different_point_counts_still_close() {
        let vee: &[(f64, f64)] = &[(0.0, 0.0), (400.0, 300.0)];
        let body = Body::of(&form(&[(0.0, vee), (1000.0, BOX), (3000.0, vee), (3500.0, &[(0.0, 0.0), (0.0, 300.0)])]));
        assert!(body.unwrap().volume() > 0.0);
    }

    #[test]
    fn a_bottom_that_starts_off_the_centreline_is_laid_across() {
        let open: &[(f64, f64)] = &[(400.0, 0.0), (400.0, 300.0)];
        let body = Body::of(&form(&[(0.0, open), (3000.0, open)])).unwrap();
        assert!((body.volume() - 3000.0 * 800.0 * 300.0).abs() < 1.0e-3);
    }

    #[test]
    fn bad_forms_are_refused_by_name() {
        let check = |sections: &[(f64, &[(f64, f64)])], error| assert_eq!(Body::of(&form(sections)), Err(error));
        let backwards: &[(f64, f64)] = &[(400.0, 300.0), (400.0, 0.0), (0.0, 0.0)];
        let knot: &[(f64, f64)] = &[(0.0, 0.0), (400.0, 300.0), (400.0, 0.0), (0.0, 300.0)];
        check(&[], BodyError::OneSection);
        check(&[(0.0, BOX)], BodyError::OneSection);
        check(&[(5.0, BOX), (5.0, BOX)], BodyError::ZeroLength);
        check(&[(0.0, BOX), (900.0, BOX), (800.0, BOX)], BodyError::SectionsCross(800.0));
        check(&[(0.0, BOX), (900.0, BOX), (900.0, BOX)], BodyError::SectionsCross(900.0));
        check(&[(0.0, BOX), (900.0, &[(0.0, 0.0)])], BodyError::FewPoints(900.0));
        check(&[(0.0, BOX), (f64::NAN, BOX)], BodyError::Nonsense);
        check(&[(0.0, BOX), (900.0, &[(0.0, f64::INFINITY), (1.0, 2.0)])], BodyError::Nonsense);
        check(&[(0.0, knot), (900.0, knot)], BodyError::SectionFolds(0.0));
        check(&[(0.0, BOX), (900.0, &[(0.0, 0.0), (-9.0, 5.0)])], BodyError::SectionFolds(900.0));
        check(&[(0.0, backwards), (900.0, backwards)], BodyError::InsideOut);
        check(&[(0.0, &[(0.0, 0.0), (0.0, 9.0)]), (900.0, &[(0.0, 0.0), (0.0, 9.0)])], BodyError::InsideOut);
    }

    #[test]
    fn open_and_inverted_meshes_are_refused() {
        let body = Body::of(&form(&[(0.0, BOX), (3000.0, BOX)])).unwrap();
        let points: Vec<_> = body.points().collect();
        let with = |triangles| Body::new(&points, triangles);
        assert_eq!(with(body.triangles()[1..].to_vec()), Err(BodyError::Open));
        assert_eq!(with(vec![[0, 1, 9999]]), Err(BodyError::Open));
        assert_eq!(with(Vec::new()), Err(BodyError::Open));
        assert_eq!(with(body.triangles().iter().map(|&[a, b, c]| [a, c, b]).collect()), Err(BodyError::InsideOut));
    }
}
