//! Sonar heads: how deep they lie, what stands in their cone of sound, what they are near.
//!
//! The cone opens straight down in the boat from the middle of the head's underside and is tried by lines of equal
//! shares of its solid angle, each exact against boxes and upright cylinders, and in steps against the hull. A head
//! that looks ahead or aside by its bracket is not followed. A head inside the hull sends through the skin: of the
//! hull only what is not under it could be in the way, and is not tried.

use super::rig::{Rig, RigItem};
use super::shadow::Bodies;
use crate::geometry::{Form, Point, Spot, WaterPlane, turned};
use crate::plan::{Feature, FeatureKind, Gear, GearId, Kind, Level, Plan};
use crate::units::{Angle, Figure};

/// Full angle of the cone where a spec does not say, degrees: between 11 and 20 at 200 kHz, from memory. A guess.
pub const BEAM_DEG: f64 = 20.0;

/// Rings of lines round the cone's axis, and lines a ring.
const RINGS: (u8, u8) = (5, 12);

/// The widest cone that is tried, degrees: half of it stays clear of level.
const WIDEST_DEG: f64 = 170.0;

/// Greatest step down a line against the hull, mm, and the most steps.
const STEP_MM: f64 = 5.0;
const MOST_STEPS: f64 = 40.0;

/// What a face may lie in the hull's skin without being in it, mm: its form is straight between points.
const SKIN_MM: f64 = 1.0;

/// The sonar heads aboard.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Transducers {
    /// In the plan's order.
    pub heads: Vec<Head>,
}

/// One sonar head.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// The gear.
    pub gear: GearId,
    /// The middle of its underside: of the lowest body. Boat frame, mm.
    pub face: Point,
    /// Full angle of its cone, degrees, and where it comes from.
    pub beam: Figure<Angle>,
    /// Height of the face over the water at rest, mm; negative under it.
    pub over_water_mm: f64,
    /// Height of the face over the lowest line of the hull, mm; negative below it.
    pub over_hull_mm: f64,
    /// Angle between the cone's axis and the plumb line at rest, degrees.
    pub off_plumb_deg: f64,
    /// What stands in the cone, most first.
    pub cut: Vec<Cut>,
    /// How much of the cone all of it takes together, percent.
    pub cut_percent: f64,
    /// Motors, drives and rudders that reach under the hull.
    pub near: Vec<Near>,
}

/// What stands in a cone of sound.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cutter {
    /// A piece of gear.
    Gear(GearId),
    /// The hull.
    Hull,
}

/// How much of a cone something takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// What does.
    pub by: Cutter,
    /// How much of it, percent.
    pub percent: f64,
}

/// Something that stirs the water near a head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Near {
    /// The gear.
    pub gear: GearId,
    /// Whether it has a propeller's wash: a motor. Else a pedal drive or a rudder.
    pub motor: bool,
    /// Free distance from the face to what is under the hull, mm.
    pub distance_mm: f64,
    /// How far the face is to the side of it, mm.
    pub aside_mm: f64,
    /// Whether the face lies ahead of it, out of its wash.
    pub ahead: bool,
}

impl Transducers {
    /// Looks at every head that is aboard.
    pub fn of(plan: &Plan, form: &Form, rig: &Rig, water: &WaterPlane) -> Self {
        let aboard = rig.items.iter().filter_map(|item| {
            let gear = plan.gear.get(item.index).filter(|gear| gear.spec.kind == Kind::Transducer)?;
            let lowest = item.solids.iter().min_by(|a, b| a.low.total_cmp(&b.low))?;
            Some((gear, item, lowest.outline.middle().at(lowest.low)))
        });
        let heads: Vec<_> = aboard.collect();
        if heads.is_empty() {
            return Self::default();
        }
        let place = Waters::of(plan, form, rig, water);
        Self { heads: heads.into_iter().map(|(gear, item, face)| place.head(gear, item, face)).collect() }
    }

    /// The report of a head, if this gear is one and is aboard.
    pub fn head(&self, gear: GearId) -> Option<&Head> {
        self.heads.iter().find(|head| head.gear == gear)
    }
}

impl Head {
    /// Diameter of what the cone covers at a depth under the face, in the depth's unit.
    pub fn footprint(&self, depth: f64) -> f64 {
        footprint(depth, self.beam.value.to_deg())
    }
}

/// Diameter of what a cone covers at a depth: `2 d tan(a / 2)` with `d` the depth and `a` the full angle. Valid
/// under 180 degrees. Source: a sonar maker's table of cones.
pub fn footprint(depth: f64, beam_deg: f64) -> f64 {
    2.0 * depth * (beam_deg.clamp(0.0, WIDEST_DEG).to_radians() / 2.0).tan()
}

/// What is around the heads.
struct Waters<'a> {
    plan: &'a Plan,
    form: &'a Form,
    rig: &'a Rig,
    water: &'a WaterPlane,
    bodies: Bodies<Cutter>,
    lowest_hull: f64,
}

impl<'a> Waters<'a> {
    fn of(plan: &'a Plan, form: &'a Form, rig: &'a Rig, water: &'a WaterPlane) -> Self {
        let outside = rig.items.iter().filter(|item| item.level != Level::Inside);
        let solids = outside.flat_map(|item| item.solids.iter().map(|solid| (Cutter::Gear(item.gear), *solid)));
        let points = form.sections.iter().flat_map(|section| &section.points_mm);
        let lowest_hull = points.map(|(_, z)| *z).fold(f64::INFINITY, f64::min);
        Self { plan, form, rig, water, bodies: Bodies::of(solids), lowest_hull }
    }

