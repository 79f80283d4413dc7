//! What runs into what: gear against gear, gear against hull and person, gear against motions.

use super::body::Seated;
use super::chosen;
use super::envelopes::envelopes;
pub use super::envelopes::snags::Snag;
use super::envelopes::snags::snags;
pub use super::envelopes::{Envelope, Motion};
use super::obstacles::{self, HullContact};
use super::rig::{Rig, RigItem, Support};
use super::space::Space;
use crate::geometry::{Contact, Point, Spot};
use crate::plan::{GearId, Kind, Level, Plan};

/// Bodies that share less than this count as touching, mm. Common practice, no source: pads, play in
/// a track, the tape.
pub const TOLERANCE_MM: f64 = 2.0;

/// What runs into what.
#[derive(Clone, Debug, Default)]
pub struct Clearance {
    /// Gear that overlaps other gear, each pair once, in the plan's order.
    pub overlaps: Vec<Overlap>,
    /// Gear that runs into the hull, the seat or the person.
    pub against_hull: Vec<HullContact>,
    /// The spaces that must stay free.
    pub envelopes: Vec<Envelope>,
    /// Gear inside them.
    pub intrusions: Vec<Intrusion>,
    /// What a line or a net catches on near the landing side.
    pub snags: Vec<Snag>,
}

/// Two bodies in one place.
#[derive(Clone, Debug, PartialEq)]
pub struct Overlap {
    /// One of them.
    pub gear: GearId,
    /// The other.
    pub other: GearId,
    /// By how much, mm.
    pub depth_mm: f64,
    /// Where.
    pub at: Point,
}

/// Gear inside an envelope.
#[derive(Clone, Debug, PartialEq)]
pub struct Intrusion {
    /// Index of the envelope.
    pub envelope: usize,
    /// The gear.
    pub gear: GearId,
    /// By how much, mm.
    pub depth_mm: f64,
    /// Where.
    pub at: Point,
    /// The shortest shift along the boat or across it that clears it and stays aboard.
    pub way_out: Option<Spot>,
}

impl Clearance {
    /// Looks for overlaps and intrusions.
    pub fn of(plan: &Plan, rig: &Rig, body: &Seated) -> Self {
        let envelopes = envelopes(plan, rig, body);
        let spaces: Vec<Space> = rig.items.iter().map(|item| Space::of(&item.solids)).collect();
        let motions: Vec<Space> = envelopes.iter().map(|envelope| Space::of(&envelope.solids)).collect();
        let tolerance = chosen(plan, "overlap.tolerance", TOLERANCE_MM);
        let mut intrusions = Vec::new();
        for (number, (envelope, motion)) in envelopes.iter().zip(&motions).enumerate() {
            for (item, space) in rig.items.iter().zip(&spaces) {
                intrusions.extend(intrusion(plan, (number, envelope, motion), (item, space), tolerance));
            }
        }
        Self {
            overlaps: overlaps(plan, rig, &spaces, tolerance),
            against_hull: obstacles::against_hull(plan, rig, &spaces, body),
            envelopes,
            intrusions,
            snags: snags(plan, rig, body),
        }
    }

    /// Pieces of gear that stand in the way of a motion.
    pub fn count(&self, motion: Motion) -> usize {
        self.intrusions.iter().filter(|i| self.envelopes.get(i.envelope).is_some_and(|e| e.motion == motion)).count()
    }
}

/// What is aboard, laid out to be tried against again and again.
pub struct Surroundings<'a> {
    plan: &'a Plan,
    rig: &'a Rig,
    envelopes: &'a [Envelope],
    spaces: Vec<Space>,
    motions: Vec<Space>,
    tolerance: f64,
}

impl<'a> Surroundings<'a> {
    /// Lays out the gear of a rig and the spaces that must stay free.
    pub fn of(plan: &'a Plan, rig: &'a Rig, envelopes: &'a [Envelope]) -> Self {
        Self {
            plan,
            rig,
            envelopes,
            spaces: rig.items.iter().map(|item| Space::of(&item.solids)).collect(),
            motions: envelopes.iter().map(|envelope| Space::of(&envelope.solids)).collect(),
            tolerance: chosen(plan, "overlap.tolerance", TOLERANCE_MM),
        }
    }

    /// What one more piece of gear overlaps. Where it is on the boat already, its old place does not count.
    pub fn overlaps<'b>(&'b self, item: &'b RigItem) -> impl Iterator<Item = Overlap> + 'b {
        let space = Space::of(&item.solids);
        let others = self.rig.items.iter().zip(&self.spaces).filter(|(other, _)| other.gear != item.gear);
        others.filter_map(move |other| overlap(self.plan, (item, &space), other, self.tolerance))
    }

    /// The motions in whose way it would be.
    pub fn intrusions<'b>(&'b self, item: &'b RigItem) -> impl Iterator<Item = Intrusion> + 'b {
        let space = Space::of(&item.solids);
        let motions = self.envelopes.iter().zip(&self.motions).enumerate();
        motions.filter_map(move |(number, (envelope, motion))| {
            intrusion(self.plan, (number, envelope, motion), (item, &space), self.tolerance)
        })
    }

