//! Where a cable is squeezed, cut or bent too sharply on its way.

use super::beside::{dot, foot, from_leg};
use super::ends::{Tail, Wanted, is_supply, usual_mm};
use super::obstacle::crosses;
use super::search::Search;
use super::{Passed, Pinch, Pincher, Runs, Step, Way};
use crate::geometry::{Point, Polygon, Spot};
use crate::plan::{Carries, Feature, FeatureKind, Level, Plan, Via};
use crate::study::rig::Rig;

/// A bolt end nearer to a cable than this chafes it, mm. Common practice, no source.
pub const BOLT_ENDS_MM: f64 = 30.0;

/// Least radius of a bend in a supply, in diameters of the cable. Common practice, no source.
pub const BEND_POWER: f64 = 4.0;

/// Least radius of a bend in a cable that carries signals, in diameters of the cable. Common practice, no source.
pub const BEND_SONAR: f64 = 6.0;

/// Width of a slotted rail, mm.
const TRACK_WIDE_MM: f64 = 32.0;

/// Everything that pinches a cable on its way, in the order in which it is met from the cable's first end.
pub(super) fn all(
    plan: &Plan,
    rig: &Rig,
    search: &Search<'_>,
    cable: &Wanted<'_>,
    way: &Way,
    tail: Option<Tail>,
) -> Vec<Pinch> {
    let mut found: Vec<Pinch> = lids(search, way).collect();
    found.extend(plan.hull.features.iter().filter_map(|feature| crossed(feature, way)));
    found.extend(bolts(rig, cable, way));
    let diameter = tail.map_or_else(|| usual_mm(cable.signal), |tail| tail.cable_mm);
    let least_mm = diameter * if is_supply(cable.signal) { BEND_POWER } else { BEND_SONAR };
    found.extend(way.steps.windows(3).filter_map(|three| sharp(three, least_mm)));
    found.sort_by(|a, b| along(way, a.at).total_cmp(&along(way, b.at)));
    found
}

/// How far along a way a point lies, by the leg nearest to it, mm.
fn along(way: &Way, at: Point) -> f64 {
    let mut behind = 0.0;
    let legs = way.steps.windows(2).map(|pair| {
        let (start, end) = (pair[0].at, pair[1].at);
        let place = behind + start.distance(foot(at, start, end));
        behind += pair[1].leg_mm;
        (from_leg(at, start, end), place)
    });
    legs.min_by(|a, b| a.0.total_cmp(&b.0)).map_or(0.0, |(_, place)| place)
}

/// The lids it passes under.
fn lids<'a>(search: &'a Search<'_>, way: &'a Way) -> impl Iterator<Item = Pinch> + 'a {
    let lidded = |via: Via| search.gate(via).is_some_and(|gate| gate.lid);
    way.passages().filter(move |(via, _)| lidded(*via)).map(|(via, step)| Pinch { at: step.at, by: Pincher::Lid(via) })
}

/// A rail or slot that a leg on deck runs over.
fn crossed(feature: &Feature, way: &Way) -> Option<Pinch> {
    let (length, width, by) = match feature.kind {
        FeatureKind::SeatRail { length, width } => (length.to_mm(), width.to_mm(), Pincher::SeatRail(feature.id)),
        FeatureKind::Track { length, .. } => (length.to_mm(), TRACK_WIDE_MM, Pincher::Track(feature.id)),
        _ => return None,
    };
    let (middle, half) = (feature.at_mm.spot(), Spot::new(length / 2.0, width / 2.0));
    let outline = Polygon::rect(middle - half, middle + half);
    // What is fixed on it begins there.
    let ends = [way.steps.first(), way.steps.last()];
    if ends.into_iter().flatten().any(|end| outline.contains(end.at.spot())) {
        return None;
    }
    let on_deck = |step: &Step| matches!(step.runs, Runs::Deck | Runs::DeckEdge);
    let leg = way
        .steps
        .windows(2)
        .find(|pair| on_deck(&pair[1]) && crosses(&outline, pair[0].at.spot(), pair[1].at.spot()))?;
    Some(Pinch { at: foot(feature.at_mm, leg[0].at, leg[1].at), by })
}

