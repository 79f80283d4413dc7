//! The bearings at which a body stands in a light's way.
//!
//! A light must be seen within 5 degrees over and under the level plane through it (COLREG Annex I 10(a)). A body
//! hides a bearing when any part of it lies between these two, however little. Level is the water's, not the boat's:
//! at rest with trim and heel the two cones tilt in the boat frame, by the slope of the water's surface there.
//!
//! ```text
//!                   _.-' + 5 deg
//!   lamp o -----------------  level         a body hides from r = (z - top) / tan 5 on
//!                   '-._ - 5 deg
//! ```
//!
//! Bodies are the upright prisms of [`Solid`]. On a ray of one bearing a prism is two distances and two heights, so
//! that a bearing is decided exactly. The bearings between which the answer can change are those of corners,
//! tangents and feet of perpendiculars; where it does change between two of them it is found by halving.

use crate::geometry::{Outline, Point, Solid, Spot, WaterPlane, turned};

use super::sector::Sector;

/// How far up and down a light must be seen, degrees. COLREG Annex I 10(a).
pub const UPRIGHT_DEG: f64 = 5.0;

/// Halvings of a piece of the horizon: 90 degrees to a hundred-millionth.
const HALVINGS: usize = 34;

/// A light, and which way is level around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lamp {
    /// Its light centre, mm in the boat frame.
    pub at: Point,
    /// Rise of the level plane in the boat frame, mm per mm forward and to port.
    pub slope: Spot,
    /// Rise of the upper cone over the level plane, mm per mm.
    pub spread: f64,
}

impl Lamp {
    /// A light at a point, over water that lies so.
    pub fn new(at: Point, water: &WaterPlane) -> Self {
        let level = |x, y| water.level_at(x, y);
        let slope = Spot::new(level(1.0, 0.0) - level(0.0, 0.0), level(0.0, 1.0) - level(0.0, 0.0));
        let slope = if slope.is_finite() { slope } else { Spot::default() };
        Self { at, slope, spread: UPRIGHT_DEG.to_radians().tan() }
    }

    /// Rise of the steeper of both cones, mm per mm.
    pub fn steepest(&self) -> f64 {
        self.spread + self.slope.distance(Spot::default())
    }

    /// Whether a solid can reach between the cones at all.
    pub fn may_meet(&self, solid: &Solid) -> bool {
        let reach = furthest(&solid.outline, self.at.spot()) * self.steepest();
        solid.low <= self.at.z + reach && solid.high >= self.at.z - reach
    }

    /// Whether a solid lies between the cones at an angle counter-clockwise from ahead.
    fn meets(&self, solid: &Solid, deg: f64) -> bool {
        let way = turned(Spot::new(1.0, 0.0), deg);
        let Some((near, far)) = chord(&solid.outline, self.at.spot(), way) else { return false };
        let rise = self.slope.x * way.x + self.slope.y * way.y;
        // Its underside below the upper cone, and its top above the lower one.
        let below = Reach::at_least(rise + self.spread, solid.low - self.at.z);
        let above = Reach::at_least(self.spread - rise, self.at.z - solid.high);
        let (from, to) = (near.max(below.from).max(above.from), far.min(below.to).min(above.to));
        from <= to
    }
}

/// Distances from the lamp.
struct Reach {
    from: f64,
    to: f64,
}

impl Reach {
    /// Where `rise * distance >= height`.
    fn at_least(rise: f64, height: f64) -> Self {
        let turn = height / rise;
        match (rise > 0.0, rise < 0.0) {
            (true, _) => Self { from: turn.max(0.0), to: f64::INFINITY },
            (_, true) => Self { from: 0.0, to: turn },
            _ if height <= 0.0 => Self { from: 0.0, to: f64::INFINITY },
            _ => Self { from: f64::INFINITY, to: 0.0 },
        }
    }
}

/// The bearings at which a solid hides a lamp, in order of their angle.
pub fn shadow(lamp: &Lamp, solid: &Solid) -> Vec<Sector> {
    if !lamp.may_meet(solid) {
        return Vec::new();
    }
    let turns = turning_points(&solid.outline, lamp.at.spot());
    let mut hidden: Vec<(f64, f64)> = Vec::new();
    for pair in turns.windows(2) {
        let Some((from, to)) = piece(lamp, solid, pair[0], pair[1]) else { continue };
        match hidden.last_mut() {
            Some(last) if from <= last.1 + 1.0e-9 => last.1 = to,
            _ => hidden.push((from, to)),
        }
    }
    // Angles run the other way than bearings.
    hidden.into_iter().map(|(from, to)| Sector::new(-to, to - from)).collect()
}

