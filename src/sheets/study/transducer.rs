//! Sonar heads, for other programs and on the page.

use serde::Serialize;

use super::label;
use crate::plan::{GearId, Plan};
use crate::sheets::number::{At, Number};
use crate::study::transducer::{Cutter, Head, Transducers};
use crate::units::Measure;

/// Depths under the face for which the covered circle is told, m.
const DEPTHS_M: [f64; 3] = [2.0, 5.0, 10.0];

#[derive(Serialize)]
pub(super) struct TransducerSheet<'a> {
    heads: Vec<HeadSheet<'a>>,
}

#[derive(Serialize)]
struct HeadSheet<'a> {
    gear: GearId,
    label: &'a str,
    face: At,
    beam_deg: Number,
    beam_origin: &'static str,
    over_water_mm: Number,
    over_hull_mm: Number,
    off_plumb_deg: Number,
    cut_percent: Number,
    cut_by: Vec<CutSheet<'a>>,
    near: Vec<NearSheet<'a>>,
    footprints: Vec<FootprintSheet>,
}

#[derive(Serialize)]
struct CutSheet<'a> {
    gear: Option<GearId>,
    label: &'a str,
    percent: Number,
}

#[derive(Serialize)]
struct NearSheet<'a> {
    gear: GearId,
    label: &'a str,
    motor: bool,
    distance_mm: Number,
    aside_mm: Number,
    ahead: bool,
}

#[derive(Serialize)]
struct FootprintSheet {
    depth_m: Number,
    diameter_m: Number,
}

impl<'a> TransducerSheet<'a> {
    pub(super) fn of(plan: &'a Plan, transducers: &Transducers) -> Self {
        Self { heads: transducers.heads.iter().map(|head| HeadSheet::of(plan, head)).collect() }
    }
}

impl<'a> HeadSheet<'a> {
    fn of(plan: &'a Plan, head: &Head) -> Self {
        let cut = head.cut.iter().map(|cut| match cut.by {
            Cutter::Gear(id) => CutSheet { gear: Some(id), label: label(plan, id), percent: cut.percent.into() },
            Cutter::Hull => CutSheet { gear: None, label: "hull", percent: cut.percent.into() },
        });
        let near = head.near.iter().map(|near| NearSheet {
            gear: near.gear,
            label: label(plan, near.gear),
            motor: near.motor,
            distance_mm: near.distance_mm.into(),
            aside_mm: near.aside_mm.into(),
            ahead: near.ahead,
        });
        let footprint = |depth: f64| FootprintSheet { depth_m: depth.into(), diameter_m: head.footprint(depth).into() };
        Self {
            gear: head.gear,
            label: label(plan, head.gear),
            face: head.face.into(),
            beam_deg: head.beam.value.to_deg().into(),
            beam_origin: head.beam.origin.word(),
            over_water_mm: head.over_water_mm.into(),
            over_hull_mm: head.over_hull_mm.into(),
            off_plumb_deg: head.off_plumb_deg.into(),
            cut_percent: head.cut_percent.into(),
            cut_by: cut.collect(),
            near: near.collect(),
            footprints: DEPTHS_M.map(footprint).into(),
        }
    }
}

/// The page's lines: one a head.
pub(in crate::sheets) fn head_lines(plan: &Plan, transducers: &Transducers, tape: Measure) -> Vec<String> {
    transducers.heads.iter().map(|head| head_line(plan, head, tape)).collect()
}

fn head_line(plan: &Plan, head: &Head, tape: Measure) -> String {
    let over = |mm: f64, of: &str| {
        let side = if mm < 0.0 { "under" } else { "over" };
        format!("{} {side} {of}", tape.length(mm.abs()))
    };
    let cut = if head.cut_percent > 0.0 { format!("{:.0} percent cut", head.cut_percent) } else { "free".into() };
    let [_, depth, _] = DEPTHS_M;
    format!(
        "{}: face {}, {}; cone of {:.0} deg ({}) {cut}, covers {:.1} m at {depth:.0} m",
        label(plan, head.gear),
        over(head.over_water_mm, "the water"),
        over(head.over_hull_mm, "the lowest hull line"),
        head.beam.value.to_deg(),
        head.beam.origin.word(),
        head.footprint(depth),
    )
}
