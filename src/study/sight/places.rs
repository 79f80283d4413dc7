//! Where a screen would pass: along the boat at its distance from the centreline, and anywhere on deck.
//!
//! Tried on a grid, at the gear's turn and raise, held by the mount, over the hull; from every seated eye. Standing
//! is not asked for. What else speaks for or against the place the other checks say.

use super::hiders::Hiders;
use super::{Bounds, Eye, Target};
use crate::geometry::{Point, Spot};
use crate::plan::{Gear, Handling, Level, Mount, Placement, Plan, Posture};
use crate::study::Study;
use crate::study::fit::fit;
use crate::study::rig::RigItem;
use crate::units::Length;

/// Distance between two tries, mm: the deck's grid.
const PITCH_MM: f64 = 25.0;

/// A stretch along the boat, for the middle of the mount.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Its aft end, mm forward of the aft end of the boat.
    pub from_mm: f64,
    /// Its fore end.
    pub to_mm: f64,
}

/// Where gear would pass if it were held in one of its ways.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// How it is held.
    pub mount: Mount,
    /// Where along the boat it passes, at its distance from the centreline.
    pub bands: Vec<Band>,
    /// The nearest place on deck where it passes.
    pub nearest: Option<Spot>,
}

/// Where a piece of placed gear would pass, for each of its mounts, the present one first. Not a part of the study:
/// it tries the whole deck.
pub fn ways(plan: &Plan, study: &Study, gear: &Gear) -> Vec<Way> {
    let (Some(item), Some(handling)) = (study.rig.item(gear.id), &gear.spec.handling) else { return Vec::new() };
    let (sight, body) = (&study.sight, &study.reach.body);
    let hiders = Hiders::of(&study.rig, body);
    let others = gear.spec.mounts.iter().map(|mounting| mounting.how).filter(|how| *how != gear.mount);
    let mounts = [gear.mount].into_iter().chain(others);
    let way = |mount| {
        let held = Gear { mount, ..gear.clone() };
        let (eyes, bounds, hiders) = (&sight.eyes, &sight.bounds, &hiders);
        let search = Search { plan, gear: &held, item, handling, eyes, bounds, hiders };
        Way { mount, bands: search.bands(), nearest: search.nearest() }
    };
    mounts.map(way).collect()
}

/// One piece of gear that is tried elsewhere.
pub(super) struct Search<'a> {
    pub(super) plan: &'a Plan,
    pub(super) gear: &'a Gear,
    pub(super) item: &'a RigItem,
    pub(super) handling: &'a Handling,
    pub(super) eyes: &'a [Eye],
    pub(super) bounds: &'a Bounds,
    pub(super) hiders: &'a Hiders,
}

impl Search<'_> {
    /// Where along the boat it passes at its distance from the centreline.
    pub(super) fn bands(&self) -> Vec<Band> {
        let y = self.item.at.y;
        let (low, high) = self.plan.hull.form.deck_outline().bounds();
        let mut bands: Vec<Band> = Vec::new();
        for x in steps(low.x, high.x).filter(|x| self.passes(Spot::new(*x, y))) {
            match bands.last_mut().filter(|band| x - band.to_mm < 1.5 * PITCH_MM) {
                Some(band) => band.to_mm = x,
                None => bands.push(Band { from_mm: x, to_mm: x }),
            }
        }
        bands
    }

    /// The nearest place on deck where it passes; of equals the one further aft, then to starboard.
    fn nearest(&self) -> Option<Spot> {
        let from = self.item.at.spot();
        let (low, high) = self.plan.hull.form.deck_outline().bounds();
        let mut best: Option<(f64, Spot)> = None;
        for x in steps(low.x, high.x) {
            for y in steps(low.y, high.y) {
                let spot = Spot::new(x, y);
                let far = spot.distance(from);
                if best.is_none_or(|(least, _)| far < least) && self.passes(spot) {
                    best = Some((far, spot));
                }
            }
        }
        best.map(|(_, spot)| spot)
    }

    /// Whether it is held at a spot and seen well from there; what is cheap is asked first.
    fn passes(&self, spot: Spot) -> bool {
        let (Some(place), Some(control)) = (self.gear.place, self.item.control) else { return false };
        if place.level != Level::Deck {
            return false;
        }
        let own = control - self.item.at;
        let flat = own.spot() + spot;
        let too_far = |eye: &Eye| {
            let inches = self.handling.screen.map(|screen| screen.to_inches());
            inches.is_some_and(|inches| flat.distance(eye.at.spot()) > self.bounds.furthest_mm(inches))
        };
        let seated = || self.eyes.iter().filter(|eye| eye.posture != Posture::Standing);
        if seated().any(too_far) {
            return false;
        }
        let Some(ground) = self.plan.hull.form.bottom(spot).and_then(|_| self.plan.hull.surface(spot)) else {
            return false;
        };
        let at = spot.at(ground + place.raise.to_mm());
        let to = Placement { x: Length::mm(spot.x), y: Length::mm(spot.y), ..place };
        self.is_seen(at + own) && fit(self.plan, self.gear, &to).is_held()
    }

    /// Whether nothing speaks against the view of it with its control at a point.
    fn is_seen(&self, control: Point) -> bool {
        let Some(eye) = self.eyes.first() else { return false };
        let target = Target::at(self.handling, self.item, control, eye.at);
        let mut seated = self.eyes.iter().filter(|eye| eye.posture != Posture::Standing);
        seated.all(|eye| {
            self.bounds.faults(&target.bare_view(*eye), target.inches).is_empty()
                && target.view(*eye, self.bounds, self.hiders).faults.is_empty()
        })
    }
}

/// Multiples of the pitch between two lengths.
fn steps(low: f64, high: f64) -> impl Iterator<Item = f64> {
    // A form of nonsense has no deck to try.
    let whole = if (high - low).is_finite() { high - low } else { -1.0 }.min(20_000.0);
    let first = (low / PITCH_MM).ceil();
    let count = ((low + whole) / PITCH_MM).floor() - first;
    (0..=count.max(-1.0) as i64).filter(move |_| count >= 0.0).map(move |step| (first + step as f64) * PITCH_MM)
}
