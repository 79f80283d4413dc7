//! What to leave off when the battery does not see the day out.

use super::Life;
use super::run::{Run, run};
use crate::plan::{Electric, GearId, Kind, LightArc, Plan};
use crate::units::{Charge, Duration, Quantity};

/// Most loads that are offered.
const MOST: usize = 6;

/// What could be left off.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Shed {
    /// One load each, the best first: the least that is enough alone, else the one that takes most.
    pub loads: Vec<ShedLoad>,
    /// How many of these, from the first, are enough together; none where all of them are not.
    pub together: Option<usize>,
}

/// One load that could be left off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShedLoad {
    /// The load.
    pub gear: GearId,
    /// What it takes over the day, counted at the battery.
    pub charge: Charge,
    /// How much longer the battery lasts without it; to the end of the day at most.
    pub longer: Duration,
    /// Whether the day leaves the reserve that is wanted without it.
    pub alone: bool,
}

/// What could be left off a battery that falls short: what nobody needs to see, be seen, call or stay afloat.
/// Motors stay: they are slowed, not left off. Converters and switch units go with what is behind them.
pub(super) fn shed(life: &Life<'_>, as_planned: &Run) -> Shed {
    let mut loads: Vec<(usize, ShedLoad)> = Vec::new();
    for (index, drain) in life.drains.iter().enumerate() {
        let charge: f64 = drain.amps.iter().zip(life.parts).map(|(amps, part)| amps * part.hours).sum();
        if charge > 0.0 && can_go(life.plan, drain.gear) {
            let without = run(&life.cell, life.parts, life.drains, &[index]);
            loads.push((
                index,
                ShedLoad {
                    gear: drain.gear,
                    charge: Charge::amp_hours(charge),
                    longer: Duration::hours((ends(life, &without) - ends(life, as_planned)).max(0.0)),
                    alone: life.does(&life.cell, &without, life.wanted),
                },
            ));
        }
    }
    let greatest = |a: &ShedLoad, b: &ShedLoad| b.charge.base().total_cmp(&a.charge.base());
    loads.sort_by(|(_, a), (_, b)| match (a.alone, b.alone) {
        (true, true) => greatest(b, a),
        (false, false) => greatest(a, b),
        (a, b) => b.cmp(&a),
    });
    loads.truncate(MOST);
    let together = (1..=loads.len()).find(|count| {
        let off: Vec<usize> = loads.iter().take(*count).map(|(index, _)| *index).collect();
        life.does(&life.cell, &run(&life.cell, life.parts, life.drains, &off), life.wanted)
    });
    Shed { loads: loads.into_iter().map(|(_, load)| load).collect(), together }
}

/// When the battery lets the person down, hours: empty, else used up, else when the day ends.
fn ends(life: &Life<'_>, run: &Run) -> f64 {
    run.empty.or(run.used_up).unwrap_or_else(|| life.parts.iter().map(|part| part.hours).sum())
}

/// Whether a load may be proposed. What a boat needs at night or in need stays: navigation lights, radio, pump.
/// Source: common practice, no source.
fn can_go(plan: &Plan, gear: GearId) -> bool {
    let Some(gear) = plan.gear(gear) else { return false };
    match gear.spec.kind {
        _ if !matches!(gear.spec.electric, Some(Electric::Load { .. })) => false,
        Kind::Radio | Kind::Pump | Kind::Safety => false,
        Kind::Light => gear.spec.light.is_some_and(|light| matches!(light.arc, LightArc::Deck)),
        _ => true,
    }
}
