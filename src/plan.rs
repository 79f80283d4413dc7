//! The plan: what the person decided and measured about one boat. Plain data, one file.
//!
//! Nothing here computes: what follows from a plan is the study's business. The types are the file
//! format; the doors at which numbers and names are checked are `validate` (whole plan, on load)
//! and the edits.

pub mod angler;
pub mod calendar;
pub mod clock;
pub mod craft;
mod feature_lengths;
pub mod figures;
pub mod form;
pub mod gear;
pub mod hull;
pub mod ids;
pub mod name;
pub mod outing;
pub mod parts;
pub mod penetration;
pub mod reading;
pub mod renumber;
pub mod review;
pub mod spec;
pub mod tape;
pub mod validate;
pub mod wiring;
pub mod work;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use angler::{Angler, MeasuredBody, Seat, SeatHeight, Side};
pub use calendar::{Day, DayFault, Weekday};
pub use clock::{Clock, ClockFault};
pub use craft::Craft;
pub use figures::{AnyQuantity, FigureRef, SoftFigure};
pub use form::HullForm;
pub use gear::{BuildState, Gear, Level, Placement};
pub use hull::{Bore, Curve, Drilling, Feature, FeatureKind, Hinge, Hull, Opening, Pedals, SeatRails, Thread, Zone};
pub use ids::{CableId, CircuitId, FeatureId, GearId, HoleId, ThreadId, ZoneId};
pub use name::{Key, Name, Note, Tag};
pub use outing::{Duty, Outing, Phase, Posture, Water};
pub use penetration::{Fate, Left, Penetration, Plug, Purpose, Seal};
pub use reading::{Aboard, Reading, Taken, Weighed};
pub use review::{Anchor, Message, ReviewThread, Revision, ThreadState};
pub use spec::{
    Back, Body, CableTail, Carries, Chemistry, Colour, Control, Electric, Handling, HoleSpec, KeepAway, Kind, Lantern,
    Light, LightArc, Magnetic, Mount, Mounting, Often, Runs, Setting, Shape, Signal, Spec,
};
pub use tape::{Bottom, Doubt, FeaturePlace, Gauge, Measurement, Rounding, Station, Tape, WellDepth};
pub use validate::Fault;
pub use wiring::{Cable, Circuit, Main, Via, Wire, Wiring};
pub use work::{Act, On, Tick, WorkLog};

/// The file format this program writes. Older ones are upgraded, newer ones refused.
///
/// 2 adds to 1 and takes nothing away: the hull's form may be a tape; the log of the work; who left a hole; prices.
pub const FORMAT: u32 = 2;

/// The oldest file format that reads as it stands: whatever came since may be left out.
pub const OLDEST_ALIKE: u32 = 1;

/// One boat, its gear and decisions.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Plan {
    /// Version of the file format, see [`FORMAT`].
    pub format: u32,
    /// What the person calls the plan.
    pub name: Name,
    /// Free text; comments in the file itself are not kept.
    #[serde(default, skip_serializing_if = "Note::is_empty")]
    pub notes: Note,
    /// The bare boat; shared between the states of a history.
    pub hull: Arc<Hull>,
    /// Who sits in it.
    pub angler: Angler,
    /// What is put aboard or still ashore.
    #[serde(default)]
    pub gear: Vec<Gear>,
    /// Batteries, circuits and cables.
    #[serde(default)]
    pub wiring: Wiring,
    /// The day the boat is planned for.
    #[serde(default)]
    pub outing: Outing,
    /// Holes that no gear owns: cable entries, old holes and their fate.
    #[serde(default)]
    pub penetrations: Vec<Penetration>,
    /// When there is time for the work, and what was done.
    #[serde(default, skip_serializing_if = "WorkLog::is_empty")]
    pub work: WorkLog,
    /// What was measured, dated.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub readings: Vec<Reading>,
    /// Named earlier states.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<Revision>,
    /// Review comments.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub threads: Vec<ReviewThread>,
    /// Limits of checks that this plan sets otherwise, each with its reason.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub limits: Vec<LimitOverride>,
}

/// A check's limit set otherwise for this plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LimitOverride {
    /// The limit's name in the checks' table: `freeboard-low.caution`.
    pub limit: String,
    /// The value to use, in the unit of the table.
    pub value: f64,
    /// Why; shown with each finding it touches.
    pub reason: Name,
}

impl Plan {
    /// The gear with this id.
    pub fn gear(&self, id: GearId) -> Option<&Gear> {
        self.gear.get(find_by_id(&self.gear, id, |gear| gear.id)?)
    }

    /// The gear with this id, to change.
    pub fn gear_mut(&mut self, id: GearId) -> Option<&mut Gear> {
        let index = find_by_id(&self.gear, id, |gear| gear.id)?;
        self.gear.get_mut(index)
    }

    /// The hole with this id.
    pub fn penetration(&self, id: HoleId) -> Option<&Penetration> {
        self.penetrations.iter().find(|p| p.id == id)
    }

    /// The zone with this id.
    pub fn zone(&self, id: ZoneId) -> Option<&Zone> {
        self.hull.zones.iter().find(|z| z.id == id)
    }

    /// The feature with this id.
    pub fn feature(&self, id: FeatureId) -> Option<&Feature> {
        self.hull.features.iter().find(|f| f.id == id)
    }

    /// An id no gear has had in this plan's lifetime of edits: one past the greatest.
    pub fn next_gear_id(&self) -> GearId {
        GearId(self.gear.iter().map(|g| g.id.0).max().unwrap_or(0) + 1)
    }

    /// An id no hole has: one past the greatest.
    pub fn next_hole_id(&self) -> HoleId {
        HoleId(self.penetrations.iter().map(|p| p.id.0).max().unwrap_or(0) + 1)
    }
}

/// Where the item of this id is. New items come last and get the greatest id, so that the order is usually that of
/// the ids; a file may have any other, and then every item is looked at.
pub(crate) fn find_by_id<T, I: Ord>(items: &[T], id: I, id_of: impl Fn(&T) -> I) -> Option<usize> {
    items.binary_search_by(|item| id_of(item).cmp(&id)).ok().or_else(|| items.iter().position(|item| id_of(item) == id))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn items_are_found_in_any_order() {
        for ids in [vec![1, 2, 3, 5, 8], vec![8, 1, 5, 3, 2], vec![2, 8, 1, 3, 5]] {
            for id in 0..10 {
                let found = find_by_id(&ids, id, |item| *item);
                assert_eq!(found, ids.iter().position(|item| *item == id), "{id} in {ids:?}");
            }
        }
    }
}
