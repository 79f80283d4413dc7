//! Whether the place offers what the mount needs: a slot, an insert, a skin that may be drilled.

use super::rig::Support;
use crate::geometry::{Spot, turned};
use crate::plan::{FeatureKind, Gear, Level, Mount, Mounting, Placement, Plan, Thread};

/// How far off its axis a foot still finds a track, mm. Common practice, no source: the foot
/// slides in and centres itself; the plan's grid is 25 mm.
pub const TRACK_CAPTURE_MM: f64 = 30.0;

/// How far an insert, bolt or scupper may be from the middle of the base, beyond the base, mm.
pub const POINT_CAPTURE_MM: f64 = 15.0;

/// What holds a piece of gear, or why nothing does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fit {
    /// It is held by this.
    Held(Support),
    /// It is not, and why, in words that say what to do.
    Not(String),
}

impl Fit {
    /// Whether it is held.
    pub fn is_held(&self) -> bool {
        matches!(self, Self::Held(_))
    }

    /// What holds it.
    pub fn support(&self) -> Option<Support> {
        match self {
            Self::Held(support) => Some(*support),
            Self::Not(_) => None,
        }
    }
}

/// Looks for what the chosen mount needs at the placement.
pub fn fit(plan: &Plan, gear: &Gear, place: &Placement) -> Fit {
    let spot = place.spot();
    let Some(mounting) = gear.spec.mounting(gear.mount) else {
        return Fit::Not(format!("does not accept the mount \"{}\"", gear.mount.word()));
    };
    let on_hull = plan.hull.form.bottom(spot).is_some();
    match gear.mount {
        Mount::Track => track(plan, gear, spot, mounting),
        Mount::Inserts => threaded(plan, spot, place, mounting, "threaded insert", |kind| match kind {
            FeatureKind::Inserts { thread, offsets_mm, .. } => Some((*thread, offsets_mm)),
            _ => None,
        }),
        Mount::Existing => threaded(plan, spot, place, mounting, "existing bolt", |kind| match kind {
            FeatureKind::Handle { thread, bolts_mm } => Some((*thread, bolts_mm)),
            _ => None,
        }),
        Mount::Scupper => scupper(plan, spot, mounting),
        _ if !on_hull => Fit::Not("there is no hull under it: move it inboard".into()),
        Mount::Bolts | Mount::Rivets | Mount::Flush
            if place.level == Level::Deck && plan.hull.zone_at(spot).is_none() =>
        {
            Fit::Not("no zone of the deck lies under it".into())
        }
        Mount::Bolts | Mount::Rivets | Mount::Flush | Mount::Strap | Mount::Clamp => Fit::Held(Support::Skin),
    }
}

fn track(plan: &Plan, gear: &Gear, spot: Spot, mounting: &Mounting) -> Fit {
    let base = mounting.base_mm.0;
    let mut nearest: Option<(f64, String)> = None;
    let mut near_miss = |off: f64, what: String| {
        if nearest.as_ref().is_none_or(|(best, _)| off < *best) {
            nearest = Some((off, what));
        }
    };
    for feature in &plan.hull.features {
        let FeatureKind::Track { free, .. } = &feature.kind else { continue };
        match on_slot(spot - feature.at_mm.spot(), free.to_mm(), base) {
            Ok(()) => return Fit::Held(Support::Feature(feature.id)),
            Err(off) => near_miss(off, feature.name.to_string()),
        }
    }
    for other in &plan.gear {
        let (Some(slot), Some(at)) = (&other.spec.track, &other.place) else { continue };
        if other.id == gear.id {
            continue;
        }
        let along = turned(spot - at.spot(), -at.turn.to_deg());
        match on_slot(along, slot.to_mm(), base) {
            Ok(()) => return Fit::Held(Support::Gear(other.id)),
            Err(off) => near_miss(off, other.label.to_string()),
        }
    }
    match nearest {
        Some((off, name)) => Fit::Not(format!("no track under it; the nearest, {name}, is {off:.0} mm away")),
        None => Fit::Not("there is no track on this boat: choose another mount or add a track".into()),
    }
}

/// Whether a foot of this length sits on a slot; else how far it is from doing so, mm.
fn on_slot(along: Spot, slot: f64, base: f64) -> Result<(), f64> {
    let over_end = along.x.abs() - (slot - base).max(0.0) / 2.0;
    let beside = along.y.abs() - TRACK_CAPTURE_MM;
    if over_end <= 0.0 && beside <= 0.0 { Ok(()) } else { Err(over_end.max(0.0).hypot(beside.max(0.0))) }
}

fn threaded(
    plan: &Plan,
    spot: Spot,
    place: &Placement,
    mounting: &Mounting,
    what: &str,
    points: impl Fn(&FeatureKind) -> Option<(Thread, &Vec<Spot>)>,
) -> Fit {
    let (half_length, half_width) =
        (mounting.base_mm.0 / 2.0 + POINT_CAPTURE_MM, mounting.base_mm.1 / 2.0 + POINT_CAPTURE_MM);
    let mut nearest = f64::INFINITY;
    for feature in &plan.hull.features {
        let Some((thread, offsets)) = points(&feature.kind) else { continue };
        for offset in offsets {
            let point = feature.at_mm.spot() + *offset;
            let own = turned(point - spot, -place.turn.to_deg());
            if own.x.abs() <= half_length && own.y.abs() <= half_width {
                return match mounting.thread {
                    Some(wanted) if wanted != thread => {
                        Fit::Not(format!("{} offers {} and this takes {}", feature.name, thread.word(), wanted.word()))
                    }
                    _ => Fit::Held(Support::Feature(feature.id)),
                };
            }
            nearest = nearest.min(point.distance(spot));
        }
    }
    if nearest.is_finite() {
        Fit::Not(format!("no {what} under its base; the nearest is {nearest:.0} mm away"))
    } else {
        Fit::Not(format!("this boat has no {what}: choose another mount"))
    }
}

fn scupper(plan: &Plan, spot: Spot, mounting: &Mounting) -> Fit {
    let capture = mounting.base_mm.0.max(mounting.base_mm.1) / 2.0 + POINT_CAPTURE_MM;
    let near = plan
        .hull
        .features
        .iter()
        .filter(|f| matches!(f.kind, FeatureKind::Scupper { .. } | FeatureKind::TransducerRecess { .. }))
        .map(|f| (f.at_mm.spot().distance(spot), f))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    match near {
        Some((off, feature)) if off <= capture => Fit::Held(Support::Feature(feature.id)),
        Some((off, _)) => Fit::Not(format!("no scupper under it; the nearest is {off:.0} mm away")),
        None => Fit::Not("this boat has no scupper: choose another mount".into()),
    }
}
