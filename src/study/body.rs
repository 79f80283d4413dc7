//! The seated person as points and lengths: ratios of stature, or lengths measured.
//!
//! ```text
//!            o  eye, level whatever the recline
//!           /|
//!          | shoulder
//!   seat   |  \               knee
//!   back   |   trunk      ___/\___
//!          |    \   thigh       shank
//!          |__ hip __ seat ______    \__ foot
//! ```
//!
//! Source of the ratios: Drillis and Contini 1966, as drawn in Winter; hand, forearm, upper arm, half
//! shoulder breadth, thigh and shank as published, the rest from memory of the same drawing. They hold
//! for grown people within about 5 percent; a length measured on the person wins over its ratio.
//! What the person wears is stated once: [`CAP_MM`], [`SOLE_MM`], [`CLOTHING_MM`]. [`pose`] has the points of the whole
//! body, seated, leaning and standing.

pub mod pose;

use super::chosen;
use super::reach::{LEAN_LIMIT_DEG, TWIST_LIMIT_DEG};
use crate::geometry::{Point, Spot};
use crate::plan::{Angler, Plan, Seat, SeatHeight, Side};
use crate::units::Length;

/// The hip joints over a firm seat, mm. From memory, an assumption: 80 to 100.
pub const HIP_OVER_SEAT_MM: f64 = 90.0;

/// The hip joints ahead of the seat back, mm. From memory, an assumption.
pub const HIP_AHEAD_MM: f64 = 100.0;

/// A cap over the head, mm. Assumption.
pub const CAP_MM: f64 = 25.0;

/// A shoe's sole under the heel, mm. Assumption.
pub const SOLE_MM: f64 = 25.0;

/// Trousers for cold water or a life jacket over what they cover, mm. Assumption.
pub const CLOTHING_MM: f64 = 20.0;

/// From the knee joint to the skin over and before it, mm. From the difference between seated knee
/// height (0.315 of stature, ANSUR II) and shank with ankle (0.285), rounded up.
pub const KNEE_FLESH_MM: f64 = 60.0;

/// The eyes ahead of the shoulder line, mm. From memory, an assumption.
const EYE_AHEAD_MM: f64 = 80.0;

/// The bend that is left in the knee with the feet on the braces, degrees between thigh and shank.
/// Common practice, no source: puts knee and brace where riggers find them (knee 0.50 to 0.65 m and
/// brace 0.80 to 1.15 m ahead of the seat back).
const KNEE_ANGLE_DEG: f64 = 130.0;

/// Lengths of the person between joints, mm, without clothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lengths {
    /// Shoulder to elbow.
    pub upper_arm: f64,
    /// Elbow to wrist.
    pub forearm: f64,
    /// Wrist to fingertip.
    pub hand: f64,
    /// Shoulder to the middle of the grip.
    pub grip: f64,
    /// Shoulder to fingertip.
    pub fingertip: f64,
    /// From the middle of the body to a shoulder joint.
    pub half_shoulder: f64,
    /// Hip to shoulder.
    pub trunk: f64,
    /// Shoulder to eye, upward.
    pub eye_over_shoulder: f64,
    /// Shoulder to the top of the head, upward.
    pub head_over_shoulder: f64,
    /// Hip to knee.
    pub thigh: f64,
    /// Knee to ankle.
    pub shank: f64,
    /// Ankle to the sole of the bare foot, downward.
    pub ankle: f64,
}

impl Lengths {
    /// By the ratios alone, for a stature in mm.
    pub fn of_stature(stature: f64) -> Self {
        let (upper_arm, forearm, hand) = (0.186 * stature, 0.146 * stature, 0.108 * stature);
        Self {
            upper_arm,
            forearm,
            hand,
            grip: upper_arm + forearm + hand / 2.0,
            fingertip: upper_arm + forearm + hand,
            half_shoulder: 0.129 * stature,
            trunk: 0.288 * stature,
            eye_over_shoulder: (0.936 - 0.818) * stature,
            head_over_shoulder: (1.0 - 0.818) * stature,
            thigh: 0.245 * stature,
            shank: 0.246 * stature,
            ankle: 0.039 * stature,
        }
    }

    /// By the ratios, with what was measured in their place. Heights of shoulder and eye are taken
    /// over the seat's surface, sitting upright against the back.
    pub fn of(angler: &Angler) -> Self {
        let mut lengths = Self::of_stature(angler.stature.value.to_mm());
        let measured = &angler.measured;
        if let Some(grip) = measured.arm_to_grip.map(Length::to_mm) {
            lengths.fingertip = grip + lengths.hand / 2.0;
            lengths.grip = grip;
        }
        if let Some(width) = measured.shoulder_width {
            lengths.half_shoulder = width.to_mm() / 2.0;
        }
        if let Some(height) = measured.shoulder_height {
            lengths.trunk = (height.to_mm() - HIP_OVER_SEAT_MM).max(0.0);
        }
        if let Some(height) = measured.eye_height {
            let head_over_eye = lengths.head_over_shoulder - lengths.eye_over_shoulder;
            lengths.eye_over_shoulder = height.to_mm() - HIP_OVER_SEAT_MM - lengths.trunk;
            lengths.head_over_shoulder = lengths.eye_over_shoulder + head_over_eye;
        }
        lengths
    }

