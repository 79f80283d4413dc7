//! What fails with one part, for other programs.

use std::collections::BTreeSet;

use serde::Serialize;

use super::label;
use crate::plan::{CircuitId, GearId, Plan};
use crate::sheets::number::{Number, base};
use crate::study::backup::spares::{Sort, Spare};
use crate::study::backup::{Backup, Failure, Part, Served};

#[derive(Serialize)]
pub(super) struct BackupSheet<'a> {
    failures: Vec<FailureSheet<'a>>,
    needs: Vec<NeedSheet<'a>>,
    spares: Vec<SpareSheet<'a>>,
}

#[derive(Serialize)]
struct FailureSheet<'a> {
    part: &'static str,
    gear: Option<GearId>,
    circuit: Option<CircuitId>,
    fuse_a: Option<Number>,
    name: String,
    lost: Vec<GearSheet<'a>>,
    lost_needs: Vec<&'static str>,
    other_battery: Option<GearId>,
}

#[derive(Serialize)]
struct NeedSheet<'a> {
    need: &'static str,
    served_by: Vec<GearSheet<'a>>,
}

#[derive(Serialize)]
struct SpareSheet<'a> {
    sort: &'static str,
    fuse_a: Option<Number>,
    fitted: usize,
    count: usize,
    gear: Vec<GearSheet<'a>>,
}

#[derive(Serialize)]
struct GearSheet<'a> {
    gear: GearId,
    label: &'a str,
}

impl<'a> BackupSheet<'a> {
    pub(super) fn of(plan: &'a Plan, backup: &Backup) -> Self {
        Self {
            failures: backup.failures.iter().map(|failure| FailureSheet::of(plan, failure)).collect(),
            needs: backup.needs.iter().map(|served| NeedSheet::of(plan, served)).collect(),
            spares: backup.spares.iter().map(|spare| SpareSheet::of(plan, spare)).collect(),
        }
    }
}

impl<'a> FailureSheet<'a> {
    fn of(plan: &'a Plan, failure: &Failure) -> Self {
        let (part, gear, circuit, fuse) = match failure.part {
            Part::Battery(gear) => ("battery", Some(gear), None, None),
            Part::MainFuse(battery, fuse) => ("main_fuse", Some(battery), None, Some(fuse)),
            Part::SwitchUnit(gear) => ("switch_unit", Some(gear), None, None),
            Part::Remote(gear) => ("remote", Some(gear), None, None),
            Part::Phone(gear) => ("phone", gear, None, None),
            Part::Fuse(circuit, fuse) => ("fuse", None, Some(circuit), Some(fuse)),
            Part::Converter(gear) => ("converter", Some(gear), None, None),
        };
        Self {
            part,
            gear,
            circuit,
            fuse_a: fuse.map(base),
            name: failure.part.words(plan),
            lost: all(plan, &failure.lost),
            lost_needs: failure.needs.iter().map(|need| need.word()).collect(),
            other_battery: failure.other_battery,
        }
    }
}

impl<'a> NeedSheet<'a> {
    fn of(plan: &'a Plan, served: &Served) -> Self {
        Self { need: served.need.word(), served_by: all(plan, &served.by) }
    }
}

impl<'a> SpareSheet<'a> {
    fn of(plan: &'a Plan, spare: &Spare) -> Self {
        let (sort, fuse) = match spare.sort {
            Sort::Fuse(rating) => ("fuse", Some(rating)),
            Sort::Cells => ("cells", None),
            Sort::Bulb => ("bulb", None),
            Sort::ShearPin => ("shear_pin", None),
        };
        let gear = spare.gear.iter().copied().collect();
        Self { sort, fuse_a: fuse.map(base), fitted: spare.fitted, count: spare.count, gear: all(plan, &gear) }
    }
}

fn all<'a>(plan: &'a Plan, gear: &BTreeSet<GearId>) -> Vec<GearSheet<'a>> {
    gear.iter().map(|gear| GearSheet { gear: *gear, label: label(plan, *gear) }).collect()
}
