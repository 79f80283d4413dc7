//! `zone-wrong`: the place does not offer what the mount needs.

use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::{Kind, Level, Mount};
use crate::study::fit::Fit;
use crate::study::rig::RigItem;

/// The check.
pub const CHECK: Check = Check { id: "zone-wrong", title: "the mount does not fit the place", doc: DOC, run };

const DOC: &str = "\
What it checks
That the mount finds what it needs where the gear stands: a slot long enough for its foot, an insert or
bolt with its thread, a scupper, a skin. And that a base which is bolted, riveted, set in or strapped
does not hang over the edge of the hull or over an edge of its zone.

Why it matters
Half a base holds less than half: the holes of the other half end in the air or on a radius.

Limit and source
A base may hang over by 5 mm (`zone-wrong.overhang`). A strapped base that hangs over is a caution (a
rod, a paddle or a net may lie across), the rest a stop. Common practice, no source.

What to do
Move it onto the track, insert or zone, choose another of its mounts, or add a track.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    for item in &case.study.rig.items {
        // Gear beside the hull is for `off-hull` to say, once.
        if case.plan.hull.form.bottom(item.at.spot()).is_none() {
            continue;
        }
        match &item.fit {
            Fit::Not(why) => {
                let says = format!("{}: {why}", Subject::Gear(item.gear).named(case.plan));
                found.push(Finding {
                    value: 1.0,
                    margin: -1.0,
                    unit: "count",
                    ..finding(item, Severity::Stop, says, "move it, or choose another of its mounts".into())
                });
            }
            Fit::Held(_) => found.extend(overhang(case, item)),
        }
    }
}

fn overhang(case: &Case<'_>, item: &RigItem) -> Option<Finding> {
    let gear = case.plan.gear.get(item.index)?;
    let severity = match gear.mount {
        Mount::Bolts | Mount::Rivets | Mount::Flush => Severity::Stop,
        // Long things are strapped across edges.
        Mount::Strap if !matches!(gear.spec.kind, Kind::Rod | Kind::Paddle | Kind::Landing) => Severity::Caution,
        Mount::Strap | Mount::Track | Mount::Inserts | Mount::Existing | Mount::Clamp | Mount::Scupper => return None,
    };
    if item.level != Level::Deck {
        return None;
    }
    let hull = &case.plan.hull;
    let zone = hull.zone_at(item.at.spot()).filter(|zone| zone.edge);
    let (edge, of) = match zone {
        Some(zone) => (zone.outline_mm.clone(), zone.name.to_string()),
        None => (hull.form.deck_outline(), "the hull".into()),
    };
    let over = item.base.polygon().corners.iter().map(|corner| -edge.depth_of(*corner)).fold(0.0, f64::max);
    let limit = case.limits.get("zone-wrong.overhang");
    if over <= limit {
        return None;
    }
    let label = Subject::Gear(item.gear).named(case.plan);
    let says = format!("the base of {label} hangs {over:.0} mm over the edge of {of}");
    let remedy = format!("move it {:.0} mm inward, or choose a smaller base", over.ceil());
    Some(Finding { value: over, limit, margin: limit - over, unit: "mm", ..finding(item, severity, says, remedy) })
}

fn finding(item: &RigItem, severity: Severity, says: String, remedy: String) -> Finding {
    Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Gear(item.gear),
        at: Some(item.at),
        value: 0.0,
        limit: 0.0,
        margin: 0.0,
        unit: "mm",
        says,
        remedy,
        source: COMMON_PRACTICE,
    }
}