    /// Height of the shoulder over the seat, sitting upright, mm.
    pub fn shoulder_over_seat(&self) -> f64 {
        HIP_OVER_SEAT_MM + self.trunk
    }

    /// Height of the eye over the seat, sitting upright, mm.
    pub fn eye_over_seat(&self) -> f64 {
        self.shoulder_over_seat() + self.eye_over_shoulder
    }
}

/// The seated person. Points in the boat frame, lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Seated {
    /// Middle between the hip joints.
    pub hip: Point,
    /// Shoulder joints, port then starboard, leaning against the seat back as it is set.
    pub shoulders: [Point; 2],
    /// Middle between the eyes, in the same posture, the head held level.
    pub eye: Point,
    /// Top of the head with a cap.
    pub head_top: Point,
    /// Middle between the knee joints.
    pub knee: Point,
    /// Middle between the ankles, feet on the braces or the pedals.
    pub foot: Point,
    /// Shoulder to the middle of the grip.
    pub grip: f64,
    /// Shoulder to fingertip.
    pub fingertip: f64,
    /// Height of the seat's surface.
    pub seat: f64,
    /// The lengths between joints.
    pub lengths: Lengths,
    /// The hand that works controls; decides when both reach equally well.
    pub hand: Side,
    /// The furthest this person leans, degrees from upright.
    pub lean_limit_deg: f64,
    /// The furthest this person twists the trunk, degrees.
    pub twist_limit_deg: f64,
}

impl Seated {
    /// Sits the plan's angler on the plan's seat, by ratios and measured lengths alone; what the seat tests add is
    /// in [`super::seat_test`].
    pub fn of(plan: &Plan) -> Self {
        Self::on(plan, &plan.angler.seat)
    }

    /// Sits the plan's angler on the seat set otherwise.
    pub fn on(plan: &Plan, set: &Seat) -> Self {
        let (angler, rails) = (&plan.angler, &plan.hull.seat);
        let lengths = Lengths::of(angler);
        let seat = match (set.height, &rails.high) {
            (SeatHeight::High, Some(high)) => high.value.to_mm(),
            _ => rails.low.value.to_mm(),
        };
        let back = set.back.to_mm();
        let hip = Point::new(back + HIP_AHEAD_MM, 0.0, seat + HIP_OVER_SEAT_MM);
        let (sin, cos) = set.recline.to_deg().to_radians().sin_cos();
        let neck = Point::new(hip.x - lengths.trunk * sin, 0.0, hip.z + lengths.trunk * cos);
        let shoulder = |side: Side| Point::new(neck.x, side.sign() * lengths.half_shoulder, neck.z);
        let foot = foot(plan, hip, &lengths);
        let mut knee = knee(hip, foot, &lengths);
        if let Some(forward) = angler.measured.knee_forward {
            knee.x = back + forward.to_mm() - KNEE_FLESH_MM;
        }
        if let Some(height) = angler.measured.knee_height {
            knee.z = seat + height.to_mm() - KNEE_FLESH_MM;
        }
        Self {
            hip,
            shoulders: [shoulder(Side::Port), shoulder(Side::Starboard)],
            eye: Point::new(neck.x + EYE_AHEAD_MM, 0.0, neck.z + lengths.eye_over_shoulder),
            head_top: Point::new(neck.x, 0.0, neck.z + lengths.head_over_shoulder + CAP_MM),
            knee,
            foot,
            grip: lengths.grip,
            fingertip: lengths.fingertip,
            seat,
            lengths,
            hand: angler.hand,
            lean_limit_deg: chosen(plan, "reach-over.lean", LEAN_LIMIT_DEG),
            twist_limit_deg: chosen(plan, "reach-over.twist", TWIST_LIMIT_DEG),
        }
    }

    /// A shoulder joint with the trunk upright: where reach is measured from.
    pub fn upright_shoulder(&self, side: Side) -> Point {
        self.hip + Point::new(0.0, side.sign() * self.lengths.half_shoulder, self.lengths.trunk)
    }

    /// Length of the arm to what touches, mm: the middle of the grip, or the fingertip.
    pub fn arm(&self, gripped: bool) -> f64 {
        if gripped { self.grip } else { self.fingertip }
    }

    /// The knee joint with the ankle at another point: on the pedals' circle, say.
    pub fn knee_with(&self, foot: Point) -> Point {
        knee(self.hip, foot, &self.lengths)
    }

