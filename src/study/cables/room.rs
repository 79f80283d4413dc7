//! The three rooms in which cables run, and the legs through them: how long, and where they bend.
//!
//! Inside, a leg is the shortest line that goes round what stands there and stays under the deck; on deck, the shortest
//! that lies on it. Seen from the side, along the way, that is the lower or upper hull of the ends and of the corners
//! of the surface between them. The skin has no thickness here, and the bottom never stops a leg: a hull is no
//! narrower above than below.

use super::around::{Bend, around};
use super::obstacle::{self, Obstacle};
use super::{Passed, Runs};
use crate::geometry::{Point, Spot};
use crate::plan::{Plan, Zone};
use crate::study::rig::Rig;

/// Least height under a deck for a cable, mm. Common practice, no source.
pub const ROOM_MM: f64 = 10.0;

/// How near to the deck's edge a leg runs along it, mm. Common practice, no source: about the width of a gunwale.
pub const EDGE_BAND_MM: f64 = 110.0;

/// A bend seen from the side counts as one from this angle on, degrees. Common practice, no source: less is a sag.
const BEND_DEG: f64 = 8.0;

/// Where a cable runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Room {
    /// On deck.
    Deck,
    /// Inside the hull.
    Inside,
    /// Under the hull, outside.
    Under,
}

/// A leg from one place to another in one room.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Leg {
    /// Its length, mm.
    pub length_mm: f64,
    /// Where it bends between its ends.
    pub bends: Vec<LegBend>,
}

/// A bend of a leg.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct LegBend {
    /// Where.
    pub at: Point,
    /// At what.
    pub what: Passed,
    /// Length of the leg up to it, mm.
    pub after_mm: f64,
}

/// The rooms of a plan with what stands in them.
pub(super) struct Rooms<'a> {
    plan: &'a Plan,
    bounds: Vec<(Spot, Spot)>,
    inside: Vec<Obstacle>,
    deck: Vec<Obstacle>,
}

/// A stretch of a way over which one zone lies on top, or none.
struct Stretch {
    /// Where it begins and ends, mm from the way's start.
    along: (f64, f64),
    /// Height of the surface there, mm.
    height: (f64, f64),
    /// Where it begins and ends.
    spots: (Spot, Spot),
    what: Passed,
}

/// A corner of a way seen from the side: how far along, how high, at what.
type Corner = (f64, f64, Option<Passed>);

impl<'a> Rooms<'a> {
    pub fn of(plan: &'a Plan, rig: &Rig) -> Self {
        Self {
            plan,
            bounds: plan.hull.zones.iter().map(|zone| zone.outline_mm.bounds()).collect(),
            inside: obstacle::inside(plan),
            deck: obstacle::on_deck(plan, rig),
        }
    }

    /// The leg between two places of a room; `None` when there is none.
    pub fn leg(&self, room: Room, from: Point, to: Point) -> Option<Leg> {
        let obstacles = match room {
            Room::Deck => &self.deck,
            Room::Inside => &self.inside,
            Room::Under => return Some(Leg { length_mm: from.distance(to), bends: Vec::new() }),
        };
        let flat = around(from.spot(), to.spot(), obstacles, |spot| self.has_room(room, spot))?;
        let stretches = self.stretches(&flat);
        if room == Room::Inside && stretches.iter().any(|stretch| self.is_closed(stretch)) {
            return None;
        }
        let total: f64 = flat.windows(2).map(|pair| pair[0].0.distance(pair[1].0)).sum();
        let mut corners: Vec<Corner> = vec![(0.0, from.z, None)];
        for Stretch { along, height, what, .. } in stretches {
            corners.extend([(along.0, height.0, Some(what)), (along.1, height.1, Some(what))]);
        }
        corners.push((total, to.z, None));
        let line = taut(corners, if room == Room::Inside { 1.0 } else { -1.0 });
        let run = lengths(&line);
        Some(Leg { length_mm: run[run.len() - 1].1, bends: bends(&flat, &line, &run) })
    }