/// Fasteners of gear on deck whose ends inside lie close to a leg; the nearest of each piece of gear.
fn bolts<'a>(rig: &'a Rig, cable: &'a Wanted<'_>, way: &'a Way) -> impl Iterator<Item = Pinch> + 'a {
    let on_way = |gear| gear == cable.from || gear == cable.to || way.openings().any(|via| via == Via::Gear(gear));
    rig.items.iter().filter(move |item| item.level == Level::Deck && !on_way(item.gear)).filter_map(move |item| {
        let fasteners = item.holes.iter().filter(|hole| hole.carries == Carries::Fastener);
        let nearest = fasteners.filter_map(|hole| Some((from_inside(way, hole.at)?, hole.at)));
        let (away, at) = nearest.min_by(|a, b| a.0.total_cmp(&b.0))?;
        (away < BOLT_ENDS_MM).then_some(Pinch { at, by: Pincher::Bolts(item.gear, away) })
    })
}

/// Distance of a point from the nearest leg inside, mm.
fn from_inside(way: &Way, point: Point) -> Option<f64> {
    let legs = way.steps.windows(2).filter(|pair| pair[1].runs == Runs::Inside);
    legs.map(|pair| from_leg(point, pair[0].at, pair[1].at)).min_by(f64::total_cmp)
}

/// A bend between two legs that are too short for the radius the cable stands. At openings and where gear is, the
/// cable is free to stand off in a loop. A bend of radius `r` that turns by `t` takes `r tan(t / 2)` of both legs;
/// each leg is shared by the bends at its ends.
fn sharp(three: &[Step], least_mm: f64) -> Option<Pinch> {
    let [before, here, after] = three else { return None };
    if matches!(here.passes, Passed::Opening(_) | Passed::End(_) | Passed::Edge) {
        return None;
    }
    let (arrive, leave) = (here.at - before.at, after.at - here.at);
    let lengths = arrive.length() * leave.length();
    let cosine = if lengths > 0.0 { (dot(arrive, leave) / lengths).clamp(-1.0, 1.0) } else { 1.0 };
    let tangent = ((1.0 - cosine) / (1.0 + cosine).max(f64::MIN_POSITIVE)).sqrt();
    let room = arrive.length().min(leave.length()) / 2.0;
    let radius_mm = room / tangent;
    (radius_mm < least_mm).then_some(Pinch { at: here.at, by: Pincher::Bend { radius_mm, least_mm } })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Two legs at a right angle, 100 mm and 200 mm; 10 mm beside the second, 150 mm up it, is 250 mm along.
    #[test]
    fn a_place_beside_a_way_counts_at_its_nearest_leg() {
        let step = |x, y, leg_mm| Step { at: Point::new(x, y, 0.0), passes: Passed::Deck, leg_mm, runs: Runs::Inside };
        let way = Way {
            steps: vec![step(0.0, 0.0, 0.0), step(100.0, 0.0, 100.0), step(100.0, 200.0, 200.0)],
            length_mm: 300.0,
        };
        let near = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} {b}");
        near(along(&way, Point::new(40.0, 5.0, 0.0)), 40.0);
        near(along(&way, Point::new(110.0, 150.0, 0.0)), 250.0);
    }

    /// A right angle takes its radius of both legs; half of 96 mm is 48 mm, 6 diameters of an 8 mm cable.
    #[test]
    fn a_bend_needs_its_radius() {
        let corner = |leg: f64| {
            let step = |x, y| Step { at: Point::new(x, y, 0.0), passes: Passed::Deck, leg_mm: leg, runs: Runs::Inside };
            sharp(&[step(0.0, 0.0), step(leg, 0.0), step(leg, leg)], 48.0)
        };
        assert_eq!(corner(96.1), None);
        assert!(corner(95.9).is_some());
    }
}
