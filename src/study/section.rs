//! The boat cut across at a station, seen from aft looking forward: port is at the left.
//!
//! In a section x runs to starboard and y up from the keel baseline, millimetres. It is computed when asked for, on
//! the screen and on paper alike.

mod places;

pub use places::{MOST_PLACES, Place, places};

use crate::geometry::{Form, Outline, Point, Polygon, Solid, Spot};
use crate::plan::Hull;

/// How near a drain or a hole is to the cut, beside its own radius, to be seen in it, mm. Common practice, no source.
pub const HOLE_NEAR_MM: f64 = 20.0;

/// Where a point of the boat is in a section.
pub fn from_aft(point: Point) -> Spot {
    Spot::new(-point.y, point.z)
}

/// The hull at a station.
#[derive(Clone, Debug, PartialEq)]
pub struct HullCut {
    /// The outside, from the port gunwale under the keel to the starboard one.
    pub skin: Vec<Spot>,
    /// The deck with its wells, from the port gunwale to the starboard one; it steps where the surface does.
    pub deck: Vec<Spot>,
    /// Half-breadth and height of the gunwale, mm.
    pub gunwale: (f64, f64),
    /// Height of the keel line, mm.
    pub keel: f64,
}

impl HullCut {
    /// Cuts a hull of this form; `None` where there is none.
    pub fn of(form: &Form, hull: &Hull, x: f64) -> Option<Self> {
        let (gunwale, keel) = (form.gunwale(x)?, form.keel(x)?);
        let half = form.skin(x);
        let port = half.iter().rev().map(|(y, z)| Spot::new(-y, *z));
        let skin = port.chain(half.iter().map(|(y, z)| Spot::new(*y, *z))).collect();
        Some(Self { skin, deck: deck(hull, x, gunwale), gunwale, keel })
    }

    /// All between skin and deck; wells are open above.
    pub fn outline(&self) -> Polygon {
        Polygon::new(self.skin.iter().rev().chain(&self.deck).copied().collect())
    }
}

/// The deck from edge to edge: between two edges of zones its surface is level.
fn deck(hull: &Hull, x: f64, (half, rim): (f64, f64)) -> Vec<Spot> {
    let crossed = hull.zones.iter().flat_map(|zone| crossings(&zone.outline_mm, x));
    let mut bends: Vec<f64> = crossed.filter(|y| y.abs() < half).chain([-half, half]).collect();
    bends.sort_by(|a, b| b.total_cmp(a));
    let level = |pair: &[f64]| {
        let z = hull.surface(Spot::new(x, f64::midpoint(pair[0], pair[1]))).unwrap_or(rim);
        [Spot::new(-pair[0], z), Spot::new(-pair[1], z)]
    };
    let mut deck: Vec<Spot> = bends.windows(2).flat_map(level).collect();
    deck.dedup();
    [Spot::new(-half, rim)].into_iter().chain(deck).chain([Spot::new(half, rim)]).collect()
}

/// How a body shows in a section.
#[derive(Clone, Debug, PartialEq)]
pub enum Seen {
    /// The cut goes through it.
    Cut(Polygon),
    /// It stands ahead of the cut or behind it.
    Near(Polygon),
}

impl Seen {
    /// How a body shows at a station, if it is cut there or ends within this distance of it, mm.
    pub fn of(solid: &Solid, x: f64, within_mm: f64) -> Option<Self> {
        if let Some((low, high)) = chord(&solid.outline, x) {
            return Some(Self::Cut(upright(low, high, solid)));
        }
        let (low, high) = solid.outline.bounds();
        let near = (low.x - within_mm..=high.x + within_mm).contains(&x);
        near.then(|| Self::Near(upright(low.y, high.y, solid)))
    }

    /// Its shape in the section.
    pub fn shape(&self) -> &Polygon {
        match self {
            Self::Cut(shape) | Self::Near(shape) => shape,
        }
    }
}

/// Whether an opening is seen in a cut.
pub fn meets(x: f64, at: Point, bore_mm: f64) -> bool {
    (at.x - x).abs() <= bore_mm / 2.0 + HOLE_NEAR_MM
}

