//! Where the angler's mass acts, seated as set or standing in the footwell.
//!
//! Segment model, symbols: `H` stature, `b` recline of the trunk aft of upright. Head, arms and trunk
//! are 0.678 of the mass at 0.626 of the trunk (0.288 H) over the hip, thighs 0.200 at 0.433 of 0.245 H
//! before it, shanks and feet 0.122 at 0.606 of 0.246 H before the knee; legs straight forward.
//! Valid for a person sitting on a low seat with the feet ahead.
//!
//! Source: segment fractions of Drillis and Contini 1966 and the mass table of Winter (the 0.678 and
//! 0.626 from memory). Source of the standing 0.55 H and of where hip and feet are: common practice,
//! no source.

use super::body::{HIP_AHEAD_MM, HIP_OVER_SEAT_MM};
use crate::geometry::{Point, Spot};
use crate::plan::{Plan, Posture, SeatHeight, Side};

/// Shares of the mass: head, arms and trunk; thighs; shanks and feet.
const MASSES: [f64; 3] = [0.678, 0.200, 0.122];
const TRUNK: f64 = MASSES[0] * 0.626 * 0.288;
const LEGS: f64 = MASSES[1] * 0.433 * 0.245 + MASSES[2] * (0.245 + 0.606 * 0.246);
const FOOT: f64 = 0.152;
/// Height of the centre of a standing person over the floor, as a share of stature.
pub const STANDING: f64 = 0.55;

/// The centre of a seated person from the hip, mm forward and mm up.
pub fn from_hip(stature_mm: f64, recline_deg: f64) -> (f64, f64) {
    let recline = recline_deg.to_radians();
    (stature_mm * (LEGS - TRUNK * recline.sin()), stature_mm * TRUNK * recline.cos())
}

/// The centre of the plan's angler in a posture. Boat frame, mm. Leaning is told by [`leaning_centre`], which
/// asks to which side and how far; here it is upright.
pub fn centre(plan: &Plan, posture: Posture) -> Point {
    match posture {
        Posture::SeatedLow => seated(plan, SeatHeight::Low),
        Posture::SeatedHigh => seated(plan, SeatHeight::High),
        Posture::Leaning => seated_centre(plan),
        Posture::Standing => standing_centre(plan),
    }
}

/// The centre of the plan's angler, seated as the seat is set. Boat frame, mm.
pub fn seated_centre(plan: &Plan) -> Point {
    seated(plan, plan.angler.seat.height)
}

/// How far the centre of the plan's angler goes as head, arms and trunk lean from upright about the hip, toward a
/// direction in degrees to port from straight ahead. Boat frame, mm.
pub fn lean_shift(plan: &Plan, lean_deg: f64, toward_deg: f64) -> Point {
    let ((sin, cos), (aside, ahead)) = (lean_deg.to_radians().sin_cos(), toward_deg.to_radians().sin_cos());
    let trunk = TRUNK * plan.angler.stature.value.to_mm();
    Point::new(trunk * sin * ahead, trunk * sin * aside, trunk * (cos - 1.0))
}

/// The centre of the plan's angler, head, arms and trunk leant to one side about the hip. Boat frame, mm.
pub fn leaning_centre(plan: &Plan, side: Side, lean_deg: f64) -> Point {
    let lean = lean_deg.to_radians();
    let upright = seated_centre(plan);
    let trunk = TRUNK * plan.angler.stature.value.to_mm() * plan.angler.seat.recline.to_deg().to_radians().cos();
    upright + Point::new(0.0, side.sign() * trunk * lean.sin(), -trunk * (1.0 - lean.cos()))
}

fn seated(plan: &Plan, height: SeatHeight) -> Point {
    let (angler, rails) = (&plan.angler, &plan.hull.seat);
    let seat = match (height, &rails.high) {
        (SeatHeight::High, Some(high)) => high.value,
        _ => rails.low.value,
    };
    let (forward, up) = from_hip(angler.stature.value.to_mm(), angler.seat.recline.to_deg());
    let hip = angler.seat.back.to_mm() + HIP_AHEAD_MM;
    Point::new(hip + forward, 0.0, seat.to_mm() + HIP_OVER_SEAT_MM + up)
}

/// The centre of the plan's angler, standing with the heels at the seat's front edge. Boat frame, mm.
pub fn standing_centre(plan: &Plan) -> Point {
    let stature = plan.angler.stature.value.to_mm();
    let heels = plan.angler.seat.back.to_mm() + plan.hull.seat.depth.to_mm();
    let spot = Spot::new(heels + FOOT * stature / 2.0, 0.0);
    // Where the plan draws no floor, the hull's bottom is the only floor known.
    let floor = match plan.hull.zone_at(spot) {
        Some(zone) => zone.height.value.to_mm(),
        None => plan.hull.form.bottom(spot).unwrap_or(0.0),
    };
    spot.at(floor + STANDING * stature)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(recline: f64, forward: f64, up: f64) {
        let found = from_hip(1756.0, recline);
        assert!((found.0 - forward).abs() < 0.1 && (found.1 - up).abs() < 0.1, "{recline}: {found:?}");
    }

    /// Winter's table: trunk 0.497, head and neck 0.081, arms 0.050 and legs 0.161 each are the whole; the first
    /// three are the 0.678 and a leg is a thigh of 0.100 with shank and foot of 0.061.
    #[test]
    fn the_masses_of_the_segments_are_the_whole() {
        let winter = [0.497 + 0.081 + 2.0 * 0.050, 2.0 * 0.100, 2.0 * 0.061];
        assert!(MASSES.iter().zip(winter).all(|(ours, theirs)| (ours - theirs).abs() < 1e-9), "{winter:?}");
        assert!((MASSES.iter().sum::<f64>() - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_seated_centre_of_a_median_man() {
        // Worked out by hand from the two tables named above, H = 1756 mm.
        check(0.0, 121.7, 214.6);
        check(10.0, 84.4, 211.4);
        check(20.0, 48.3, 201.7);
    }
}
