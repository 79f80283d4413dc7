//! The study for other programs: small types of their own, so that the study's may change.

mod backup;
mod body;
mod cables;
mod day;
mod float;
mod holes;
mod lights;
mod power;
mod readings;
mod seat;
mod sight;
mod transducer;
mod wiring;

pub(super) use day::{lines as day_lines, over_the_day, what_would_do};
pub(super) use float::AfloatSheet;
use serde::Serialize;
pub(super) use sight::sight_lines;
pub use sight::{bands_words, fault_words, posture_word};
pub(super) use transducer::head_lines;

use super::number::{At, Number, base};
use crate::plan::{GearId, Plan};
use crate::study::Study;
use crate::study::weights::Weights;

/// Everything that follows from a plan, as far as other programs are promised it.
#[derive(Serialize)]
pub(super) struct StudySheet<'a> {
    weights: WeightsSheet,
    float: float::FloatSheet,
    readings: readings::ReadingsSheet,
    power: power::PowerSheet<'a>,
    wiring: wiring::WiringSheet<'a>,
    backup: backup::BackupSheet<'a>,
    penetrations: holes::HolesSheet,
    seat_test: seat::SeatTestSheet<'a>,
    reach: body::ReachSheet<'a>,
    sight: sight::SightSheet<'a>,
    transducer: transducer::TransducerSheet<'a>,
    clearance: body::ClearanceSheet<'a>,
    lights: lights::LightsSheet<'a>,
}

impl<'a> StudySheet<'a> {
    pub(super) fn of(plan: &'a Plan, study: &'a Study) -> Self {
        Self {
            weights: WeightsSheet::of(plan, &study.weights),
            float: float::FloatSheet::of(&study.float),
            readings: readings::ReadingsSheet::of(study),
            power: power::PowerSheet::of(plan, study),
            wiring: wiring::WiringSheet::of(plan, study),
            backup: backup::BackupSheet::of(plan, &study.backup),
            penetrations: holes::HolesSheet::of(&study.holes, study.float.levels.stated),
            seat_test: seat::SeatTestSheet::of(plan, study),
            reach: body::ReachSheet::of(plan, &study.reach),
            sight: sight::SightSheet::of(plan, study),
            transducer: transducer::TransducerSheet::of(plan, &study.transducers),
            clearance: body::ClearanceSheet::of(plan, &study.clearance),
            lights: lights::LightsSheet::of(plan, &study.lights),
        }
    }
}

/// What the person calls this gear.
pub(super) fn label(plan: &Plan, gear: GearId) -> &str {
    plan.gear(gear).map_or("", |gear| gear.label.as_str())
}

#[derive(Serialize)]
struct WeightsSheet {
    load_kg: Number,
    rating_kg: Number,
    load_percent: Number,
    groups: Vec<MassSheet>,
    cases: Vec<MassSheet>,
}

#[derive(Serialize)]
struct MassSheet {
    name: &'static str,
    mass_kg: Number,
    centre: At,
}

impl WeightsSheet {
    fn of(plan: &Plan, weights: &Weights) -> Self {
        let groups = weights.groups.iter().map(|group| (group.name, group.mass, group.centre));
        let cases = weights.cases.iter().map(|case| (case.name, case.mass, case.centre));
        let sheet = |(name, mass, centre)| MassSheet { name, mass_kg: base(mass), centre: At::from(centre) };
        Self {
            load_kg: base(weights.load),
            rating_kg: base(plan.hull.rating.value),
            load_percent: weights.load_percent.into(),
            groups: groups.map(sheet).collect(),
            cases: cases.map(sheet).collect(),
        }
    }
}
