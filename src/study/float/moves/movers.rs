//! What may be moved, and the places where it might go.

use super::{Move, Off};
use crate::geometry::{Point, Spot, turned};
use crate::plan::{BuildState, Fate, FeatureKind, Gear, Kind, Level, Mount, Placement, Plan, Seat};
use crate::study::Study;
use crate::study::clearance::Surroundings;
use crate::study::obstacles::against_hull;
use crate::study::rig::{Rig, RigItem};
use crate::study::space::Space;
use crate::study::weights::{livewell_in_use, livewell_water};
use crate::units::Length;

/// Only so many of the heaviest things are looked at.
const MOST_MOVERS: usize = 24;

/// Lighter gear is not worth a move, kg. Common practice, no source.
const LEAST_KG: f64 = 1.0;

/// Distance of places along the boat, and across it, mm. Where it is held by a skin, whole multiples of these are
/// tried: numbers a person can mark. In a slot steps of the second from its middle.
const ALONG_MM: f64 = 50.0;
const ACROSS_MM: f64 = 25.0;

/// Steps in which two things that move together are placed, mm.
const COARSE_ALONG_MM: f64 = 200.0;
const COARSE_ACROSS_MM: f64 = 50.0;

/// A boat is never tried at more places along or across it than this; a longer one gets a wider grid.
const MOST_STEPS: f64 = 100.0;

/// Nearer than this it has not moved, mm.
const SAME_MM: f64 = 5.0;

/// A thing that may be moved.
pub(super) struct Mover {
    /// With the water in it, kg.
    pub(super) kg: f64,
    /// Where it might go, the nearest first.
    pub(super) places: Vec<Place>,
}

/// A place where a thing might go.
pub(super) struct Place {
    pub(super) to: Move,
    /// What that shifts its mass by along and across the boat, mm.
    by: Spot,
    /// How much is moved how far, kg m.
    pub(super) cost: f64,
    /// Whether it is one of the fewer places that two things moving together are tried at.
    pub(super) coarse: bool,
    /// Whether it is free and holds there, once that was tried.
    pub(super) free: Option<bool>,
}

/// What may be moved, the heaviest first.
pub(super) fn movers(plan: &Plan, around: &Surroundings<'_>, study: &Study, off: Off) -> Vec<Mover> {
    let may_go = |gear: &Gear, item: &RigItem| alone(plan, gear) && !around.bears(item);
    let gear = study.rig.items.iter().filter_map(|item| {
        let gear = plan.gear.get(item.index)?;
        of_gear(plan, gear, item, off).filter(|_| may_go(gear, item))
    });
    let mut movers: Vec<Mover> = gear.chain(of_seat(plan, off)).filter(|mover| !mover.places.is_empty()).collect();
    // Equal masses stay in the plan's order.
    movers.sort_by(|a, b| b.kg.total_cmp(&a.kg));
    movers.truncate(MOST_MOVERS);
    movers
}

fn of_gear(plan: &Plan, gear: &Gear, item: &RigItem, off: Off) -> Option<Mover> {
    let water = livewell_water(gear, item).filter(|_| livewell_in_use(plan, gear));
    let kg = gear.spec.mass.value.to_kg() + water.map_or(0.0, |(mass, _)| mass.to_kg());
    let fixed = gear.pinned || !may_come_loose(gear) || !goes_anywhere(gear.spec.kind);
    if fixed || kg < LEAST_KG {
        return None;
    }
    let from = gear.place?;
    let mut places: Vec<Place> = spots(plan, gear, &from)
        .into_iter()
        .filter(|(spot, _)| spot.distance(from.spot()) >= SAME_MM)
        .map(|(spot, coarse)| {
            let to = Placement { x: Length::mm(spot.x), y: Length::mm(spot.y), ..from };
            place(Move::Gear { gear: gear.id, from, to }, spot - from.spot(), kg, coarse)
        })
        .collect();
    places.extend(off.list.then(|| across(gear, item, from, kg)).flatten());
    places.sort_by(|a, b| a.cost.total_cmp(&b.cost).then(a.by.x.total_cmp(&b.by.x)));
    Some(Mover { kg, places })
}

