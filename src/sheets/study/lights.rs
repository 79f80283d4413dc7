//! The lights for other programs. Bearings are relative, clockwise from ahead.

use serde::Serialize;

use super::label;
use crate::plan::{GearId, Plan};
use crate::sheets::number::{At, Number, Shift};
use crate::study::lights::rules::rule;
use crate::study::lights::sector::{Sector, sum};
use crate::study::lights::{Blocker, Lights, Met, Shown};

#[derive(Serialize)]
pub(super) struct LightsSheet<'a> {
    matter: bool,
    craft: Option<&'static str>,
    rule: Option<&'static str>,
    dark_hours: Number,
    off_level_deg: Number,
    spare: Option<GearId>,
    asked: Vec<AskedSheet<'a>>,
    lights: Vec<ShownSheet<'a>>,
    glare: Vec<GlareSheet<'a>>,
}

#[derive(Serialize)]
struct AskedSheet<'a> {
    role: &'static str,
    rule: &'static str,
    if_practicable: bool,
    range_nm: Number,
    met: &'static str,
    gear: Option<GearId>,
    label: Option<&'a str>,
}

#[derive(Serialize)]
struct ShownSheet<'a> {
    gear: GearId,
    label: &'a str,
    role: &'static str,
    colour: &'static str,
    at: At,
    given: SectorSheet,
    missing: Vec<SectorSheet>,
    across_bow_deg: Option<Number>,
    over_gunwale_mm: Option<Number>,
    over_side_lights_mm: Option<Number>,
    range_nm: Option<Number>,
    shadows: Vec<ShadowSheet<'a>>,
    hidden: Vec<HiddenSheet>,
    raise_mm: Option<Number>,
    shift: Option<Shift>,
}

#[derive(Serialize)]
struct SectorSheet {
    from_deg: Number,
    to_deg: Number,
    sweep_deg: Number,
}

#[derive(Serialize)]
struct ShadowSheet<'a> {
    gear: Option<GearId>,
    label: Option<&'a str>,
    angler: Option<&'static str>,
    #[serde(flatten)]
    sector: SectorSheet,
}

#[derive(Serialize)]
struct HiddenSheet {
    angler: &'static str,
    over_head_mm: Number,
    hidden_deg: Number,
    sectors: Vec<SectorSheet>,
}

#[derive(Serialize)]
struct GlareSheet<'a> {
    gear: GearId,
    label: &'a str,
    distance_mm: Number,
    down_deg: Number,
    to_port_deg: Number,
}

impl From<&Sector> for SectorSheet {
    fn from(sector: &Sector) -> Self {
        Self { from_deg: sector.from_deg.into(), to_deg: sector.to_deg().into(), sweep_deg: sector.sweep_deg.into() }
    }
}

impl<'a> LightsSheet<'a> {
    pub(super) fn of(plan: &'a Plan, lights: &Lights) -> Self {
        let asked = lights.asked.iter().map(|asked| {
            let (met, gear) = match asked.met {
                Met::By(gear) => ("yes", Some(gear)),
                Met::Short(gear, _) => ("not far enough", Some(gear)),
                Met::Not => ("no", None),
            };
            AskedSheet {
                role: asked.ask.role.word(),
                rule: asked.ask.rule,
                if_practicable: asked.ask.if_practicable,
                range_nm: asked.ask.role.range_nm().into(),
                met,
                gear,
                label: gear.map(|gear| label(plan, gear)),
            }
        });
        let glare = lights.glare.iter().map(|glare| GlareSheet {
            gear: glare.gear,
            label: label(plan, glare.gear),
            distance_mm: glare.look.distance_mm.into(),
            down_deg: glare.look.down_deg.into(),
            to_port_deg: glare.look.turn_deg.into(),
        });
        Self {
            matter: lights.matter(),
            craft: lights.craft.map(crate::plan::Craft::word),
            rule: lights.craft.map(rule),
            dark_hours: lights.dark.to_hours().into(),
            off_level_deg: lights.off_level_deg.into(),
            spare: lights.spare,
            asked: asked.collect(),
            lights: lights.lanterns.iter().map(|shown| ShownSheet::of(plan, lights, shown)).collect(),
            glare: glare.collect(),
        }
    }
}

impl<'a> ShownSheet<'a> {
    fn of(plan: &'a Plan, lights: &Lights, shown: &Shown) -> Self {
        let shadows = shown.shadows.iter().map(|shadow| {
            let (gear, angler) = match shadow.by {
                Blocker::Gear(gear) => (Some(gear), None),
                Blocker::Person(stance) => (None, Some(stance.word())),
            };
            ShadowSheet { gear, label: gear.map(|gear| label(plan, gear)), angler, sector: (&shadow.sector).into() }
        });
        let hidden = shown.hidden.iter().zip(&lights.stances).map(|((stance, parts), (_, head))| HiddenSheet {
            angler: stance.word(),
            over_head_mm: (shown.at.z - head).into(),
            hidden_deg: sum(parts).into(),
            sectors: parts.iter().map(SectorSheet::from).collect(),
        });
        Self {
            gear: shown.gear,
            label: label(plan, shown.gear),
            role: shown.role.word(),
            colour: shown.colour.word(),
            at: shown.at.into(),
            given: (&shown.given).into(),
            missing: shown.missing.iter().map(SectorSheet::from).collect(),
            across_bow_deg: shown.across_bow_deg.map(Number::from),
            over_gunwale_mm: shown.over_gunwale_mm.map(Number::from),
            over_side_lights_mm: shown.over_sides_mm.map(Number::from),
            range_nm: shown.range_nm.map(Number::from),
            shadows: shadows.collect(),
            hidden: hidden.collect(),
            raise_mm: shown.way.as_ref().and_then(|way| way.raise_mm).map(Number::from),
            shift: shown.way.as_ref().and_then(|way| way.shift).map(Shift::from),
        }
    }
}
