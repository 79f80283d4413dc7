//! What has to move out of the way: motors that turn and tilt, drives lifted out of their well, the posts of a cart,
//! and what must not hang below the hull on the way to the water.
//!
//! Sources of all lengths: common practice, no source.

use super::super::chosen;
use super::super::rig::{Rig, RigItem};
use super::sector::{Layer, quarter};
use super::{Envelope, Motion, Range, block, envelope};
use crate::geometry::{Outline, Point, Solid, Spot, turned};
use crate::plan::{Feature, FeatureKind, Kind, Level, Plan};

/// A motor turns this far each way to steer, degrees.
pub const TURN_DEG: f64 = 60.0;

/// A thin body is turned in no finer steps, degrees.
const LEAST_STEP_DEG: f64 = 1.0;

/// Room beside a motor that tilts, mm. Assumption.
const TILT_ROOM_MM: f64 = 20.0;

/// A drive is lifted this high out of its well, mm.
pub const LIFT_MM: f64 = 500.0;

/// Room round a drive that is lifted, mm.
const LIFT_ROOM_MM: f64 = 50.0;

/// Room round the post of a cart, mm. Assumption.
pub const POST_ROOM_MM: f64 = 10.0;

/// The frame of a cart is this far below the hull, mm. Its posts end at the deck: a crate may stand over them.
/// Assumption.
const POST_BELOW_MM: f64 = 150.0;

/// A cart carries best this far along the boat, as a share of its length.
const CART_AT: f64 = 0.40;

/// Scuppers of a pair lie abreast within this, mm. Assumption.
const ABREAST_MM: f64 = 20.0;

/// How far down trailer and beach reach, mm: further than any gear hangs.
const GROUND_MM: f64 = 2000.0;

/// Motors, drive, cart and transport.
pub(super) fn of(plan: &Plan, rig: &Rig) -> Vec<Envelope> {
    let is_motor = |item: &&RigItem| {
        item.level == Level::Deck && plan.gear.get(item.index).is_some_and(|gear| gear.spec.kind == Kind::Motor)
    };
    let motors: Vec<&RigItem> = rig.items.iter().filter(is_motor).collect();
    let mut all = Vec::new();
    for motor in &motors {
        all.push(turn(plan, motor));
        if !wells(plan).any(|(_, over)| over.contains(motor.at.spot())) {
            all.push(tilt(plan, motor));
        }
    }
    all.extend(wells(plan).filter_map(|well| lift(plan, well, &motors)));
    all.extend(cart(plan));
    all.extend(underside(plan));
    all
}

fn of_motor(motion: Motion, motor: &RigItem, solids: Vec<Solid>) -> Envelope {
    Envelope { owner: Some(motor.gear), ..envelope(motion, true, solids) }
}

/// The bodies of a motor that turn: all but what stands on its mount's face.
fn turning(motor: &RigItem) -> impl Iterator<Item = &Solid> + Clone {
    let face = motor.at.z;
    motor.solids.iter().filter(move |solid| (solid.low - face).abs() > 1.0)
}

/// The shaft: the upright cylinder that reaches lowest, else the middle of the mount.
fn shaft(motor: &RigItem) -> Spot {
    let posts = motor.solids.iter().filter(|solid| matches!(solid.outline, Outline::Circle { .. }));
    posts.min_by(|a, b| a.low.total_cmp(&b.low)).map_or(motor.at.spot(), |post| post.outline.middle())
}

/// Head, handle and lower unit turned about the shaft from side to side.
fn turn(plan: &Plan, motor: &RigItem) -> Envelope {
    let most = chosen(plan, "stow-blocked.turn", TURN_DEG).clamp(0.0, 180.0);
    let axis = shaft(motor);
    of_motor(Motion::MotorTurn, motor, turning(motor).flat_map(|solid| poses(axis, solid, most)).collect())
}

/// A body turned about an axis, in steps so small that each pose covers half of the next: with `w` half its width and
/// `r` its reach from the axis, `w / r`.
fn poses(axis: Spot, solid: &Solid, most: f64) -> impl Iterator<Item = Solid> {
    let (thin, reach) = match solid.outline {
        Outline::Circle { middle, radius } => (radius, middle.distance(axis)),
        Outline::Rect { middle, half_length, half_width, .. } => {
            (half_length.min(half_width), middle.distance(axis) + half_length.hypot(half_width))
        }
    };
    let step = (thin / reach.max(1e-9)).to_degrees().max(LEAST_STEP_DEG);
    let steps = (most / step).ceil() as i32;
    (-steps..=steps).map(move |i| about(axis, solid, most * f64::from(i) / f64::from(steps.max(1))))
}

fn about(axis: Spot, solid: &Solid, deg: f64) -> Solid {
    let middle = |at: Spot| axis + turned(at - axis, deg);
    let outline = match solid.outline {
        Outline::Circle { middle: at, radius } => Outline::Circle { middle: middle(at), radius },
        Outline::Rect { middle: at, half_length, half_width, turn } => {
            Outline::Rect { middle: middle(at), half_length, half_width, turn: turn + deg }
        }
    };
    Solid { outline, ..*solid }
}

