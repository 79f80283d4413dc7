//! How a hull floats, for other programs. Heel and levers are positive to starboard, trim bow down.

use serde::Serialize;

use crate::sheets::number::Number;
use crate::study::float::{Bare, RightingArm};

/// One load in the water.
#[derive(Serialize)]
pub(in crate::sheets) struct AfloatSheet {
    displacement_kg: Number,
    /// Heights of the water over the baseline on the centreline, at the fore end, at the aft end, and their mean.
    draft_fore_mm: Number,
    draft_aft_mm: Number,
    draft_mean_mm: Number,
    heel_deg: Number,
    trim_deg: Number,
    lcb_mm: Number,
    kb_mm: Number,
    bm_mm: Number,
    gm_mm: Number,
    waterplane_m2: Number,
    kg_per_cm: Number,
    moment_to_trim_1cm_kgm: Number,
    freeboard_min_mm: Option<Number>,
    gz: Vec<LeverSheet>,
    downflood_deg: Option<Number>,
}

#[derive(Serialize)]
struct LeverSheet {
    heel_deg: Number,
    gz_mm: Number,
}

impl AfloatSheet {
    pub(in crate::sheets) fn of_bare(bare: &Bare) -> Self {
        let rest = &bare.rest;
        Self {
            displacement_kg: rest.displacement_kg.into(),
            draft_fore_mm: rest.draft_fore_mm.into(),
            draft_aft_mm: rest.draft_aft_mm.into(),
            draft_mean_mm: rest.draft_mean_mm.into(),
            heel_deg: rest.heel_deg.into(),
            trim_deg: rest.trim_deg.into(),
            lcb_mm: rest.buoyancy.x.into(),
            kb_mm: rest.kb_mm.into(),
            bm_mm: rest.bm_mm.into(),
            gm_mm: rest.gm_mm.into(),
            waterplane_m2: Number::fine(rest.waterplane_m2),
            kg_per_cm: rest.kg_per_cm.into(),
            moment_to_trim_1cm_kgm: rest.moment_to_trim_1cm_kgm.into(),
            freeboard_min_mm: bare.least_freeboard().map(|least| least.height_mm.into()),
            gz: bare.gz.iter().map(LeverSheet::of).collect(),
            downflood_deg: bare.downflood_deg.map(Number::from),
        }
    }
}

impl LeverSheet {
    fn of(arm: &RightingArm) -> Self {
        Self { heel_deg: arm.heel_deg.into(), gz_mm: arm.gz_mm.into() }
    }
}
