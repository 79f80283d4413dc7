//! Penetrations: how many new holes the plan costs, and each of them.

use super::{Panel, PanelKind, PanelRow, Sources, label, mark};
use crate::plan::Carries;
use crate::study::holes::{Hole, HoleState};
use crate::study::rig::HoleRef;
use crate::tui::app::Thing;

pub(super) fn panel(from: Sources<'_>) -> Panel {
    let counts = &from.study.holes.counts;
    let headline = count(counts.new_total());
    let was = from.before.map(|before| count(before.holes.counts.new_total())).filter(|was| *was != headline);
    let mut parts = Vec::new();
    for (number, word) in [
        (counts.new_fasteners, "fastener"),
        (counts.new_passages, "passage"),
        (counts.new_cutouts, "cut-out"),
        (counts.reused, "reused"),
        (counts.plugged, "plugged"),
        (counts.open, "open"),
        (counts.avoidable, "avoidable"),
    ] {
        if number > 0 {
            parts.push(format!("{number} {word}"));
        }
    }
    let verdict = if parts.is_empty() { "nothing to drill".to_string() } else { parts.join(", ") };
    let mut rows = Vec::new();
    if !parts.is_empty() {
        rows.push(PanelRow { label: verdict.clone(), quiet: true, ..PanelRow::default() });
    }
    // Pass-throughs and cut-outs are listed one by one, fasteners by the gear they hold.
    for hole in &from.study.holes.holes {
        if hole.carries == Carries::Fastener && matches!(hole.id, HoleRef::Gear(..)) {
            continue;
        }
        rows.push(single(from, hole));
    }
    for gear in from.plan.gear.iter().filter(|gear| gear.is_placed()) {
        let fasteners = from.study.holes.holes.iter().filter(|hole| {
            hole.owner == Some(gear.id) && hole.carries == Carries::Fastener && matches!(hole.id, HoleRef::Gear(..))
        });
        let (number, bore) = fasteners.fold((0, 0.0), |(n, bore), hole: &Hole| (n + 1, f64::max(bore, hole.bore_mm)));
        if number == 0 {
            continue;
        }
        let thing = Thing::Gear(gear.id);
        rows.push(PanelRow {
            mark: mark(from, PanelKind::Penetrations, thing),
            label: gear.label.to_string(),
            value: format!("{number} x {bore:.1}"),
            unit: "mm",
            note: gear.mount.word().into(),
            thing: Some(thing),
            quiet: false,
        });
    }
    Panel { kind: PanelKind::Penetrations, headline, was, gauge: None, worst: None, verdict, rows }
}

fn single(from: Sources<'_>, hole: &Hole) -> PanelRow {
    let thing = Thing::Hole(hole.id);
    let label = match hole.id {
        HoleRef::Own(id) => from.plan.penetration(id).map_or_else(|| id.to_string(), |own| own.name.to_string()),
        HoleRef::Gear(id, _) => label(from.plan, id),
    };
    let note = match hole.state {
        HoleState::New => {
            from.tape.length(hole.above_water_mm)
                + if hole.above_water_mm < 0.0 { " under water" } else { " over water" }
        }
        HoleState::Reused | HoleState::Drilled => hole.state.word().into(),
        HoleState::Plugged(how) => how.word().into(),
        HoleState::Open => "open".into(),
    };
    PanelRow {
        mark: mark(from, PanelKind::Penetrations, thing),
        label,
        value: format!("{:.1}", hole.bore_mm),
        unit: "mm",
        note,
        thing: Some(thing),
        quiet: false,
    }
}

fn count(number: usize) -> String {
    match number {
        0 => "no new hole".into(),
        1 => "1 new hole".into(),
        n => format!("{n} new holes"),
    }
}
