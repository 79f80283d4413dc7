//! What can be touched from the seat: the least lean and twist for either hand.
//!
//! Model, in the frame of one hand (own side positive): a rigid trunk turns about the hip; the arm is
//! a ball of radius `arm` about the shoulder; the arm works from a little behind the shoulder line to
//! half across the chest, and both limits turn with the trunk. The posture tried is a twist `t` about the upright trunk, then a lean `l` toward
//! the point. With `v` hip to shoulder after the twist, `q` hip to point and `R(l)` the lean,
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

use super::body::Seated;
use super::rig::Rig;
use crate::geometry::{Point, Spot};
use crate::plan::{GearId, Often, Plan, Side};

/// The lean that still counts as safe, degrees from upright. Common practice, no source.
pub const LEAN_LIMIT_DEG: f64 = 25.0;

/// The twist of the trunk that still counts as easy, degrees. Common practice, no source.
pub const TWIST_LIMIT_DEG: f64 = 45.0;

/// How far behind the shoulder line an arm that hangs down still works without a twist, mm. Assumption.
const BEHIND_MM: f64 = 50.0;

/// How far across the chest a straight arm goes, degrees past straight ahead. From memory of the
/// clinical range of the shoulder (horizontal adduction), 40 to 50.
const ACROSS_DEG: f64 = 45.0;

/// Steps of twist tried to each side.
const STEPS: i32 = 9;

/// What can be touched from the seat.
#[derive(Clone, Debug)]
pub struct Reach {
    /// The seated person.
    pub body: Seated,
    /// Every placed piece of gear that is touched under way.
    pub items: Vec<ReachItem>,
}

/// How one piece of gear is reached.
#[derive(Clone, Debug, PartialEq)]
pub struct ReachItem {
    /// The gear.
    pub gear: GearId,
    /// How often it is touched.
    pub touched: Often,
    /// Whether it is gripped (a fingertip is not enough).
    pub gripped: bool,
    /// Its control point.
    pub control: Point,
    /// What it takes.
    pub touch: Touch,
}

/// What it takes to touch a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Touch {
    /// The band it falls in.
    pub band: Band,
    /// The hand that reaches it with less effort.
    pub hand: Side,
    /// Least lean about the hip, degrees from upright (coming upright from the seat back is free). Out
    /// of reach: the lean that gets nearest.
    pub lean_deg: f64,
    /// Twist of the trunk that goes with it, degrees. Out of reach behind the shoulder line: the twist
    /// it would take.
    pub twist_deg: f64,
    /// Distance from that hand's shoulder, upright, mm.
    pub distance_mm: f64,
    /// How far the hand falls short without lean or twist, mm; negative is to spare.
    pub short_mm: f64,
    /// How far it still falls short with all the lean and twist allowed, mm; zero when touched.
    pub beyond_mm: f64,
}

/// The band a point falls in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Band {
    /// Touched with the trunk upright or against the seat back, without a twist.
    InHand,
    /// With a lean or a twist.
    AtStretch,
    /// Not safely.
    OutOfReach,
}

impl Band {
    /// The words on the screen.
    pub fn word(self) -> &'static str {
        match self {
            Self::InHand => "in hand",
            Self::AtStretch => "at stretch",
            Self::OutOfReach => "out of reach",
        }
    }
}

impl Reach {
    /// Tries every control of the placed gear.
    pub fn of(plan: &Plan, rig: &Rig) -> Self {
        let body = Seated::of(plan);
        let items = rig
            .items
            .iter()
            .filter_map(|item| {
                let gear = plan.gear.get(item.index)?;
                let handling = gear.spec.handling.as_ref().filter(|h| h.touched != Often::Never)?;
                let control = item.control?;
                Some(ReachItem {
                    gear: item.gear,
                    touched: handling.touched,
                    gripped: handling.gripped,
                    control,
                    touch: touch(&body, control, handling.gripped),
                })
            })
            .collect();
        Self { body, items }
    }

    /// How many controls fall in a band.
    pub fn count(&self, band: Band) -> usize {
        self.items.iter().filter(|item| item.touch.band == band).count()
    }
}

/// What it takes to touch a point with a fingertip (`gripped`: with the middle of the grip).
pub fn touch(body: &Seated, point: Point, gripped: bool) -> Touch {
    let arm = body.arm(gripped);
    let (own, other) = (Hand::of(body, body.hand, point, arm), Hand::of(body, body.hand.other(), point, arm));
    // Equal effort goes to the hand that works controls.
    if other.touch().is_easier_than(&own.touch(), body) { other.touch() } else { own.touch() }
}

