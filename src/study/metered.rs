//! What a meter in series says of the loads: currents in place of those of the catalogue.
//!
//! A reading of one load is its current in ordinary use. A reading of a set is first lessened by what is known of loads
//! in it; what remains is shared out among the others in proportion to the plan's figures, `I_k = I f_k / sum f`. A
//! single reading goes before a set, a later one before an older. The meter sits in the loads' own lead: what it shows
//! is at the voltage they want. Source: common practice (break the positive lead, one thing after the other).
//!
//! A greatest current grows in proportion with what was metered, since the same unit draws it, but it does not shrink:
//! that ordinary use takes less than expected is no proof that the greatest does. Standby is another state and stays.

use std::collections::{BTreeMap, BTreeSet};

use crate::plan::{Electric, Gear, GearId, Plan, Reading, Taken};
use crate::units::{Current, Figure};

/// One standard deviation of a reading: a part of it and a least step. Common practice, no source: a hand meter on its
/// range of 10 A.
const METER_SPREAD: f64 = 0.02;
const METER_STEP_A: f64 = 0.01;

/// What the readings of a meter say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Metered {
    /// Every load that a reading settles, by its id.
    pub loads: BTreeMap<GearId, MeteredLoad>,
    /// Every set that was not used as it stands, with what is known of the loads in it.
    pub conflicts: Vec<Conflict>,
}

/// A load that a reading settles.
#[derive(Clone, Debug, PartialEq)]
pub struct MeteredLoad {
    /// The reading, by its place in the plan.
    pub reading: usize,
    /// Current in ordinary use at the load's own voltage; what it replaces is in `was`.
    pub typical: Figure<Current>,
    /// How many loads the reading was shared over; 1 when nothing was shared.
    pub shared_over: usize,
}

/// A set whose loads are known to take something else together.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    /// The reading of the set, by its place in the plan.
    pub reading: usize,
    /// What it showed.
    pub shown: Current,
    /// What other readings say of loads in it.
    pub known: Current,
    /// Whether all of its loads are known; if not, the others take something beside.
    pub whole: bool,
}

/// Currents of a load at its own voltage, after the readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drawn {
    /// Ordinary use.
    pub typical: Figure<Current>,
    /// Greatest.
    pub peak: Figure<Current>,
}

/// A reading that can be used: its place, its loads in the order of their ids, what it showed in A.
struct Shown {
    reading: usize,
    loads: BTreeSet<GearId>,
    amps: f64,
}

impl Metered {
    /// What the readings of a plan say, as far as they are on and of loads that it has.
    pub fn of(plan: &Plan) -> Self {
        let mut metered = Self::default();
        let (single, sets): (Vec<Shown>, Vec<Shown>) = latest_first(plan).partition(|shown| shown.loads.len() == 1);
        for shown in &single {
            metered.take_single(plan, shown);
        }
        for shown in &sets {
            metered.share_out(plan, shown);
        }
        metered
    }

    /// The currents of a load: the one door to them. `None` for what is no load of the boat's batteries.
    pub fn drawn(&self, gear: &Gear) -> Option<Drawn> {
        let stated = stated(gear)?;
        let Some(load) = self.loads.get(&gear.id) else { return Some(stated) };
        Some(Drawn { typical: load.typical, peak: grown(stated, load.typical.value) })
    }

    fn take_single(&mut self, plan: &Plan, shown: &Shown) {
        let Some(gear) = shown.loads.first() else { return };
        let Some(stated) = plan.gear(*gear).and_then(stated) else { return };
        self.loads.entry(*gear).or_insert_with(|| MeteredLoad {
            reading: shown.reading,
            typical: measured(stated.typical, shown.amps, meter_spread(shown.amps)),
            shared_over: 1,
        });
    }