/// About the middle of its mount, shaft and lower unit swing up and out over the end of the boat, and the head down
/// and in. The handle is folded first.
fn tilt(plan: &Plan, motor: &RigItem) -> Envelope {
    let pivot = motor.at;
    let axis = shaft(motor);
    let on_shaft = || turning(motor).filter(move |solid| solid.outline.contains(axis));
    let out = if pivot.x < plan.hull.length.value.to_mm() / 2.0 { -1.0 } else { 1.0 };
    let half = on_shaft().map(|solid| half_width(solid, pivot.y)).fold(0.0, f64::max) + TILT_ROOM_MM;
    let below = on_shaft().map(|solid| arm(pivot, solid, solid.low.min(pivot.z))).fold(0.0, f64::max);
    let above = on_shaft().map(|solid| arm(pivot, solid, solid.high.max(pivot.z))).fold(0.0, f64::max);
    let y = (pivot.y - half, pivot.y + half);
    let lower =
        quarter(below).map(|l: Layer| block(span(pivot.x, out * l.reach), y, (pivot.z - l.top, pivot.z - l.foot)));
    let head =
        quarter(above).map(|l: Layer| block(span(pivot.x, -out * l.reach), y, (pivot.z + l.foot, pivot.z + l.top)));
    of_motor(Motion::MotorStow, motor, lower.chain(head).collect())
}

/// How far from the pivot the furthest corner of a body at this height is, seen from the side, mm. Nothing, where the
/// height is the pivot's own: the body does not go beyond it.
fn arm(pivot: Point, solid: &Solid, z: f64) -> f64 {
    if (z - pivot.z).abs() < 1e-9 {
        return 0.0;
    }
    let (low, high) = solid.outline.bounds();
    (low.x - pivot.x).abs().max((high.x - pivot.x).abs()).hypot(z - pivot.z)
}

fn half_width(solid: &Solid, y: f64) -> f64 {
    let (low, high) = solid.outline.bounds();
    (low.y - y).abs().max((high.y - y).abs())
}

fn span(from: f64, by: f64) -> Range {
    (from.min(from + by), from.max(from + by))
}

/// The wells of drives, each with what it covers.
fn wells(plan: &Plan) -> impl Iterator<Item = (&Feature, Outline)> {
    plan.hull.features.iter().filter_map(|feature| match feature.kind {
        FeatureKind::DriveWell { length, width } => {
            let (half_length, half_width) = (length.to_mm() / 2.0, width.to_mm() / 2.0);
            Some((feature, Outline::Rect { middle: feature.at_mm.spot(), half_length, half_width, turn: 0.0 }))
        }
        _ => None,
    })
}

/// Straight up out of the well, for pedals or for the motor that stands in it.
fn lift(plan: &Plan, (well, over): (&Feature, Outline), motors: &[&RigItem]) -> Option<Envelope> {
    let motor = motors.iter().find(|motor| over.contains(motor.at.spot()));
    if plan.hull.pedals.is_none() && motor.is_none() {
        return None;
    }
    let (low, high) = over.bounds();
    let wide = |low: f64, high: f64| (low - LIFT_ROOM_MM, high + LIFT_ROOM_MM);
    let top = well.at_mm.z + chosen(plan, "stow-blocked.lift", LIFT_MM);
    let way = block(wide(low.x, high.x), wide(low.y, high.y), (well.at_mm.z, top));
    Some(Envelope { owner: motor.map(|motor| motor.gear), ..envelope(Motion::DriveLift, true, vec![way]) })
}

/// The pair of scuppers nearest to where a cart carries best, if a cart belongs to the plan. Soft: a strapped cart
/// needs none.
fn cart(plan: &Plan) -> Option<Envelope> {
    plan.gear.iter().find(|gear| gear.spec.kind == Kind::Cart)?;
    let best = CART_AT * plan.hull.length.value.to_mm();
    let scuppers = || plan.hull.features.iter().filter(|f| matches!(f.kind, FeatureKind::Scupper { .. }));
    let abreast = |a: &Feature, b: &Feature| {
        (a.at_mm.x - b.at_mm.x).abs() <= ABREAST_MM && (a.at_mm.y + b.at_mm.y).abs() <= ABREAST_MM
    };
    let pairs = scuppers()
        .filter(|f| f.at_mm.y > 0.0)
        .filter_map(|port| Some((port, scuppers().find(|s| s.at_mm.y < 0.0 && abreast(port, s))?)));
    let off = |port: &Feature| (port.at_mm.x - best).abs();
    let (port, starboard) = pairs.min_by(|a, b| off(a.0).total_cmp(&off(b.0)))?;
    Some(envelope(Motion::CartPosts, false, vec![post(plan, port), post(plan, starboard)]))
}

fn post(plan: &Plan, scupper: &Feature) -> Solid {
    let bore = match scupper.kind {
        FeatureKind::Scupper { top, .. } => top.to_mm(),
        _ => 0.0,
    };
    let middle = scupper.at_mm.spot();
    let radius = bore / 2.0 + chosen(plan, "stow-blocked.post", POST_ROOM_MM);
    let bottom = plan.hull.form.bottom(middle).unwrap_or(0.0);
    Solid { outline: Outline::Circle { middle, radius }, low: bottom - POST_BELOW_MM, high: scupper.at_mm.z }
}

/// All that is lower than the lowest line of the hull. Soft: what hangs there can be taken off first.
fn underside(plan: &Plan) -> Option<Envelope> {
    let sections = &plan.hull.form.sections;
    let (aft, fore) = (sections.first()?.x_mm, sections.last()?.x_mm);
    let half = plan.hull.beam.value.to_mm() / 2.0;
    Some(envelope(Motion::Underside, false, vec![block((aft, fore), (-half, half), (-GROUND_MM, 0.0))]))
}
