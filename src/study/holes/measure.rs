//! What is around a hole: zone, wall, water, edges, neighbours, and what lies behind it.

use super::collect::Found;
use super::{Beneath, Hole};
use crate::geometry::{Outline, Point, Polygon, Spot};
use crate::plan::{FeatureKind, Level, Plan, Zone};
use crate::study::float::levels::Levels;
use crate::study::rig::Rig;

/// Wall assumed where no zone tells it, mm: the same the rig assumes.
const USUAL_WALL_MM: f64 = 6.0;

/// Measures one hole; neighbours, access and ways to avoid it come later, when all are known.
pub(super) fn around(plan: &Plan, rig: &Rig, levels: &Levels, deck: &Polygon, found: Found) -> Hole {
    let spot = found.at.spot();
    let above = plan.hull.zone_at(spot);
    let zone = above.filter(|_| found.level == Level::Deck);
    let upright = zone.is_some_and(|z| z.upright);
    let wall_mm = above.map_or(USUAL_WALL_MM, |z| z.wall.value.to_mm());
    let below_middle = if upright { found.bore_mm / 2.0 } else { 0.0 };
    let lowest = Point::new(found.at.x, found.at.y, found.at.z - below_middle);
    let (inside_mm, beneath) = depth_behind(plan, rig, &found, zone, wall_mm);
    Hole {
        id: found.id,
        owner: found.owner,
        at: found.at,
        level: found.level,
        bore_mm: found.bore_mm,
        carries: found.carries,
        back: found.back,
        state: found.state,
        reuses: found.reuses,
        zone: zone.map(|z| z.id),
        upright,
        wall_mm,
        above_water_mm: levels.height(lowest),
        above_water_heeled_mm: levels.height_heeled(lowest),
        edge_mm: edge(plan, deck, &found, upright),
        neighbour: None,
        inside_mm,
        beneath,
        behind_mm: found.behind_mm,
        access: None,
        access_past: None,
        seal: found.seal,
        avoid: None,
    }
}

/// Tells each hole its nearest neighbour of another owner. Holes of one gear's own pattern are the
/// maker's business; holes of no owner are each on their own.
pub(super) fn neighbours(holes: &mut [Hole]) {
    // Most are too far away by their place along the boat alone; kept close together, that is quick to see.
    let along: Vec<f64> = holes.iter().map(|hole| hole.at.x).collect();
    for i in 0..holes.len() {
        let (me, mut nearest) = (&holes[i], None);
        let mut best = f64::INFINITY;
        for (other, x) in holes.iter().zip(&along) {
            if (x - along[i]) * (x - along[i]) >= best || !strangers(me, other) {
                continue;
            }
            let away = me.at - other.at;
            let square = away.x * away.x + away.y * away.y + away.z * away.z;
            if square < best {
                best = square;
                nearest = Some(other.id);
            }
        }
        holes[i].neighbour = nearest.map(|id| (id, best.sqrt()));
    }
}

/// Whether two holes are held against each other.
pub fn strangers(a: &Hole, b: &Hole) -> bool {
    a.id != b.id && a.level == b.level && (a.owner.is_none() || a.owner != b.owner)
}

/// Distance from the hole's middle to the nearest edge: the deck's, and those of zones whose
/// outline is a real edge. An edge that another zone lies over does not exist there.
fn edge(plan: &Plan, deck: &Polygon, found: &Found, upright: bool) -> Option<f64> {
    // From above, an upright wall is a line: nothing can be measured on it in this view.
    if found.level != Level::Deck || upright {
        return None;
    }
    let spot = found.at.spot();
    let off_deck = deck.depth_of(spot);
    if off_deck < 0.0 {
        return Some(off_deck);
    }
    let mut nearest = off_deck * off_deck;
    let zones = &plan.hull.zones;
    for (i, zone) in zones.iter().enumerate().filter(|(_, zone)| zone.edge) {
        for (from, to) in zone.outline_mm.edges() {
            let foot = foot_on(spot, from, to);
            let away = spot - foot;
            let square = away.x * away.x + away.y * away.y;
            if square < nearest && !zones[i + 1..].iter().any(|over| covers(over, foot)) {
                nearest = square;
            }
        }
    }
    nearest.is_finite().then(|| nearest.sqrt())
}

