//! Reach and clearance for other programs.

use serde::Serialize;

use super::label;
use crate::plan::{GearId, Often, Plan};
use crate::sheets::number::{At, Number, Shift};
use crate::study::clearance::Clearance;
use crate::study::reach::along::{Span, span};
use crate::study::reach::{Band, Reach, ReachItem};

#[derive(Serialize)]
pub(super) struct ReachSheet<'a> {
    items: Vec<ReachItemSheet<'a>>,
}

#[derive(Serialize)]
struct ReachItemSheet<'a> {
    gear: GearId,
    label: &'a str,
    touched: &'static str,
    gripped: bool,
    band: &'static str,
    hand: &'static str,
    control: At,
    lean_deg: Number,
    toward_deg: Number,
    twist_deg: Number,
    /// At rest while it is reached with a lean, positive to starboard.
    heel_deg: Option<Number>,
    distance_mm: Number,
    short_mm: Number,
    beyond_mm: Number,
    /// Where along the boat its control would be in hand, and at least at stretch.
    in_hand: Option<SpanSheet>,
    at_stretch: Option<SpanSheet>,
    /// The reading that tried it, counted from 1.
    tested: Option<usize>,
}

#[derive(Serialize)]
struct SpanSheet {
    from_mm: Number,
    to_mm: Number,
}

impl From<Span> for SpanSheet {
    fn from(span: Span) -> Self {
        Self { from_mm: span.aft.into(), to_mm: span.fore.into() }
    }
}

impl<'a> ReachSheet<'a> {
    pub(super) fn of(plan: &'a Plan, reach: &Reach) -> Self {
        let along = |item: &ReachItem, band| span(plan, &reach.body, item.control, item.gripped, band).map(Into::into);
        let items = reach.items.iter().map(|item| ReachItemSheet {
            gear: item.gear,
            label: label(plan, item.gear),
            touched: match item.touched {
                Often::Never => "never",
                Often::Seldom => "seldom",
                Often::Often => "often",
            },
            gripped: item.gripped,
            band: item.touch.band.word(),
            hand: item.touch.hand.word(),
            control: item.control.into(),
            lean_deg: item.touch.lean_deg.into(),
            toward_deg: item.touch.toward_deg.into(),
            twist_deg: item.touch.twist_deg.into(),
            heel_deg: item.heel_deg.map(Number::from),
            distance_mm: item.touch.distance_mm.into(),
            short_mm: item.touch.short_mm.into(),
            beyond_mm: item.touch.beyond_mm.into(),
            in_hand: along(item, Band::InHand),
            at_stretch: along(item, Band::AtStretch),
            tested: item.tested.map(|index| index + 1),
        });
        Self { items: items.collect() }
    }
}

#[derive(Serialize)]
pub(super) struct ClearanceSheet<'a> {
    overlaps: Vec<OverlapSheet<'a>>,
    against_hull: Vec<ContactSheet<'a>>,
    intrusions: Vec<IntrusionSheet<'a>>,
    snags: Vec<SnagSheet<'a>>,
}

#[derive(Serialize)]
struct OverlapSheet<'a> {
    gear: GearId,
    label: &'a str,
    other: GearId,
    other_label: &'a str,
    depth_mm: Number,
    at: At,
}

#[derive(Serialize)]
struct ContactSheet<'a> {
    gear: GearId,
    label: &'a str,
    part: &'static str,
    depth_mm: Number,
    at: At,
    way_out: Option<Shift>,
}

#[derive(Serialize)]
struct IntrusionSheet<'a> {
    gear: GearId,
    label: &'a str,
    motion: &'static str,
    side: Option<&'static str>,
    hard: bool,
    depth_mm: Number,
    at: At,
    way_out: Option<Shift>,
}

#[derive(Serialize)]
struct SnagSheet<'a> {
    gear: GearId,
    label: &'a str,
    at: At,
}

impl<'a> ClearanceSheet<'a> {
    pub(super) fn of(plan: &'a Plan, clearance: &Clearance) -> Self {
        let overlaps = clearance.overlaps.iter().map(|overlap| OverlapSheet {
            gear: overlap.gear,
            label: label(plan, overlap.gear),
            other: overlap.other,
            other_label: label(plan, overlap.other),
            depth_mm: overlap.depth_mm.into(),
            at: overlap.at.into(),
        });
        let against_hull = clearance.against_hull.iter().map(|contact| ContactSheet {
            gear: contact.gear,
            label: label(plan, contact.gear),
            part: contact.part.word(),
            depth_mm: contact.depth_mm.into(),
            at: contact.at.into(),
            way_out: contact.way_out.map(Shift::from),
        });
        let intrusions = clearance.intrusions.iter().filter_map(|intrusion| {
            let envelope = clearance.envelopes.get(intrusion.envelope)?;
            Some(IntrusionSheet {
                gear: intrusion.gear,
                label: label(plan, intrusion.gear),
                motion: envelope.motion.word(),
                side: envelope.side.map(|side| side.word()),
                hard: envelope.hard,
                depth_mm: intrusion.depth_mm.into(),
                at: intrusion.at.into(),
                way_out: intrusion.way_out.map(Shift::from),
            })
        });
        let snags = clearance.snags.iter().map(|snag| SnagSheet {
            gear: snag.gear,
            label: label(plan, snag.gear),
            at: snag.at.into(),
        });
        Self {
            overlaps: overlaps.collect(),
            against_hull: against_hull.collect(),
            intrusions: intrusions.collect(),
            snags: snags.collect(),
        }
    }
}
