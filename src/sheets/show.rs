//! The whole plan with its study: a page to read, or one JSON document.

use serde::Serialize;

use super::backup::backup_lines;
use super::check::FindingSheet;
use super::float::float_lines;
use super::lights;
use super::number::plain;
use super::place::station;
use super::readings;
use super::study::{StudySheet, day_lines, head_lines, label, sight_lines};
use super::wiring::wiring_lines;
use crate::checks::Finding;
use crate::plan::{Gauge, Plan};
use crate::shown::Shown;
use crate::study::Study;
use crate::study::float::heel_way;
use crate::units::{Measure, Quantity, amount};

/// Plan, findings and study as one JSON document, schema `gunnel.show/1`. The plan is as in its file.
pub fn show_json(plan: &Plan, study: &Study, findings: &[Finding]) -> String {
    super::json(&ShowSheet {
        schema: "gunnel.show/1",
        plan,
        findings: findings.iter().map(|finding| FindingSheet::of(plan, finding)).collect(),
        study: StudySheet::of(plan, study),
    })
}

#[derive(Serialize)]
struct ShowSheet<'a> {
    schema: &'static str,
    plan: &'a Plan,
    findings: Vec<FindingSheet<'a>>,
    study: StudySheet<'a>,
}

/// The plan on a page: the boat, the gear and where it is, and what the four panels say.
pub fn show_text(plan: &Plan, study: &Study, tape: Measure) -> String {
    let sections = [
        ("Boat", boat(plan, study, tape)),
        ("Gear", gear(plan, tape)),
        ("Float as planned", float_lines(&study.float, tape)),
        ("Power budget", power(plan, study)),
        ("Wiring", wiring_lines(plan, study, tape)),
        ("Back-up", backup_lines(plan, study)),
        ("Penetrations", holes(study)),
        ("Seat reach", reach(plan, study)),
        ("Seat test", seat_test(plan, study, tape)),
        ("Seen from the seat", or_nothing(sight_lines(plan, study), "nothing aboard must be seen")),
        ("Sonar", or_nothing(head_lines(plan, &study.transducers, tape), "no head aboard")),
        ("Clearances", clearances(plan, study, tape)),
        ("Lights", lights::lines(plan, study, tape)),
        ("Readings", or_nothing(readings::lines(plan, study, tape), "none taken")),
    ];
    let mut text = format!("{}\n", Shown(plan.name.as_str()));
    for (title, lines) in sections {
        text.push_str(&format!("\n{title}\n"));
        for line in lines {
            text.push_str(&format!("  {}\n", Shown(&line)));
        }
    }
    text
}

fn boat(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let hull = &plan.hull;
    let mut lines = vec![
        format!(
            "{}, {} long, {} wide",
            hull.name,
            tape.length(hull.length.value.to_mm()),
            tape.length(hull.beam.value.to_mm())
        ),
        format!(
            "load {} of {} allowed, {} percent",
            amount(study.weights.load, 1),
            amount(hull.rating.value, 0),
            plain(study.weights.load_percent)
        ),
    ];
    if let Some(measured) = hull.form.tape() {
        let all = measured.measurements();
        let taken = all.iter().filter(|what| measured.gauge(**what).is_some_and(Gauge::is_measured)).count();
        lines.push(format!("form by tape: {taken} of {} figures measured, the others guessed", all.len()));
    }
    lines
}

fn gear(plan: &Plan, tape: Measure) -> Vec<String> {
    let line = |gear: &crate::plan::Gear| match &gear.place {
        Some(place) => {
            let at = station(plan, place.spot(), tape);
            format!("{}: {}, {}, {}", gear.label, place.level.word(), at, gear.mount.word())
        }
        None => format!("{}: ashore", gear.label),
    };
    or_nothing(plan.gear.iter().map(line).collect(), "none")
}

