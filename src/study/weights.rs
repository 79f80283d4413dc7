//! Masses and their centre, for the plan and for the load cases of a day.
//!
//! Only placed gear is aboard. A load case is a switch over the same plan, so every case is a sum over
//! the same few masses with some left out or moved.
//!
//! What scales say goes before the figures: a weighed hull replaces its mass and station, and what a weighed rig has
//! more or less than the plan knows of is carried as a group of its own.

use super::float::loose;
use super::posture::{seated_centre, standing_centre};
use super::power::share;
use super::rig::{Rig, RigItem};
use super::scales::{Scales, Weighing};
use crate::geometry::{Outline, Point, Solid};
use crate::plan::{Aboard, Electric, Gear, Kind, Mount, Plan};
use crate::units::{Length, Mass, Quantity};

/// A livewell is filled to this share of the height of its largest body; walls are neglected.
/// Common practice, no source: head space and overflow take the upper quarter.
pub const LIVEWELL_FILL: f64 = 0.75;

/// Masses and their centre.
#[derive(Clone, Debug, Default)]
pub struct Weights {
    /// By group, in the order hull, angler, gear, battery, water aboard, and *unaccounted* where the rig was weighed;
    /// together the case *as planned*.
    pub groups: Vec<Group>,
    /// The load cases, *as planned* first.
    pub cases: Vec<LoadCase>,
    /// All but the hull, as planned.
    pub load: Mass,
    /// That load over the rating, percent.
    pub load_percent: f64,
    /// What scales said, and was used.
    pub scales: Scales,
    /// What the figures make of the rigged boat that stood on the scales.
    pub known: Option<Aboard>,
}

/// The mass of a group and where it acts.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// `hull`, `angler`, `gear`, `battery`, `water aboard`, `unaccounted`.
    pub name: &'static str,
    /// Its mass; below zero where the scales show less than the plan knows of.
    pub mass: Mass,
    /// Its centre, mm; the boat's origin for a group of no mass.
    pub centre: Point,
}

/// A switch over the same plan: what is aboard in this case.
#[derive(Clone, Debug, PartialEq)]
pub struct LoadCase {
    /// `as planned`, `empty hull`, `angler only`, `battery out`, `livewell full`, `motor up`,
    /// `standing`, `transport`.
    pub name: &'static str,
    /// Total mass.
    pub mass: Mass,
    /// Its centre, mm.
    pub centre: Point,
}

impl Weights {
    /// Adds up the plan.
    pub fn of(plan: &Plan, rig: &Rig) -> Self {
        let scales = Scales::of(plan);
        let mut sums = Sums::default();
        let hull = hull(plan, &scales);
        sums.hull.add(hull.0, hull.1);
        sums.angler.add(plan.angler.mass.value, seated_centre(plan));
        sums.stood.add(plan.angler.mass.value, standing_centre(plan));
        for item in &rig.items {
            if let Some(gear) = plan.gear.get(item.index) {
                sums.take(plan, gear, item);
            }
        }
        if let Some(bilge) = loose::bilge(plan) {
            sums.water.add(Mass::kg(bilge.kg), bilge.centre);
            sums.water_full.add(Mass::kg(bilge.kg), bilge.centre);
        }
        let known = scales.rigged.as_ref().map(|weighing| sums.known(weighing));
        sums.unaccounted = scales.rigged.as_ref().zip(known).map(|(weighing, known)| known.missing(weighing.found));
        let rating = plan.hull.rating.value.to_kg();
        let extra = sums.unaccounted.unwrap_or_default().kg;
        let load = Mass::kg(sums.angler.kg + sums.gear.kg + sums.battery.kg + sums.water.kg + extra);
        Self {
            groups: sums.groups(),
            cases: sums.cases(),
            load,
            load_percent: if rating > 0.0 { 100.0 * load.to_kg() / rating } else { 0.0 },
            scales,
            known: known.map(Heap::aboard),
        }
    }

    /// Gear and batteries aboard.
    pub fn rig(&self) -> Aboard {
        let mut sum = Heap::default();
        for group in self.groups.iter().filter(|group| ["gear", "battery"].contains(&group.name)) {
            sum.add(group.mass, group.centre);
        }
        sum.aboard()
    }

    /// The load case of this name.
    pub fn case(&self, name: &str) -> Option<&LoadCase> {
        self.cases.iter().find(|case| case.name == name)
    }

