//! How one hand gets to a point: the trunk twists, then leans, as little as will do.
//!
//! In the frame of that hand (own side positive): a rigid trunk turns about the hip; the arm is
//! a ball of radius `arm` about the shoulder; the arm works from the shoulder line to half across the
//! chest, and both limits turn with the trunk, the hind one further than the trunk itself. A posture is a
//! twist `t` about the upright trunk, then a lean `l` toward `f`, from straight ahead to either side, never
//! aft. With `v` hip to shoulder after the twist, `q` hip to point and `R(l, f)` the lean ([`Swing`]),
//!
//! `|q - R v| <= arm`  is  `q . R v >= (|q|² + |v|² - arm²) / 2`.
//!
//! The posture that gets nearest is climbed to by turns, each of twist, lean and direction in closed form with the
//! others held; it alone decides whether a point is in reach. Among the postures that touch, the one of least
//! effort (lean and twist as shares of what is allowed, added) is found by steps of twist that are halved, the least
//! lean for each twist by lean and direction in turns. Both agree with a scan of all postures (`tests/it/reach_scipy`)
//! within 0.1 mm and a hundredth of the effort.
//!
//! Every set of points that one posture serves is convex and holds the upright shoulder, so a point moved toward
//! the shoulder is never worse.
//!
//! Not in the model: the trunk and the knees in the arm's way, the give of the shoulder blade (about
//! 50 mm more), a lean back. Source of geometry: rigid bodies; of the limits: common practice.

use super::swing::{Leant, Swing, rotated_back};
use super::{Band, Span, TWIST_LIMIT_DEG, Touch};
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

/// Twists tried evenly over those allowed before the best is looked for between them.
const STEPS: i32 = 8;
/// How often the step of twist is halved: to a hundredth of a degree.
const HALVINGS: i32 = 10;
/// Turns of twist and lean on the way to the nearest posture; five are usual.
const MOST_TURNS: usize = 24;
/// A turn that brings less than this, mm², is the last: a ten-thousandth of a millimetre.
const SMALL_GAIN: f64 = 1.0e-2;
/// What counts as touching, mm: the rounding of the sums.
const TOUCHING_MM: f64 = 1.0e-6;

/// One hand and the point it tries, in that hand's own frame: hip at the origin, x forward, y to the
/// hand's own side, z up. Both hands run through the same numbers, so a mirrored plan mirrors exactly.
pub(super) struct Hand<'a> {
    body: &'a Seated,
    side: Side,
    arm: f64,
    point: Point,
    /// From the upright shoulder.
    arrow: Point,
    /// Distance from the upright shoulder.
    distance: f64,
    /// Distance from the upright shoulder, seen from above.
    flat: f64,
    /// Direction of the point from the upright shoulder, degrees toward the own side from ahead.
    bearing: f64,
}

/// The posture that gets nearest within some limits.
#[derive(Clone, Copy)]
struct Nearest {
    twist: f64,
    leant: Leant,
    /// How far the hand stays away, mm; negative is to spare.
    gap: f64,
}

/// A posture that touches, and what it takes.
#[derive(Clone, Copy)]
struct Posture {
    effort: f64,
    twist: f64,
    leant: Leant,
}

impl<'a> Hand<'a> {
    /// The hand on this side, an arm of this length, a point of the boat frame.
    pub(super) fn of(body: &'a Seated, side: Side, point: Point, arm: f64) -> Self {
        let from_hip = point - body.hip;
        let point = Point::new(from_hip.x, from_hip.y * side.sign(), from_hip.z);
        let arrow = point - Point::new(0.0, body.lengths.half_shoulder, body.lengths.trunk);
        let bearing = arrow.y.atan2(arrow.x).to_degrees();
        Self { body, side, arm, point, arrow, distance: arrow.length(), flat: arrow.x.hypot(arrow.y), bearing }
    }

