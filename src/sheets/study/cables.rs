//! The cables for other programs: the way of each, step by step, and what it needs.

use serde::Serialize;

use super::label;
use crate::plan::{CableId, CircuitId, GearId, Plan, Signal, Via};
use crate::sheets::number::{At, Number};
use crate::study::cables::bundle::Bundle;
use crate::study::cables::words::named;
use crate::study::cables::{CableRef, CableRun, Cables, Pinch, Pincher, Way};

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
    pinches: Vec<PinchSheet>,
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

#[derive(Serialize)]
struct PinchSheet {
    kind: &'static str,
    by: Option<String>,
    at: At,
    away_mm: Option<Number>,
    radius_mm: Option<Number>,
    radius_least_mm: Option<Number>,
}

#[derive(Serialize)]
pub(super) struct BundleSheet {
    opening: String,
    at: At,
    bore_mm: Number,
    fill_percent: Number,
    cables: Vec<BundledSheet>,
}

#[derive(Serialize)]
struct BundledSheet {
    cable: Option<CableId>,
    implied_by_circuit: Option<CircuitId>,
    from: GearId,
    to: GearId,
}

/// Every cable, in the order of the report.
pub(super) fn of<'a>(plan: &'a Plan, cables: &Cables) -> Vec<CableSheet<'a>> {
    cables.runs.iter().map(|run| cable(plan, run)).collect()
}

/// Every opening that cables pass, in the order of the report.
pub(super) fn bundles(plan: &Plan, cables: &Cables) -> Vec<BundleSheet> {
    cables.bundles.iter().map(|one| bundle(plan, cables, one)).collect()
}

fn bundle(plan: &Plan, cables: &Cables, bundle: &Bundle) -> BundleSheet {
    let bundled = bundle.cables.iter().filter_map(|id| cables.run(*id)).map(|run| {
        let (cable, implied_by_circuit) = numbers(run.id);
        BundledSheet { cable, implied_by_circuit, from: run.from, to: run.to }
    });
    BundleSheet {
        opening: named(plan, bundle.opening),
        at: bundle.at.into(),
        bore_mm: bundle.bore_mm.into(),
        fill_percent: bundle.fill_percent.into(),
        cables: bundled.collect(),
    }
}

/// The number of a planned cable, or that of the circuit that implies it.
fn numbers(id: CableRef) -> (Option<CableId>, Option<CircuitId>) {
    match id {
        CableRef::Planned(cable) => (Some(cable), None),
        CableRef::Implied(circuit, _) => (None, Some(circuit)),
    }
}

fn cable<'a>(plan: &'a Plan, run: &CableRun) -> CableSheet<'a> {
    let (cable, circuit) = numbers(run.id);
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
        pinches: run.pinches.iter().map(|one| pinch(plan, one)).collect(),
        beside_motor_lead_mm: run.beside.map_or(0.0, |(_, length)| length).into(),
    }
}

fn pinch(plan: &Plan, pinch: &Pinch) -> PinchSheet {
    let (kind, by) = match pinch.by {
        Pincher::Lid(via) => ("lid", Some(via)),
        Pincher::SeatRail(rail) => ("seat rail", Some(Via::Feature(rail))),
        Pincher::Track(track) => ("track", Some(Via::Feature(track))),
        Pincher::Bolts(gear, _) => ("bolt ends", Some(Via::Gear(gear))),
        Pincher::Bend { .. } => ("bend", None),
    };
    let away = if let Pincher::Bolts(_, away) = pinch.by { Some(away) } else { None };
    let radii = if let Pincher::Bend { radius_mm, least_mm } = pinch.by { Some((radius_mm, least_mm)) } else { None };
    PinchSheet {
        kind,
        by: by.map(|via| named(plan, via)),
        at: pinch.at.into(),
        away_mm: away.map(Number::from),
        radius_mm: radii.map(|(radius, _)| radius.into()),
        radius_least_mm: radii.map(|(_, least)| least.into()),
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
