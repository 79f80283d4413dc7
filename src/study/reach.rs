//! What can be touched from the seat: the least lean and twist for either hand.
//!
//! The posture model is in [`hand`]; a point moved toward a shoulder is never worse for that hand. [`along`] tells
//! where a control would pass, [`heel`] how far the boat heels meanwhile.

pub mod along;

mod hand;
mod heel;
mod swing;

pub use along::Span;

use self::hand::Hand;
use super::body::Seated;
use super::float::Float;
use super::rig::Rig;
use super::seat_test::SeatTest;
use crate::geometry::{Point, Spot};
use crate::plan::{GearId, Handling, Often, Plan, Side};

/// The lean that still counts as safe, degrees from upright. Common practice, no source.
pub const LEAN_LIMIT_DEG: f64 = 25.0;

/// The twist of the trunk that still counts as easy, degrees. Common practice, no source.
pub const TWIST_LIMIT_DEG: f64 = 45.0;

/// The heel while reaching that is safe still, degrees. Common practice, no source.
pub const HEEL_LIMIT_DEG: f64 = 5.0;

/// What can be touched from the seat.
#[derive(Clone, Debug)]
pub struct Reach {
    /// The seated person, refit by the seat tests.
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
    /// How far the boat heels while it is reached with a lean, degrees, positive to starboard; `None` where the boat
    /// does not float, or nobody leans.
    pub heel_deg: Option<f64>,
    /// The reading that tried it last, by its place among the plan's readings.
    pub tested: Option<usize>,
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
    /// Direction of that lean, degrees to port from straight ahead.
    pub toward_deg: f64,
    /// Twist of the trunk that goes with it, degrees. Out of reach behind the shoulder line: the twist
    /// it would take.
    pub twist_deg: f64,
    /// Distance from that hand's shoulder, upright, mm.
    pub distance_mm: f64,
    /// How far the hand falls short without lean or twist, mm; negative is to spare.
    pub short_mm: f64,
    /// How far it still falls short with all the lean and twist allowed, mm, around the shoulder if it lies behind what
    /// the twist allows; zero when touched.
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
    pub fn of(plan: &Plan, rig: &Rig, seat_test: &SeatTest) -> Self {
        let body = seat_test.body.clone();
        let item = |(gear, handling, control): (GearId, &Handling, Point)| ReachItem {
            gear,
            touched: handling.touched,
            gripped: handling.gripped,
            control,
            touch: touch(&body, control, handling.gripped),
            heel_deg: None,
            tested: seat_test.of_gear(gear).map(|tried| tried.index),
        };
        Self { items: touched(plan, rig).map(item).collect(), body }
    }

    /// Adds how far the boat heels while each piece is reached.
    #[must_use]
    pub fn afloat(mut self, plan: &Plan, float: &Float) -> Self {
        for item in self.items.iter_mut().filter(|item| item.touch.band == Band::AtStretch) {
            item.heel_deg = heel::while_reaching(plan, float, &item.touch);
        }
        self
    }

    /// How many controls fall in a band.
    pub fn count(&self, band: Band) -> usize {
        self.items.iter().filter(|item| item.touch.band == band).count()
    }

    /// How a piece of gear is reached, if it is touched under way.
    pub fn item(&self, gear: GearId) -> Option<&ReachItem> {
        self.items.iter().find(|item| item.gear == gear)
    }
}

