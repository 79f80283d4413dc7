//! A hole that is in the hull already: where it comes from, and what may become of it.

use crate::checks::Subject;
use crate::plan::penetration::{REUSE_WIDER_MM, REUSE_WITHIN_MM};
use crate::plan::{GearId, Plan};
use crate::study::Study;
use crate::study::fastening::drills::GLANDS;
use crate::study::fastening::plug_for;
use crate::study::holes::{Hole, HoleState};
use crate::study::rig::HoleRef;

/// A gland goes into a hole that is off its own by no more than this, mm. Common practice, no source.
const GLAND_WITHIN_MM: f64 = 0.5;

/// Who left it and when it was drilled: `left by camera boom, drilled 2031-05-30`.
pub fn hole_history(plan: &Plan, hole: HoleRef) -> Option<String> {
    let HoleRef::Own(id) = hole else { return None };
    let left = plan.penetration(id)?.left.as_ref()?;
    let gone = if plan.gear(left.by).is_some() { "" } else { ", which is struck" };
    let drilled = left.drilled.map_or("day not noted".into(), |day| format!("drilled {day}"));
    Some(format!("left by {}{gone}, {drilled}", left.name))
}

/// What becomes of it, or may: by its place and size.
pub fn hole_fate(plan: &Plan, study: &Study, hole: &Hole) -> String {
    match hole.state {
        HoleState::Drilled => "drilled for its gear".into(),
        HoleState::Reused => match hole.owner {
            Some(gear) => format!("used again by {}", Subject::Gear(gear).named(plan)),
            None => "used again".into(),
        },
        HoleState::Plugged(plug) => format!("closed: {}", plug.word()),
        HoleState::New => "to be drilled".into(),
        HoleState::Open => {
            let plug = plug_for(hole.bore_mm, hole.above_water_mm < 0.0).word();
            match again(plan, study, hole) {
                Some(again) => format!("open: {again}, or close it with a {plug}"),
                None => format!("open: nothing of the plan fits it; close it with a {plug}"),
            }
        }
    }
}

/// What it could be used for: gear whose own hole would be there, else a gland of its size above the water.
fn again(plan: &Plan, study: &Study, hole: &Hole) -> Option<String> {
    if let Some(gear) = serves(study, hole) {
        return Some(format!("use it again for {}", Subject::Gear(gear).named(plan)));
    }
    let gland = GLANDS.iter().find(|gland| (gland.hole_mm - hole.bore_mm).abs() <= GLAND_WITHIN_MM);
    let dry = hole.above_water_mm.min(hole.above_water_heeled_mm) > 0.0;
    gland.filter(|_| dry).map(|gland| format!("lead a cable through it with gland {}", gland.name))
}

/// Gear that needs a hole where this one is, no narrower than it.
fn serves(study: &Study, hole: &Hole) -> Option<GearId> {
    let wanted = study.holes.holes.iter().filter(|other| other.state == HoleState::New);
    let fits = |other: &&Hole| {
        let off = other.at.spot().distance(hole.at.spot());
        off <= REUSE_WITHIN_MM && hole.bore_mm <= other.bore_mm + REUSE_WIDER_MM
    };
    wanted.filter(fits).find_map(|other| other.owner)
}
