//! How one hand gets to a point: the trunk twists, then leans, as little as will do.
//!
//! In the frame of that hand (own side positive): a rigid trunk turns about the hip; the arm is
//! a ball of radius `arm` about the shoulder; the arm works from the shoulder line to half across the
//! chest, and both limits turn with the trunk, the hind one further than the trunk itself. The posture
//! tried is a twist `t` about the upright trunk, then a lean `l` toward the point. With `v` hip to
//! shoulder after the twist, `q` hip to point and `R(l)` the lean,
//!
//! `|q - R(l) v| <= arm`  is  `q . R(l) v >= (|q|^2 + |v|^2 - arm^2) / 2`,
//!
//! and `q . R(l) v = C + D cos(l - d)`, so the least lean for a twist has a closed form. Twists are
//! tried in even steps, plus the two that solve it without a lean.
//!
//! Every set of points that one posture serves is convex and holds the upright shoulder, and neither
//! the steps nor the direction of lean change on the way from a point to that shoulder. So a point
//! moved toward the shoulder is never worse.
//!
//! Not in the model: the trunk and the knees in the arm's way, the give of the shoulder blade (about
//! 50 mm more), a lean back. Source of geometry: rigid bodies; of the limits: common practice.

use super::{Band, TWIST_LIMIT_DEG, Touch};
use crate::geometry::Point;
use crate::plan::Side;
use crate::study::body::Seated;

/// How far behind the shoulder line an arm that hangs down still works without a twist, mm. Assumption.
pub(super) const BEHIND_MM: f64 = 50.0;

/// How far the arm of a twisted trunk goes behind the shoulder line, degrees for a degree of twist: 20 at
/// the full twist, less than the clinical range of the shoulder (horizontal extension, 30 to 45, from
/// memory). With it the furthest point behind is where seat-test practice has it, see the tests.
const BACK_FOR_TWIST: f64 = 20.0 / TWIST_LIMIT_DEG;

/// How far across the chest a straight arm goes, degrees past straight ahead. From memory of the
/// clinical range of the shoulder (horizontal adduction), 40 to 50.
const ACROSS_DEG: f64 = 45.0;

/// Steps of twist tried to each side.
const STEPS: i32 = 9;

/// One hand and the point it tries, in that hand's own frame: hip at the origin, x forward, y to the
/// hand's own side, z up. Both hands run through the same numbers, so a mirrored plan mirrors exactly.
pub(super) struct Hand<'a> {
    body: &'a Seated,
    side: Side,
    arm: f64,
    point: Point,
    /// Distance from the upright shoulder.
    distance: f64,
    /// Distance from the upright shoulder, seen from above.
    flat: f64,
    /// Direction of the point from the upright shoulder, degrees toward the own side from ahead.
    bearing: f64,
}

impl<'a> Hand<'a> {
    /// The hand on this side, an arm of this length, a point of the boat frame.
    pub(super) fn of(body: &'a Seated, side: Side, point: Point, arm: f64) -> Self {
        let from_hip = point - body.hip;
        let point = Point::new(from_hip.x, from_hip.y * side.sign(), from_hip.z);
        let shoulder = Point::new(0.0, body.lengths.half_shoulder, body.lengths.trunk);
        let arrow = point - shoulder;
        let bearing = arrow.y.atan2(arrow.x).to_degrees();
        Self { body, side, arm, point, distance: arrow.length(), flat: arrow.x.hypot(arrow.y), bearing }
    }

    /// The least lean and twist, added as shares of what is allowed.
    pub(super) fn touch(&self) -> Touch {
        if self.in_front(0.0) && self.distance <= self.arm {
            return self.verdict(Band::InHand, 0.0, 0.0, 0.0);
        }
        let limit = self.body.twist_limit_deg;
        // Even the whole trunk laid toward it would not do: no need to try.
        let most = self.body.lengths.trunk.hypot(self.body.lengths.half_shoulder);
        let hopeless = self.point.length() > most + self.arm;
        let mut best: Option<(f64, f64, f64)> = None;
        let mut nearest: Option<(f64, f64, f64)> = None;
        let mut try_twist = |twist: f64| {
            if twist.abs() > limit || !self.in_front(twist) {
                return;
            }
            let swing = Swing::of(self, twist);
            let (beyond, lean) = swing.nearest(self.body.lean_limit_deg, self.arm);
            if nearest.is_none_or(|(least, _, _)| beyond < least) {
                nearest = Some((beyond, lean, twist));
            }
            if let Some(lean) = swing.least_lean(self.arm).filter(|lean| *lean <= self.body.lean_limit_deg) {
                let effort = share(lean, self.body.lean_limit_deg) + share(twist.abs(), limit);
                if best.is_none_or(|(least, _, _)| effort < least) {
                    best = Some((effort, lean, twist));
                }
            }
        };
        if hopeless {
            try_twist(self.facing_twist());
        } else {
            self.twists().for_each(&mut try_twist);
            if let Some(twist) = self.twist_alone().filter(|t| t.abs() <= limit)
                && best.is_none_or(|(least, _, _)| share(twist.abs(), limit) < least)
            {
                best = Some((0.0, 0.0, twist));
            }
        }
        match (best, nearest) {
            (Some((_, lean, twist)), _) => self.verdict(Band::AtStretch, lean, twist, 0.0),
            (None, Some((beyond, lean, twist))) => self.verdict(Band::OutOfReach, lean, twist, beyond.max(0.0)),
            (None, None) => {
                self.verdict(Band::OutOfReach, 0.0, self.facing_twist(), (self.distance - self.arm).max(0.0))
            }
        }
    }

