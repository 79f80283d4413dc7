//! The points of the whole body in a posture: seated as the seat is set, leaning to touch something, standing.
//!
//! Arms that touch nothing hang: elbows under the shoulders, forearms level and ahead, as with the hands in the lap.
//! An arm that touches is bent in the upright plane through shoulder and point, the elbow down.

use super::{CAP_MM, CLOTHING_MM, SOLE_MM, Seated};
use crate::geometry::{Point, Spot};
use crate::plan::{Plan, Side};

/// A life jacket before the chest, mm. Assumption.
pub const LIFE_JACKET_MM: f64 = 60.0;

/// The chest ahead of the middle of the trunk, mm without clothing. Half the abdominal depth of a seated man at the
/// 50th percentile, 251 mm (ANSUR II).
const CHEST_MM: f64 = 125.0;

/// Where the chest is on the way from hip to shoulder. From memory, an assumption.
const CHEST_UP: f64 = 0.65;

/// The body in one posture, boat frame, mm. Pairs are port, then starboard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pose {
    /// Middle between the hip joints.
    pub hip: Point,
    /// Shoulder joints.
    pub shoulders: [Point; 2],
    /// Elbows.
    pub elbows: [Point; 2],
    /// Middles of the grips.
    pub hands: [Point; 2],
    /// Front of the life jacket, in the middle.
    pub chest: Point,
    /// Middle between the eyes.
    pub eye: Point,
    /// Top of the head with a cap.
    pub head_top: Point,
    /// Middle between the knee joints.
    pub knee: Point,
    /// Middle between the ankles.
    pub foot: Point,
}

/// What a point of the trunk becomes.
type Turned<'a> = &'a dyn Fn(Point) -> Point;

impl Pose {
    /// Seated, leaning against the seat back as it is set.
    pub fn seated(body: &Seated) -> Self {
        let middle = (body.shoulders[0].x, body.shoulders[0].z);
        let chest = Point::new(
            body.hip.x + CHEST_UP * (middle.0 - body.hip.x) + CHEST_MM + CLOTHING_MM + LIFE_JACKET_MM,
            0.0,
            body.hip.z + CHEST_UP * (middle.1 - body.hip.z),
        );
        Self {
            hip: body.hip,
            shoulders: body.shoulders,
            elbows: body.shoulders.map(|shoulder| elbow(body, shoulder)),
            hands: body.shoulders.map(|shoulder| hand(body, shoulder)),
            chest,
            eye: body.eye,
            head_top: body.head_top,
            knee: body.knee,
            foot: body.foot,
        }
    }

    /// Seated, upright, then leant about the hip by degrees toward a direction, degrees to port from straight ahead.
    /// The head leans with the trunk.
    pub fn leaning(body: &Seated, lean_deg: f64, toward_deg: f64) -> Self {
        let back = body.upright_shoulder(Side::Port).x - body.shoulders[0].x;
        let rise = body.upright_shoulder(Side::Port).z - body.shoulders[0].z;
        let upright = Point::new(back, 0.0, rise);
        let ((sin, cos), (s, c)) = (lean_deg.to_radians().sin_cos(), toward_deg.to_radians().sin_cos());
        let lean = |from_upright: Point| {
            // Rodrigues about the level axis (-s, c, 0).
            let q = from_upright - body.hip;
            let along = (c * q.y - s * q.x) * (1.0 - cos);
            body.hip
                + Point::new(
                    q.x * cos + c * q.z * sin - s * along,
                    q.y * cos + s * q.z * sin + c * along,
                    q.z * cos - (s * q.y + c * q.x) * sin,
                )
        };
        Self::seated(body).with_trunk(body, &|point| lean(point + upright))
    }

    /// Standing with the heels at the seat's front edge.
    pub fn standing(plan: &Plan, body: &Seated) -> Self {
        let lengths = &body.lengths;
        let heels = plan.angler.seat.back.to_mm() + plan.hull.seat.depth.to_mm();
        let spot = Spot::new(heels + 0.25 * lengths.ankle, 0.0);
        let foot = spot.at(plan.hull.surface(spot).unwrap_or(0.0) + SOLE_MM + lengths.ankle);
        let up = |by: f64| Point::new(foot.x, 0.0, foot.z + by);
        let hip = up(lengths.shank + lengths.thigh);
        let seated = Self::seated(body);
        let lift = hip + Point::new(0.0, 0.0, lengths.trunk) - body.upright_shoulder(Side::Port);
        let lift = Point::new(lift.x, 0.0, lift.z);
        let upright = body.upright_shoulder(Side::Port) - body.shoulders[0];
        let stood = seated.with_trunk(body, &|point| point + upright + lift);
        Self { hip, knee: up(lengths.shank), foot, ..stood }
    }