    fn head(&self, gear: &Gear, item: &RigItem, face: Point) -> Head {
        let beam = gear.spec.beam.unwrap_or_else(|| Figure::guess(Angle::deg(BEAM_DEG)));
        let (cut, cut_percent) = self.cut(item, face, beam.value.to_deg());
        Head {
            gear: gear.id,
            face,
            beam,
            over_water_mm: self.water.height(face),
            over_hull_mm: face.z - self.lowest_hull,
            off_plumb_deg: off_plumb_deg(self.water),
            cut,
            cut_percent,
            near: self.near(item, face),
        }
    }

    /// What stands in the cone of a head.
    fn cut(&self, item: &RigItem, face: Point, beam_deg: f64) -> (Vec<Cut>, f64) {
        let inside = item.level == Level::Inside;
        let deepest = if inside { self.bodies.lowest() } else { self.bodies.lowest().min(self.lowest_hull) };
        let deep = face.z - deepest;
        if !deep.is_finite() || deep <= 0.0 {
            return (Vec::new(), 0.0);
        }
        let ends = cone(face, deep + 1.0, beam_deg);
        let mut shadows = self.bodies.hide(face, &ends, |of| of != Cutter::Gear(item.gear));
        if !inside {
            shadows.add(Cutter::Hull, &ends, |end| self.meets_hull(face, end));
        }
        let cut = shadows.shares().into_iter().map(|(by, percent)| Cut { by, percent });
        (cut.collect(), shadows.together())
    }

    /// Whether a line down from a face goes into the hull, tried in steps down to its lowest line.
    fn meets_hull(&self, face: Point, end: Point) -> bool {
        let deep = face.z - self.lowest_hull;
        let steps = (deep / STEP_MM).ceil().clamp(0.0, MOST_STEPS);
        let way = end - face;
        (0..steps as u32).any(|step| {
            let share = (deep * (f64::from(step) + 0.5) / steps / -way.z).min(1.0);
            let at = Point::new(face.x + way.x * share, face.y + way.y * share, face.z + way.z * share);
            let bottom = self.form.bottom(at.spot());
            bottom.is_some_and(|bottom| at.z > bottom + SKIN_MM) && !self.in_recess(at)
        })
    }

    /// Whether a point lies in a recess for a head, where the hull is not.
    fn in_recess(&self, at: Point) -> bool {
        self.plan.hull.features.iter().any(|feature| recess_holds(feature, at))
    }

    /// Motors, drives and rudders with something under the lowest line of the hull.
    fn near(&self, item: &RigItem, face: Point) -> Vec<Near> {
        let others = self.rig.items.iter().filter(|other| other.gear != item.gear && other.level != Level::Inside);
        let near = others.filter_map(|other| {
            let kind = self.plan.gear.get(other.index)?.spec.kind;
            let under = || other.solids.iter().filter(|solid| solid.low < self.lowest_hull);
            if !matches!(kind, Kind::Motor | Kind::Other) || under().next().is_none() {
                return None;
            }
            let least = |of: &dyn Fn(&crate::geometry::Solid) -> f64| under().map(of).fold(f64::INFINITY, f64::min);
            let bounds = |solid: &crate::geometry::Solid| solid.outline.bounds();
            let aside = |solid: &crate::geometry::Solid| {
                let (low, high) = bounds(solid);
                (low.y - face.y).max(face.y - high.y).max(0.0)
            };
            Some(Near {
                gear: other.gear,
                motor: kind == Kind::Motor,
                distance_mm: least(&|solid| solid.distance_to(face)),
                aside_mm: least(&aside),
                ahead: under().all(|solid| face.x >= bounds(solid).1.x),
            })
        });
        near.collect()
    }
}

fn recess_holds(feature: &Feature, at: Point) -> bool {
    let FeatureKind::TransducerRecess { length, width, depth } = &feature.kind else { return false };
    let own = at - feature.at_mm;
    let beside = own.x.abs() > length.to_mm() / 2.0 || own.y.abs() > width.to_mm() / 2.0;
    !beside && own.z <= depth.to_mm() + SKIN_MM
}

/// Ends of lines down a cone: its axis and rings that part its solid angle equally, the last one its edge.
fn cone(face: Point, deep: f64, beam_deg: f64) -> Vec<Point> {
    let half = (beam_deg.clamp(0.0, WIDEST_DEG) / 2.0).to_radians();
    let (rings, lines) = RINGS;
    let ring = |number: u8| {
        let cos = 1.0 - (1.0 - half.cos()) * f64::from(number) / f64::from(rings);
        let out = deep * cos.acos().tan();
        (0..lines).map(move |line| {
            let way = turned(Spot::new(out, 0.0), f64::from(line) * 360.0 / f64::from(lines));
            Point::new(face.x + way.x, face.y + way.y, face.z - deep)
        })
    };
    [Point { z: face.z - deep, ..face }].into_iter().chain((1..=rings).flat_map(ring)).collect()
}

/// Angle between the boat's own down and the plumb line, degrees.
fn off_plumb_deg(water: &WaterPlane) -> f64 {
    let up = water.height(Point::new(0.0, 0.0, 1.0)) - water.height(Point::default());
    up.clamp(-1.0, 1.0).acos().to_degrees()
}
