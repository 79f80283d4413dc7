//! The wires for other programs: what each loses, carries and needs.

use serde::Serialize;

use super::label;
use crate::plan::{CircuitId, GearId, Plan};
use crate::sheets::number::Number;
use crate::study::Study;
use crate::study::wiring::run::Run;
use crate::study::wiring::{CircuitWire, MainWire};
use crate::units::Quantity;

#[derive(Serialize)]
pub(super) struct WiringSheet<'a> {
    conductor_c: Number,
    circuits: Vec<CircuitSheet<'a>>,
    mains: Vec<MainSheet<'a>>,
    cables: Vec<super::cables::CableSheet<'a>>,
    bundles: Vec<super::cables::BundleSheet>,
    free: Vec<GearSheet<'a>>,
    fed_by_itself: Vec<GearSheet<'a>>,
    fed_twice: Vec<GearSheet<'a>>,
}

#[derive(Serialize)]
struct GearSheet<'a> {
    gear: GearId,
    label: &'a str,
}

#[derive(Serialize)]
struct CircuitSheet<'a> {
    circuit: CircuitId,
    name: &'a str,
    in_use: bool,
    main_protects: bool,
    #[serde(flatten)]
    run: RunSheet,
}

#[derive(Serialize)]
struct MainSheet<'a> {
    battery: GearId,
    label: &'a str,
    stated: bool,
    breaker: bool,
    circuits: Vec<CircuitId>,
    #[serde(flatten)]
    run: RunSheet,
}

#[derive(Serialize)]
struct RunSheet {
    gauge_awg: Option<u8>,
    smallest_gauge_awg: Option<u8>,
    insulation_c: Number,
    sheathed: bool,
    one_way_mm: Option<Number>,
    one_way_by: Option<&'static str>,
    nominal_v: Number,
    typical_a: Number,
    peak_a: Number,
    steady_a: Number,
    loop_ohm: Option<Number>,
    drop_typical_v: Option<Number>,
    drop_typical_percent: Option<Number>,
    drop_peak_v: Option<Number>,
    drop_peak_percent: Option<Number>,
    drop_main_typical_v: Option<Number>,
    drop_main_peak_v: Option<Number>,
    drop_total_typical_v: Option<Number>,
    drop_total_typical_percent: Option<Number>,
    drop_total_peak_v: Option<Number>,
    drop_total_peak_percent: Option<Number>,
    drop_allowed_percent: Number,
    permitted_a: Option<Number>,
    fuse_a: Option<Number>,
    fuse_least_a: Number,
    fuse_greatest_a: Option<Number>,
    fuse_rule_a: Option<Number>,
    fuse_standard_a: Option<Number>,
    fuse_at_mm: Option<Number>,
}

impl<'a> WiringSheet<'a> {
    pub(super) fn of(plan: &'a Plan, study: &Study) -> Self {
        let wiring = &study.wiring;
        let gear = |gear: &GearId| GearSheet { gear: *gear, label: label(plan, *gear) };
        Self {
            cables: super::cables::of(plan, &study.cables),
            bundles: super::cables::bundles(plan, &study.cables),
            conductor_c: wiring.conductor.base().into(),
            circuits: wiring.circuits.iter().map(|wire| CircuitSheet::of(plan, wire)).collect(),
            mains: wiring.mains.iter().map(|main| MainSheet::of(plan, main)).collect(),
            free: wiring.free.iter().map(gear).collect(),
            fed_by_itself: wiring.rings.fed_by_itself.iter().map(gear).collect(),
            fed_twice: wiring.rings.fed_twice.iter().map(gear).collect(),
        }
    }
}

impl<'a> CircuitSheet<'a> {
    fn of(plan: &'a Plan, wire: &CircuitWire) -> Self {
        Self {
            circuit: wire.circuit,
            name: plan.wiring.circuit(wire.circuit).map_or("", |circuit| circuit.name.as_str()),
            in_use: wire.in_use,
            main_protects: wire.main_protects,
            run: RunSheet::of(&wire.run),
        }
    }
}

impl<'a> MainSheet<'a> {
    fn of(plan: &'a Plan, main: &MainWire) -> Self {
        Self {
            battery: main.battery,
            label: label(plan, main.battery),
            stated: main.stated,
            breaker: plan.wiring.main_of(main.battery).is_some_and(|main| main.breaker),
            circuits: main.carries.clone(),
            run: RunSheet::of(&main.run),
        }
    }
}

impl RunSheet {
    fn of(run: &Run) -> Self {
        let lost = |of: fn(&crate::study::wiring::run::Lost) -> f64| run.lost.as_ref().map(of).map(Number::from);
        let total = run.total();
        Self {
            gauge_awg: run.gauge_awg,
            smallest_gauge_awg: run.smallest_awg,
            insulation_c: run.insulation.base().into(),
            sheathed: run.sheathed,
            one_way_mm: run.one_way.map(|way| way.mm.into()),
            one_way_by: run.one_way.map(|way| way.by.word()),
            nominal_v: run.nominal_v.into(),
            typical_a: run.amps.typical.into(),
            peak_a: run.amps.peak.into(),
            steady_a: run.amps.steady.into(),
            loop_ohm: run.lost.map(|lost| Number::fine(lost.loop_ohm)),
            drop_typical_v: lost(|lost| lost.typical_v),
            drop_typical_percent: lost(|lost| lost.typical_percent),
            drop_peak_v: lost(|lost| lost.peak_v),
            drop_peak_percent: lost(|lost| lost.peak_percent),
            drop_main_typical_v: run.before.map(|before| before.typical.into()),
            drop_main_peak_v: run.before.map(|before| before.peak.into()),
            drop_total_typical_v: total.map(|total| total.typical.into()),
            drop_total_typical_percent: total.map(|total| run.percent(total.typical).into()),
            drop_total_peak_v: total.map(|total| total.peak.into()),
            drop_total_peak_percent: total.map(|total| run.percent(total.peak).into()),
            drop_allowed_percent: run.allowed_percent.into(),
            permitted_a: run.permitted_a.map(Number::from),
            fuse_a: run.fuse_a.map(Number::from),
            fuse_least_a: run.least_fuse_a.into(),
            fuse_greatest_a: run.greatest_fuse_a.map(Number::from),
            fuse_rule_a: run.rule_fuse_a.map(Number::from),
            fuse_standard_a: run.standard_fuse_a.map(Number::from),
            fuse_at_mm: run.fuse_at_mm.map(Number::from),
        }
    }
}