    /// Height of the knees as the person sits, with flesh and clothing, mm.
    pub fn knees_high(&self) -> f64 {
        self.knee.z + KNEE_FLESH_MM + CLOTHING_MM
    }
}

/// The ankles: on the crank's middle, or with the heels on the floor and the knees a little bent.
fn foot(plan: &Plan, hip: Point, lengths: &Lengths) -> Point {
    if let Some(pedals) = &plan.hull.pedals {
        return pedals.crank_mm;
    }
    let (a, b) = (lengths.thigh, lengths.shank);
    let leg = (a * a + b * b - 2.0 * a * b * KNEE_ANGLE_DEG.to_radians().cos()).sqrt();
    let heel_on_floor = |x: f64| {
        let floor = plan.hull.surface(Spot::new(x, 0.0)).unwrap_or(0.0);
        let z = floor + SOLE_MM + lengths.ankle;
        let drop = hip.z - z;
        Point::new(hip.x + (leg * leg - drop * drop).max(0.0).sqrt(), 0.0, z)
    };
    // The floor is looked up where a level leg would end, then once more where the heel came to be.
    heel_on_floor(heel_on_floor(hip.x + leg).x)
}

/// The knee of a leg bent upward between hip and ankle (two links and the law of cosines). A foot out
/// of the leg's reach leaves it straight.
fn knee(hip: Point, foot: Point, lengths: &Lengths) -> Point {
    let (a, b) = (lengths.thigh, lengths.shank);
    let (ahead, up) = (foot.x - hip.x, foot.z - hip.z);
    let span = ahead.hypot(up).clamp((a - b).abs().max(1.0), (a + b).max(1.0));
    let lift = ((a * a + span * span - b * b) / (2.0 * a * span).max(1.0)).clamp(-1.0, 1.0).acos();
    let angle = up.atan2(ahead) + lift;
    Point::new(hip.x + a * angle.cos(), 0.0, hip.z + a * angle.sin())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_body::plan;
    use crate::units::Angle;

    #[test]
    fn the_default_person_sits_where_riggers_measure() {
        // The table of seat-test practice: eye 0.70 to 0.82 and knee 0.20 to 0.32 over the seat, knee
        // 0.50 to 0.65 ahead of the back, brace 0.80 to 1.15 ahead.
        let plan = plan();
        let body = Seated::of(&plan);
        let back = plan.angler.seat.back.to_mm();
        let within = |value: f64, low: f64, high: f64| assert!((low..=high).contains(&value), "{value}");
        within(body.eye.z - body.seat, 700.0, 820.0);
        within(body.head_top.z - body.seat, 820.0, 960.0);
        within(body.shoulders[0].z - body.seat, 520.0, 620.0);
        within(body.knees_high() - body.seat, 200.0, 320.0);
        within(body.knee.x - back, 500.0, 650.0);
        within(body.foot.x - back, 750.0, 1150.0);
    }

    #[test]
    fn what_is_measured_wins() {
        let mut plan = plan();
        plan.angler.seat.recline = Angle::deg(0.0);
        plan.angler.measured.eye_height = Some(Length::mm(770.0));
        plan.angler.measured.shoulder_height = Some(Length::mm(580.0));
        plan.angler.measured.arm_to_grip = Some(Length::mm(640.0));
        plan.angler.measured.shoulder_width = Some(Length::mm(400.0));
        plan.angler.measured.knee_forward = Some(Length::mm(600.0));
        plan.angler.measured.knee_height = Some(Length::mm(300.0));
        let body = Seated::of(&plan);
        assert!((body.eye.z - body.seat - 770.0).abs() < 1e-9);
        assert!((body.shoulders[0].z - body.seat - 580.0).abs() < 1e-9);
        assert_eq!((body.shoulders[0].y, body.shoulders[1].y, body.grip), (200.0, -200.0, 640.0));
        assert_eq!(body.knee.x - plan.angler.seat.back.to_mm(), 600.0 - KNEE_FLESH_MM);
        assert_eq!(body.knee.z - body.seat, 300.0 - KNEE_FLESH_MM);
    }

    #[test]
    fn a_reclined_seat_takes_the_shoulders_aft_and_the_high_seat_lifts_them() {
        let mut plan = plan();
        plan.angler.seat.recline = Angle::deg(0.0);
        let upright = Seated::of(&plan);
        assert_eq!(upright.shoulders[0], upright.upright_shoulder(Side::Port));
        plan.angler.seat.recline = Angle::deg(20.0);
        plan.angler.seat.height = SeatHeight::High;
        let body = Seated::of(&plan);
        let aft = upright.shoulders[0].x - body.shoulders[0].x;
        assert!((aft - body.lengths.trunk * 20_f64.to_radians().sin()).abs() < 1e-9, "{aft}");
        assert_eq!(body.seat - upright.seat, 180.0);
    }
}
