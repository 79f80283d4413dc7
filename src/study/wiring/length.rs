//! How long a wire is, one way.

use crate::plan::{GearId, Wire};
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
    /// The straight way with slack: at least this.
    Straight,
}

impl LengthBy {
    /// The word on screen and in JSON.
    pub fn word(self) -> &'static str {
        match self {
            Self::Measured => "measured",
            Self::Straight => "straight way",
        }
    }
}

/// The length of a wire from a battery, by way of a switch unit, to the furthest of its ends: as measured, or the
/// straight way `d` as `1.1 d + 300 mm`. `None` when the battery or every end is ashore; a unit that is ashore is
/// no way round.
pub fn one_way_mm(rig: &Rig, wire: &Wire, battery: GearId, unit: Option<GearId>, ends: &[GearId]) -> Option<OneWay> {
    if let Some(measured) = wire.length {
        return Some(OneWay { mm: measured.to_mm(), by: LengthBy::Measured });
    }
    let place = |gear: GearId| rig.item(gear).map(|item| item.at);
    let battery = place(battery)?;
    let unit = unit.and_then(place);
    let (before, from) = unit.map_or((0.0, battery), |unit| (battery.distance(unit), unit));
    let furthest = ends.iter().filter_map(|end| place(*end)).map(|end| from.distance(end)).reduce(f64::max)?;
    Some(OneWay { mm: SLACK_SHARE * (before + furthest) + ENDS_MM, by: LengthBy::Straight })
}