fn place(to: Move, by: Spot, kg: f64, coarse: bool) -> Place {
    Place { to, by, cost: kg * by.distance(Spot::default()) / 1000.0, coarse, free: None }
}

impl Move {
    /// Whether another move of the same thing takes it to a place nearer to this one's than the next of the fewer.
    pub(super) fn is_near(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Gear { to, .. }, Self::Gear { to: other, .. }) => {
                let apart = to.spot() - other.spot();
                apart.x.abs() < COARSE_ALONG_MM && apart.y.abs() < COARSE_ACROSS_MM
            }
            _ => false,
        }
    }
}

impl Mover {
    /// What a place shifts the centre of a whole mass by, mm.
    pub(super) fn shift(&self, place: &Place, mass_kg: f64) -> Spot {
        let share = self.kg / mass_kg;
        Spot::new(place.by.x * share, place.by.y * share)
    }

    /// The same with the rise of the floor it would stand on.
    pub(super) fn shift_up(&self, place: &Place, mass_kg: f64, plan: &Plan, study: &Study) -> Point {
        let rises = || {
            let gear = place.to.moved(plan)?;
            Some(item(plan, study, &gear)?.centre().z - study.rig.item(gear.id)?.centre().z)
        };
        self.shift(place, mass_kg).at(rises().unwrap_or(0.0) * self.kg / mass_kg)
    }
}

/// The other side of the boat.
fn across(gear: &Gear, item: &RigItem, from: Placement, kg: f64) -> Option<Place> {
    let to = gear.mirrored()?.place?;
    let by = Spot::new(0.0, -2.0 * item.centre().y);
    (by.y.abs() >= SAME_MM).then(|| place(Move::Across { gear: gear.id, from, to }, by, kg, true))
}

/// The seat one notch after the other: for trim, when there is no list to correct.
fn of_seat(plan: &Plan, off: Off) -> Option<Mover> {
    let (rails, now) = (&plan.hull.seat, plan.angler.seat.back.to_mm());
    let (aft, fore, step) = (rails.back_aft.to_mm(), rails.back_fore.to_mm(), rails.step.to_mm());
    if off.list || step < 1.0 {
        return None;
    }
    let kg = plan.angler.mass.value.to_kg();
    let notches = (1..=MOST_STEPS as u32).flat_map(|n| [f64::from(n) * step, -f64::from(n) * step]);
    let on_rails = notches.filter(|by| (aft - 0.5..=fore + 0.5).contains(&(now + by)));
    let places = on_rails.map(|by| {
        let from = plan.angler.seat.clone();
        let to = Seat { back: Length::mm(now + by), ..from.clone() };
        place(Move::Seat { from, to }, Spot::new(by, 0.0), kg, true)
    });
    Some(Mover { kg, places: places.collect() })
}

/// Whether it can be taken off again: nothing is fixed yet, or what holds it slides, is strapped or clamped and
/// no hole was made for it.
fn may_come_loose(gear: &Gear) -> bool {
    let loose = matches!(gear.mount, Mount::Track | Mount::Strap | Mount::Clamp)
        && gear.spec.mounting(gear.mount).is_some_and(|mounting| mounting.holes.is_empty());
    match gear.state {
        BuildState::Planned | BuildState::DryFitted => true,
        BuildState::Drilled | BuildState::Bedded => false,
        BuildState::Installed | BuildState::Tested => loose,
    }
}

