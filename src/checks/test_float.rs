//! A box of a boat whose floating can be worked out by hand.
//!
//! 3600 mm long, 800 mm wide, as high as a test wants. Together with an angler of 80 kg it weighs [`KG`] and
//! draws [`DRAFT`] level: 999.1 kg/m³ x 3.6 m x 0.8 m x 0.08 m. Centre of buoyancy 40 mm over the keel,
//! metacentres 800²/(12 x 80) and 3600²/(12 x 80) mm over that.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::sync::Arc;

use super::test_power;
use super::{Finding, Severity};
use crate::geometry::{Form, Point, Polygon, Section};
use crate::plan::*;
use crate::study::rig::Rig;
use crate::study::weights::Weights;
use crate::units::{Figure, Length, Mass};

pub(super) use super::test_power::findings;

pub(super) const DRAFT: f64 = 80.0;
pub(super) const KG: f64 = 999.1 * 3.6 * 0.8 * DRAFT / 1000.0;
pub(super) const ANGLER_KG: f64 = 80.0;
const BUOYANCY: f64 = DRAFT / 2.0;
const RADIUS: f64 = 800.0 * 800.0 / (12.0 * DRAFT);
const LONG_RADIUS: f64 = 3600.0 * 3600.0 / (12.0 * DRAFT);
/// Height of the metacentre over the keel, mm: 706.7.
pub(super) const METACENTRE: f64 = BUOYANCY + RADIUS;

/// The box with its gunwale at a height, and the centre of its whole weight.
pub(super) fn boat(depth: f64, centre: Point) -> Plan {
    let mut plan = test_power::plan();
    let section = |x_mm| Section { x_mm, points_mm: vec![(0.0, 0.0), (400.0, 0.0), (400.0, depth)] };
    let hull = Arc::make_mut(&mut plan.hull);
    hull.form = Form { sections: vec![section(0.0), section(3600.0)] }.into();
    (hull.seat.back_aft, hull.seat.back_fore) = (Length::mm(1300.0), Length::mm(1700.0));
    plan.outing.water_temperature = crate::units::Temperature::celsius(15.0);
    ballast(&mut plan, KG, centre);
    plan
}

/// Gives the hull the mass and centre that make the whole plan weigh so much there.
pub(super) fn ballast(plan: &mut Plan, kg: f64, centre: Point) {
    let hull = Arc::make_mut(&mut plan.hull);
    (hull.mass, hull.centre_mm) = (Figure::measured(Mass::kg(0.0)), Point::default());
    let others = Weights::of(plan, &Rig::of(plan)).cases[0].clone();
    let (theirs, at) = (others.mass.to_kg(), others.centre);
    let mine = |whole: f64, other: f64| (kg * whole - theirs * other) / (kg - theirs);
    let hull = Arc::make_mut(&mut plan.hull);
    hull.mass = Figure::measured(Mass::kg(kg - theirs));
    hull.centre_mm = Point::new(mine(centre.x, at.x), mine(centre.y, at.y), mine(centre.z, at.z));
}

/// A centre of weight amidships: the box lies level.
pub(super) fn middle(z: f64) -> Point {
    Point::new(1800.0, 0.0, z)
}

/// A centre 200 mm over the keel that trims the box, positive bow down. Exact for walls upright under water and
/// above: `x = tan t (KB + BM + BM tan² t / 2 - KG)`.
pub(super) fn trimmed(deg: f64) -> Point {
    Point { x: 1800.0 + aside(deg, LONG_RADIUS), ..middle(200.0) }
}

/// A centre 200 mm over the keel that lists the box, positive to starboard; by the same formula.
pub(super) fn listed(deg: f64) -> Point {
    Point { y: -aside(deg, RADIUS), ..middle(200.0) }
}

fn aside(deg: f64, radius: f64) -> f64 {
    let tan = deg.to_radians().tan();
    tan * (BUOYANCY + radius + radius * tan * tan / 2.0 - 200.0)
}

/// The one finding of a check, so heavy.
pub(super) fn one(plan: &Plan, check: &str, severity: Severity) -> Finding {
    let found = findings(plan, check);
    let severities: Vec<Severity> = found.iter().map(|f| f.severity).collect();
    assert_eq!(severities, [severity], "{check}: {found:#?}");
    assert!(found[0].margin < 0.0 && found[0].value.is_finite() && found[0].limit.is_finite(), "{found:?}");
    found[0].clone()
}

/// What, how far and where of `Move cooler 938 mm forward, or ...`.
pub(super) fn distance(remedy: &str) -> (String, f64, String) {
    let first = remedy.strip_prefix("Move ").and_then(|text| text.split([',', '.']).next()).unwrap();
    let (before, way) = first.split_once(" mm ").unwrap();
    let (label, mm) = before.rsplit_once(' ').unwrap();
    (label.into(), mm.parse().unwrap(), way.into())
}