    /// Whether the hand gets there within the limits: what [`Self::touch`] answers, without looking for the
    /// least effort. A search for a way into reach asks this thousands of times.
    pub(super) fn touches(&self) -> bool {
        if self.in_front(0.0) && self.distance <= self.arm {
            return true;
        }
        if self.distance > self.arm + self.furthest_shoulder() {
            return false;
        }
        let (limit, lean) = (self.body.twist_limit_deg, self.body.lean_limit_deg.to_radians().max(0.0).sin_cos());
        let by_lean = |twist: f64| {
            twist.abs() <= limit && self.in_front(twist) && Swing::of(self, twist).gets_within(lean, self.arm)
        };
        self.twists().any(by_lean) || self.twist_alone().is_some_and(|twist| twist.abs() <= limit)
    }

    /// At least how far lean and twist can bring the shoulder from where it is upright, mm: two chords.
    fn furthest_shoulder(&self) -> f64 {
        let (half, trunk) = (self.body.lengths.half_shoulder, self.body.lengths.trunk);
        let chord = |radius: f64, angle: f64| 2.0 * radius * (angle.clamp(0.0, 180.0) / 2.0).to_radians().sin();
        chord(half, self.body.twist_limit_deg) + chord(trunk.hypot(half), self.body.lean_limit_deg)
    }

    /// The twists that are tried, degrees: even steps, the small ones first, and the least that faces the point.
    fn twists(&self) -> impl Iterator<Item = f64> {
        let limit = self.body.twist_limit_deg;
        let both = (1..=STEPS).flat_map(|i| [i, -i]);
        std::iter::once(0)
            .chain(both)
            .map(move |i| limit * f64::from(i) / f64::from(STEPS))
            .chain(std::iter::once(self.facing_twist()))
    }

    /// Whether the arm of a twisted trunk works toward the point: not behind the shoulder line, not
    /// further across the chest than it goes. Two half-planes that hold the shoulder.
    fn in_front(&self, twist: f64) -> bool {
        let turn = (self.bearing - twist).to_radians();
        let back = (twist.max(0.0) * BACK_FOR_TWIST).to_radians();
        let least = -BEHIND_MM - 1e-6;
        self.flat * (turn - back).cos() >= least && self.flat * (turn - (90.0 - ACROSS_DEG).to_radians()).cos() >= least
    }

    /// The twists for which [`Self::in_front`] holds, degrees.
    fn facing(&self) -> (f64, f64) {
        let open = (-BEHIND_MM / self.flat.max(BEHIND_MM)).acos().to_degrees();
        let behind = self.bearing - open;
        let least = if behind > 0.0 { behind / (1.0 + BACK_FOR_TWIST) } else { behind };
        (least, self.bearing + open - (90.0 - ACROSS_DEG))
    }

    /// The least twist that lets the arm work toward the point, degrees.
    fn facing_twist(&self) -> f64 {
        if self.in_front(0.0) {
            return 0.0;
        }
        let (low, high) = self.facing();
        0.0_f64.max(low).min(high)
    }

    /// The least twist that touches the point without any lean, degrees; `None` when none does.
    fn twist_alone(&self) -> Option<f64> {
        let (half, trunk, q) = (self.body.lengths.half_shoulder, self.body.lengths.trunk, self.point);
        let wanted = (q.length().powi(2) + half * half + trunk * trunk - self.arm * self.arm) / 2.0;
        let flat = q.x.hypot(q.y) * half;
        let needed = (wanted - q.z * trunk) / flat;
        if flat <= 0.0 || needed > 1.0 {
            return None;
        }
        let middle = (-q.x).atan2(q.y).to_degrees();
        let half_arc = needed.max(-1.0).acos().to_degrees();
        let (from, to) = self.facing();
        let (low, high) = ((middle - half_arc).max(from), (middle + half_arc).min(to));
        (low <= high).then(|| 0.0_f64.max(low).min(high))
    }

    fn verdict(&self, band: Band, lean_deg: f64, twist: f64, beyond_mm: f64) -> Touch {
        Touch {
            band,
            hand: self.side,
            lean_deg,
            twist_deg: twist.abs(),
            distance_mm: self.distance,
            short_mm: self.distance - self.arm,
            beyond_mm,
        }
    }
}