    fn share_out(&mut self, plan: &Plan, shown: &Shown) {
        let (known, open): (Vec<GearId>, Vec<GearId>) = shown.loads.iter().partition(|id| self.loads.contains_key(id));
        let known_a: f64 = known.iter().filter_map(|id| self.loads.get(id)).map(|l| l.typical.value.to_amps()).sum();
        let remains = shown.amps - known_a;
        if open.is_empty() || remains < 0.0 {
            self.note_conflict(shown, known_a, open.is_empty());
            return;
        }
        let figures: Vec<(GearId, Figure<Current>)> =
            open.iter().filter_map(|id| Some((*id, plan.gear(*id).and_then(stated)?.typical))).collect();
        let sum: f64 = figures.iter().map(|(_, figure)| figure.value.to_amps()).sum();
        let even = 1.0 / figures.len().max(1) as f64;
        for (gear, figure) in &figures {
            let part = if sum > 0.0 { figure.value.to_amps() / sum } else { even };
            let amps = if remains == sum { figure.value.to_amps() } else { remains * part };
            let spread = share_spread(figure, amps).hypot(meter_spread(shown.amps) * part);
            let typical = measured(*figure, amps, spread);
            self.loads.insert(*gear, MeteredLoad { reading: shown.reading, typical, shared_over: figures.len() });
        }
    }

    /// A set of which every load is known says nothing new; within the meter's own spread it agrees.
    fn note_conflict(&mut self, shown: &Shown, known_a: f64, whole: bool) {
        if (shown.amps - known_a).abs() <= 2.0 * meter_spread(shown.amps.max(known_a)) {
            return;
        }
        let (shown_a, known) = (Current::amps(shown.amps), Current::amps(known_a));
        self.conflicts.push(Conflict { reading: shown.reading, shown: shown_a, known, whole });
    }
}

/// Whether a meter can be put into the lead of this gear: a load that the boat's batteries feed.
pub fn is_meterable(gear: &Gear) -> bool {
    stated(gear).is_some()
}

/// The plan's own figures. A light with cells of its own asks nothing of the boat.
fn stated(gear: &Gear) -> Option<Drawn> {
    match &gear.spec.electric {
        Some(Electric::Load { .. }) if gear.spec.light.is_some_and(|light| light.own_cells) => None,
        Some(Electric::Load { typical, peak, .. }) => Some(Drawn { typical: *typical, peak: *peak }),
        _ => None,
    }
}

/// Usable readings, the latest first. One without a date is older than any with one; of one date the order of the list
/// counts. One that names gear the plan no longer has is left out: who took its share is not known.
fn latest_first(plan: &Plan) -> impl Iterator<Item = Shown> {
    let mut on: Vec<(usize, &Reading)> = plan.readings.iter().enumerate().filter(|(_, reading)| !reading.off).collect();
    on.sort_by(|a, b| a.1.date.cmp(&b.1.date));
    let usable = |(reading, taken): (usize, &Reading)| {
        let Taken::Meter { loads, current } = &taken.taken else { return None };
        let loads: BTreeSet<GearId> = loads.iter().copied().collect();
        let all_there = !loads.is_empty() && loads.iter().all(|id| plan.gear(*id).is_some_and(is_meterable));
        let amps = current.to_amps();
        (all_there && amps.is_finite() && amps >= 0.0).then_some(Shown { reading, loads, amps })
    };
    let usable: Vec<Shown> = on.into_iter().rev().filter_map(usable).collect();
    usable.into_iter()
}

/// A figure as a meter found it; what it replaces stays beside it.
fn measured(figure: Figure<Current>, amps: f64, spread_a: f64) -> Figure<Current> {
    Figure { spread: Some(Current::amps(spread_a)), was: Some(figure.value), ..Figure::measured(Current::amps(amps)) }
}

fn grown(stated: Drawn, metered: Current) -> Figure<Current> {
    let (before, now) = (stated.typical.value.to_amps(), metered.to_amps());
    if now <= before {
        return stated.peak;
    }
    let peak = stated.peak.value.to_amps();
    let peak = if before > 0.0 { peak * now / before } else { peak };
    Figure { was: Some(stated.peak.value), ..Figure::guess(Current::amps(peak.max(now))) }
}

fn meter_spread(amps: f64) -> f64 {
    (METER_SPREAD * amps).max(METER_STEP_A)
}

/// How far a share may be off, A: as far in proportion as the figure it was shared by.
fn share_spread(figure: &Figure<Current>, amps: f64) -> f64 {
    let whole = figure.value.to_amps();
    if whole > 0.0 { amps * figure.spread_base() / whole } else { amps }
}
