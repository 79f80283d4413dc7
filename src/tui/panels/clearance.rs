//! Clearances: bodies in one place, gear in the way of a motion, gear that nothing holds.

use super::{Panel, PanelKind, PanelRow, Sources, label, mark};
use crate::study::Study;
use crate::study::fit::Fit;
use crate::tui::app::Thing;

pub(super) fn panel(from: Sources<'_>) -> Panel {
    let clearance = &from.study.clearance;
    let headline = summary(from.study);
    let was = from.before.map(summary).filter(|was| *was != headline);
    let mut rows = Vec::new();
    for item in &from.study.rig.items {
        if let Fit::Not(_) = &item.fit {
            let thing = Thing::Gear(item.gear);
            rows.push(PanelRow {
                mark: mark(from, PanelKind::Clearances, thing),
                label: format!("not held: {}", label(from.plan, item.gear)),
                thing: Some(thing),
                ..PanelRow::default()
            });
        }
    }
    for overlap in &clearance.overlaps {
        let thing = Thing::Gear(overlap.gear);
        rows.push(PanelRow {
            mark: mark(from, PanelKind::Clearances, thing),
            label: format!("overlap: {}, {}", label(from.plan, overlap.gear), label(from.plan, overlap.other)),
            value: from.tape.bare(overlap.depth_mm),
            unit: from.tape.unit(),
            note: "too much".into(),
            thing: Some(thing),
            quiet: false,
        });
    }
    for intrusion in &clearance.intrusions {
        let thing = Thing::Gear(intrusion.gear);
        let envelope = clearance.envelopes.get(intrusion.envelope);
        let motion = envelope.map_or("", |envelope| envelope.motion.word());
        let side =
            envelope.and_then(|envelope| envelope.side).map_or(String::new(), |side| format!(" {}", side.word()));
        rows.push(PanelRow {
            mark: mark(from, PanelKind::Clearances, thing),
            label: format!("{motion}{side}: {}", label(from.plan, intrusion.gear)),
            value: from.tape.bare(intrusion.depth_mm),
            unit: from.tape.unit(),
            note: "in the way".into(),
            thing: Some(thing),
            quiet: false,
        });
    }
    rows.extend(snags(from));
    rows.extend(lights(from));
    let verdict = if rows.is_empty() { "nothing in the way".to_string() } else { String::new() };
    Panel { kind: PanelKind::Clearances, headline, was, gauge: None, worst: None, verdict, rows }
}

/// How many points a line catches on near the landing side, and on which gear first.
fn snags(from: Sources<'_>) -> Option<PanelRow> {
    let snags = &from.study.clearance.snags;
    let thing = Thing::Gear(snags.first()?.gear);
    Some(PanelRow {
        mark: mark(from, PanelKind::Clearances, thing),
        label: "snags by the landing side".into(),
        value: snags.len().to_string(),
        thing: Some(thing),
        ..PanelRow::default()
    })
}

/// Lights that something stands in the way of, where they matter.
fn lights(from: Sources<'_>) -> impl Iterator<Item = PanelRow> {
    let lights = &from.study.lights;
    lights.lanterns.iter().filter(|_| lights.matter()).filter_map(move |shown| {
        let (_, deg, _) = shown.worst().filter(|(_, deg, _)| *deg > 0.0)?;
        let thing = Thing::Gear(shown.gear);
        Some(PanelRow {
            mark: mark(from, PanelKind::Clearances, thing),
            label: format!("light: {}", label(from.plan, shown.gear)),
            value: format!("{deg:.1}"),
            unit: "deg",
            note: "hidden".into(),
            thing: Some(thing),
            quiet: false,
        })
    })
}

fn summary(study: &Study) -> String {
    let loose = study.rig.items.iter().filter(|item| !item.fit.is_held()).count();
    match study.clearance.overlaps.len() + study.clearance.intrusions.len() + loose {
        0 => "all clear".into(),
        1 => "1 conflict".into(),
        n => format!("{n} conflicts"),
    }
}
