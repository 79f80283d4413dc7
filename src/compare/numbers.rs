//! The numbers of the panels, then and now.

use crate::study::Study;
use crate::study::reach::Band;

/// A number of a panel, then and now. `None` where there is none: a boat that does not float has no draft.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// The panel it stands in.
    pub panel: &'static str,
    /// What it is, as on the screen.
    pub label: &'static str,
    /// Name in JSON, with its unit.
    pub key: &'static str,
    /// Its unit; empty for what is counted.
    pub unit: &'static str,
    /// Then.
    pub then: Option<f64>,
    /// Now.
    pub now: Option<f64>,
}

impl Number {
    /// Whether it is the same then and now, as far as the screen shows it: to a millimetre, else to a tenth.
    pub fn is_same(&self) -> bool {
        let finest = if self.unit == "mm" { 1.0 } else { 0.1 };
        match (self.then, self.now) {
            (Some(then), Some(now)) => (then / finest).round() == (now / finest).round(),
            (then, now) => then.is_none() && now.is_none(),
        }
    }
}

/// How a number is taken from a study.
type Take = fn(&Study) -> Option<f64>;

/// Panel, label, JSON name, unit, and where it comes from.
const ROWS: &[(&str, &str, &str, &str, Take)] = &[
    ("Power budget", "charge over the day", "charge_ah", "Ah", |s| Some(s.power.total.to_amp_hours())),
    ("Power budget", "usable charge", "usable_ah", "Ah", |s| {
        Some(s.power.batteries.iter().map(|battery| battery.usable.to_amp_hours()).sum())
    }),
    ("Power budget", "least reserve of a battery", "reserve_percent", "percent", |s| {
        s.day.batteries.iter().map(|battery| battery.reserve_percent).reduce(f64::min)
    }),
    ("Penetrations", "new holes", "new_holes", "", |s| counted(s.holes.counts.new_total())),
    ("Penetrations", "new fastener holes", "new_fasteners", "", |s| counted(s.holes.counts.new_fasteners)),
    ("Penetrations", "new passages", "new_passages", "", |s| counted(s.holes.counts.new_passages)),
    ("Penetrations", "new cut-outs", "new_cutouts", "", |s| counted(s.holes.counts.new_cutouts)),
    ("Penetrations", "below the water", "below_water", "", |s| counted(s.holes.counts.below_water)),
    ("Penetrations", "reused", "reused", "", |s| counted(s.holes.counts.reused)),
    ("Penetrations", "plugged", "plugged", "", |s| counted(s.holes.counts.plugged)),
    ("Penetrations", "open", "open", "", |s| counted(s.holes.counts.open)),
    ("Seat reach", "in hand", "in_hand", "", |s| banded(s, Band::InHand)),
    ("Seat reach", "at stretch", "at_stretch", "", |s| banded(s, Band::AtStretch)),
    ("Seat reach", "out of reach", "out_of_reach", "", |s| banded(s, Band::OutOfReach)),
    ("Clearances", "overlaps", "overlaps", "", |s| counted(s.clearance.overlaps.len())),
    ("Clearances", "in the way of a motion", "in_the_way", "", |s| counted(s.clearance.intrusions.len())),
    ("Clearances", "not held", "not_held", "", |s| {
        counted(s.rig.items.iter().filter(|item| !item.fit.is_held()).count())
    }),
    ("Float", "mass", "mass_kg", "kg", |s| s.float.planned().map(|planned| planned.load.mass_kg)),
    ("Float", "draft aft", "draft_aft_mm", "mm", |s| s.float.rest().map(|rest| rest.draft_aft_mm)),
    ("Float", "draft fore", "draft_fore_mm", "mm", |s| s.float.rest().map(|rest| rest.draft_fore_mm)),
    ("Float", "trim", "trim_deg", "deg", |s| s.float.rest().map(|rest| rest.trim_deg)),
    ("Float", "list", "heel_deg", "deg", |s| s.float.rest().map(|rest| rest.heel_deg)),
    ("Float", "least freeboard", "freeboard_mm", "mm", |s| {
        s.float.planned()?.least_freeboard().map(|least| least.height_mm)
    }),
    ("Float", "stiffness (GM)", "gm_mm", "mm", |s| s.float.planned()?.gm_mm()),
];

/// Every row, then and now.
pub(super) fn numbers(then: &Study, now: &Study) -> Vec<Number> {
    let number = |&(panel, label, key, unit, take): &(_, _, _, _, Take)| Number {
        panel,
        label,
        key,
        unit,
        then: take(then),
        now: take(now),
    };
    ROWS.iter().map(number).collect()
}

#[allow(clippy::unnecessary_wraps, reason = "a row may have no number, this one has")]
fn counted(count: usize) -> Option<f64> {
    Some(count as f64)
}

fn banded(study: &Study, band: Band) -> Option<f64> {
    counted(study.reach.items.iter().filter(|item| item.touch.band == band).count())
}
