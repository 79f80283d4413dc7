//! Masses and their centre, for the plan and for the load cases of a day.
//!
//! Only placed gear is aboard. A load case is a switch over the same plan, so every case is a sum over
//! the same few masses with some left out or moved.

use super::float::loose;
use super::posture::{seated_centre, standing_centre};
use super::power::share;
use super::rig::{Rig, RigItem};
use crate::geometry::{Outline, Point, Solid};
use crate::plan::{Electric, Gear, Kind, Mount, Plan};
use crate::units::{Mass, Quantity};

/// A livewell is filled to this share of the height of its largest body; walls are neglected.
/// Common practice, no source: head space and overflow take the upper quarter.
pub const LIVEWELL_FILL: f64 = 0.75;

/// Masses and their centre.
#[derive(Clone, Debug, Default)]
pub struct Weights {
    /// By group, in the order hull, angler, gear, battery, water aboard; together the case *as planned*.
    pub groups: Vec<Group>,
    /// The load cases, *as planned* first.
    pub cases: Vec<LoadCase>,
    /// All but the hull, as planned.
    pub load: Mass,
    /// That load over the rating, percent.
    pub load_percent: f64,
}

/// The mass of a group and where it acts.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// `hull`, `angler`, `gear`, `battery`, `water aboard`.
    pub name: &'static str,
    /// Its mass.
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
        let mut sums = Sums::default();
        sums.hull.add(plan.hull.mass.value, plan.hull.centre_mm);
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
        let rating = plan.hull.rating.value.to_kg();
        let load = Mass::kg(sums.angler.kg + sums.gear.kg + sums.battery.kg + sums.water.kg);
        Self {
            groups: sums.groups(),
            cases: sums.cases(),
            load,
            load_percent: if rating > 0.0 { 100.0 * load.to_kg() / rating } else { 0.0 },
        }
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
        Some(Electric::Load { runs, .. }) => {
            plan.outing.phases.iter().any(|phase| share(phase, gear.id, Some(*runs)) > 0.0)
        }
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

    fn centre(self) -> Point {
        if self.kg > 0.0 { Point::new(self.x / self.kg, self.y / self.kg, self.z / self.kg) } else { Point::default() }
    }
}

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
}

impl Sums {
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
        [
            ("hull", self.hull),
            ("angler", self.angler),
            ("gear", self.gear),
            ("battery", self.battery),
            ("water aboard", self.water),
        ]
        .map(|(name, heap)| Group { name, mass: Mass::from_base(heap.kg), centre: heap.centre() })
        .into()
    }

    fn cases(&self) -> Vec<LoadCase> {
        let sum = |parts: &[Heap]| parts.iter().fold(Heap::default(), |sum, part| sum.with(*part));
        let Self { hull, angler, stood, gear, gear_stowed, fixed, battery, water, water_full } = *self;
        [
            ("as planned", sum(&[hull, angler, gear, battery, water])),
            ("empty hull", hull),
            ("angler only", sum(&[hull, angler])),
            ("battery out", sum(&[hull, angler, gear, water])),
            ("livewell full", sum(&[hull, angler, gear, battery, water_full])),
            ("motor up", sum(&[hull, angler, gear_stowed, battery, water])),
            ("standing", sum(&[hull, stood, gear, battery, water])),
            ("transport", sum(&[hull, fixed])),
        ]
        .map(|(name, heap)| LoadCase { name, mass: Mass::from_base(heap.kg), centre: heap.centre() })
        .into()
    }
}