fn power(plan: &Plan, study: &Study) -> Vec<String> {
    let power = &study.power;
    let mut lines = vec![format!(
        "{} and {} over {} h; {} in ordinary use, {} at most",
        amount(power.total, 1),
        amount(power.energy, 0),
        plain(power.hours.base()),
        amount(power.typical, 1),
        amount(power.peak, 1)
    )];
    for battery in &power.batteries {
        let lasts = battery.lasts.map_or("nothing draws on it".to_string(), |hours| {
            let reserve = study.day.battery(battery.gear).map_or(battery.reserve_percent, |day| day.reserve_percent);
            let left = if reserve < 0.0 { "short" } else { "in reserve" };
            format!("lasts {} h, {} percent {left}", plain(hours.base()), plain(reserve.abs()))
        });
        lines.push(format!("{}: {} usable, {lasts}", label(plan, battery.gear), amount(battery.usable, 1)));
    }
    lines.extend(day_lines(plan, study));
    lines.extend(meter_next(plan, study));
    lines
}

/// The load worth metering next, with what hangs on it.
fn meter_next(plan: &Plan, study: &Study) -> Option<String> {
    let worth = study.meter_next.first()?;
    let hangs = worth.hangs.first().map_or(String::new(), |hangs| format!("; {} hangs on it", hangs.words(plan)));
    let (charge, spread) = (amount(worth.charge, 1), amount(worth.charge_spread, 1));
    Some(format!("meter next: {}, {charge} +- {spread}{hangs}", label(plan, worth.gear)))
}

fn holes(study: &Study) -> Vec<String> {
    let counts = &study.holes.counts;
    vec![
        format!(
            "{} new: {} for fasteners, {} passages, {} cut-outs; {} avoidable",
            counts.new_total(),
            counts.new_fasteners,
            counts.new_passages,
            counts.new_cutouts,
            counts.avoidable
        ),
        format!("{} reused, {} plugged, {} open", counts.reused, counts.plugged, counts.open),
    ]
}

fn reach(plan: &Plan, study: &Study) -> Vec<String> {
    let line = |item: &crate::study::reach::ReachItem| {
        let touch = &item.touch;
        let heel =
            item.heel_deg.map_or(String::new(), |heel| format!(", heels {} deg {}", plain(heel.abs()), heel_way(heel)));
        format!(
            "{}: {}, {} hand, lean {} deg, twist {} deg{heel}",
            label(plan, item.gear),
            touch.band.word(),
            touch.hand.word(),
            plain(touch.lean_deg),
            plain(touch.twist_deg)
        )
    };
    or_nothing(study.reach.items.iter().map(line).collect(), "nothing aboard is touched under way")
}

fn seat_test(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let test = &study.seat_test;
    if test.tried.is_empty() {
        return vec!["none noted: the body is that of the stature".into()];
    }
    let residual = format!("{} readings, missed by {}", test.tried.len(), tape.length(test.residual_mm()));
    let changed = test.changes().map(|change| {
        format!("{}: {}, before {}", label(plan, change.gear), change.after.word(), change.before.word())
    });
    [readings::refit_words(&test.refit, tape), residual].into_iter().chain(changed).collect()
}

fn clearances(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let clearance = &study.clearance;
    let overlaps = clearance.overlaps.iter().map(|overlap| {
        let (gear, other) = (label(plan, overlap.gear), label(plan, overlap.other));
        format!("{gear} and {other} overlap by {}", tape.length(overlap.depth_mm))
    });
    let contacts = clearance.against_hull.iter().map(|contact| {
        format!("{} runs {} into the {}", label(plan, contact.gear), tape.length(contact.depth_mm), contact.part.word())
    });
    let intrusions = clearance.intrusions.iter().filter_map(|intrusion| {
        let motion = clearance.envelopes.get(intrusion.envelope)?.motion.word();
        let gear = label(plan, intrusion.gear);
        Some(format!("{gear} stands {} in the way of the {motion}", tape.length(intrusion.depth_mm)))
    });
    or_nothing(overlaps.chain(contacts).chain(intrusions).collect(), "nothing is in the way")
}

fn or_nothing(lines: Vec<String>, nothing: &str) -> Vec<String> {
    if lines.is_empty() { vec![nothing.to_string()] } else { lines }
}
