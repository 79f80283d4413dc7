//! How a hull floats, for other programs. Heel and levers are positive to starboard, trim bow down.

use serde::Serialize;

use crate::sheets::number::Number;
use crate::study::float::{Afloat, Bare, Equilibrium, Float, RightingArm};

/// The plan's load cases in the water.
#[derive(Serialize)]
pub(super) struct FloatSheet {
    water_kg_per_m3: Number,
    /// Why the form is no body that floats.
    trouble: Option<String>,
    cases: Vec<CaseSheet>,
}

#[derive(Serialize)]
struct CaseSheet {
    name: &'static str,
    /// Why it does not float; its figures are nothing then.
    trouble: Option<String>,
    /// What `gm_mm` has lost to water that can move.
    free_surface_mm: Number,
    #[serde(flatten)]
    afloat: AfloatSheet,
}

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

impl FloatSheet {
    pub(super) fn of(float: &Float) -> Self {
        Self {
            water_kg_per_m3: float.water_kg_per_m3.into(),
            trouble: float.cases.as_ref().err().map(ToString::to_string),
            cases: float.cases.iter().flatten().map(CaseSheet::of).collect(),
        }
    }
}

impl CaseSheet {
    fn of(case: &Afloat) -> Self {
        Self {
            name: case.name,
            trouble: case.rest.as_ref().err().map(ToString::to_string),
            free_surface_mm: case.free_surface_mm.into(),
            afloat: AfloatSheet::from(case),
        }
    }
}

impl From<&Bare> for AfloatSheet {
    fn from(bare: &Bare) -> Self {
        Self {
            freeboard_min_mm: bare.least_freeboard().map(|least| least.height_mm.into()),
            downflood_deg: bare.downflood_deg.map(Number::from),
            ..Self::of(Some(&bare.rest), &bare.gz)
        }
    }
}

impl From<&Afloat> for AfloatSheet {
    fn from(case: &Afloat) -> Self {
        Self {
            gm_mm: case.gm_mm().unwrap_or(f64::NAN).into(),
            freeboard_min_mm: case.least_freeboard().map(|least| least.height_mm.into()),
            downflood_deg: case.flooding.map(|flooding| flooding.heel_deg.into()),
            ..Self::of(case.rest.as_ref().ok(), &case.gz)
        }
    }
}

impl AfloatSheet {
    fn of(rest: Option<&Equilibrium>, gz: &[RightingArm]) -> Self {
        // What does not float has no figures: `null`.
        let figure = |of: fn(&Equilibrium) -> f64| rest.map_or(f64::NAN, of);
        Self {
            displacement_kg: figure(|rest| rest.displacement_kg).into(),
            draft_fore_mm: figure(|rest| rest.draft_fore_mm).into(),
            draft_aft_mm: figure(|rest| rest.draft_aft_mm).into(),
            draft_mean_mm: figure(|rest| rest.draft_mean_mm).into(),
            heel_deg: figure(|rest| rest.heel_deg).into(),
            trim_deg: figure(|rest| rest.trim_deg).into(),
            lcb_mm: figure(|rest| rest.buoyancy.x).into(),
            kb_mm: figure(|rest| rest.kb_mm).into(),
            bm_mm: figure(|rest| rest.bm_mm).into(),
            gm_mm: figure(|rest| rest.gm_mm).into(),
            waterplane_m2: Number::fine(figure(|rest| rest.waterplane_m2)),
            kg_per_cm: figure(|rest| rest.kg_per_cm).into(),
            moment_to_trim_1cm_kgm: figure(|rest| rest.moment_to_trim_1cm_kgm).into(),
            freeboard_min_mm: None,
            gz: gz.iter().map(|arm| LeverSheet { heel_deg: arm.heel_deg.into(), gz_mm: arm.gz_mm.into() }).collect(),
            downflood_deg: None,
        }
    }
}