    /// The group of this name.
    pub fn group(&self, name: &str) -> Option<&Group> {
        self.groups.iter().find(|group| group.name == name)
    }

    /// Where the boat's whole mass acts as planned, mm.
    pub fn centre(&self) -> Point {
        self.cases.first().map(|case| case.centre).unwrap_or_default()
    }
}

/// Mass of the bare hull and where it acts: as weighed, or by the plan's figures. Height and side are the figures' always.
pub fn hull(plan: &Plan, scales: &Scales) -> (Mass, Point) {
    let figures = plan.hull.centre_mm;
    match &scales.bare {
        Some(weighing) => (weighing.found.mass, Point { x: weighing.found.x.to_mm(), ..figures }),
        None => (plan.hull.mass.value, figures),
    }
}

/// Whether it stays on the hull on the roof of a car: what is screwed, riveted or set in does; what
/// slides out of a track, is strapped or clamped, and every battery, is carried apart.
pub fn stays_for_transport(gear: &Gear) -> bool {
    !is_battery(gear) && !matches!(gear.mount, Mount::Track | Mount::Strap | Mount::Clamp)
}

/// Water in a livewell when full, and where it acts; `None` for other gear. One litre is one kilogram.
///
/// The volume is that of its tank up to [`LIVEWELL_FILL`] of its height.
pub fn livewell_water(gear: &Gear, item: &RigItem) -> Option<(Mass, Point)> {
    let tank = livewell_tank(gear, item)?;
    let height = tank.low + tank.height() * LIVEWELL_FILL / 2.0;
    Some((Mass::kg(room(tank) * LIVEWELL_FILL / 1.0e6), tank.outline.middle().at(height)))
}

/// The largest body of a livewell; `None` for other gear.
pub(super) fn livewell_tank<'a>(gear: &Gear, item: &'a RigItem) -> Option<&'a Solid> {
    let solids = item.solids.iter().filter(|_| gear.spec.kind == Kind::Livewell);
    solids.max_by(|a, b| room(a).total_cmp(&room(b)))
}

/// Volume of a solid, mm³.
fn room(solid: &Solid) -> f64 {
    let area = match solid.outline {
        Outline::Rect { half_length, half_width, .. } => 4.0 * half_length * half_width,
        Outline::Circle { radius, .. } => std::f64::consts::PI * radius * radius,
    };
    area * solid.height()
}

/// A livewell carries water in the plan when its pump runs in some phase of the outing, or when no
/// pump of its own is known.
pub(super) fn livewell_in_use(plan: &Plan, gear: &Gear) -> bool {
    match &gear.spec.electric {
        Some(Electric::Load { runs, .. }) => plan
            .outing
            .phases
            .iter()
            .enumerate()
            .any(|(at, phase)| share(phase, plan.outing.is_dark(at), gear.id, Some(*runs)) > 0.0),
        _ => true,
    }
}

fn is_battery(gear: &Gear) -> bool {
    gear.spec.kind == Kind::Battery || matches!(gear.spec.electric, Some(Electric::Battery { .. }))
}

/// A motor's centre when stowed: a quarter turn about its mount towards the middle of the boat. What
/// hung below the mount lies beside it at the mount's height; a centre above the mount stays.
fn stowed(plan: &Plan, item: &RigItem) -> Point {
    let (centre, hung) = (item.centre(), item.at.z - item.centre().z);
    if hung <= 0.0 {
        return centre;
    }
    let inboard = if item.at.x < plan.hull.length.value.to_mm() / 2.0 { 1.0 } else { -1.0 };
    Point::new(centre.x + inboard * hung, centre.y, item.at.z)
}

/// A mass and its moments about the origin.
#[derive(Clone, Copy, Default)]
struct Heap {
    kg: f64,
    x: f64,
    y: f64,
    z: f64,
}

impl Heap {
    fn add(&mut self, mass: Mass, at: Point) {
        let kg = mass.to_kg();
        *self = self.with(Self { kg, x: kg * at.x, y: kg * at.y, z: kg * at.z });
    }

    fn with(self, other: Self) -> Self {
        Self { kg: self.kg + other.kg, x: self.x + other.x, y: self.y + other.y, z: self.z + other.z }
    }

