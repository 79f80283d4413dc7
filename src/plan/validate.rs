//! The door: what a plan must satisfy before anything computes with it.
//!
//! Numbers are finite and in range, ids are unique, references point at something. Everything
//! behind this door may assume so; a plan that passes can still be nonsense, and then the checks
//! say so.

mod day;
mod light;
mod senses;
mod tape;
mod wiring;
mod work;

use std::collections::BTreeSet;
use std::fmt;

pub use work::MOST_TICKS;

use super::{Aboard, Electric, FigureRef, Plan, Seat, Spec, Taken};
use crate::geometry::{Form, Point, Polygon};
use crate::shown::Shown;
use crate::units::{Current, Length, Quantity};

/// Most pieces of gear, holes, zones or features a plan may have.
pub const MOST_ITEMS: usize = 5_000;
/// Most readings a plan may have.
pub const MOST_READINGS: usize = 200;

/// The greatest current of anything on a small boat, A. Common practice, no source: a wide frame.
const MOST_AMPS: f64 = 200.0;

/// Why a plan was refused: which field, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The field, as a path a person can follow in the file: `gear 7, mass`.
    pub field: String,
    /// What is wrong with it and what to do.
    pub what: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", Shown(&self.field), Shown(&self.what))
    }
}

impl Plan {
    /// Checks the whole plan; the first few faults, or none.
    pub fn validate(&self) -> Result<(), Vec<Fault>> {
        let mut door = Door::default();
        door.sizes(self);
        door.hull_form(&self.hull);
        door.hull(self);
        door.person(self);
        door.gear(self);
        door.holes(self);
        door.wiring(self);
        door.outing(self);
        door.readings(self);
        door.work(self);
        for revision in &self.revisions {
            if let Err(inner) = revision.plan.validate() {
                door.faults.extend(
                    inner.into_iter().map(|fault| Fault {
                        field: format!("revision \"{}\", {}", revision.name, fault.field),
                        ..fault
                    }),
                );
            }
            door.check(
                revision.plan.revisions.is_empty(),
                &format!("revision \"{}\"", revision.name),
                "a revision cannot hold revisions of its own",
            );
        }
        if door.faults.is_empty() { Ok(()) } else { Err(door.faults) }
    }
}

impl Spec {
    /// Checks a catalogue entry; the first few faults, or none.
    pub fn validate(&self) -> Result<(), Vec<Fault>> {
        let mut door = Door::default();
        door.spec(self, self.key.as_str());
        if door.faults.is_empty() { Ok(()) } else { Err(door.faults) }
    }
}

#[derive(Default)]
struct Door {
    faults: Vec<Fault>,
}

impl Door {
    fn check(&mut self, good: bool, field: &str, what: &str) {
        // A broken file can be broken ten thousand times over; eight are enough to mend it.
        if !good && self.faults.len() < 8 {
            self.faults.push(Fault { field: field.to_string(), what: what.to_string() });
        }
    }

    fn range(&mut self, value: f64, least: f64, most: f64, field: &str, unit: &str) {
        let good = value.is_finite() && value >= least && value <= most;
        self.check(good, field, &format!("{value} {unit} is outside {least} to {most} {unit}"));
    }

