//! From sections to triangles: skin between sections, bottom and deck across, caps at the ends.

use super::{BodyError, FARTHEST_MM};
use crate::geometry::{Form, Point, Section};

/// Corners and triangles, counter-clockwise seen from outside.
pub(super) fn loft(form: &Form) -> Result<(Vec<Point>, Vec<[u32; 3]>), BodyError> {
    inspect(form)?;
    let mut mesh = Mesh::default();
    let ribs: Vec<Rib> = form.sections.iter().map(|section| mesh.rib(section)).collect();
    for pair in ribs.windows(2) {
        mesh.skin(&pair[0], &pair[1]);
    }
    if let (Some(aft), Some(fore)) = (ribs.first(), ribs.last()) {
        mesh.cap(aft, false);
        mesh.cap(fore, true);
    }
    Ok((mesh.points, mesh.triangles))
}

/// Refuses what cannot be lofted, with the station that is wrong.
fn inspect(form: &Form) -> Result<(), BodyError> {
    let sections = &form.sections;
    let fair = |v: f64| v.abs() <= FARTHEST_MM;
    if !sections.iter().all(|s| fair(s.x_mm) && s.points_mm.iter().all(|p| fair(p.0) && fair(p.1))) {
        return Err(BodyError::Nonsense);
    }
    if sections.len() < 2 {
        return Err(BodyError::OneSection);
    }
    if sections.iter().all(|s| s.x_mm == sections[0].x_mm) {
        return Err(BodyError::ZeroLength);
    }
    if let Some(pair) = sections.windows(2).find(|pair| pair[1].x_mm <= pair[0].x_mm) {
        return Err(BodyError::SectionsCross(pair[1].x_mm));
    }
    for section in sections {
        if section.points_mm.len() < 2 {
            return Err(BodyError::FewPoints(section.x_mm));
        }
        if section.points_mm.iter().any(|p| p.0 < 0.0) || crosses_itself(&section.points_mm) {
            return Err(BodyError::SectionFolds(section.x_mm));
        }
        if half_area(&section.points_mm) < 0.0 {
            return Err(BodyError::InsideOut);
        }
    }
    Ok(())
}

/// Area between centreline and section, positive when the points run upward outside.
fn half_area(points: &[(f64, f64)]) -> f64 {
    points.windows(2).map(|p| f64::midpoint(p[0].0, p[1].0) * (p[1].1 - p[0].1)).sum()
}

/// Whether two legs of a polyline cross properly; touching is let pass.
fn crosses_itself(points: &[(f64, f64)]) -> bool {
    let side = |a: (f64, f64), b: (f64, f64), c: (f64, f64)| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    let apart = |p: &[(f64, f64)], q: &[(f64, f64)]| side(p[0], p[1], q[0]) * side(p[0], p[1], q[1]) < 0.0;
    let legs: Vec<_> = points.windows(2).collect();
    legs.iter().enumerate().any(|(i, p)| legs[i + 1..].iter().any(|q| apart(p, q) && apart(q, p)))
}

/// One section's corners, keel to gunwale, on both sides. On the centreline both are the same corner.
struct Rib {
    port: Vec<u32>,
    starboard: Vec<u32>,
}

/// Corners of the port side and of the centreline; behind each of the port side comes its mirror image.
#[derive(Default)]
struct Mesh {
    points: Vec<Point>,
    triangles: Vec<[u32; 3]>,
    /// Triangles of the starboard side between the sections at hand; they follow those of the port side, so that
    /// neighbours in the list are neighbours on the hull.
    starboard: Vec<[u32; 3]>,
}

impl Mesh {
    fn rib(&mut self, section: &Section) -> Rib {
        let mut rib = Rib { port: Vec::new(), starboard: Vec::new() };
        for &(y, z) in &section.points_mm {
            let port = self.corner(Point::new(section.x_mm, y, z));
            rib.port.push(port);
            rib.starboard.push(self.other(port));
        }
        rib
    }

    /// Adds a corner, and its mirror image if it is off the centreline.
    fn corner(&mut self, at: Point) -> u32 {
        let index = self.points.len() as u32;
        self.points.push(at);
        if at.y != 0.0 {
            self.points.push(Point::new(at.x, -at.y, at.z));
        }
        index
    }

    /// The corner's mirror image: the next one, for those off the centreline.
    fn other(&self, port: u32) -> u32 {
        if self.points[port as usize].y == 0.0 { port } else { port + 1 }
    }

