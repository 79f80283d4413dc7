//! How long a wire is, one way.

use crate::plan::{GearId, Wire};
use crate::study::cables::Cables;
use crate::study::rig::Rig;

/// Length of a wire over its way. Common practice, no source: it hangs, and goes round things.
pub const SLACK_SHARE: f64 = 1.1;

/// What its two ends take beside, mm. Common practice, no source: 150 mm each.
pub const ENDS_MM: f64 = 300.0;

/// The length of a wire one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneWay {
    /// Millimetres.
    pub mm: f64,
    /// Where that comes from.
    pub by: LengthBy,
}

/// Where a wire's length comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LengthBy {
    /// A tape.
    Measured,
    /// The way of its cables through the boat, with slack.
    Routed,
    /// The straight way with slack: at least this.
    Straight,
}

impl LengthBy {
    /// The word on screen and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Routed => "routed",
            Self::Straight => "straight way",
        }
    }
}

/// The length of a wire from a battery, by way of a switch unit, to the furthest of its ends: as measured; by the ways
/// of its cables where all of them have one; else by the straight way. `None` when the battery or every end is ashore;
/// a unit that is ashore is no way round.
pub fn one_way_mm(
    rig: &Rig,
    cables: &Cables,
    wire: &Wire,
    battery: GearId,
    unit: Option<GearId>,
    ends: &[GearId],
) -> Option<OneWay> {
    if let Some(measured) = wire.length {
        return Some(OneWay { mm: measured.to_mm(), by: LengthBy::Measured });
    }
    let place = |gear: GearId| rig.item(gear).map(|item| item.at);
    place(battery)?;
    let unit = unit.filter(|unit| place(*unit).is_some());
    let from = unit.unwrap_or(battery);
    let ends = || ends.iter().copied().filter(|end| place(*end).is_some());
    let total = |part: &dyn Fn(GearId, GearId) -> Option<f64>| {
        let before = unit.map_or(Some(0.0), |unit| part(battery, unit))?;
        let after: Option<Vec<f64>> = ends().map(|end| part(from, end)).collect();
        Some(before + after?.into_iter().reduce(f64::max)? + ENDS_MM)
    };
    let routed = total(&|a, b| if a == b { Some(0.0) } else { laid_mm(cables, a, b) });
    let straight = || total(&|a, b| Some(SLACK_SHARE * place(a)?.distance(place(b)?)));
    match routed {
        Some(mm) => Some(OneWay { mm, by: LengthBy::Routed }),
        None => straight().map(|mm| OneWay { mm, by: LengthBy::Straight }),
    }
}

/// Length of the supply between two pieces of gear without its ends, mm: measured, or its way `d` as `1.1 d`.
fn laid_mm(cables: &Cables, a: GearId, b: GearId) -> Option<f64> {
    let run = cables.supply(a, b)?;
    let way = run.way.as_ref().ok().map(|way| SLACK_SHARE * way.length_mm);
    run.measured_mm.map(|measured| (measured - ENDS_MM).max(0.0)).or(way)
}
