//! Seat reach: what can be touched from the seat, and what it takes.

use super::{Panel, PanelKind, PanelRow, Sources, label, mark};
use crate::study::reach::{Band, ReachItem};
use crate::tui::app::Thing;

pub(super) fn panel(from: Sources<'_>) -> Panel {
    let items = &from.study.reach.items;
    let headline = summary(items);
    let was = from.before.map(|before| summary(&before.reach.items)).filter(|was| *was != headline);
    let mut sorted: Vec<&ReachItem> = items.iter().collect();
    sorted.sort_by(|a, b| {
        b.touch.band.cmp(&a.touch.band).then_with(|| b.touch.distance_mm.total_cmp(&a.touch.distance_mm))
    });
    let rows = sorted
        .into_iter()
        .map(|item| {
            let thing = Thing::Gear(item.gear);
            PanelRow {
                mark: mark(from, PanelKind::Reach, thing),
                label: label(from.plan, item.gear),
                value: effort(item),
                unit: "",
                note: note(from, item),
                thing: Some(thing),
                quiet: false,
            }
        })
        .collect();
    let body = &from.study.reach.body;
    let verdict = format!("arm {} to the grip", from.tape.length(body.grip));
    Panel { kind: PanelKind::Reach, headline, was, gauge: None, worst: None, verdict, rows }
}

/// The distance, the heel that the lean causes, and whether it was tried sitting in the boat.
fn note(from: Sources<'_>, item: &ReachItem) -> String {
    let heel = item.heel_deg.filter(|heel| heel.abs() >= 0.5).map(|heel| format!("heels {:.0} deg", heel.abs()));
    let tested = item.tested.map(|_| "tested".to_string());
    let parts = heel.into_iter().chain(tested).chain([from.tape.length(item.touch.distance_mm)]);
    parts.collect::<Vec<_>>().join(", ")
}

fn effort(item: &ReachItem) -> String {
    match item.touch.band {
        Band::InHand => Band::InHand.word().into(),
        Band::AtStretch => {
            let mut parts = Vec::new();
            if item.touch.lean_deg >= 0.5 {
                parts.push(format!("lean {:.0}", item.touch.lean_deg));
            }
            if item.touch.twist_deg >= 0.5 {
                parts.push(format!("twist {:.0}", item.touch.twist_deg));
            }
            if parts.is_empty() { Band::AtStretch.word().into() } else { parts.join(", ") + " deg" }
        }
        Band::OutOfReach => Band::OutOfReach.word().into(),
    }
}

fn summary(items: &[ReachItem]) -> String {
    let count = |band| items.iter().filter(|item| item.touch.band == band).count();
    match (items.len(), count(Band::OutOfReach)) {
        (0, _) => "nothing to touch".into(),
        (all, 0) => format!("{} of {all} in hand", count(Band::InHand)),
        (_, out) => format!("{out} out of reach"),
    }
}