    /// How a leg of a room runs between two of its points.
    pub fn runs(&self, room: Room, from: Point, to: Point) -> Runs {
        let at_edge = |point: Point| {
            let edge = self.plan.hull.form.gunwale(point.x);
            edge.is_some_and(|(half, _)| half - point.y.abs() <= EDGE_BAND_MM)
        };
        match room {
            Room::Inside => Runs::Inside,
            Room::Under => Runs::Under,
            Room::Deck if at_edge(from) && at_edge(to) && from.y * to.y > 0.0 => Runs::DeckEdge,
            Room::Deck => Runs::Deck,
        }
    }

    /// Whether a cable can lie at a spot.
    fn has_room(&self, room: Room, spot: Spot) -> bool {
        let form = &self.plan.hull.form;
        match (form.bottom(spot), self.surface(spot)) {
            (Some(bottom), Some(surface)) => room == Room::Deck || surface - bottom >= ROOM_MM,
            _ => false,
        }
    }

    /// Whether nothing fits under the deck somewhere on a stretch.
    fn is_closed(&self, stretch: &Stretch) -> bool {
        let closed =
            |spot: Spot, height: f64| self.plan.hull.form.bottom(spot).is_some_and(|bottom| height - bottom < ROOM_MM);
        closed(stretch.spots.0, stretch.height.0) || closed(stretch.spots.1, stretch.height.1)
    }

    /// The zone on top at a spot.
    fn zone(&self, spot: Spot) -> Option<&'a Zone> {
        let over = |(zone, (low, high)): &(&Zone, &(Spot, Spot))| {
            let bounded = spot.x >= low.x && spot.x <= high.x && spot.y >= low.y && spot.y <= high.y;
            bounded && zone.outline_mm.contains(spot)
        };
        self.plan.hull.zones.iter().zip(&self.bounds).rev().find(over).map(|(zone, _)| zone)
    }

    /// Height of the deck at a spot, mm.
    pub fn surface(&self, spot: Spot) -> Option<f64> {
        match self.zone(spot) {
            Some(zone) => Some(zone.height.value.to_mm()),
            None => self.plan.hull.form.gunwale(spot.x).filter(|(half, _)| spot.y.abs() <= *half).map(|(_, z)| z),
        }
    }

    /// The surface under a way, stretch by stretch.
    fn stretches(&self, flat: &[Bend]) -> Vec<Stretch> {
        let mut found = Vec::new();
        let mut before = 0.0;
        for pair in flat.windows(2) {
            let (from, to) = (pair[0].0, pair[1].0);
            let length = from.distance(to);
            let at = |share: f64| Spot::new(from.x + (to.x - from.x) * share, from.y + (to.y - from.y) * share);
            for shares in self.borders(from, to).windows(2) {
                let (start, end) = (shares[0], shares[1]);
                let zone = self.zone(at(f64::midpoint(start, end)));
                let height = |share: f64| match zone {
                    Some(zone) => Some(zone.height.value.to_mm()),
                    None => self.plan.hull.form.gunwale(at(share).x).map(|(_, z)| z),
                };
                if let (Some(first), Some(last)) = (height(start), height(end)) {
                    found.push(Stretch {
                        along: (before + start * length, before + end * length),
                        height: (first, last),
                        spots: (at(start), at(end)),
                        what: zone.map_or(Passed::Deck, |zone| Passed::Zone(zone.id)),
                    });
                }
            }
            before += length;
        }
        found
    }

    /// The shares of a straight way at which it comes from one zone to the next, its ends among them, in order.
    fn borders(&self, from: Spot, to: Spot) -> Vec<f64> {
        let way = to - from;
        let mut shares = vec![0.0, 1.0];
        let (low, high) =
            (Spot::new(from.x.min(to.x), from.y.min(to.y)), Spot::new(from.x.max(to.x), from.y.max(to.y)));
        for (zone, bounds) in self.plan.hull.zones.iter().zip(&self.bounds) {
            if bounds.0.x > high.x || bounds.1.x < low.x || bounds.0.y > high.y || bounds.1.y < low.y {
                continue;
            }
            for (a, b) in zone.outline_mm.edges() {
                let (edge, off) = (b - a, a - from);
                let across = way.x * edge.y - way.y * edge.x;
                if across == 0.0 {
                    continue;
                }
                let share = (off.x * edge.y - off.y * edge.x) / across;
                let on_edge = (off.x * way.y - off.y * way.x) / across;
                if share > 0.0 && share < 1.0 && (0.0..=1.0).contains(&on_edge) {
                    shares.push(share);
                }
            }
        }
        shares.sort_by(f64::total_cmp);
        shares.dedup();
        shares
    }
}