    /// The same hand at another point of the boat frame.
    pub(super) fn at(&self, point: Point) -> Hand<'a> {
        Self::of(self.body, self.side, point, self.arm)
    }

    /// The least lean and twist, added as shares of what is allowed.
    pub(super) fn touch(&self) -> Touch {
        if self.in_hand() {
            return self.verdict(Band::InHand, Leant::default(), 0.0, 0.0);
        }
        let Some(window) = self.window() else {
            return self.verdict(Band::OutOfReach, Leant::default(), self.facing_twist(), self.gap_mm());
        };
        let nearest = self.nearest(window, self.body.lean_limit_deg);
        if nearest.gap > TOUCHING_MM {
            return self.verdict(Band::OutOfReach, nearest.leant, nearest.twist, nearest.gap);
        }
        let Posture { twist, leant, .. } = self.easiest(window, nearest);
        self.verdict(Band::AtStretch, leant, twist, 0.0)
    }

    /// The band alone, without looking for the least effort.
    pub(super) fn band(&self) -> Band {
        if self.in_hand() {
            return Band::InHand;
        }
        if self.distance > self.arm + self.furthest_shoulder() {
            return Band::OutOfReach;
        }
        let near = |window| self.nearest(window, self.body.lean_limit_deg).gap <= TOUCHING_MM;
        if self.window().is_some_and(near) { Band::AtStretch } else { Band::OutOfReach }
    }

    /// How far the hand is from touching with the lean and the twist allowed, mm; negative is to spare. A point that
    /// lies behind what the twist allows is away by the way around the shoulder.
    pub(super) fn gap_mm(&self) -> f64 {
        let (low, high) = self.facing();
        let window = (self.allowed(low), self.allowed(high));
        self.nearest(window, self.body.lean_limit_deg).gap.max(self.behind_mm())
    }

    /// The same without a lean, and with no more twist than it takes to face the point.
    pub(super) fn gap_upright_mm(&self) -> f64 {
        let twist = self.allowed(self.facing_twist());
        self.nearest((twist, twist), 0.0).gap.max(self.behind_mm())
    }

    /// How far around the shoulder a point lies behind what the twist allows, mm; negative is to spare.
    fn behind_mm(&self) -> f64 {
        let (low, high) = self.facing();
        self.flat * (low.max(-high) - self.body.twist_limit_deg).to_radians()
    }

    fn allowed(&self, twist: f64) -> f64 {
        twist.max(-self.body.twist_limit_deg).min(self.body.twist_limit_deg)
    }

    /// Where along the boat the point would be in hand, at its distance from the centreline and its height: boat frame.
    pub(super) fn in_hand_along(&self) -> Option<Span> {
        let (across, up) = (self.arrow.y, self.arrow.z);
        let half = (self.arm * self.arm - across * across - up * up).max(0.0).sqrt();
        let (sin, cos) = (90.0 - ACROSS_DEG).to_radians().sin_cos();
        let aft = (-half).max(-BEHIND_MM).max((-BEHIND_MM - sin * across) / cos);
        let shoulder = self.body.hip.x;
        (half > 0.0 && aft < half).then_some(Span { aft: shoulder + aft, fore: shoulder + half })
    }

    fn in_hand(&self) -> bool {
        let (sin, cos) = (90.0 - ACROSS_DEG).to_radians().sin_cos();
        let (ahead, across) = (self.arrow.x, cos * self.arrow.x + sin * self.arrow.y);
        ahead >= -BEHIND_MM && across >= -BEHIND_MM && self.distance <= self.arm
    }

    /// At least how far lean and twist can bring the shoulder from where it is upright, mm: two chords.
    fn furthest_shoulder(&self) -> f64 {
        let (half, trunk) = (self.body.lengths.half_shoulder, self.body.lengths.trunk);
        let chord = |radius: f64, angle: f64| 2.0 * radius * (angle.clamp(0.0, 180.0) / 2.0).to_radians().sin();
        chord(half, self.body.twist_limit_deg) + chord(trunk.hypot(half), self.body.lean_limit_deg)
    }

    /// The twists with which the arm works toward the point, degrees: not behind the shoulder line, not further across
    /// the chest than it goes. Two half-planes that hold the shoulder.
    fn facing(&self) -> (f64, f64) {
        if self.flat <= BEHIND_MM {
            return (-180.0, 180.0);
        }
        let open = (-BEHIND_MM / self.flat).acos().to_degrees();
        let about = |bearing: f64| {
            let behind = bearing - open;
            let least = if behind > 0.0 { behind / (1.0 + BACK_FOR_TWIST) } else { behind };
            (least, bearing + open - (90.0 - ACROSS_DEG))
        };
        let straight = about(self.bearing);
        if self.bearing >= -90.0 {
            return straight;
        }
        // Behind and toward the other side: across the chest, or around the own shoulder, whichever is less.
        let around = about(self.bearing + 360.0);
        if around.0 < -straight.1 { around } else { straight }
    }

    /// Those of them that are allowed.
    fn window(&self) -> Option<(f64, f64)> {
        let (limit, (low, high)) = (self.body.twist_limit_deg, self.facing());
        let (low, high) = (low.max(-limit), high.min(limit));
        (low <= high).then_some((low, high))
    }

    /// The least twist that lets the arm work toward the point, degrees.
    fn facing_twist(&self) -> f64 {
        let (low, high) = self.facing();
        0.0_f64.max(low).min(high)
    }

    /// Climbs to the posture that gets nearest: the best lean for the twist, the best twist for the lean.
    fn nearest(&self, window: (f64, f64), lean_limit_deg: f64) -> Nearest {
        let limit = lean_limit_deg.to_radians().max(0.0);
        let mut twist = 0.0_f64.max(window.0).min(window.1);
        let (mut leant, mut dot) = Swing::of(self.body, self.point, twist).nearest(limit);
        for _ in 0..MOST_TURNS {
            let next = Self::best_twist(rotated_back(self.point, leant), window);
            let (then, gained) = Swing::of(self.body, self.point, next).nearest(limit);
            if gained <= dot {
                break;
            }
            let small = gained - dot < SMALL_GAIN;
            (twist, leant, dot) = (next, then, gained);
            if small {
                break;
            }
        }
        Nearest { twist, leant, gap: (self.squares() - 2.0 * dot).max(0.0).sqrt() - self.arm }
    }

    /// The twist that brings the upright shoulder nearest to a point, within a window; degrees.
    fn best_twist(q: Point, (low, high): (f64, f64)) -> f64 {
        let best = (-q.x).atan2(q.y).to_degrees();
        let brings = |twist: f64| (twist - best).to_radians().cos();
        if (low..=high).contains(&best) {
            best
        } else if brings(low) > brings(high) {
            low
        } else {
            high
        }
    }

    /// The posture of least effort that touches, given one that does.
    fn easiest(&self, (low, high): (f64, f64), nearest: Nearest) -> Posture {
        let least = |twist: f64| self.least_effort(twist);
        let mut best = Posture { effort: f64::INFINITY, twist: nearest.twist, leant: nearest.leant };
        let try_twist = |best: &mut Posture, twist: f64| {
            if let Some(found) = least(twist).filter(|found| found.effort < best.effort) {
                *best = found;
            }
        };
        let mut step = (high - low) / f64::from(STEPS);
        try_twist(&mut best, 0.0_f64.max(low).min(high));
        try_twist(&mut best, nearest.twist);
        (0..=STEPS).for_each(|i| try_twist(&mut best, low + step * f64::from(i)));
        for _ in 0..HALVINGS {
            step /= 2.0;
            let middle = best.twist;
            try_twist(&mut best, (middle - step).max(low));
            try_twist(&mut best, (middle + step).min(high));
        }
        if let Some(twist) = self.twist_alone((low, high)) {
            let effort = share(twist.abs(), self.body.twist_limit_deg);
            if effort <= best.effort {
                best = Posture { effort, twist, leant: Leant::default() };
            }
        }
        best
    }

    /// The least lean that touches with this twist, and the effort of both.
    fn least_effort(&self, twist: f64) -> Option<Posture> {
        let (limit_deg, twist_deg) = (self.body.lean_limit_deg, self.body.twist_limit_deg);
        let wanted = (self.squares() - (self.arm + TOUCHING_MM).powi(2)) / 2.0;
        let leant = Swing::of(self.body, self.point, twist).least_lean(wanted, limit_deg.to_radians().max(0.0))?;
        let effort = share(leant.lean.to_degrees(), limit_deg) + share(twist.abs(), twist_deg);
        Some(Posture { effort, twist, leant })
    }

    /// The least twist that touches the point without any lean, degrees; `None` when none does.
    fn twist_alone(&self, (from, to): (f64, f64)) -> Option<f64> {
        let (half, trunk, q) = (self.body.lengths.half_shoulder, self.body.lengths.trunk, self.point);
        let flat = q.x.hypot(q.y) * half;
        let needed = ((self.squares() - self.arm * self.arm) / 2.0 - q.z * trunk) / flat;
        if flat <= 0.0 || needed > 1.0 {
            return None;
        }
        let middle = (-q.x).atan2(q.y).to_degrees();
        let half_arc = needed.max(-1.0).acos().to_degrees();
        let (low, high) = ((middle - half_arc).max(from), (middle + half_arc).min(to));
        (low <= high).then(|| 0.0_f64.max(low).min(high))
    }

    /// `|q|² + |v|²`.
    fn squares(&self) -> f64 {
        let (half, trunk, q) = (self.body.lengths.half_shoulder, self.body.lengths.trunk, self.point);
        q.x * q.x + q.y * q.y + q.z * q.z + half * half + trunk * trunk
    }

    fn verdict(&self, band: Band, leant: Leant, twist: f64, beyond_mm: f64) -> Touch {
        Touch {
            band,
            hand: self.side,
            lean_deg: leant.lean.to_degrees(),
            toward_deg: leant.toward.to_degrees() * self.side.sign() + 0.0,
            twist_deg: twist.abs(),
            distance_mm: self.distance,
            short_mm: self.distance - self.arm,
            beyond_mm,
        }
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
                prop_assert_eq!(hand.band(), hand.touch().band);
                let within = hand.gap_mm() <= TOUCHING_MM;
                prop_assert_eq!(within, hand.band() != Band::OutOfReach);
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
                    prop_assert!(near.beyond_mm <= far.beyond_mm + 1e-3, "{near:?} {far:?}");
                    if far.band == Band::AtStretch {
                        prop_assert!(near.effort(&body) <= far.effort(&body) + 1e-3, "{near:?} {far:?}");
                    }
                }
            }
        }

        #[test]
        fn the_span_in_hand_ends_where_the_hand_does(
            x in -600_f64..900.0, y in -900_f64..900.0, z in -600_f64..400.0, gripped: bool,
        ) {
            let body = Seated::of(&plan());
            let point = body.hip + Point::new(x, y, z);
            let hand = |x: f64| Hand::of(&body, Side::Port, Point::new(x, point.y, point.z), body.arm(gripped));
            let inside = hand(point.x).in_hand_along().is_some_and(|span| (span.aft..=span.fore).contains(&point.x));
            prop_assert_eq!(inside, hand(point.x).in_hand());
        }
    }
}
