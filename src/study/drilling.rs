//! The holes still to be drilled, for the person with the drill: where a tape finds each, how deep, with what behind
//! it and what in it, in the order of one walk round the boat.
//!
//! The walk goes from the stern up the port side and back down starboard; what is on the centreline counts to port.

mod datum;

pub use datum::{Datum, Mark, Way};

use super::Study;
use super::fastening::drills::{PILOT_MM, RIVET_DRILLS};
use super::holes::hand::{Hand, without_hand};
use super::holes::{Hole, HoleState};
use super::rig::HoleRef;
use crate::geometry::Point;
use crate::plan::{Back, Carries, Mount, Plan};

/// How far the point of a drill goes past the back of the skin, mm. Common practice, no source.
const PAST_MM: f64 = 10.0;

/// Two holes are a mirrored pair when each is this near to the other's image, mm. Common practice, no source.
const PAIR_WITHIN_MM: f64 = 1.0;

/// The holes still to be drilled, in the order of the walk, and those that exist.
#[derive(Clone, Debug)]
pub struct Walk<'a> {
    /// Every new hole, once.
    pub stops: Vec<Stop<'a>>,
    /// Every hole that exists already.
    pub old: Vec<&'a Hole>,
}

/// A hole still to be drilled.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop<'a> {
    /// The hole.
    pub hole: &'a Hole,
    /// Two distances that find it; `None` off the hull.
    pub datums: Option<[Datum; 2]>,
    /// The first drill, mm.
    pub pilot_mm: f64,
    /// The last drill: what the fastener wants, mm.
    pub final_mm: f64,
    /// Where the stop sits on the drill, mm from its tip: through the skin and no further than what is behind allows.
    pub stop_mm: f64,
    /// What goes in it.
    pub fastening: Fastening,
    /// The new hole on the other side that mirrors it.
    pub mirror: Option<HoleRef>,
}

/// What goes in a hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Fastening {
    /// `M5 bolt, wide washer or backing plate, lock nut`.
    pub words: String,
    /// Why it is not the nut that the mount wants: how a hand fails to get there.
    pub instead_of_nut: Option<Hand>,
    /// Whether it holds: nothing blind is strong enough under heavy or loaded gear.
    pub holds: bool,
}

impl<'a> Walk<'a> {
    /// Walks round the boat.
    pub fn of(plan: &Plan, study: &'a Study) -> Self {
        let (mut new, old): (Vec<&Hole>, Vec<&Hole>) =
            study.holes.holes.iter().partition(|hole| hole.state == HoleState::New);
        new.sort_by(|a, b| on_the_way(a.at).total_cmp(&on_the_way(b.at)).then_with(|| a.id.cmp(&b.id)));
        let stops = new.iter().map(|hole| Stop::of(plan, study, hole, &new)).collect();
        Self { stops, old }
    }
}

/// How far along the walk a place lies: up the port side, then back.
pub(super) fn on_the_way(at: Point) -> f64 {
    // A hull longer than a kilometre is not walked round.
    const LONGEST_MM: f64 = 1.0e6;
    if at.y >= 0.0 { at.x } else { 2.0 * LONGEST_MM - at.x }
}

impl<'a> Stop<'a> {
    fn of(plan: &Plan, study: &Study, hole: &'a Hole, new: &[&Hole]) -> Self {
        let (fastening, final_mm) = fastening(plan, study, hole);
        Self {
            hole,
            datums: datum::pair(plan, hole.at, hole.upright),
            pilot_mm: PILOT_MM.min(final_mm),
            final_mm,
            stop_mm: hole.wall_mm + PAST_MM.min(hole.inside_mm / 2.0),
            fastening,
            mirror: new.iter().find(|other| mirrors(hole, other)).map(|other| other.id),
        }
    }
}

fn mirrors(hole: &Hole, other: &Hole) -> bool {
    hole.id != other.id
        && hole.level == other.level
        && hole.bore_mm == other.bore_mm
        && hole.at.y.abs() > PAIR_WITHIN_MM
        && hole.at.spot().distance(other.at.spot().mirrored()) <= PAIR_WITHIN_MM
}

/// What goes in a hole, and the drill it wants.
fn fastening(plan: &Plan, study: &Study, hole: &Hole) -> (Fastening, f64) {
    let usual = |words: String| (Fastening { words, instead_of_nut: None, holds: true }, hole.bore_mm);
    if hole.carries != Carries::Fastener {
        return usual(hole.fastening());
    }
    if hole.back == Back::Blind {
        return usual(rivet(plan, hole).unwrap_or_else(|| hole.fastening()));
    }
    let hand = Hand::of(plan, &study.rig, hole);
    if hand.holds_a_nut() {
        return usual(hole.fastening());
    }
    let (words, drill, holds) = match without_hand(plan, hole) {
        Some((fastener, drill)) => (fastener.to_string(), drill, true),
        None => ("no blind fastener is strong enough".to_string(), hole.bore_mm, false),
    };
    (Fastening { words, instead_of_nut: Some(hand), holds }, drill)
}

/// The blind rivet whose drill is nearest to the bore, for gear that is riveted on.
fn rivet(plan: &Plan, hole: &Hole) -> Option<String> {
    hole.owner.and_then(|owner| plan.gear(owner)).filter(|gear| gear.mount == Mount::Rivets)?;
    let off = |drill: f64| (drill - hole.bore_mm).abs();
    let (body, _) = RIVET_DRILLS.into_iter().min_by(|a, b| off(a.1).total_cmp(&off(b.1)))?;
    Some(format!("split-leg blind rivet, {body:.1} mm, washer behind where a hand gets"))
}