/// From where to where across the boat a shape is cut at a station, mm to port; `None` where it is not.
fn chord(outline: &Outline, x: f64) -> Option<(f64, f64)> {
    let join = |span: Option<(f64, f64)>, y: f64| Some(span.map_or((y, y), |(low, high)| (low.min(y), high.max(y))));
    crossings(&outline.polygon(), x).into_iter().fold(None, join)
}

/// Where the edges of an outline seen from above cross a station, mm to port.
fn crossings(outline: &Polygon, x: f64) -> Vec<f64> {
    let crossed = outline.edges().filter(|(a, b)| (a.x > x) != (b.x > x));
    crossed.map(|(a, b)| a.y + (b.y - a.y) * (x - a.x) / (b.x - a.x)).collect()
}

fn upright(low: f64, high: f64, solid: &Solid) -> Polygon {
    Polygon::rect(Spot::new(-high, solid.low), Spot::new(-low, solid.high))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

    use super::*;
    use crate::catalogue::new_plan;

    fn check(turn: f64, x: f64, expected: Option<(f64, f64)>) {
        let outline = Outline::Rect { middle: Spot::new(100.0, 50.0), half_length: 60.0, half_width: 30.0, turn };
        match (chord(&outline, x), expected) {
            (Some(a), Some(b)) => assert!((a.0 - b.0).abs() < 1e-9 && (a.1 - b.1).abs() < 1e-9, "{a:?} is not {b:?}"),
            (found, expected) => assert_eq!(found, expected),
        }
    }

    #[test]
    fn a_box_is_cut_from_side_to_side() {
        check(0.0, 100.0, Some((20.0, 80.0)));
        check(0.0, 161.0, None);
        check(90.0, 100.0, Some((-10.0, 110.0)));
        // At 45 degrees the middle cut runs 30 times the root of two each way.
        let half = 30.0 * std::f64::consts::SQRT_2;
        check(45.0, 100.0, Some((50.0 - half, 50.0 + half)));
    }

    #[test]
    fn a_body_is_cut_near_or_not_seen() {
        let outline = Outline::Rect { middle: Spot::new(100.0, 50.0), half_length: 60.0, half_width: 30.0, turn: 0.0 };
        let body = Solid { outline, low: 0.0, high: 10.0 };
        let shape = Polygon::rect(Spot::new(-80.0, 0.0), Spot::new(-20.0, 10.0));
        assert_eq!(Seen::of(&body, 100.0, 60.0), Some(Seen::Cut(shape.clone())));
        assert_eq!(Seen::of(&body, 219.0, 60.0), Some(Seen::Near(shape.clone())));
        assert_eq!(Seen::of(&body, -19.0, 60.0), Some(Seen::Near(shape)));
        assert_eq!((Seen::of(&body, 221.0, 60.0), Seen::of(&body, -21.0, 60.0)), (None, None));
    }

    /// The deck of a class at every 50 mm: as high as the surface says just beside each step, and closed by the gunwale.
    #[test]
    fn the_deck_is_as_high_as_the_hull_says() {
        let hull = new_plan("standup-12").unwrap().hull;
        let (first, last) = (hull.form.sections[0].x_mm, hull.form.sections[hull.form.sections.len() - 1].x_mm);
        let mut steps = 0;
        for n in 1..((last - first) / 50.0) as i32 {
            let x = first + f64::from(n) * 50.0;
            let cut = HullCut::of(&hull.form, &hull, x).unwrap();
            assert_eq!(cut.deck[0], cut.skin[0]);
            assert_eq!(cut.deck.last(), cut.skin.last());
            for leg in cut.deck.windows(2).filter(|leg| leg[1].x - leg[0].x > 0.01) {
                for y in [leg[0].x + 0.005, leg[1].x - 0.005] {
                    assert_eq!(hull.surface(Spot::new(x, -y)), Some(leg[0].y), "at {x}, {y}");
                }
                steps += 1;
            }
        }
        assert!(steps > 200, "{steps}");
    }
}