/// A bound of what a solid can hide of a lamp, degrees: what the circle around it spans.
pub(super) fn widest(lamp: &Lamp, solid: &Solid) -> f64 {
    if !lamp.may_meet(solid) {
        return 0.0;
    }
    let distance = solid.outline.middle().distance(lamp.at.spot());
    let around = furthest(&solid.outline, lamp.at.spot()) - distance;
    if distance <= around { 360.0 } else { 2.0 * (around / distance).asin().to_degrees() }
}

/// The hidden part of a piece of the horizon in which the answer changes once at most.
fn piece(lamp: &Lamp, solid: &Solid, from: f64, to: f64) -> Option<(f64, f64)> {
    let inset = (to - from) * 1.0e-7;
    let ends = [lamp.meets(solid, from + inset), lamp.meets(solid, to - inset)];
    match ends {
        [false, false] => None,
        [true, true] => Some((from, to)),
        [first, _] => {
            let (mut low, mut high) = (from, to);
            for _ in 0..HALVINGS {
                let middle = f64::midpoint(low, high);
                if lamp.meets(solid, middle) == first { low = middle } else { high = middle }
            }
            Some(if first { (from, low) } else { (high, to) })
        }
    }
}

/// Angles in order, degrees counter-clockwise, between which a ray's way through an outline only grows or shrinks.
/// The first and the last are its tangents, or a turn apart if the spot lies inside.
fn turning_points(outline: &Outline, from: Spot) -> Vec<f64> {
    let middle = outline.middle() - from;
    let ahead = middle.y.atan2(middle.x).to_degrees();
    // Angles around the middle, -180 to 180.
    let off = |spot: Spot| {
        let arrow = spot - from;
        (arrow.y.atan2(arrow.x).to_degrees() - ahead + 180.0).rem_euclid(360.0) - 180.0
    };
    let mut turns = match *outline {
        Outline::Circle { radius, .. } => {
            let distance = middle.distance(Spot::default());
            let half = if distance > radius { (radius / distance).asin().to_degrees() } else { 180.0 };
            return vec![ahead - half, ahead, ahead + half];
        }
        Outline::Rect { turn, .. } => {
            let corners: Vec<f64> = outline.polygon().corners.into_iter().map(off).collect();
            let feet = (0..4).map(|quarter| {
                let way = turned(Spot::new(1.0, 0.0), turn + 90.0 * f64::from(quarter));
                off(from + way)
            });
            let inside = outline.contains(from);
            let low = if inside { -180.0 } else { corners.iter().copied().fold(f64::INFINITY, f64::min) };
            let high = if inside { 180.0 } else { corners.iter().copied().fold(f64::NEG_INFINITY, f64::max) };
            let within = feet.chain(corners.iter().copied()).filter(|deg| *deg > low && *deg < high);
            within.chain([low, high]).collect::<Vec<f64>>()
        }
    };
    turns.sort_by(f64::total_cmp);
    turns.into_iter().map(|deg| ahead + deg).collect()
}

/// Where a ray enters and leaves an outline, as distances from its start; `None` if it passes by.
fn chord(outline: &Outline, from: Spot, way: Spot) -> Option<(f64, f64)> {
    let (near, far) = match *outline {
        Outline::Circle { middle, radius } => {
            let to = middle - from;
            let along = to.x * way.x + to.y * way.y;
            let aside = to.x * way.y - to.y * way.x;
            let half = radius * radius - aside * aside;
            if half < 0.0 {
                return None;
            }
            (along - half.sqrt(), along + half.sqrt())
        }
        Outline::Rect { middle, half_length, half_width, turn } => {
            let (start, step) = (turned(from - middle, -turn), turned(way, -turn));
            let across = slab(start.x, step.x, half_length);
            let along = slab(start.y, step.y, half_width);
            (across.0.max(along.0), across.1.min(along.1))
        }
    };
    (near <= far && far >= 0.0).then_some((near.max(0.0), far))
}

/// Where a ray is between `-half` and `half` of one axis.
fn slab(start: f64, step: f64, half: f64) -> (f64, f64) {
    if step == 0.0 {
        return if start.abs() <= half {
            (f64::NEG_INFINITY, f64::INFINITY)
        } else {
            (f64::INFINITY, f64::NEG_INFINITY)
        };
    }
    let (a, b) = ((-half - start) / step, (half - start) / step);
    (a.min(b), a.max(b))
}

