//! How far sonar cables run beside motor leads.

use super::{CableRef, CableRun, Way};
use crate::geometry::Point;
use crate::plan::Signal;

/// Nearer than this a motor lead disturbs a sonar cable, mm. Common practice, no source.
pub const BESIDE_MM: f64 = 300.0;

/// Steps in which a sonar cable is looked at, mm.
const STEP_MM: f64 = 10.0;

/// Tells each sonar cable the motor lead along which it runs longest.
pub(super) fn mark(runs: &mut [CableRun]) {
    let leads: Vec<(CableRef, Way)> = runs
        .iter()
        .filter(|run| run.signal == Signal::MotorPower)
        .filter_map(|run| Some((run.id, run.way.as_ref().ok()?.clone())))
        .collect();
    if leads.is_empty() {
        return;
    }
    for run in runs.iter_mut().filter(|run| run.signal == Signal::Sonar) {
        let Ok(way) = &run.way else { continue };
        let longest = leads.iter().map(|(id, lead)| (*id, beside_mm(way, lead))).max_by(|a, b| a.1.total_cmp(&b.1));
        run.beside = longest.filter(|(_, length)| *length > 0.0);
    }
}

/// How much of a way runs nearer than [`BESIDE_MM`] to another, mm.
fn beside_mm(way: &Way, lead: &Way) -> f64 {
    let steps = (way.length_mm / STEP_MM).ceil();
    if !(1.0..=1e5).contains(&steps) {
        return 0.0;
    }
    let step = way.length_mm / steps;
    let near = (0..steps as u32).filter(|n| from_way(way.at((f64::from(*n) + 0.5) * step), lead) < BESIDE_MM);
    near.count() as f64 * step
}

/// Distance from a point to a way, mm.
fn from_way(point: Point, way: &Way) -> f64 {
    way.steps.windows(2).map(|pair| from_leg(point, pair[0].at, pair[1].at)).fold(f64::INFINITY, f64::min)
}

/// Distance from a point to the straight leg between two others, mm.
pub(super) fn from_leg(point: Point, from: Point, to: Point) -> f64 {
    point.distance(foot(point, from, to))
}

/// The point of a leg nearest to another.
pub(super) fn foot(point: Point, from: Point, to: Point) -> Point {
    let (way, off) = (to - from, point - from);
    let square = dot(way, way);
    let share = if square > 0.0 { (dot(off, way) / square).clamp(0.0, 1.0) } else { 0.0 };
    Point::new(from.x + way.x * share, from.y + way.y * share, from.z + way.z * share)
}

pub(super) fn dot(a: Point, b: Point) -> f64 {
    a.x * b.x + a.y * b.y + a.z * b.z
}