/// Placed gear that is touched under way, and where.
pub(super) fn touched<'a>(
    plan: &'a Plan,
    rig: &'a Rig,
) -> impl Iterator<Item = (GearId, &'a Handling, Point)> + use<'a> {
    rig.items.iter().filter_map(|item| {
        let handling = plan.gear.get(item.index)?.spec.handling.as_ref()?;
        Some((item.gear, handling, item.control?)).filter(|_| handling.touched != Often::Never)
    })
}

/// Both hands at a point, the one that works controls first.
fn hands(body: &Seated, point: Point, gripped: bool) -> [Hand<'_>; 2] {
    let arm = body.arm(gripped);
    [body.hand, body.hand.other()].map(|side| Hand::of(body, side, point, arm))
}

/// What it takes to touch a point with a fingertip (`gripped`: with the middle of the grip).
pub fn touch(body: &Seated, point: Point, gripped: bool) -> Touch {
    let [own, other] = hands(body, point, gripped).map(|hand| hand.touch());
    // Equal effort goes to the hand that works controls.
    if other.is_easier_than(&own, body) { other } else { own }
}

/// The band of a point: the same as that of [`touch`], without looking for the least effort.
pub fn band(body: &Seated, point: Point, gripped: bool) -> Band {
    let [own, other] = hands(body, point, gripped);
    let own = own.band();
    if own == Band::InHand { own } else { own.min(other.band()) }
}

/// How far a point is from being touched, mm; negative is to spare: without a lean and with no more twist than it takes
/// to face it, then with all that is allowed.
pub(super) fn gaps_mm(body: &Seated, point: Point, gripped: bool) -> [f64; 2] {
    let [own, other] = hands(body, point, gripped);
    [own.gap_upright_mm().min(other.gap_upright_mm()), own.gap_mm().min(other.gap_mm())]
}

/// A short shift on deck that brings a point at least to a stretch: straight toward the nearer shoulder,
/// or for a point behind the shoulder line straight forward. `None` when it is there already or no such
/// shift does.
pub fn way_into_reach(body: &Seated, point: Point, gripped: bool) -> Option<Spot> {
    let there = |by: Spot| Point::new(point.x + by.x, point.y + by.y, point.z);
    let reached = |by: Spot| band(body, there(by), gripped) != Band::OutOfReach;
    if reached(Spot::default()) {
        return None;
    }
    let side = if point.y * body.hand.sign() >= 0.0 { body.hand } else { body.hand.other() };
    let nearer = body.upright_shoulder(side).spot() - point.spot();
    let forward = Spot::new(nearer.x, 0.0);
    let ways = if nearer.x > hand::BEHIND_MM { [forward, nearer] } else { [nearer, forward] };
    ways.into_iter().find(|end| reached(*end)).map(|end| shortest(end, reached))
}

/// The shortest part of a shift that still reaches, by halving.
fn shortest(end: Spot, reached: impl Fn(Spot) -> bool) -> Spot {
    let part = |share: f64| Spot::new(end.x * share, end.y * share);
    let (mut short, mut far) = (0.0, 1.0);
    for _ in 0..8 {
        let middle = f64::midpoint(short, far);
        if reached(part(middle)) { far = middle } else { short = middle }
    }
    part(far)
}

impl Touch {
    /// Lean and twist as shares of what is allowed, added: what the hands are compared by.
    pub fn effort(&self, body: &Seated) -> f64 {
        hand::share(self.lean_deg, body.lean_limit_deg) + hand::share(self.twist_deg, body.twist_limit_deg)
    }

    fn is_easier_than(&self, other: &Self, body: &Seated) -> bool {
        let within = |t: &Self| {
            // Out of reach, what counts is how far it stays away.
            if t.band == Band::OutOfReach { t.beyond_mm } else { t.effort(body) }
        };
        (self.band, within(self)).partial_cmp(&(other.band, within(other))) == Some(std::cmp::Ordering::Less)
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
        // trunk vector of 506 mm by l brings (506 sin l) forward and drops it by 506 (1 - cos l). A lean that
        // goes a little to the side as well saves a little.
        let body = body();
        let point = from_shoulder(&body, body.grip + 100.0, 0.0, 0.0);
        let found = touch(&body, point, true);
        let trunk = body.lengths.trunk;
        let left = |lean: f64| (body.grip + 100.0 - trunk * lean.sin()).hypot(trunk * (1.0 - lean.cos())) - body.grip;
        let lean = found.lean_deg.to_radians();
        assert!(left(lean) > 0.0 && left(lean * 1.01) < 0.0, "{found:?}");
        assert_eq!(found.twist_deg, 0.0);
        assert!((found.short_mm - 100.0).abs() < 1e-9);
    }

    #[test]
    fn behind_the_shoulder_line_takes_a_twist() {
        // 100 aft and 100 out lies at 135 degrees, 141 away; 50 may stay behind the line, which leaves
        // 110.7 degrees without a twist. Each degree of twist gives 1.444.
        let body = body();
        let found = touch(&body, from_shoulder(&body, -100.0, 100.0, -300.0), true);
        assert_eq!((found.band, found.hand, found.lean_deg), (Band::AtStretch, Side::Port, 0.0));
        assert!((found.twist_deg - (135.0 - 110.705) * 45.0 / 65.0).abs() < 1e-3, "{found:?}");
        let further = touch(&body, from_shoulder(&body, -300.0, 20.0, -300.0), true);
        assert_eq!(further.band, Band::OutOfReach);
    }

    #[test]
    fn fingertips_get_as_far_behind_as_seat_tests_find() {
        // Common practice: 0.45 to 0.65 m behind the seat back at elbow height with a twist; the
        // model's longest is within 20 mm of that range's end.
        let body = body();
        let back = body.hip.x - super::super::body::HIP_AHEAD_MM;
        let elbow = body.upright_shoulder(Side::Port).z - body.lengths.upper_arm;
        let reached = |behind: f64| {
            (0..=40).any(|out| {
                let point = Point::new(back - behind, f64::from(out) * 20.0, elbow);
                let found = touch(&body, point, false);
                found.band == Band::AtStretch && found.lean_deg == 0.0
            })
        };
        assert!(reached(450.0) && !reached(670.0));
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
        fn the_mirrored_point_takes_the_other_hand(x in -800_f64..1500.0, y in 1_f64..900.0, z in 0_f64..1000.0) {
            let body = body();
            let mut mirrored = body.clone();
            mirrored.hand = body.hand.other();
            let point = body.hip + Point::new(x, y, z - 300.0);
            let (here, there) = (touch(&body, point, true), touch(&mirrored, point.mirrored(), true));
            prop_assert_eq!(Touch { hand: here.hand.other(), toward_deg: -here.toward_deg, ..here }, there);
        }

        #[test]
        fn a_longer_arm_is_never_worse(x in -800_f64..1500.0, y in -900_f64..900.0, z in -600_f64..400.0) {
            let body = body();
            let point = body.hip + Point::new(x, y, z);
            prop_assert!(touch(&body, point, false).band <= touch(&body, point, true).band);
        }
    }
}
