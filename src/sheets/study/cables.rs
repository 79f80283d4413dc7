//! The cables for other programs: the way of each, step by step, and what it needs.

use serde::Serialize;

use super::label;
use crate::plan::{CableId, CircuitId, GearId, Plan, Signal};
use crate::sheets::number::{At, Number};
use crate::study::cables::words::named;
use crate::study::cables::{CableRef, CableRun, Cables, Way};

#[derive(Serialize)]
pub(super) struct CableSheet<'a> {
    cable: Option<CableId>,
    implied_by_circuit: Option<CircuitId>,
    from: GearId,
    from_label: &'a str,
    to: GearId,
    to_label: &'a str,
    signal: Signal,
    way: Option<WaySheet>,
    needed_mm: Option<Number>,
    measured_mm: Option<Number>,
    supplied_mm: Option<Number>,
    surplus_mm: Option<Number>,
    plug_mm: Option<Number>,
    stuck: Vec<StuckSheet>,
    way_round: Option<WaySheet>,
    pinches: usize,
    beside_motor_lead_mm: Number,
}

#[derive(Serialize)]
struct WaySheet {
    length_mm: Number,
    steps: Vec<StepSheet>,
}

#[derive(Serialize)]
struct StepSheet {
    words: String,
    at: At,
    leg_mm: Number,
    leg_runs: &'static str,
}

#[derive(Serialize)]
struct StuckSheet {
    opening: String,
    bore_mm: Number,
}

/// Every cable, in the order of the report.
pub(super) fn of<'a>(plan: &'a Plan, cables: &Cables) -> Vec<CableSheet<'a>> {
    cables.runs.iter().map(|run| cable(plan, run)).collect()
}

fn cable<'a>(plan: &'a Plan, run: &CableRun) -> CableSheet<'a> {
    let (cable, circuit) = match run.id {
        CableRef::Planned(id) => (Some(id), None),
        CableRef::Implied(circuit, _) => (None, Some(circuit)),
    };
    let stuck =
        run.stuck.iter().map(|one| StuckSheet { opening: named(plan, one.opening), bore_mm: one.bore_mm.into() });
    CableSheet {
        cable,
        implied_by_circuit: circuit,
        from: run.from,
        from_label: label(plan, run.from),
        to: run.to,
        to_label: label(plan, run.to),
        signal: run.signal,
        way: run.way.as_ref().ok().map(|found| way(plan, found)),
        needed_mm: run.needed_mm.map(Number::from),
        measured_mm: run.measured_mm.map(Number::from),
        supplied_mm: run.tail.map(|tail| tail.length_mm.into()),
        surplus_mm: run.surplus_mm.map(Number::from),
        plug_mm: run.tail.map(|tail| tail.plug_mm.into()),
        stuck: stuck.collect(),
        way_round: run.round.as_ref().map(|found| way(plan, found)),
        pinches: run.pinches.len(),
        beside_motor_lead_mm: run.beside.map_or(0.0, |(_, length)| length).into(),
    }
}

fn way(plan: &Plan, way: &Way) -> WaySheet {
    let steps = way.steps.iter().zip(way.words(plan)).map(|(step, words)| StepSheet {
        words,
        at: step.at.into(),
        leg_mm: step.leg_mm.into(),
        leg_runs: step.runs.word(),
    });
    WaySheet { length_mm: way.length_mm.into(), steps: steps.collect() }
}
