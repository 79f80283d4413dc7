//! Where a light would pass: the least it has to be raised, or the nearest place at the same height over the deck.
//!
//! Tried are the heights at which some body that hides it now comes free of the cones, and for an all-round light the
//! one over the head, rounded up to 10 mm, in order; and places in steps of 50 mm forward, aft and to both sides. What
//! comes first and passes is the answer. Between them nothing was looked at.

use super::rules::Role;
use super::sector::{Sector, sum};
use super::shadow::{Lamp, furthest, shadow, widest};
use super::{Blocker, HIDDEN_DEG, OVER_HEAD_MM, Scene, Shown, chosen};
use crate::geometry::{Point, Solid, Spot};

/// Heights are told in steps of this, mm.
const STEP_MM: f64 = 10.0;
/// The most a light is raised, mm. Common practice, no source: longer poles whip.
const HIGHEST_MM: f64 = 1500.0;
/// Places are tried in steps of this, mm.
const STRIDE_MM: f64 = 50.0;
/// So many of them each way.
const STRIDES: u32 = 12;

/// How a light would pass: either of them does.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// Raised by this, mm.
    pub raise_mm: Option<f64>,
    /// Moved by this, mm forward and to port.
    pub shift: Option<Spot>,
}

impl Way {
    /// Looks for a way; `None` for a light that passes where it is.
    pub(super) fn of(scene: &Scene<'_>, shown: &Shown) -> Option<Self> {
        let trial = Trial::of(scene, shown);
        if trial.passes(shown.at) {
            return None;
        }
        Some(Self { raise_mm: trial.raise(), shift: trial.shift() })
    }
}

/// One light that is tried elsewhere.
struct Trial<'a> {
    scene: &'a Scene<'a>,
    shown: &'a Shown,
    most_deg: f64,
    /// Bodies that may hide it, those that hide most of it where it is first: they are the ones to get away from.
    others: Vec<&'a (Blocker, Solid)>,
    /// Height of the head that it has to clear, with what it is to stand over it, mm.
    over: f64,
}

impl<'a> Trial<'a> {
    fn of(scene: &'a Scene<'a>, shown: &'a Shown) -> Self {
        let plan = scene.plan;
        let head = scene.people.iter().map(|(_, person)| person.crown.z).fold(f64::NEG_INFINITY, f64::max);
        let over = if shown.role == Role::AllRound {
            head + chosen(plan, "light-low.head", OVER_HEAD_MM)
        } else {
            f64::NEG_INFINITY
        };
        let most_deg = chosen(plan, "light-hidden.stop", HIDDEN_DEG);
        let mut others: Vec<_> = scene.bodies.iter().filter(|(by, _)| *by != Blocker::Gear(shown.gear)).collect();
        let hides = |by: Blocker| -> f64 {
            shown.shadows.iter().filter(|shadow| shadow.by == by).map(|shadow| shadow.sector.sweep_deg).sum()
        };
        others.sort_by(|(a, _), (b, _)| hides(*b).total_cmp(&hides(*a)));
        Self { scene, shown, most_deg, others, over }
    }

    /// Whether a light at this point is hidden no more than is borne, and over the head.
    fn passes(&self, at: Point) -> bool {
        let required = self.shown.role.sector();
        let hidden = || self.scene.hidden(&self.scene.shadows(at, self.shown.gear, &required), &required);
        at.z >= self.over
            && !self.is_hidden_by_one(at, &required)
            && hidden().iter().all(|(_, parts)| sum(parts) <= self.most_deg)
    }

    /// Whether one body alone hides more than is borne: most places fail so, and are told by a look at one body.
    fn is_hidden_by_one(&self, at: Point, required: &Sector) -> bool {
        let lamp = Lamp::new(at, self.scene.water);
        self.others.iter().any(|(_, solid)| {
            widest(&lamp, solid) > self.most_deg && sum(&required.covered_by(&shadow(&lamp, solid))) > self.most_deg
        })
    }

    fn raise(&self) -> Option<f64> {
        let at = self.shown.at;
        let lamp = Lamp::new(at, self.scene.water);
        let hides = |by: &Blocker| self.shown.shadows.iter().any(|shadow| shadow.by == *by);
        let hiding = self.others.iter().filter(|(by, _)| hides(by));
        let free = hiding.map(|(_, solid)| solid.high + furthest(&solid.outline, at.spot()) * lamp.steepest());
        let step = |height: f64| ((height - at.z) / STEP_MM).ceil() * STEP_MM;
        let mut steps: Vec<f64> = free.chain([self.over]).map(step).collect();
        steps.retain(|by| *by > 0.0 && *by <= HIGHEST_MM);
        steps.sort_by(f64::total_cmp);
        steps.dedup();
        steps.into_iter().find(|by| self.passes(Point { z: at.z + by, ..at }))
    }

    fn shift(&self) -> Option<Spot> {
        let hull = &self.scene.plan.hull;
        let at = self.shown.at;
        let over_deck = at.z - hull.surface(at.spot())?;
        // Toward the nearer side first would favour one of them: aft and forward, then both sides.
        let ways = [Spot::new(-1.0, 0.0), Spot::new(1.0, 0.0), Spot::new(0.0, 1.0), Spot::new(0.0, -1.0)];
        let shifts = (1..=STRIDES).map(|n| f64::from(n) * STRIDE_MM);
        let tried = shifts.flat_map(|by| ways.iter().map(move |way| Spot::new(way.x * by, way.y * by)));
        tried.into_iter().find(|by| {
            let spot = at.spot() + *by;
            let aboard = hull.form.bottom(spot).and(hull.surface(spot));
            aboard.is_some_and(|deck| self.passes(spot.at(deck + over_deck)))
        })
    }
}