/// The shortest shift on deck found that brings a point at least to a stretch: straight toward the
/// nearer shoulder, or for a point behind the shoulder line straight forward. `None` when it is there
/// already or no such shift does.
pub fn way_into_reach(body: &Seated, point: Point, gripped: bool) -> Option<Spot> {
    let reached =
        |by: Spot| touch(body, Point::new(point.x + by.x, point.y + by.y, point.z), gripped).band != Band::OutOfReach;
    if reached(Spot::default()) {
        return None;
    }
    let side = if point.y * body.hand.sign() >= 0.0 { body.hand } else { body.hand.other() };
    let shoulder = body.upright_shoulder(side).spot();
    let ends = [shoulder - point.spot(), Spot::new(shoulder.x - point.x, 0.0)];
    let mut ways: Vec<Spot> = ends.into_iter().filter(|end| reached(*end)).map(|end| shortest(end, reached)).collect();
    ways.sort_by(|a, b| a.distance(Spot::default()).total_cmp(&b.distance(Spot::default())));
    ways.first().copied()
}

/// The shortest part of a shift that still reaches, by halving.
fn shortest(end: Spot, reached: impl Fn(Spot) -> bool) -> Spot {
    let part = |share: f64| Spot::new(end.x * share, end.y * share);
    let (mut short, mut far) = (0.0, 1.0);
    for _ in 0..10 {
        let middle = f64::midpoint(short, far);
        if reached(part(middle)) { far = middle } else { short = middle }
    }
    part(far)
}

impl Touch {
    /// Lean and twist as shares of what is allowed, added: what the hands are compared by.
    pub fn effort(&self, body: &Seated) -> f64 {
        share(self.lean_deg, body.lean_limit_deg) + share(self.twist_deg, body.twist_limit_deg)
    }

    fn is_easier_than(&self, other: &Self, body: &Seated) -> bool {
        let within = |t: &Self| {
            // Out of reach, what counts is how far it stays away.
            if t.band == Band::OutOfReach { t.beyond_mm } else { t.effort(body) }
        };
        (self.band, within(self)).partial_cmp(&(other.band, within(other))) == Some(std::cmp::Ordering::Less)
    }
}

fn share(angle: f64, limit: f64) -> f64 {
    if angle == 0.0 { 0.0 } else { angle / limit.max(1e-9) }
}

