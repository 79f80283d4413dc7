//! What to move so that the boat lies level: one piece, one sum, a distance a person can follow.

use super::way::way;
use super::{Case, words};
use crate::geometry::Spot;
use crate::plan::{BuildState, Gear, Kind, Level};
use crate::study::rig::RigItem;

/// Lighter pieces level nothing, kg. Common practice, no source: trim is decided by three to five heavy things.
const HEAVY_KG: f64 = 2.0;

/// Room between the middle of a moved piece and the gunwale, mm. Common practice, no source.
const ROOM_MM: f64 = 100.0;

/// `Move battery 310 mm aft, or the seat 50 mm aft.`
///
/// `moment` is what has to wander, kg mm, forward and to port. The heaviest piece that can bring it alone
/// without leaving the deck is named; where none can, a mass to look for.
pub(super) fn remedy(case: &Case<'_>, moment: Spot) -> String {
    let parts: Vec<String> = [piece(case, moment), seat(case, moment)].into_iter().flatten().collect();
    if parts.is_empty() { format!("Move {}.", mass(moment)) } else { format!("Move {}.", parts.join(", or ")) }
}

fn piece(case: &Case<'_>, moment: Spot) -> Option<String> {
    let plan = case.plan;
    let pieces = case.study.rig.items.iter().filter_map(|item| Some((item, plan.gear.get(item.index)?)));
    let mut movable: Vec<(&RigItem, &Gear, f64)> =
        pieces.map(|(item, gear)| (item, gear, gear.spec.mass.value.to_kg())).filter(is_movable).collect();
    movable.sort_by(|a, b| b.2.total_cmp(&a.2));
    movable.into_iter().find_map(|(item, _, kg)| {
        let by = Spot::new(moment.x / kg, moment.y / kg);
        let to = item.centre().spot() + by;
        let (half, _) = plan.hull.form.gunwale(to.x)?;
        (to.y.abs() + ROOM_MM <= half).then(|| format!("{} {}", words::label(plan, item.gear), way(by)))
    })
}

/// Whether it can be put elsewhere and counts: heavy, not pinned, not in holes that are drilled, and neither a
/// motor nor a sonar head, which have their place.
fn is_movable((item, gear, kg): &(&RigItem, &Gear, f64)) -> bool {
    let fixed = gear.pinned || (gear.state >= BuildState::Drilled && !item.holes.is_empty());
    let placed_by_use = matches!(gear.spec.kind, Kind::Motor | Kind::Transducer) || item.level == Level::Under;
    *kg >= HEAVY_KG && !fixed && !placed_by_use
}

/// The seat, in whole notches, where its rails reach so far.
fn seat(case: &Case<'_>, moment: Spot) -> Option<String> {
    let (rails, angler) = (&case.plan.hull.seat, &case.plan.angler);
    let (step, by) = (rails.step.to_mm(), moment.x / angler.mass.value.to_kg());
    if by == 0.0 || step <= 0.0 {
        return None;
    }
    let by = (by.abs() / step - 1.0e-6).ceil() * step * by.signum();
    let back = angler.seat.back.to_mm() + by;
    let within = back >= rails.back_aft.to_mm() - 0.5 && back <= rails.back_fore.to_mm() + 0.5;
    within.then(|| format!("the seat {}", way(Spot::new(by, 0.0))))
}

/// A mass and a usual distance: a metre along the boat, a foot across it.
fn mass(moment: Spot) -> String {
    let (kg, by) = if moment.x.abs() > moment.y.abs() {
        (moment.x.abs() / 1000.0, Spot::new(1000.0 * moment.x.signum(), 0.0))
    } else {
        (moment.y.abs() / 300.0, Spot::new(0.0, 300.0 * moment.y.signum()))
    };
    format!("{kg:.1} kg {}", way(by))
}
