//! The way for a hand to the back of a hole: from which opening, how far, and past what.

use super::{Access, Hole};
use crate::geometry::{Outline, Point, Spot};
use crate::plan::{Feature, FeatureId, FeatureKind, Level, Opening, Plan};
use crate::study::rig::Rig;

/// Least opening for a hand, mm (for a hand with a spanner, 150). Common practice, no source.
pub const HAND_MM: f64 = 125.0;

/// An opening a hand fits through.
struct Hatch {
    which: Access,
    outline: Outline,
    height: f64,
    /// How far a hand gets inside, from the rim; stated for the hull's hatches only.
    reach: f64,
}

/// A foam block by its lowest and highest corner.
struct Block {
    id: FeatureId,
    low: Point,
    high: Point,
}

/// Finds for each hole the opening from which its back is reached best: a way within the hatch's
/// reach before one beyond it, a free way before one past foam, then the shortest.
pub(super) fn find(plan: &Plan, rig: &Rig, holes: &mut [Hole]) {
    let hatches = openings(plan, rig);
    let foam: Vec<Block> = plan.hull.features.iter().filter_map(foam_block).collect();
    let mut ways: Vec<(f64, Point, &Hatch)> = Vec::with_capacity(hatches.len());
    for hole in holes {
        ways.clear();
        for hatch in hatches.iter().filter(|hatch| hole.owner.is_none_or(|owner| hatch.which != Access::Gear(owner))) {
            let rim = nearest_of(&hatch.outline, hole.at.spot()).at(hatch.height);
            ways.push((rim.distance(hole.at), rim, hatch));
        }
        ways.sort_by(|a, b| (a.0 > a.2.reach).cmp(&(b.0 > b.2.reach)).then(a.0.total_cmp(&b.0)));
        let Some(shortest) = ways.first() else { continue };
        let past = |rim: Point| foam.iter().find(|block| block.crosses(rim, hole.at)).map(|block| block.id);
        let free = ways.iter().find(|(way, rim, hatch)| *way <= hatch.reach && past(*rim).is_none());
        let (way, rim, hatch) = free.unwrap_or(shortest);
        hole.access = Some((hatch.which, *way));
        hole.access_past = if free.is_some() { None } else { past(*rim) };
    }
}

/// The middle of an opening, on deck.
pub fn middle_of(access: Access, plan: &Plan, rig: &Rig) -> Option<Point> {
    match access {
        Access::Feature(id) => plan.feature(id).map(|feature| feature.at_mm),
        Access::Gear(id) => rig.item(id).map(|item| item.at),
    }
}

fn openings(plan: &Plan, rig: &Rig) -> Vec<Hatch> {
    let hulls = plan.hull.features.iter().filter_map(|feature| match feature.kind {
        FeatureKind::Hatch { opening, reach, .. } if narrow_side(opening) >= HAND_MM => Some(Hatch {
            which: Access::Feature(feature.id),
            outline: opening_outline(feature.at_mm.spot(), opening),
            height: feature.at_mm.z,
            reach: reach.to_mm(),
        }),
        _ => None,
    });
    let ports = rig.items.iter().filter(|item| item.level == Level::Deck).filter_map(|item| {
        let clear = plan.gear.get(item.index)?.spec.access?.to_mm();
        (clear >= HAND_MM && item.fit.is_held()).then(|| Hatch {
            which: Access::Gear(item.gear),
            outline: Outline::Circle { middle: item.at.spot(), radius: clear / 2.0 },
            height: item.at.z,
            reach: f64::INFINITY,
        })
    });
    hulls.chain(ports).collect()
}

fn narrow_side(opening: Opening) -> f64 {
    let (length, width) = opening.size();
    length.min(width)
}

fn opening_outline(middle: Spot, opening: Opening) -> Outline {
    let (length, width) = opening.size();
    match opening {
        Opening::Round(_) => Outline::Circle { middle, radius: length / 2.0 },
        Opening::Rect(..) => Outline::Rect { middle, half_length: length / 2.0, half_width: width / 2.0, turn: 0.0 },
    }
}

fn foam_block(feature: &Feature) -> Option<Block> {
    let FeatureKind::Foam { length, width, height } = feature.kind else { return None };
    let (middle, half) = (feature.at_mm, [length, width, height].map(|side| side.to_mm() / 2.0));
    Some(Block {
        id: feature.id,
        low: Point::new(middle.x - half[0], middle.y - half[1], middle.z - half[2]),
        high: Point::new(middle.x + half[0], middle.y + half[1], middle.z + half[2]),
    })
}

/// The point of an unturned shape nearest to a spot; the spot itself inside.
fn nearest_of(outline: &Outline, spot: Spot) -> Spot {
    match *outline {
        Outline::Circle { middle, radius } => {
            let away = spot.distance(middle);
            if away <= radius {
                return spot;
            }
            let share = radius / away;
            Spot::new(middle.x + (spot.x - middle.x) * share, middle.y + (spot.y - middle.y) * share)
        }
        Outline::Rect { middle, half_length, half_width, .. } => Spot::new(
            spot.x.clamp(middle.x - half_length, middle.x + half_length),
            spot.y.clamp(middle.y - half_width, middle.y + half_width),
        ),
    }
}

impl Block {
    /// Whether the straight way between two points runs through the block (slab method).
    fn crosses(&self, from: Point, to: Point) -> bool {
        let mut span = (0.0_f64, 1.0_f64);
        for (start, end, least, most) in [
            (from.x, to.x, self.low.x, self.high.x),
            (from.y, to.y, self.low.y, self.high.y),
            (from.z, to.z, self.low.z, self.high.z),
        ] {
            let way = end - start;
            if way == 0.0 {
                if start < least || start > most {
                    return false;
                }
                continue;
            }
            let (a, b) = ((least - start) / way, (most - start) / way);
            span = (span.0.max(a.min(b)), span.1.min(a.max(b)));
        }
        span.0 < span.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_way_over_a_block_is_free_and_one_through_it_is_not() {
        let (low, high) = (Point::new(400.0, -50.0, 0.0), Point::new(600.0, 50.0, 200.0));
        let block = Block { id: FeatureId(1), low, high };
        let check = |from, to, hit| assert_eq!(block.crosses(from, to), hit, "{from:?} to {to:?}");
        check(Point::new(0.0, 0.0, 100.0), Point::new(1000.0, 0.0, 100.0), true);
        check(Point::new(0.0, 0.0, 201.0), Point::new(1000.0, 0.0, 201.0), false);
        check(Point::new(0.0, 51.0, 100.0), Point::new(1000.0, 51.0, 100.0), false);
        check(Point::new(0.0, 0.0, 100.0), Point::new(300.0, 0.0, 100.0), false);
    }

    #[test]
    fn the_rim_is_where_the_arm_turns() {
        let round = Outline::Circle { middle: Spot::new(0.0, 0.0), radius: 75.0 };
        assert_eq!(nearest_of(&round, Spot::new(0.0, 300.0)), Spot::new(0.0, 75.0));
        assert_eq!(nearest_of(&round, Spot::new(10.0, 0.0)), Spot::new(10.0, 0.0));
        let oval = opening_outline(
            Spot::new(0.0, 0.0),
            Opening::Rect(crate::units::Length::mm(400.0), crate::units::Length::mm(200.0)),
        );
        assert_eq!(nearest_of(&oval, Spot::new(300.0, 50.0)), Spot::new(200.0, 50.0));
    }
}