/// Whether it does its work wherever it is stowed. The others are where they are for what they do there.
fn goes_anywhere(kind: Kind) -> bool {
    match kind {
        Kind::Battery
        | Kind::BlackBox
        | Kind::Converter
        | Kind::SwitchUnit
        | Kind::Protection
        | Kind::Radio
        | Kind::Display
        | Kind::Phone
        | Kind::Livewell
        | Kind::Anchor
        | Kind::Storage
        | Kind::Cooler
        | Kind::Landing
        | Kind::Paddle
        | Kind::Cart
        | Kind::Safety
        | Kind::Other => true,
        Kind::Transducer
        | Kind::Sensor
        | Kind::Camera
        | Kind::Boom
        | Kind::Motor
        | Kind::Light
        | Kind::Pump
        | Kind::RodHolder
        | Kind::Rod
        | Kind::Track
        | Kind::Base
        | Kind::Gland
        | Kind::PowerPort
        | Kind::InspectionPort
        | Kind::Hardware => false,
    }
}

/// Whether it is bound to nothing under it: no base that it is raised on, no old hole that serves it.
fn alone(plan: &Plan, gear: &Gear) -> bool {
    let raised = gear.place.is_some_and(|place| place.raise.to_mm() > 0.0);
    let served = plan.penetrations.iter().any(|hole| hole.fate == Fate::Reused(gear.id));
    !raised && !served
}

/// Where its mount might find what it needs; the second says whether it is one of the fewer places.
fn spots(plan: &Plan, gear: &Gear, from: &Placement) -> Vec<(Spot, bool)> {
    let base = gear.spec.mounting(gear.mount).map_or(0.0, |mounting| mounting.base_mm.0);
    let features = plan.hull.features.iter();
    match gear.mount {
        Mount::Track => slots(plan, gear, base),
        Mount::Scupper => features
            .filter(|f| matches!(f.kind, FeatureKind::Scupper { .. } | FeatureKind::TransducerRecess { .. }))
            .map(|f| (f.at_mm.spot(), true))
            .collect(),
        Mount::Inserts | Mount::Existing => features
            .filter_map(|f| match &f.kind {
                FeatureKind::Inserts { offsets_mm, .. } => Some((f.at_mm.spot(), offsets_mm)),
                FeatureKind::Handle { bolts_mm, .. } => Some((f.at_mm.spot(), bolts_mm)),
                _ => None,
            })
            .flat_map(|(at, offsets)| std::iter::once(at).chain(offsets.iter().map(move |by| at + *by)))
            .map(|spot| (spot, true))
            .collect(),
        Mount::Bolts | Mount::Rivets | Mount::Strap | Mount::Clamp | Mount::Flush => grid(plan, from.spot()),
    }
}

/// The middles of a foot in every slot aboard.
fn slots(plan: &Plan, gear: &Gear, base: f64) -> Vec<(Spot, bool)> {
    let of_hull = plan.hull.features.iter().filter_map(|f| match &f.kind {
        FeatureKind::Track { free, .. } => Some((f.at_mm.spot(), 0.0, free.to_mm())),
        _ => None,
    });
    let of_gear = plan.gear.iter().filter(|other| other.id != gear.id).filter_map(|other| {
        let (slot, at) = (other.spec.track.as_ref()?, other.place.as_ref()?);
        Some((at.spot(), at.turn.to_deg(), slot.to_mm()))
    });
    let feet = |(middle, turn, free): (Spot, f64, f64)| {
        let most = ((free - base) / 2.0 / ACROSS_MM).floor().clamp(0.0, MOST_STEPS) as i32;
        (-most..=most).map(move |n| (middle + turned(Spot::new(f64::from(n) * ACROSS_MM, 0.0), turn), n % 2 == 0))
    };
    of_hull.chain(of_gear).flat_map(feet).take(MOST_STEPS as usize * 20).collect()
}