/// How near the shoulder comes to the point as the trunk leans: `q . R(l) v = c + a cos l + b sin l`.
struct Swing {
    /// `|q|^2 + |v|^2`.
    squares: f64,
    c: f64,
    /// `d cos best` and `d sin best`, where `best` is the lean that gets nearest.
    a: f64,
    b: f64,
}

impl Swing {
    fn of(hand: &Hand<'_>, twist: f64) -> Self {
        let (half, trunk, q) = (hand.body.lengths.half_shoulder, hand.body.lengths.trunk, hand.point);
        let (sin_t, cos_t) = twist.to_radians().sin_cos();
        let v = Point::new(-half * sin_t, half * cos_t, trunk);
        // The lean goes toward the point, never aft: the seat back is there.
        let (sin, cos) = hand.bearing.clamp(-90.0, 90.0).to_radians().sin_cos();
        // Axis of the lean: level, square to its direction. Rodrigues: the part of v along it stays.
        let along = -v.x * sin + v.y * cos;
        let across = Point::new(cos * v.z, sin * v.z, -sin * v.y - cos * v.x);
        let c = (-q.x * sin + q.y * cos) * along;
        let (a, b) = (q.x * v.x + q.y * v.y + q.z * v.z - c, q.x * across.x + q.y * across.y + q.z * across.z);
        let square = |p: Point| p.x * p.x + p.y * p.y + p.z * p.z;
        Self { squares: square(q) + square(v), c, a, b }
    }

    /// Length of the part that turns.
    fn d(&self) -> f64 {
        self.a.hypot(self.b)
    }

    /// The lean that gets nearest, radians.
    fn best(&self) -> f64 {
        self.b.atan2(self.a)
    }

    /// Whether any lean up to a limit touches; the limit as sine and cosine.
    fn gets_within(&self, (sin, cos): (f64, f64), arm: f64) -> bool {
        let wanted = (self.squares - arm * arm) / 2.0 - self.c;
        // The nearest lean is aft of upright, beyond the limit, or between.
        let most = if self.b <= 0.0 {
            self.a
        } else if self.b * cos > self.a * sin {
            self.a * cos + self.b * sin
        } else {
            self.d()
        };
        most >= wanted
    }

    /// The least lean at which the hand touches, degrees.
    fn least_lean(&self, arm: f64) -> Option<f64> {
        let wanted = (self.squares - arm * arm) / 2.0 - self.c;
        if self.a >= wanted {
            return Some(0.0);
        }
        let ratio = wanted / self.d();
        if !(-1.0..=1.0).contains(&ratio) {
            return None;
        }
        let lean = self.best() - ratio.acos();
        (lean >= 0.0).then(|| lean.to_degrees())
    }

    /// How far the hand stays away at the lean within the limit that gets nearest, mm, and that lean, degrees.
    fn nearest(&self, limit_deg: f64, arm: f64) -> (f64, f64) {
        let lean = self.best().clamp(0.0, limit_deg.to_radians().max(0.0));
        let dot = self.c + self.a * lean.cos() + self.b * lean.sin();
        ((self.squares - 2.0 * dot).max(0.0).sqrt() - arm, lean.to_degrees())
    }
}

/// An angle as a share of its limit.
pub(super) fn share(angle: f64, limit: f64) -> f64 {
    if angle == 0.0 { 0.0 } else { angle / limit.max(1e-9) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_body::plan;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn the_short_answer_is_that_of_the_long_one(
            x in -1200_f64..1800.0, y in -1200_f64..1200.0, z in -900_f64..900.0, gripped: bool,
        ) {
            let body = Seated::of(&plan());
            for side in [Side::Port, Side::Starboard] {
                let hand = Hand::of(&body, side, body.upright_shoulder(side) + Point::new(x, y, z), body.arm(gripped));
                prop_assert_eq!(hand.touches(), hand.touch().band != Band::OutOfReach);
            }
        }

        #[test]
        fn nearer_the_shoulder_is_never_worse(
            x in -1000_f64..1500.0, y in -900_f64..900.0, z in -800_f64..400.0, part in 0_f64..1.0, gripped: bool,
        ) {
            let body = Seated::of(&plan());
            for side in [Side::Port, Side::Starboard] {
                let shoulder = body.upright_shoulder(side);
                let arrow = Point::new(x, y, z);
                let nearer = Point::new(x * part, y * part, z * part);
                let far = Hand::of(&body, side, shoulder + arrow, body.arm(gripped)).touch();
                let near = Hand::of(&body, side, shoulder + nearer, body.arm(gripped)).touch();
                prop_assert!(near.band <= far.band, "{near:?} {far:?}");
                if near.band == far.band {
                    prop_assert!(near.beyond_mm <= far.beyond_mm + 1e-6, "{near:?} {far:?}");
                    if far.band == Band::AtStretch {
                        prop_assert!(near.effort(&body) <= far.effort(&body) + 1e-6, "{near:?} {far:?}");
                    }
                }
            }
        }
    }
}