    /// What was weighed beyond this, in mass and moment. It is taken to be spread over the rig (cables, brackets), so
    /// at the side and height of what is known: scales say nothing of these.
    fn missing(self, found: Aboard) -> Self {
        let (kg, at) = (found.mass.to_kg() - self.kg, self.centre());
        Self { kg, x: found.mass.to_kg() * found.x.to_mm() - self.x, y: kg * at.y, z: kg * at.z }
    }

    fn aboard(self) -> Aboard {
        Aboard { mass: Mass::kg(self.kg), x: Length::mm(self.centre().x) }
    }

    fn centre(self) -> Point {
        if self.kg.abs() > NO_MASS_KG {
            Point::new(self.x / self.kg, self.y / self.kg, self.z / self.kg)
        } else {
            Point::default()
        }
    }
}

/// Less than this acts nowhere, kg.
const NO_MASS_KG: f64 = 1.0e-9;

/// Everything the cases are put together from.
#[derive(Default)]
struct Sums {
    hull: Heap,
    angler: Heap,
    /// The angler, standing.
    stood: Heap,
    /// All gear but batteries.
    gear: Heap,
    /// The same with motors stowed.
    gear_stowed: Heap,
    /// What of the gear stays for transport.
    fixed: Heap,
    battery: Heap,
    /// Water in the livewells that the day uses, and in the bilge.
    water: Heap,
    /// Water in all livewells, and in the bilge.
    water_full: Heap,
    /// What a weighed rig has beyond the plan's figures.
    unaccounted: Option<Heap>,
}

impl Sums {
    /// What the figures make of the rigged boat on the scales: the hull with the gear it had aboard then.
    fn known(&self, weighing: &Weighing) -> Heap {
        let today = self.gear.with(self.battery);
        let gear = weighing.planned.map_or(today, |then| {
            let (kg, at) = (then.mass.to_kg(), today.centre());
            Heap { kg, x: kg * then.x.to_mm(), y: kg * at.y, z: kg * at.z }
        });
        self.hull.with(gear)
    }

    fn take(&mut self, plan: &Plan, gear: &Gear, item: &RigItem) {
        let (mass, centre) = (gear.spec.mass.value, item.centre());
        if is_battery(gear) {
            self.battery.add(mass, centre);
        } else {
            let up = if gear.spec.kind == Kind::Motor { stowed(plan, item) } else { centre };
            self.gear.add(mass, centre);
            self.gear_stowed.add(mass, up);
        }
        if stays_for_transport(gear) {
            self.fixed.add(mass, centre);
        }
        if let Some((water, at)) = livewell_water(gear, item) {
            self.water_full.add(water, at);
            if livewell_in_use(plan, gear) {
                self.water.add(water, at);
            }
        }
    }

    fn groups(&self) -> Vec<Group> {
        let groups = [
            ("hull", self.hull),
            ("angler", self.angler),
            ("gear", self.gear),
            ("battery", self.battery),
            ("water aboard", self.water),
        ];
        groups
            .into_iter()
            .chain(self.unaccounted.map(|heap| ("unaccounted", heap)))
            .map(|(name, heap)| Group { name, mass: Mass::from_base(heap.kg), centre: heap.centre() })
            .collect()
    }

    fn cases(&self) -> Vec<LoadCase> {
        let sum = |parts: &[Heap]| parts.iter().fold(Heap::default(), |sum, part| sum.with(*part));
        let Self { hull, angler, stood, gear, gear_stowed, fixed, battery, water, water_full, unaccounted } = *self;
        // Where the rig is aboard, so is what the plan does not know of it. Transport carries a part of the rig only.
        let more = unaccounted.unwrap_or_default();
        [
            ("as planned", sum(&[hull, angler, gear, battery, water, more])),
            ("empty hull", hull),
            ("angler only", sum(&[hull, angler])),
            ("battery out", sum(&[hull, angler, gear, water, more])),
            ("livewell full", sum(&[hull, angler, gear, battery, water_full, more])),
            ("motor up", sum(&[hull, angler, gear_stowed, battery, water, more])),
            ("standing", sum(&[hull, stood, gear, battery, water, more])),
            ("transport", sum(&[hull, fixed])),
        ]
        .map(|(name, heap)| LoadCase { name, mass: Mass::from_base(heap.kg), centre: heap.centre() })
        .into()
    }
}