    /// The same pose with one arm stretched or bent to a point: no further than the arm goes.
    #[must_use]
    pub fn touching(mut self, body: &Seated, side: Side, point: Point) -> Self {
        let index = usize::from(side == Side::Starboard);
        let shoulder = self.shoulders[index];
        let arrow = point - shoulder;
        let (upper, lower) = (body.lengths.upper_arm, (body.grip - body.lengths.upper_arm).max(1.0));
        let far = arrow.length().clamp((upper - lower).abs().max(1.0), upper + lower);
        let scale = far / arrow.length().max(1.0);
        let flat = arrow.x.hypot(arrow.y).max(1.0e-9);
        // Two links and the law of cosines; the elbow falls below the line from shoulder to hand.
        let bend = ((upper * upper + far * far - lower * lower) / (2.0 * upper * far)).clamp(-1.0, 1.0).acos();
        let (sin, cos) = (arrow.z.atan2(flat) - bend).sin_cos();
        let out = Point::new(upper * cos * arrow.x / flat, upper * cos * arrow.y / flat, upper * sin);
        self.elbows[index] = shoulder + out;
        self.hands[index] = shoulder + Point::new(arrow.x * scale, arrow.y * scale, arrow.z * scale);
        self
    }

    /// What hangs on the trunk brought elsewhere; the arms hang from where the shoulders come to be.
    fn with_trunk(self, body: &Seated, turned: Turned<'_>) -> Self {
        let shoulders = self.shoulders.map(turned);
        Self {
            shoulders,
            elbows: shoulders.map(|shoulder| elbow(body, shoulder)),
            hands: shoulders.map(|shoulder| hand(body, shoulder)),
            chest: turned(self.chest),
            eye: turned(self.eye),
            head_top: turned(self.head_top),
            ..self
        }
    }

    /// Height of the top of the head over what the feet stand on, mm: with sole and cap.
    pub fn height(&self, body: &Seated) -> f64 {
        self.head_top.z - (self.foot.z - body.lengths.ankle - SOLE_MM) - CAP_MM
    }
}

fn elbow(body: &Seated, shoulder: Point) -> Point {
    Point::new(shoulder.x, shoulder.y, shoulder.z - body.lengths.upper_arm)
}

fn hand(body: &Seated, shoulder: Point) -> Point {
    let elbow = elbow(body, shoulder);
    Point::new(elbow.x + body.grip - body.lengths.upper_arm, elbow.y, elbow.z)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_body::plan;
    use crate::study::reach::{Band, touch};

    fn near(a: f64, b: f64, within: f64) {
        assert!((a - b).abs() <= within, "{a} is not {b}");
    }

    /// Ratios: ankle 0.039, shank 0.246, thigh 0.245, trunk 0.288, shoulder to top of head 0.182: the whole stature,
    /// and the eye at 0.936. Source: Drillis and Contini, as drawn in Winter.
    #[test]
    fn a_standing_person_is_as_tall_as_the_person() {
        let plan = plan();
        let body = Seated::of(&plan);
        let stood = Pose::standing(&plan, &body);
        // 25 of sole in both.
        near(stood.height(&body), 1756.0 + 25.0, 1.0);
        near(stood.eye.z - stood.foot.z + body.lengths.ankle, 0.936 * 1756.0, 1.0);
        near(stood.shoulders[0].y, 0.129 * 1756.0, 1e-9);
    }

    /// Where the least lean of the reach brings the shoulder, the arm is just long enough.
    #[test]
    fn the_leaning_arm_gets_to_what_it_touches() {
        let body = Seated::of(&plan());
        for at in [Point::new(760.0, 240.0, 350.0), Point::new(600.0, 500.0, 250.0), Point::new(200.0, 800.0, 100.0)] {
            let point = body.hip + at;
            let found = touch(&body, point, true);
            assert!(found.band == Band::AtStretch && found.twist_deg < 0.01 && found.lean_deg > 0.0, "{found:?}");
            let pose = Pose::leaning(&body, found.lean_deg, found.toward_deg).touching(&body, found.hand, point);
            let (shoulder, hand) = if found.hand == Side::Port {
                (pose.shoulders[0], pose.hands[0])
            } else {
                (pose.shoulders[1], pose.hands[1])
            };
            near(shoulder.distance(point), body.grip, 1e-3);
            near(hand.distance(point), 0.0, 1e-3);
        }
    }

    #[test]
    fn a_bent_arm_keeps_its_links() {
        let body = Seated::of(&plan());
        let pose = Pose::seated(&body);
        let point = pose.shoulders[1] + Point::new(350.0, 50.0, -250.0);
        let pose = pose.touching(&body, Side::Starboard, point);
        near(pose.shoulders[1].distance(pose.elbows[1]), body.lengths.upper_arm, 1e-6);
        near(pose.elbows[1].distance(pose.hands[1]), body.grip - body.lengths.upper_arm, 1e-6);
        near(pose.hands[1].distance(point), 0.0, 1e-6);
        assert!(pose.elbows[1].z < pose.shoulders[1].z.min(point.z) + 120.0, "{pose:?}");
    }
}