    /// Both sides, the bottom and the deck between two sections.
    fn skin(&mut self, aft: &Rib, fore: &Rib) {
        if aft.port.len() == fore.port.len() {
            for i in 1..aft.port.len() {
                self.patch([aft.port[i - 1], aft.port[i], fore.port[i], fore.port[i - 1]]);
            }
        } else {
            self.zip(&aft.port, &fore.port);
        }
        self.triangles.append(&mut self.starboard);
        let (a, f) = (aft.port.len() - 1, fore.port.len() - 1);
        self.flat([aft.port[0], fore.port[0], fore.starboard[0], aft.starboard[0]]);
        self.flat([aft.starboard[a], fore.starboard[f], fore.port[f], aft.port[a]]);
    }

    /// A patch of the port side and its mirror image; split about its middle unless it is flat.
    fn patch(&mut self, quad: [u32; 4]) {
        let p = quad.map(|i| self.points[i as usize]);
        if planar(p) {
            self.sides([quad[0], quad[1], quad[2]]);
            self.sides([quad[0], quad[2], quad[3]]);
            return;
        }
        let mean = |f: fn(Point) -> f64| p.iter().map(|&q| f(q)).sum::<f64>() / 4.0;
        let middle = self.corner(Point::new(mean(|q| q.x), mean(|q| q.y), mean(|q| q.z)));
        for i in 0..4 {
            self.sides([middle, quad[i], quad[(i + 1) % 4]]);
        }
    }

    /// Between polylines of different counts: goes up both, taking the shorter step in share of girth.
    fn zip(&mut self, aft: &[u32], fore: &[u32]) {
        let (at, ft) = (self.shares(aft), self.shares(fore));
        let (mut i, mut j) = (0, 0);
        while i + 1 < aft.len() || j + 1 < fore.len() {
            let aft_next = j + 1 == fore.len() || (i + 1 < aft.len() && at[i + 1] <= ft[j + 1]);
            if aft_next {
                self.sides([aft[i], aft[i + 1], fore[j]]);
                i += 1;
            } else {
                self.sides([aft[i], fore[j + 1], fore[j]]);
                j += 1;
            }
        }
    }

    /// Girth from the keel to each corner, over the whole.
    fn shares(&self, rib: &[u32]) -> Vec<f64> {
        let mut girths = vec![0.0];
        for pair in rib.windows(2) {
            let (a, b) = (self.points[pair[0] as usize], self.points[pair[1] as usize]);
            girths.push(girths[girths.len() - 1] + (b.y - a.y).hypot(b.z - a.z));
        }
        let whole = girths[girths.len() - 1].max(f64::MIN_POSITIVE);
        girths.iter().map(|girth| girth / whole).collect()
    }

    /// Closes an end: strips across from side to side. Strips of a tunnel section overlap with opposite
    /// signs, which every sum over the body takes in its stride.
    fn cap(&mut self, rib: &Rib, fore: bool) {
        for i in 1..rib.port.len() {
            let (p0, p1, s0, s1) = (rib.port[i - 1], rib.port[i], rib.starboard[i - 1], rib.starboard[i]);
            self.flat(if fore { [s0, p0, p1, s1] } else { [p0, s0, s1, p1] });
        }
    }

    /// A triangle of the port side and its mirror image.
    fn sides(&mut self, [a, b, c]: [u32; 3]) {
        let mirrored = [self.other(a), self.other(c), self.other(b)];
        self.triangles.extend(sound([a, b, c]));
        self.starboard.extend(sound(mirrored));
    }

    fn flat(&mut self, [a, b, c, d]: [u32; 4]) {
        self.triangles.extend([[a, b, c], [a, c, d]].into_iter().filter_map(sound));
    }
}

/// A triangle with two corners in one cancels itself.
fn sound([a, b, c]: [u32; 3]) -> Option<[u32; 3]> {
    (a != b && b != c && c != a).then_some([a, b, c])
}

/// Whether four corners lie in a plane to a part in a million million of their volume's scale.
fn planar([a, b, c, d]: [Point; 4]) -> bool {
    let from = |p: Point| [p.x - a.x, p.y - a.y, p.z - a.z];
    let (u, v, w) = (from(b), from(c), from(d));
    let det =
        u[0] * (v[1] * w[2] - v[2] * w[1]) + u[1] * (v[2] * w[0] - v[0] * w[2]) + u[2] * (v[0] * w[1] - v[1] * w[0]);
    let size = u.iter().chain(&v).chain(&w).fold(0.0_f64, |size, value| size.max(value.abs()));
    det.abs() <= 1.0e-12 * size.powi(3)
}