/// The shortest line along a way from its first corner to its last that passes no corner between them on the wrong side:
/// below them all with `side` 1, above with -1. Its corners in order (monotone chain).
fn taut(corners: Vec<Corner>, side: f64) -> Vec<Corner> {
    let mut line: Vec<Corner> = Vec::new();
    for corner in corners {
        while let [.., a, b] = line.as_slice() {
            // The middle one goes when it lies on or beyond the straight line past it.
            if side * ((b.0 - a.0) * (corner.1 - a.1) - (b.1 - a.1) * (corner.0 - a.0)) > 0.0 {
                break;
            }
            line.pop();
        }
        line.push(corner);
    }
    line
}

/// How far along the way each corner is, and the length of the line up to it, mm.
fn lengths(line: &[Corner]) -> Vec<(f64, f64)> {
    let mut run = vec![(0.0, 0.0)];
    for pair in line.windows(2) {
        let before = run[run.len() - 1].1;
        run.push((pair[1].0, before + (pair[1].0 - pair[0].0).hypot(pair[1].1 - pair[0].1)));
    }
    run
}

/// The bends of a leg in space, in order: those seen from above, and the sharper ones of those seen from the side.
fn bends(flat: &[Bend], line: &[Corner], run: &[(f64, f64)]) -> Vec<LegBend> {
    let mut along = vec![0.0];
    for pair in flat.windows(2) {
        along.push(along[along.len() - 1] + pair[0].0.distance(pair[1].0));
    }
    let point = |at: f64| {
        Point::new(
            interpolate(along.iter().copied().zip(flat.iter().map(|bend| bend.0.x)), at),
            interpolate(along.iter().copied().zip(flat.iter().map(|bend| bend.0.y)), at),
            interpolate(line.iter().map(|corner| (corner.0, corner.1)), at),
        )
    };
    let turns = flat.iter().zip(&along).filter_map(|((_, what), along)| what.map(|what| (*along, what)));
    let dips = line.windows(3).filter(|three| angle(three) >= BEND_DEG).filter_map(|three| {
        let (along, _, what) = three[1];
        what.map(|what| (along, what))
    });
    let mut all: Vec<(f64, Passed)> = turns.chain(dips).collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    let bend =
        |(at, what): (f64, Passed)| LegBend { at: point(at), what, after_mm: interpolate(run.iter().copied(), at) };
    all.into_iter().map(bend).collect()
}

/// By how much a line turns at the middle one of three corners, degrees.
fn angle(three: &[Corner]) -> f64 {
    let slope = |a: &Corner, b: &Corner| (b.1 - a.1).atan2(b.0 - a.0);
    (slope(&three[1], &three[2]) - slope(&three[0], &three[1])).abs().to_degrees()
}

/// The value at a place between sorted places.
fn interpolate(values: impl Iterator<Item = (f64, f64)>, at: f64) -> f64 {
    let mut before: Option<(f64, f64)> = None;
    for (place, value) in values {
        if place >= at {
            return match before {
                Some((start, first)) if place > start => first + (value - first) * (at - start) / (place - start),
                _ => value,
            };
        }
        before = Some((place, value));
    }
    before.map_or(0.0, |(_, value)| value)
}
