//! A straight way through a solid: where it goes in and where it comes out. Exact for prisms and cylinders.

use super::{Outline, Point, Solid, turned};

/// A stretch of a way, as shares of its length.
type Stretch = (f64, f64);

/// All of the way.
const WHOLE: Stretch = (0.0, 1.0);

impl Solid {
    /// The stretch of the straight way between two points that lies in the solid, as shares of the way from its
    /// start. `None` where the way passes it by, and where it only touches it.
    pub fn pierced(&self, from: Point, to: Point) -> Option<Stretch> {
        let way = to - from;
        let upright = between(from.z, way.z, (self.low, self.high))?;
        let sideways = match self.outline {
            Outline::Rect { middle, half_length, half_width, turn } => {
                let (start, way) = (turned(from.spot() - middle, -turn), turned(way.spot(), -turn));
                let along = between(start.x, way.x, (-half_length, half_length))?;
                common(along, between(start.y, way.y, (-half_width, half_width))?)
            }
            Outline::Circle { middle, radius } => {
                let (start, way) = (from.spot() - middle, way.spot());
                let (a, b) = (way.x * way.x + way.y * way.y, start.x * way.x + start.y * way.y);
                in_circle(a, b, start.x * start.x + start.y * start.y - radius * radius)?
            }
        };
        let (enters, leaves) = common(common(upright, sideways), WHOLE);
        (enters < leaves).then_some((enters, leaves))
    }
}

fn common(a: Stretch, b: Stretch) -> Stretch {
    (a.0.max(b.0), a.1.min(b.1))
}

/// Where `start + t way` lies between two bounds. What is not a number lies nowhere.
fn between(start: f64, way: f64, (low, high): (f64, f64)) -> Option<Stretch> {
    if way == 0.0 {
        return (start > low && start < high).then_some((f64::NEG_INFINITY, f64::INFINITY));
    }
    let (one, other) = ((low - start) / way, (high - start) / way);
    (one.is_finite() && other.is_finite()).then(|| (one.min(other), one.max(other)))
}

/// Where `a t² + 2 b t + c` is negative.
fn in_circle(a: f64, b: f64, c: f64) -> Option<Stretch> {
    if a == 0.0 {
        return (c < 0.0).then_some((f64::NEG_INFINITY, f64::INFINITY));
    }
    let under = b * b - a * c;
    (under > 0.0).then(|| ((-b - under.sqrt()) / a, (-b + under.sqrt()) / a))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Spot;
    use proptest::prelude::*;

    fn block(turn: f64) -> Solid {
        let outline = Outline::Rect { middle: Spot::new(500.0, 0.0), half_length: 50.0, half_width: 100.0, turn };
        Solid { outline, low: 0.0, high: 200.0 }
    }

    fn post() -> Solid {
        Solid { outline: Outline::Circle { middle: Spot::new(500.0, 0.0), radius: 50.0 }, low: 0.0, high: 200.0 }
    }

    fn check(solid: Solid, from: (f64, f64, f64), to: (f64, f64, f64), expected: Option<(f64, f64)>) {
        match (solid.pierced(from.into(), to.into()), expected) {
            (Some(a), Some(b)) => assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9, "{a:?} is not {b:?}"),
            (found, expected) => assert_eq!(found, expected),
        }
    }

    #[test]
    fn ways_through_a_block_and_a_post() {
        // By hand: of 1000 mm the block takes 450 to 550; turned a quarter 400 to 600, turned by 45 degrees its
        // side meets the axis 50 times the root of two before its middle.
        let (from, to) = ((0.0, 0.0, 100.0), (1000.0, 0.0, 100.0));
        check(block(0.0), from, to, Some((0.45, 0.55)));
        check(block(90.0), from, to, Some((0.4, 0.6)));
        let half = 0.05 * std::f64::consts::SQRT_2;
        check(block(45.0), from, to, Some((0.5 - half, 0.5 + half)));
        check(post(), from, to, Some((0.45, 0.55)));
        // Beside the post by 30 mm the chord is 2 x 40 mm.
        check(post(), (0.0, 30.0, 100.0), (1000.0, 30.0, 100.0), Some((0.46, 0.54)));
        // Straight down through both.
        check(block(0.0), (500.0, 0.0, 400.0), (500.0, 0.0, -400.0), Some((0.25, 0.5)));
        check(post(), (500.0, 0.0, 400.0), (500.0, 0.0, -400.0), Some((0.25, 0.5)));
    }

    #[test]
    fn what_ends_before_passes_by_or_touches_is_not_through() {
        check(block(0.0), (0.0, 0.0, 100.0), (450.0, 0.0, 100.0), None);
        check(block(0.0), (0.0, 0.0, 200.0), (1000.0, 0.0, 200.0), None);
        check(block(0.0), (0.0, 0.0, 100.0), (1000.0, 300.0, 100.0), None);
        check(post(), (0.0, 50.0, 100.0), (1000.0, 50.0, 100.0), None);
        check(post(), (f64::NAN, 0.0, 100.0), (1000.0, 0.0, 100.0), None);
        check(block(0.0), (0.0, 0.0, f64::NAN), (1000.0, 0.0, 100.0), None);
    }

    proptest! {
        #[test]
        fn the_middle_of_the_stretch_is_inside_and_its_ends_are_on_the_skin(
            x in -200_f64..1200.0, y in -400_f64..400.0, z in -200_f64..400.0, turn in 0_f64..360.0, round in any::<bool>(),
        ) {
            let solid = if round { post() } else { block(turn) };
            let (from, to) = (Point::new(x, y, z), Point::new(1000.0 - x, -0.3 * y, 200.0 - z));
            if let Some((enters, leaves)) = solid.pierced(from, to) {
                let at = |share: f64| {
                    let way = to - from;
                    from + Point::new(way.x * share, way.y * share, way.z * share)
                };
                let inside = |p: Point| solid.outline.contains(p.spot()) && p.z >= solid.low && p.z <= solid.high;
                prop_assert!(inside(at(f64::midpoint(enters, leaves))));
                prop_assert!(solid.distance_to(at(enters)) < 1e-6 && solid.distance_to(at(leaves)) < 1e-6);
            }
        }
    }
}