/// Distance to the furthest spot of an outline, or a little more.
pub(super) fn furthest(outline: &Outline, from: Spot) -> f64 {
    let around = match *outline {
        Outline::Circle { radius, .. } => radius,
        Outline::Rect { half_length, half_width, .. } => half_length.hypot(half_width),
    };
    outline.middle().distance(from) + around
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::lights::sector::sum;

    fn lamp(z: f64) -> Lamp {
        Lamp::new(Point::new(0.0, 0.0, z), &WaterPlane::new(0.0, 0.0, 0.0))
    }

    fn post(x: f64, y: f64, width: f64, high: f64) -> Solid {
        Solid { outline: Outline::Circle { middle: Spot::new(x, y), radius: width / 2.0 }, low: 0.0, high }
    }

    fn plank(x: f64, size: (f64, f64), turn: f64, high: f64) -> Solid {
        let outline =
            Outline::Rect { middle: Spot::new(x, 0.0), half_length: size.0 / 2.0, half_width: size.1 / 2.0, turn };
        Solid { outline, low: 0.0, high }
    }

    /// The shadow is one sector of this width around this bearing.
    fn check(lamp: &Lamp, solid: &Solid, middle: f64, width: f64) {
        let found = shadow(lamp, solid);
        assert_eq!(found.len(), 1, "{found:?}");
        assert!((found[0].sweep_deg - width).abs() < 1.0e-6, "{found:?} is not {width} wide");
        let off = (found[0].middle_deg() - middle + 180.0).rem_euclid(360.0) - 180.0;
        assert!(off.abs() < 1.0e-6, "{found:?}");
    }

    #[test]
    fn a_post_hides_twice_the_arc_sine_and_a_plank_twice_the_arc_tangent() {
        let degrees = |half: f64| 2.0 * half.to_degrees();
        check(&lamp(500.0), &post(-600.0, 0.0, 180.0, 900.0), 180.0, degrees((90.0_f64 / 600.0).asin()));
        check(&lamp(500.0), &post(0.0, 400.0, 32.0, 900.0), 270.0, degrees((16.0_f64 / 400.0).asin()));
        check(&lamp(500.0), &plank(1000.0, (2.0, 510.0), 0.0, 900.0), 0.0, degrees((255.0_f64 / 999.0).atan()));
        // Turned half a right angle it shows its diagonal.
        let half = (50.0 * 2.0_f64.sqrt() / 1000.0).atan();
        check(&lamp(500.0), &plank(1000.0, (100.0, 100.0), 45.0, 900.0), 0.0, degrees(half));
    }

    #[test]
    fn a_body_below_hides_from_where_the_lower_cone_meets_its_top() {
        // At 800 the lower cone is 70.0 lower (h = s tan 5).
        let fall = 850.0 * 5.0_f64.to_radians().tan();
        let head = post(800.0, 0.0, 100.0, 1000.0);
        assert!(shadow(&lamp(1000.0 + fall + 0.01), &head).is_empty());
        assert_eq!(shadow(&lamp(1000.0 + fall - 0.01), &head).len(), 1);
        // The same for one that hangs over it.
        let over = Solid { low: 1000.0, high: 1200.0, ..head };
        assert!(shadow(&lamp(1000.0 - fall - 0.01), &over).is_empty());
        assert_eq!(shadow(&lamp(1000.0 - fall + 0.01), &over).len(), 1);
    }

    #[test]
    fn a_flat_plank_can_hide_at_its_two_ends_only() {
        // Nearest at 1000, its ends at 1414: a lower cone that is at its top at 1200 hides beyond, both ways.
        let rise = 5.0_f64.to_radians().tan();
        let found = shadow(&lamp(500.0 + 1200.0 * rise), &plank(1000.0, (0.002, 2000.0), 0.0, 500.0));
        let edge = (1000.0_f64 / 1200.0).acos().to_degrees();
        assert_eq!(found.len(), 2, "{found:?}");
        for part in &found {
            assert!((part.sweep_deg - (45.0 - edge)).abs() < 1.0e-3, "{found:?} {edge}");
        }
    }

    #[test]
    fn on_a_heeled_boat_the_low_side_looks_up() {
        // Heeled by 4 to starboard, level in the boat frame climbs by 4 on that side and falls on the other: the cones
        // are at -1 and 9 degrees there, and at -9 and 1 to port.
        let heeled = Lamp::new(Point::default(), &WaterPlane::new(4.0_f64.to_radians(), 0.0, 0.0));
        let body = |y: f64, low: f64, high: f64| Solid { low, high, ..post(0.0, y, 20.0, 0.0) };
        let rise = |deg: f64| 1000.0 * deg.to_radians().tan();
        assert!(shadow(&heeled, &body(-1000.0, -300.0, rise(-2.5))).is_empty());
        assert_eq!(shadow(&heeled, &body(1000.0, -300.0, rise(-2.5))).len(), 1);
        assert!(shadow(&heeled, &body(1000.0, rise(2.5), 300.0)).is_empty());
        assert_eq!(shadow(&heeled, &body(-1000.0, rise(2.5), 300.0)).len(), 1);
    }

    #[test]
    fn a_light_inside_a_body_is_hidden_all_round() {
        for solid in [post(10.0, 0.0, 100.0, 900.0), plank(10.0, (100.0, 60.0), 30.0, 900.0)] {
            assert!((sum(&shadow(&lamp(500.0), &solid)) - 360.0).abs() < 1.0e-6);
            // Far above it, nothing.
            assert!(shadow(&lamp(2000.0), &solid).is_empty());
        }
    }
}