/// A tank of 20 litres amidships whose pump never runs: empty as planned.
pub(super) fn livewell(plan: &mut Plan) {
    let mut pump = test_power::load(12.0, 1.0, 1.0);
    if let Electric::Load { runs, .. } = &mut pump {
        *runs = Runs { day: 0.0, dark: 0.0 };
    }
    let id = test_power::add(plan, "livewell", Kind::Livewell, Figure::measured(Mass::kg(0.0)), Some(pump));
    let shape = Shape::Box(400.0, 250.0, 200.0);
    let gear = plan.gear_mut(id).unwrap();
    Arc::make_mut(&mut gear.spec).bodies = vec![Body { middle_mm: Point::new(0.0, 0.0, 100.0), shape }];
}

/// A well from 1000 to 2600 mm with its floor at a height and a scupper at 1100 and 2500 mm.
pub(super) fn well(plan: &mut Plan, floor: f64) {
    let hull = Arc::make_mut(&mut plan.hull);
    hull.zones = vec![Zone {
        id: ZoneId(1),
        name: test_power::name("well"),
        outline_mm: Polygon::rect((1000.0, -250.0).into(), (2600.0, 250.0).into()),
        height: Figure::measured(Length::mm(floor)),
        curve: Curve::Flat,
        wall: Figure::measured(Length::mm(6.0)),
        inside: Figure::measured(Length::mm(60.0)),
        drilling: Drilling::Allowed,
        edge: true,
        upright: false,
    }];
    hull.features.clear();
    for (name, x) in [("scupper, aft", 1100.0), ("scupper, fore", 2500.0)] {
        let [top, bottom, wall] = [38.0, 32.0, 5.0].map(Length::mm);
        feature(plan, name, Point::new(x, 0.0, floor), FeatureKind::Scupper { top, bottom, wall });
    }
}

fn feature(plan: &mut Plan, name: &str, at_mm: Point, kind: FeatureKind) {
    let features = &mut Arc::make_mut(&mut plan.hull).features;
    let id = FeatureId(features.len() as u32 + 1);
    features.push(Feature { id, name: test_power::name(name), at_mm, kind, notes: Note::default() });
}

/// A hatch of 200 by 200 mm.
pub(super) fn hatch(plan: &mut Plan, at: Point) {
    let opening = Opening::Rect(Length::mm(200.0), Length::mm(200.0));
    let [rim, reach] = [20.0, 500.0].map(Length::mm);
    feature(plan, "day hatch", at, FeatureKind::Hatch { opening, rim, hinge: Hinge::Aft, reach });
}

/// A recess amidships for a sonar head, so deep.
pub(super) fn recess(plan: &mut Plan, depth: f64) {
    let [length, width, depth] = [220.0, 110.0, depth].map(Length::mm);
    feature(plan, "recess", Point::new(1800.0, 0.0, 0.0), FeatureKind::TransducerRecess { length, width, depth });
}

/// An open hole that no gear owns.
pub(super) fn open_hole(plan: &mut Plan, x: f64, y: f64) {
    let id = plan.next_hole_id();
    plan.penetrations.push(Penetration {
        id,
        name: test_power::name("old hole"),
        x: Length::mm(x),
        y: Length::mm(y),
        bore: Length::mm(8.0),
        purpose: Purpose::Cable,
        fate: Fate::Open,
        seal: Seal::None,
        left: None,
    });
}

/// A weightless sonar head of 30 mm with its face at a height.
pub(super) fn sonar(plan: &mut Plan, face: f64) {
    let id = head(plan);
    let deck = plan.hull.form.gunwale(1800.0).unwrap().1;
    plan.gear_mut(id).unwrap().place.as_mut().unwrap().raise = Length::mm(face - deck);
}

/// The same held under the hull amidships.
pub(super) fn under_the_hull(plan: &mut Plan) {
    let id = head(plan);
    plan.gear_mut(id).unwrap().place.as_mut().unwrap().level = Level::Under;
}

fn head(plan: &mut Plan) -> GearId {
    let id = test_power::add(plan, "sonar head", Kind::Transducer, Figure::measured(Mass::kg(0.0)), None);
    let gear = plan.gear_mut(id).unwrap();
    let shape = Shape::Box(160.0, 40.0, 30.0);
    Arc::make_mut(&mut gear.spec).bodies = vec![Body { middle_mm: Point::new(0.0, 0.0, 15.0), shape }];
    id
}

/// Lets the day's phase claim a posture.
pub(super) fn claim(plan: &mut Plan, posture: Posture) {
    plan.outing.phases[0].posture = posture;
}

pub(super) fn sit(plan: &mut Plan, height: SeatHeight) {
    plan.angler.seat.height = height;
}

pub(super) fn put_across(plan: &mut Plan, gear: GearId, y: f64) {
    plan.gear_mut(gear).unwrap().place.as_mut().unwrap().y = Length::mm(y);
}

pub(super) fn pin(plan: &mut Plan, gear: GearId) {
    plan.gear_mut(gear).unwrap().pinned = true;
}

/// The plan with one limit set otherwise.
pub(super) fn limited(plan: &Plan, limit: &str, value: f64) -> Plan {
    let mut plan = plan.clone();
    plan.limits.push(LimitOverride { limit: limit.into(), value, reason: test_power::name("trial") });
    plan
}
