//! What a lean about the hip does for a twisted trunk: closed forms.
//!
//! Symbols: `q` hip to point, `v` hip to shoulder after the twist, `k` the level axis of a lean toward `f` from ahead,
//! `k = (-sin f, cos f, 0)`. By Rodrigues, for a lean `l`,
//!
//! `q . R(l, f) v = K + (q . v - K) cos l + P sin l`, `P = q . (k x v) = A cos f + B sin f`, `K = (q . k)(v . k)`,
//!
//! so the lean has a closed form for a direction; the direction is found for a lean from the first term in closed form
//! and a few steps of Newton for the second, which a lean of 25 degrees makes a tenth of the first.

use crate::geometry::Point;
use crate::study::body::Seated;

/// A lean, radians, and its direction from straight ahead toward the hand's own side, radians.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Leant {
    pub(super) lean: f64,
    pub(super) toward: f64,
}

/// How far to a side the trunk leans: to the side, never aft; the seat back is there.
const SIDE: f64 = std::f64::consts::FRAC_PI_2;
/// Steps of Newton for a direction.
const NEWTON: usize = 3;
/// Turns of lean and direction; two or three are usual.
const MOST_TURNS: usize = 6;
/// A lean that changes by less, radians, has settled.
const SETTLED: f64 = 1.0e-7;

/// How near the shoulder comes to the point as a trunk with one twist leans.
pub(super) struct Swing {
    /// `q . v`.
    upright: f64,
    /// `A` and `B`.
    ahead: f64,
    aside: f64,
    /// `K = mean + double_cos cos 2f - double_sin sin 2f`.
    mean: f64,
    double_cos: f64,
    double_sin: f64,
}

/// The same in one direction: `c + a cos l + b sin l`.
struct Arc {
    c: f64,
    a: f64,
    b: f64,
}

impl Swing {
    /// The trunk twisted by degrees toward the hand's own side, a point from the hip.
    pub(super) fn of(body: &Seated, q: Point, twist_deg: f64) -> Self {
        let (half, trunk) = (body.lengths.half_shoulder, body.lengths.trunk);
        let (sin, cos) = twist_deg.to_radians().sin_cos();
        let v = Point::new(-half * sin, half * cos, trunk);
        let (xx, yy) = (q.x * v.x, q.y * v.y);
        Self {
            upright: xx + yy + q.z * v.z,
            ahead: q.x * v.z - q.z * v.x,
            aside: q.y * v.z - q.z * v.y,
            mean: f64::midpoint(yy, xx),
            double_cos: (yy - xx) / 2.0,
            double_sin: f64::midpoint(q.x * v.y, q.y * v.x),
        }
    }

    fn arc(&self, toward: f64) -> Arc {
        let (sin, cos) = toward.sin_cos();
        let (sin2, cos2) = (2.0 * sin * cos, cos * cos - sin * sin);
        let c = self.mean + self.double_cos * cos2 - self.double_sin * sin2;
        Arc { c, a: self.upright - c, b: self.ahead * cos + self.aside * sin }
    }

    /// The direction in which a lean brings most.
    fn toward(&self, lean: f64) -> f64 {
        let mut toward = self.aside.atan2(self.ahead).clamp(-SIDE, SIDE);
        let (first, second) = (lean.sin(), 1.0 - lean.cos());
        for _ in 0..NEWTON {
            let (sin, cos) = toward.sin_cos();
            let (sin2, cos2) = (2.0 * sin * cos, cos * cos - sin * sin);
            let slope = first * (self.aside * cos - self.ahead * sin)
                - 2.0 * second * (self.double_cos * sin2 + self.double_sin * cos2);
            let bend = -first * (self.ahead * cos + self.aside * sin)
                - 4.0 * second * (self.double_cos * cos2 - self.double_sin * sin2);
            if bend >= 0.0 || slope.abs() < 1.0e-9 * -bend {
                break;
            }
            toward = (toward - slope / bend).clamp(-SIDE, SIDE);
        }
        toward
    }

    /// The lean within a limit that gets nearest, and `q . R v` there.
    pub(super) fn nearest(&self, limit: f64) -> (Leant, f64) {
        let mut best = (Leant::default(), f64::NEG_INFINITY);
        let mut lean = limit;
        for _ in 0..MOST_TURNS {
            let toward = self.toward(lean);
            let arc = self.arc(toward);
            let next = arc.best().clamp(0.0, limit);
            let dot = arc.at(next);
            if dot > best.1 {
                best = (Leant { lean: next, toward }, dot);
            }
            if (next - lean).abs() < SETTLED {
                break;
            }
            lean = next;
        }
        best
    }

    /// The least lean within a limit that makes `q . R v` at least so large.
    pub(super) fn least_lean(&self, wanted: f64, limit: f64) -> Option<Leant> {
        if self.upright >= wanted {
            return Some(Leant::default());
        }
        let toward = self.toward(0.0);
        let start = self.arc(toward).least(wanted).map(|lean| Leant { lean, toward });
        let mut found = start.filter(|leant| leant.lean <= limit).or_else(|| {
            let (leant, dot) = self.nearest(limit);
            let lean = if dot >= wanted { self.arc(leant.toward).least(wanted) } else { None };
            lean.map(|lean| Leant { lean: lean.min(limit), ..leant })
        })?;
        for _ in 0..MOST_TURNS {
            let toward = self.toward(found.lean);
            let Some(lean) = self.arc(toward).least(wanted).filter(|lean| *lean < found.lean) else { break };
            let settled = found.lean - lean < SETTLED;
            found = Leant { lean, toward };
            if settled {
                break;
            }
        }
        Some(found)
    }
}

impl Arc {
    fn at(&self, lean: f64) -> f64 {
        self.c + self.a * lean.cos() + self.b * lean.sin()
    }

    /// The lean that gets nearest.
    fn best(&self) -> f64 {
        self.b.atan2(self.a)
    }

    /// The least lean at which it is so large.
    fn least(&self, wanted: f64) -> Option<f64> {
        if self.c + self.a >= wanted {
            return Some(0.0);
        }
        let ratio = (wanted - self.c) / self.a.hypot(self.b);
        if !(-1.0..=1.0).contains(&ratio) {
            return None;
        }
        Some(self.best() - ratio.acos()).filter(|lean| *lean >= 0.0)
    }
}

/// A point from the hip as the leant trunk has it: turned the other way.
pub(super) fn rotated_back(q: Point, leant: Leant) -> Point {
    let ((sin, cos), (s, c)) = (leant.lean.sin_cos(), leant.toward.sin_cos());
    let along = (c * q.y - s * q.x) * (1.0 - cos);
    Point::new(
        q.x * cos - c * q.z * sin - s * along,
        q.y * cos - s * q.z * sin + c * along,
        q.z * cos + (s * q.y + c * q.x) * sin,
    )
}