    /// Whether other gear stands or hangs on this one or lies in it, so that it does not go alone.
    pub(super) fn bears(&self, item: &RigItem) -> bool {
        let space = Space::of(&item.solids);
        let mut others = self.rig.items.iter().zip(&self.spaces).filter(|(other, _)| other.gear != item.gear);
        others.any(|other| carries(self.plan, (item, &space), other))
    }
}

/// The shortest shift that takes one piece of gear clear of another and stays aboard.
pub fn way_apart(plan: &Plan, item: &RigItem, other: &RigItem) -> Option<Spot> {
    let (space, fixed) = (Space::of(&item.solids), Space::of(&other.solids));
    space.way_out(&fixed, TOLERANCE_MM, stays_aboard(plan, item))
}

/// Whether gear shifted by this much still stands over the hull.
pub(super) fn stays_aboard<'a>(plan: &'a Plan, item: &RigItem) -> impl Fn(Spot) -> bool + 'a {
    let from = item.at.spot();
    move |by| plan.hull.form.bottom(from + by).is_some()
}

/// All pairs, swept along the boat: only gear that shares some stretch of x is looked at.
fn overlaps(plan: &Plan, rig: &Rig, spaces: &[Space], tolerance: f64) -> Vec<Overlap> {
    let mut order: Vec<usize> = (0..spaces.len()).collect();
    order.sort_by(|a, b| spaces[*a].low.x.total_cmp(&spaces[*b].low.x).then(a.cmp(b)));
    let mut found = Vec::new();
    for (place, &i) in order.iter().enumerate() {
        for &j in order[place + 1..].iter().take_while(|j| spaces[**j].low.x < spaces[i].high.x) {
            let (first, second) = (i.min(j), i.max(j));
            let pair = |n: usize| (&rig.items[n], &spaces[n]);
            found.extend(overlap(plan, pair(first), pair(second), tolerance).map(|o| ((first, second), o)));
        }
    }
    found.sort_by_key(|(pair, _)| *pair);
    found.into_iter().map(|(_, overlap)| overlap).collect()
}

type Placed<'a> = (&'a RigItem, &'a Space);

fn overlap(plan: &Plan, a: Placed<'_>, b: Placed<'_>, tolerance: f64) -> Option<Overlap> {
    let Contact { depth, at } = a.1.deepest(b.1, tolerance)?;
    if carries(plan, a, b) || carries(plan, b, a) {
        return None;
    }
    Some(Overlap { gear: a.0.gear, other: b.0.gear, depth_mm: depth, at })
}

/// Whether one piece of gear carries the other, so that they share a place rightly: a track its feet,
/// a base or arm what is raised on it, a boom what hangs on it, a holder its rod, a box what lies in it.
fn carries(plan: &Plan, (under, space): Placed<'_>, (upper, content): Placed<'_>) -> bool {
    if upper.fit.support() == Some(Support::Gear(under.gear)) {
        return true;
    }
    let (Some(below), Some(above)) = (plan.gear.get(under.index), plan.gear.get(upper.index)) else { return false };
    let raised = above.place.is_some_and(|place| place.raise.to_mm() > 0.0);
    match below.spec.kind {
        Kind::Base | Kind::Track => raised && under.covers(upper.at.spot()),
        Kind::Boom => under.covers(upper.at.spot()),
        Kind::RodHolder => above.spec.kind == Kind::Rod && under.covers(upper.at.spot()),
        Kind::Storage | Kind::Cooler => below.spec.lid.is_some() && space.holds(content),
        _ => false,
    }
}

fn intrusion(
    plan: &Plan,
    (number, envelope, motion): (usize, &Envelope, &Space),
    (item, space): Placed<'_>,
    tolerance: f64,
) -> Option<Intrusion> {
    if envelope.owner == Some(item.gear) || item.level == Level::Inside || is_in_use(plan, envelope, item) {
        return None;
    }
    let Contact { depth, at } = space.stands_in(motion, tolerance)?;
    let way_out = space.way_out(motion, tolerance, stays_aboard(plan, item));
    Some(Intrusion { envelope: number, gear: item.gear, depth_mm: depth, at, way_out })
}

/// What belongs to the motion itself or has a check of its own: a paddle that lies on deck is in the hands while the
/// boat is paddled, the cart stands on its own posts, a motor is tilted for transport, and how low a sonar head hangs
/// is looked at by itself.
fn is_in_use(plan: &Plan, envelope: &Envelope, item: &RigItem) -> bool {
    let Some(gear) = plan.gear.get(item.index) else { return false };
    matches!(
        (envelope.motion, gear.spec.kind),
        (Motion::Stroke, Kind::Paddle)
            | (Motion::CartPosts, Kind::Cart)
            | (Motion::Underside, Kind::Motor | Kind::Transducer)
    )
}
