//! Where a control would pass: along the boat at its distance from the centreline and its height, and by the seat's
//! notches.

use super::hand::Hand;
use super::{Band, hands};
use crate::geometry::Point;
use crate::plan::Plan;
use crate::study::body::Seated;

/// A stretch along the boat, mm forward of the aft end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Its aft end.
    pub aft: f64,
    /// Its fore end.
    pub fore: f64,
}

/// How near the ends of a stretch are found, mm. On screen they are rounded inward.
const NEAR_MM: f64 = 2.0;
/// How far ahead of the shoulder a stretch is looked for first, mm: nearest first.
const STARTS_MM: [f64; 5] = [0.0, 150.0, 300.0, 500.0, 700.0];

impl Span {
    fn moved(self, by: f64) -> Self {
        Self { aft: self.aft + by, fore: self.fore + by }
    }

    /// Whether a station lies in it, mm.
    pub fn holds(self, x: f64) -> bool {
        (self.aft..=self.fore).contains(&x)
    }

    /// Both as one where they touch, else the longer.
    fn with(self, other: Self) -> Self {
        if self.aft <= other.fore && other.aft <= self.fore {
            return Self { aft: self.aft.min(other.aft), fore: self.fore.max(other.fore) };
        }
        if other.fore - other.aft > self.fore - self.aft { other } else { self }
    }

    /// The part over the hull; `None` where there is none.
    fn aboard(self, plan: &Plan) -> Option<Self> {
        let within = Self { aft: self.aft.max(0.0), fore: self.fore.min(plan.hull.length.value.to_mm()) };
        (within.aft < within.fore).then_some(within)
    }
}

/// Where along the boat a control would be in a band or better, at its distance from the centreline and its height.
/// `None` where it would nowhere. No answer for what is out of reach.
pub fn span(plan: &Plan, body: &Seated, control: Point, gripped: bool, wanted: Band) -> Option<Span> {
    let spans = hands(body, control, gripped).map(|hand| match wanted {
        Band::InHand => hand.in_hand_along(),
        Band::AtStretch => at_stretch(body, &hand, control),
        Band::OutOfReach => None,
    });
    let [own, other] = spans;
    own.into_iter().chain(other).reduce(Span::with)?.aboard(plan)
}

/// From a station that is touched outward to both ends, by halving: what one hand touches along the boat is in one
/// piece.
fn at_stretch(body: &Seated, hand: &Hand<'_>, control: Point) -> Option<Span> {
    let touched = |x: f64| hand.at(Point { x, ..control }).band() != Band::OutOfReach;
    let start = STARTS_MM.into_iter().map(|ahead| body.hip.x + ahead).find(|x| touched(*x))?;
    let most = body.fingertip + body.lengths.trunk + body.lengths.half_shoulder;
    let end = |way: f64| {
        let (mut near, mut far) = (0.0, 2.0 * most);
        while far - near > NEAR_MM {
            let middle = f64::midpoint(near, far);
            if touched(start + way * middle) { near = middle } else { far = middle }
        }
        start + way * near
    };
    Some(Span { aft: end(-1.0), fore: end(1.0) })
}

/// The least number of notches to move the seat so that a control lies in its stretch: forward positive. `None` where
/// the rails do not reach so far, or the seat stands right.
pub fn notches(plan: &Plan, span: Span, control_x: f64) -> Option<i32> {
    let (rails, back) = (&plan.hull.seat, plan.angler.seat.back.to_mm());
    let (aft, fore, step) = (rails.back_aft.to_mm() - 0.5, rails.back_fore.to_mm() + 0.5, rails.step.to_mm());
    if step <= 0.0 || span.holds(control_x) {
        return None;
    }
    let most = ((fore - aft) / step).clamp(0.0, 100.0) as i32;
    let by = |notches: i32| f64::from(notches) * step;
    let passes =
        |notches: &i32| (aft..=fore).contains(&(back + by(*notches))) && span.moved(by(*notches)).holds(control_x);
    (1..=most).flat_map(|notches| [notches, -notches]).find(passes)
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
mod tests {
    use super::super::band;
    use super::*;
    use crate::checks::test_body::plan;
    use crate::plan::Side;

    /// Every 5 mm along the hull, as slow as can be: inside the stretch it passes, outside it does not.
    fn check(y: f64, z: f64, gripped: bool, wanted: Band) {
        let plan = plan();
        let body = Seated::of(&plan);
        let span = span(&plan, &body, Point::new(0.0, y, z), gripped, wanted);
        for x in (0..720).map(|i| f64::from(i) * 5.0) {
            let passes = band(&body, Point::new(x, y, z), gripped) <= wanted;
            let near = span.is_some_and(|span| (x - span.aft).abs() < 4.0 || (x - span.fore).abs() < 4.0);
            assert!(near || passes == span.is_some_and(|span| span.holds(x)), "{x}, {y}, {z}, {wanted:?}: {span:?}");
        }
    }

    #[test]
    fn a_stretch_along_the_boat_is_what_passes_there() {
        for y in [-700.0, -380.0, -150.0, 0.0, 220.0, 600.0] {
            for z in [50.0, 340.0, 700.0] {
                for gripped in [false, true] {
                    check(y, z, gripped, Band::InHand);
                    check(y, z, gripped, Band::AtStretch);
                }
            }
        }
    }

    #[test]
    fn the_notch_that_brings_it_into_the_stretch() {
        // The seat at 1500, rails from 1400 to 1600 in steps of 25.
        let plan = plan();
        let span = Span { aft: 1000.0, fore: 2000.0 };
        let check = |x: f64, wanted: Option<i32>| assert_eq!(notches(&plan, span, x), wanted, "{x}");
        check(1500.0, None);
        check(2000.0, None);
        check(2001.0, Some(1));
        check(2026.0, Some(2));
        check(2100.0, Some(4));
        check(2101.0, None);
        check(999.0, Some(-1));
        check(900.0, Some(-4));
        check(899.0, None);
    }

    #[test]
    fn in_hand_is_worked_out_by_hand() {
        // At the height of the shoulder and on its line: a whole arm ahead, 50 mm behind.
        let plan = plan();
        let body = Seated::of(&plan);
        let shoulder = body.upright_shoulder(Side::Port);
        let span = span(&plan, &body, shoulder, true, Band::InHand).unwrap();
        assert!((span.fore - shoulder.x - body.grip).abs() < 1e-9, "{span:?}");
        assert!((span.aft - shoulder.x + 50.0).abs() < 1e-9, "{span:?}");
    }
}