    fn currents<'a>(&mut self, currents: impl IntoIterator<Item = &'a Current>, field: &str) {
        for current in currents {
            self.range(current.to_amps(), 0.0, MOST_AMPS, &format!("{field}, current"), "A");
        }
    }

    fn unique<T: Ord + fmt::Display>(&mut self, ids: impl Iterator<Item = T>) {
        let mut seen = BTreeSet::new();
        for id in ids {
            let text = id.to_string();
            self.check(seen.insert(id), &text, "this id is used twice; give one of them a free number");
        }
    }

    fn polygon(&mut self, polygon: &Polygon, field: &str) {
        self.check(
            polygon.corners.len() >= 3 && polygon.corners.len() <= 200,
            field,
            "an outline needs 3 to 200 corners",
        );
        for corner in &polygon.corners {
            self.range(corner.x, -500.0, 8000.0, field, "mm");
            self.range(corner.y, -2000.0, 2000.0, field, "mm");
        }
    }

    fn sizes(&mut self, plan: &Plan) {
        for (count, field) in [
            (plan.gear.len(), "gear"),
            (plan.penetrations.len(), "penetrations"),
            (plan.hull.zones.len(), "zones"),
            (plan.hull.features.len(), "features"),
            (plan.revisions.len(), "revisions"),
            (plan.threads.len(), "threads"),
        ] {
            self.check(count <= MOST_ITEMS, field, &format!("{count} entries; a plan holds at most {MOST_ITEMS}"));
        }
    }

    fn form(&mut self, form: &Form) {
        self.check((2..=200).contains(&form.sections.len()), "hull form", "a form needs 2 to 200 sections");
        for pair in form.sections.windows(2) {
            self.check(
                pair[1].x_mm > pair[0].x_mm,
                &format!("section at {} mm", pair[1].x_mm),
                "sections must run from aft to forward, each further than the one before",
            );
        }
        for section in &form.sections {
            let field = format!("section at {} mm", section.x_mm);
            self.range(section.x_mm, -100.0, 8000.0, &field, "mm");
            self.check((2..=200).contains(&section.points_mm.len()), &field, "a section needs 2 to 200 points");
            for (y, z) in &section.points_mm {
                self.range(*y, 0.0, 1500.0, &field, "mm");
                self.range(*z, -200.0, 2000.0, &field, "mm");
            }
        }
    }

    fn hull(&mut self, plan: &Plan) {
        let hull = &plan.hull;
        self.unique(hull.zones.iter().map(|z| z.id));
        self.unique(hull.features.iter().map(|f| f.id));
        self.check(hull.centre_mm.is_finite(), "hull, centre_mm", "a centre must be three finite numbers");
        for figure in FigureRef::of_hull(plan) {
            self.figure(plan, figure, "hull");
        }
        let seat = &hull.seat;
        for (value, field) in [
            (seat.back_aft, "back_aft"),
            (seat.back_fore, "back_fore"),
            (seat.depth, "depth"),
            (seat.width, "width"),
            (seat.back_height, "back_height"),
        ] {
            self.range(value.to_mm(), 0.0, 7000.0, &format!("hull seat, {field}"), "mm");
        }
        self.check(
            seat.back_fore.to_mm() >= seat.back_aft.to_mm(),
            "hull seat",
            "the foremost setting lies aft of the aftmost",
        );
        self.range(seat.step.to_mm(), 1.0, 500.0, "hull seat, step", "mm");
        for zone in &hull.zones {
            self.polygon(&zone.outline_mm, &format!("{} \"{}\"", zone.id, zone.name));
            for figure in FigureRef::of_zone(zone.id) {
                self.figure(plan, figure, &zone.id.to_string());
            }
            if let super::Curve::Radius(radius) = zone.curve {
                self.range(radius.to_mm(), 20.0, 1e6, &format!("{}, curve", zone.id), "mm");
            }
        }
        for feature in &hull.features {
            let field = format!("{} \"{}\"", feature.id, feature.name);
            self.check(
                feature.at_mm.is_finite() && feature.at_mm.length() < 10_000.0,
                &field,
                "its place must be three finite numbers within 10 m",
            );
            for (_, length) in feature.kind.lengths() {
                self.range(length.to_mm(), 0.0, 5000.0, &field, "mm");
            }
        }
    }

    fn person(&mut self, plan: &Plan) {
        for figure in FigureRef::of_angler() {
            self.figure(plan, figure, "angler");
        }
        self.seat(&plan.angler.seat, "angler seat");
    }

    fn seat(&mut self, seat: &Seat, field: &str) {
        self.range(seat.back.to_mm(), -500.0, 8000.0, &format!("{field}, back"), "mm");
        self.range(seat.recline.to_deg(), 0.0, 60.0, &format!("{field}, recline"), "deg");
    }

    fn gear(&mut self, plan: &Plan) {
        self.unique(plan.gear.iter().map(|g| g.id));
        for gear in &plan.gear {
            let field = format!("{} \"{}\"", gear.id, gear.label);
            self.spec(&gear.spec, &field);
            self.check(
                gear.spec.mounting(gear.mount).is_some(),
                &field,
                &format!("it does not accept the mount \"{}\"", gear.mount.word()),
            );
            if let Some(place) = &gear.place {
                self.range(place.x.to_mm(), -2000.0, 9000.0, &format!("{field}, x"), "mm");
                self.range(place.y.to_mm(), -3000.0, 3000.0, &format!("{field}, y"), "mm");
                self.range(place.raise.to_mm(), -1000.0, 3000.0, &format!("{field}, raise"), "mm");
                self.range(place.turn.to_deg(), -360.0, 360.0, &format!("{field}, turn"), "deg");
            }
        }
    }

    fn spec(&mut self, spec: &Spec, field: &str) {
        self.check(!spec.mounts.is_empty(), field, "gear needs at least one mount");
        self.check(!spec.bodies.is_empty() && spec.bodies.len() <= 32, field, "gear needs 1 to 32 bodies");
        self.range(spec.mass.value.to_kg(), 0.0, 150.0, &format!("{field}, mass"), "kg");
        for body in &spec.bodies {
            self.check(body.middle_mm.is_finite(), field, "a body's middle must be three finite numbers");
            let (x, y, z) = body.shape.size();
            for extent in [x, y, z] {
                self.range(extent, 1.0, 4000.0, &format!("{field}, body"), "mm");
            }
        }
        for (i, mounting) in spec.mounts.iter().enumerate() {
            let twice = spec.mounts[..i].iter().any(|m| m.how == mounting.how);
            self.check(!twice, field, &format!("the mount \"{}\" is listed twice", mounting.how.word()));
            self.check(mounting.holes.len() <= 64, field, "a mount has at most 64 holes");
            for hole in &mounting.holes {
                self.check(hole.at_mm.is_finite(), field, "a hole's place must be two finite numbers");
                self.range(hole.bore.to_mm(), 0.5, 700.0, &format!("{field}, hole"), "mm");
            }
        }
        self.check(
            spec.control.is_none() || spec.is_switched(),
            &format!("{field}, control"),
            "only a load, a motor, a light or a switch unit is switched; strike it",
        );
        self.day_figures(spec, field);
        self.light(spec, field);
        self.senses(spec, field);
        match &spec.electric {
            Some(Electric::Load { volts, typical, peak, standby, runs, .. }) => {
                self.range(volts.to_volts(), 1.0, 60.0, &format!("{field}, volts"), "V");
                self.currents([&typical.value, &peak.value, &standby.value], field);
                self.range(runs.day, 0.0, 1.0, &format!("{field}, runs by day"), "of the time");
                self.range(runs.dark, 0.0, 1.0, &format!("{field}, runs in the dark"), "of the time");
            }
            Some(Electric::Battery { volts, capacity, limit, .. }) => {
                self.range(volts.to_volts(), 1.0, 60.0, &format!("{field}, volts"), "V");
                self.range(capacity.value.base(), 0.5, 500.0, &format!("{field}, capacity"), "Ah");
                self.currents(limit.iter(), field);
            }
            Some(Electric::Converter { efficiency, volts, power, idle }) => {
                self.range(*efficiency, 0.05, 1.0, &format!("{field}, efficiency"), "");
                self.range(volts.to_volts(), 1.0, 60.0, &format!("{field}, volts"), "V");
                self.range(power.to_watts(), 0.0, 5000.0, &format!("{field}, power"), "W");
                self.currents([&idle.value], field);
            }
            Some(Electric::Motor { volts, settings }) => {
                self.range(volts.to_volts(), 1.0, 60.0, &format!("{field}, volts"), "V");
                for setting in settings {
                    self.range(
                        setting.current.value.base(),
                        0.0,
                        200.0,
                        &format!("{field}, setting {}", setting.name),
                        "A",
                    );
                }
            }
            Some(Electric::Switch { each, total, idle, .. }) => self.currents([each, total, &idle.value], field),
            Some(Electric::Protection { total, .. }) => self.currents([total], field),
            None => {}
        }
    }

    fn holes(&mut self, plan: &Plan) {
        self.unique(plan.penetrations.iter().map(|p| p.id));
        for hole in &plan.penetrations {
            let field = format!("{} \"{}\"", hole.id, hole.name);
            self.range(hole.x.to_mm(), -500.0, 8000.0, &format!("{field}, x"), "mm");
            self.range(hole.y.to_mm(), -2000.0, 2000.0, &format!("{field}, y"), "mm");
            self.range(hole.bore.to_mm(), 0.5, 700.0, &format!("{field}, bore"), "mm");
            if let super::Fate::Reused(gear) = hole.fate {
                self.check(
                    plan.gear(gear).is_some(),
                    &field,
                    &format!("it is reused by {gear}, which is not in the plan"),
                );
            }
        }
    }

    fn readings(&mut self, plan: &Plan) {
        let count = plan.readings.len();
        self.check(
            count <= MOST_READINGS,
            "readings",
            &format!("{count} entries; a plan holds at most {MOST_READINGS}"),
        );
        for (index, reading) in plan.readings.iter().enumerate() {
            let field = format!("reading {}", index + 1);
            match &reading.taken {
                Taken::Meter { loads, current } => {
                    self.range(current.to_amps(), 0.0, MOST_AMPS, &format!("{field}, current"), "A");
                    let known: BTreeSet<_> = loads.iter().collect();
                    self.check(!loads.is_empty(), &field, "it names no load; say which were on");
                    self.check(known.len() == loads.len(), &field, "a load is named twice");
                }
                Taken::Scale { x, mass, planned, .. } => {
                    self.range(x.to_mm(), -500.0, 8000.0, &format!("{field}, x"), "mm");
                    self.range(mass.to_kg(), 0.0, 1000.0, &format!("{field}, mass"), "kg");
                    if let Some(Aboard { mass, x }) = planned {
                        self.range(mass.to_kg(), 0.0, 10_000.0, &format!("{field}, planned mass"), "kg");
                        self.range(x.to_mm(), -10_000.0, 20_000.0, &format!("{field}, planned x"), "mm");
                    }
                }
                Taken::Waterline { x, height, load } => {
                    self.range(x.to_mm(), -500.0, 8000.0, &format!("{field}, x"), "mm");
                    self.range(height.to_mm(), -200.0, 2000.0, &format!("{field}, height"), "mm");
                    self.range(load.to_kg(), 0.0, 1000.0, &format!("{field}, load"), "kg");
                }
                Taken::SeatTest { distance, seat, at_mm, .. } => {
                    self.seat_test(&field, distance.map(Length::to_mm), seat.as_ref(), *at_mm);
                }
            }
        }
    }

    fn seat_test(&mut self, field: &str, distance_mm: Option<f64>, seat: Option<&Seat>, at: Option<Point>) {
        if let Some(distance) = distance_mm {
            self.range(distance, 50.0, 3000.0, &format!("{field}, distance"), "mm");
        }
        if let Some(seat) = seat {
            self.seat(seat, &format!("{field}, seat"));
        }
        let near = at.is_none_or(|at| at.is_finite() && at.length() < 10_000.0);
        self.check(near, &format!("{field}, at_mm"), "its place must be three finite numbers within 10 m");
    }

    fn figure(&mut self, plan: &Plan, figure: FigureRef, owner: &str) {
        if let Some(soft) = figure.get(plan)
            && let Err(what) = soft.value.fits(figure)
        {
            self.check(false, &format!("{owner}, {}", figure.label()), &what);
        }
    }
}