/// One hand and the point it tries, in that hand's own frame: hip at the origin, x forward, y to the
/// hand's own side, z up. Both hands run through the same numbers, so a mirrored plan mirrors exactly.
struct Hand<'a> {
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
    fn of(body: &'a Seated, side: Side, point: Point, arm: f64) -> Self {
        let from_hip = point - body.hip;
        let point = Point::new(from_hip.x, from_hip.y * side.sign(), from_hip.z);
        let shoulder = Point::new(0.0, body.lengths.half_shoulder, body.lengths.trunk);
        let arrow = point - shoulder;
        let bearing = arrow.y.atan2(arrow.x).to_degrees();
        Self { body, side, arm, point, distance: arrow.length(), flat: arrow.x.hypot(arrow.y), bearing }
    }

    fn touch(&self) -> Touch {
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
            for step in (0..=STEPS).flat_map(|i| [i, -i]) {
                try_twist(limit * f64::from(step) / f64::from(STEPS));
            }
            try_twist(self.facing_twist());
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

    /// Whether the arm of a twisted trunk works toward the point: not behind the shoulder line, not
    /// further across the chest than it goes. Two half-planes that hold the shoulder.
    fn in_front(&self, twist: f64) -> bool {
        let turn = (self.bearing - twist).to_radians();
        let least = -BEHIND_MM - 1e-6;
        self.flat * turn.cos() >= least && self.flat * (turn - (90.0 - ACROSS_DEG).to_radians()).cos() >= least
    }

    /// The twists for which [`Self::in_front`] holds, degrees.
    fn facing(&self) -> (f64, f64) {
        let open = (-BEHIND_MM / self.flat.max(BEHIND_MM)).acos().to_degrees();
        (self.bearing - open, self.bearing + open - (90.0 - ACROSS_DEG))
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

/// How near the shoulder comes to the point as the trunk leans: `q . R(l) v = c + d cos(l - best)`.
struct Swing {
    /// `|q|^2 + |v|^2`.
    squares: f64,
    c: f64,
    d: f64,
    /// The lean that gets nearest, radians.
    best: f64,
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
        Self { squares: square(q) + square(v), c, d: a.hypot(b), best: b.atan2(a) }
    }

    /// The least lean at which the hand touches, degrees.
    fn least_lean(&self, arm: f64) -> Option<f64> {
        let wanted = (self.squares - arm * arm) / 2.0 - self.c;
        if self.d * self.best.cos() >= wanted {
            return Some(0.0);
        }
        let ratio = wanted / self.d;
        if !(-1.0..=1.0).contains(&ratio) {
            return None;
        }
        let lean = self.best - ratio.acos();
        (lean >= 0.0).then(|| lean.to_degrees())
    }

    /// How far the hand stays away at the lean within the limit that gets nearest, mm, and that lean, degrees.
    fn nearest(&self, limit_deg: f64, arm: f64) -> (f64, f64) {
        let lean = self.best.clamp(0.0, limit_deg.to_radians().max(0.0));
        let dot = self.c + self.d * (lean - self.best).cos();
        ((self.squares - 2.0 * dot).max(0.0).sqrt() - arm, lean.to_degrees())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_body::plan;
    use proptest::prelude::*;

    fn body() -> Seated {
        Seated::of(&plan())
    }

    /// A point `(x, y, z)` from the port shoulder, upright.
    fn from_shoulder(body: &Seated, x: f64, y: f64, z: f64) -> Point {
        body.upright_shoulder(Side::Port) + Point::new(x, y, z)
    }

    fn check(x: f64, y: f64, z: f64, band: Band) {
        let body = body();
        let found = touch(&body, from_shoulder(&body, x, y, z), true);
        assert_eq!(found.band, band, "{found:?}");
    }

    #[test]
    fn bands_ahead_beside_and_behind() {
        let grip = body().grip;
        check(grip - 1.0, 0.0, 0.0, Band::InHand);
        check(grip + 1.0, 0.0, 0.0, Band::AtStretch);
        check(0.0, grip - 1.0, 0.0, Band::InHand);
        check(-50.0, 300.0, -300.0, Band::InHand);
        check(-120.0, 300.0, -300.0, Band::AtStretch);
        check(-900.0, 0.0, -300.0, Band::OutOfReach);
        check(2000.0, 0.0, 0.0, Band::OutOfReach);
    }

    #[test]
    fn the_lean_is_the_least_one() {
        // Straight ahead at shoulder height: the shoulder has to come forward by 100 mm. Turning the
        // trunk vector of 506 mm by l brings (506 sin l) forward and drops it by 506 (1 - cos l).
        let body = body();
        let point = from_shoulder(&body, body.grip + 100.0, 0.0, 0.0);
        let found = touch(&body, point, true);
        let lean = found.lean_deg.to_radians();
        let trunk = body.lengths.trunk;
        let left = (body.grip + 100.0 - trunk * lean.sin()).hypot(trunk * (1.0 - lean.cos()));
        assert!((left - body.grip).abs() < 1e-6, "{found:?}");
        assert_eq!(found.twist_deg, 0.0);
        assert!((found.short_mm - 100.0).abs() < 1e-9);
    }

    #[test]
    fn behind_the_shoulder_line_takes_a_twist() {
        // 100 aft and 100 out lies at 135 degrees, 141 away; 50 may stay behind the line, which leaves
        // 110.7 degrees without a twist.
        let body = body();
        let found = touch(&body, from_shoulder(&body, -100.0, 100.0, -300.0), true);
        assert_eq!((found.band, found.hand, found.lean_deg), (Band::AtStretch, Side::Port, 0.0));
        assert!((found.twist_deg - (135.0 - 110.705)).abs() < 1e-3, "{found:?}");
        let further = touch(&body, from_shoulder(&body, -300.0, 100.0, -300.0), true);
        assert_eq!(further.band, Band::OutOfReach);
    }

    #[test]
    fn the_way_into_reach_reaches() {
        let body = body();
        for point in [from_shoulder(&body, 1100.0, 200.0, -400.0), from_shoulder(&body, -300.0, 0.0, -300.0)] {
            let by = way_into_reach(&body, point, true).unwrap_or_default();
            let moved = Point::new(point.x + by.x, point.y + by.y, point.z);
            assert_eq!(touch(&body, point, true).band, Band::OutOfReach);
            assert_eq!(touch(&body, moved, true).band, Band::AtStretch);
        }
    }

    proptest! {
        #[test]
        fn nearer_the_shoulder_is_never_worse(
            x in -1000_f64..1500.0, y in -900_f64..900.0, z in -800_f64..400.0, part in 0_f64..1.0, gripped: bool,
        ) {
            let body = body();
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

        #[test]
        fn the_mirrored_point_takes_the_other_hand(x in -800_f64..1500.0, y in 1_f64..900.0, z in 0_f64..1000.0) {
            let body = body();
            let mut mirrored = body.clone();
            mirrored.hand = body.hand.other();
            let point = body.hip + Point::new(x, y, z - 300.0);
            let (here, there) = (touch(&body, point, true), touch(&mirrored, point.mirrored(), true));
            prop_assert_eq!(Touch { hand: here.hand.other(), ..here }, there);
        }

        #[test]
        fn a_longer_arm_is_never_worse(x in -800_f64..1500.0, y in -900_f64..900.0, z in -600_f64..400.0) {
            let body = body();
            let point = body.hip + Point::new(x, y, z);
            prop_assert!(touch(&body, point, false).band <= touch(&body, point, true).band);
        }
    }
}