/// The crossings of a grid over the hull, with the lines along and across the boat on which it stands now.
fn grid(plan: &Plan, from: Spot) -> Vec<(Spot, bool)> {
    let (low, high) = plan.hull.form.deck_outline().bounds();
    let lines = |low: f64, high: f64, pitch: f64, coarse: f64, now: f64| {
        let pitch = if high - low > pitch * MOST_STEPS { (high - low) / MOST_STEPS } else { pitch };
        let first = (low / pitch).ceil();
        let count = ((high / pitch).floor() - first).clamp(-1.0, MOST_STEPS) as i32;
        let at = move |n: i32| (first + f64::from(n)) * pitch;
        let each = (0..=count).map(move |n| (at(n), (at(n) / coarse).fract() == 0.0));
        each.chain(std::iter::once((now, true))).collect::<Vec<_>>()
    };
    let columns = lines(low.x, high.x, ALONG_MM, COARSE_ALONG_MM, from.x);
    let rows = lines(low.y, high.y, ACROSS_MM, COARSE_ACROSS_MM, from.y);
    let crossing = |(x, coarse): (f64, bool)| {
        let rows = rows.clone();
        rows.into_iter().map(move |(y, also)| (Spot::new(x, y), coarse && also))
    };
    columns.into_iter().flat_map(crossing).collect()
}

/// Whether a place is on the hull, holds the thing, and is free of everything that is not in its way already.
pub(super) fn is_free(plan: &Plan, around: &Surroundings<'_>, study: &Study, to: &Move) -> bool {
    // A seat's place is judged by a whole study: all that is reached and all that is in the way changes with it.
    let Some(gear) = to.moved(plan) else { return true };
    let Some(item) = item(plan, study, &gear) else { return false };
    stands(plan, &gear, &item) && clears(plan, around, study, &item)
}

fn item(plan: &Plan, study: &Study, gear: &Gear) -> Option<RigItem> {
    RigItem::of(plan, gear, study.rig.item(gear.id)?.index)
}

/// What its mount needs is there, and its base lies wholly in one zone.
fn stands(plan: &Plan, gear: &Gear, item: &RigItem) -> bool {
    let hull = &plan.hull;
    let zone_at = |spot: Spot| hull.zone_at(spot).map(|zone| zone.id);
    let zone = zone_at(item.at.spot());
    let lies =
        |corner: Spot| hull.form.bottom(corner).is_some() && (item.level != Level::Deck || zone_at(corner) == zone);
    let flat = match gear.mount {
        Mount::Track | Mount::Inserts | Mount::Existing | Mount::Scupper => true,
        _ => item.base.polygon().corners.into_iter().all(lies),
    };
    item.fit.is_held() && hull.form.bottom(item.at.spot()).is_some() && flat
}

/// No other gear, no person, seat, skin or foam is in its place, and no motion is hindered more than now.
fn clears(plan: &Plan, around: &Surroundings<'_>, study: &Study, item: &RigItem) -> bool {
    let clearance = &study.clearance;
    // By motion: out of the paddle's way on one side into its way on the other is no worse.
    let motion = |of: usize| clearance.envelopes.get(of).map(|envelope| envelope.motion);
    let before = |envelope: usize| {
        let same =
            clearance.intrusions.iter().filter(|i| i.gear == item.gear && motion(i.envelope) == motion(envelope));
        same.map(|i| i.depth_mm).fold(0.0, f64::max)
    };
    let rig = || Rig { items: vec![item.clone()] };
    around.overlaps(item).next().is_none()
        && against_hull(plan, &rig(), &[Space::of(&item.solids)], &study.reach.body).is_empty()
        && around.intrusions(item).all(|i| i.depth_mm <= before(i.envelope))
}

/// Whether two things at their new places leave each other room.
pub(super) fn apart(plan: &Plan, study: &Study, one: &Move, other: &Move) -> bool {
    let item = |to: &Move| item(plan, study, &to.moved(plan)?);
    let (Some(one), Some(other)) = (item(one), item(other)) else { return true };
    let rig = Rig { items: vec![one] };
    Surroundings::of(plan, &rig, &[]).overlaps(&other).next().is_none()
}