/// Whether a zone lies over a spot, its own edge not counted.
fn covers(zone: &Zone, spot: Spot) -> bool {
    zone.outline_mm.contains(spot) && zone.outline_mm.depth_of(spot) > 1.0
}

/// The point of a segment nearest to a spot.
fn foot_on(spot: Spot, from: Spot, to: Spot) -> Spot {
    let (along, reach) = (to - from, spot - from);
    let square = along.x * along.x + along.y * along.y;
    if square == 0.0 {
        return from;
    }
    let t = ((reach.x * along.x + reach.y * along.y) / square).clamp(0.0, 1.0);
    Spot::new(from.x + t * along.x, from.y + t * along.y)
}

/// Clear depth behind the skin and what shortens it.
fn depth_behind(plan: &Plan, rig: &Rig, found: &Found, zone: Option<&Zone>, wall_mm: f64) -> (f64, Option<Beneath>) {
    let spot = found.at.spot();
    let room = match zone {
        Some(zone) => zone.inside.value.to_mm(),
        // No zone tells: what is between deck and bottom, less a skin on each side.
        None => {
            let height = plan.hull.surface(spot).zip(plan.hull.form.bottom(spot)).map(|(top, bottom)| top - bottom);
            (height.unwrap_or(0.0) - 2.0 * wall_mm).max(0.0)
        }
    };
    let mut clear = (room, None);
    let mut shorten = |depth: f64, by: Beneath| {
        if depth < clear.0 {
            clear = (depth.max(0.0), Some(by));
        }
    };
    // The back of the skin, and the way into the boat from there.
    let (back, into) = match found.level {
        Level::Deck => (found.at.z - wall_mm, -1.0),
        Level::Inside | Level::Under => (found.at.z + wall_mm, 1.0),
    };
    let upto = |low: f64, high: f64| if into < 0.0 { back - high } else { low - back };
    // What ends before the skin is not behind it: a tube or a block on the other side.
    let is_behind = |low: f64, high: f64| if into < 0.0 { low < back } else { high > back };
    let radius = found.bore_mm / 2.0;
    for feature in &plan.hull.features {
        let (middle, z) = (feature.at_mm.spot(), feature.at_mm.z);
        match feature.kind {
            FeatureKind::Foam { length, width, height } => {
                let (low, high) = (z - height.to_mm() / 2.0, z + height.to_mm() / 2.0);
                let block = Outline::Rect {
                    middle,
                    half_length: length.to_mm() / 2.0,
                    half_width: width.to_mm() / 2.0,
                    turn: 0.0,
                };
                if is_behind(low, high) && block.gap_to_spot(spot) < radius {
                    shorten(upto(low, high), Beneath::Feature(feature.id));
                }
            }
            FeatureKind::Scupper { top, bottom, wall } => {
                let tube = top.to_mm().max(bottom.to_mm()) / 2.0 + wall.to_mm();
                if middle.distance(spot) < tube + radius {
                    shorten(0.0, Beneath::Feature(feature.id));
                }
            }
            FeatureKind::RodTube { bore } if middle.distance(spot) < bore.to_mm() / 2.0 + radius => {
                shorten(0.0, Beneath::Feature(feature.id));
            }
            _ => {}
        }
    }
    for item in rig.items.iter().filter(|item| item.level == Level::Inside && Some(item.gear) != found.owner) {
        for solid in &item.solids {
            if is_behind(solid.low, solid.high) && solid.outline.gap_to_spot(spot) < radius {
                shorten(upto(solid.low, solid.high), Beneath::Gear(item.gear));
            }
        }
    }
    clear
}
