//! The lights in words: what is chosen, how long it is dark, each light, what the rule asks for.

use super::number::plain;
use super::study::label;
use crate::plan::Plan;
use crate::study::Study;
use crate::study::lights::rules::rule;
use crate::study::lights::sector::{Sector, sum};
use crate::study::lights::{Asked, Lights, Met, Shown};
use crate::units::Measure;

/// `under power, under 12 m; Rule 23(d)(i)`, or that nothing is chosen.
pub fn craft_words(lights: &Lights) -> String {
    lights.craft.map_or("no rule chosen".into(), |craft| format!("{}; {}", craft.word(), rule(craft)))
}

/// How long it is dark and how the person then is; that nothing is asked for, where lights do not matter.
pub fn night_words(lights: &Lights) -> String {
    if !lights.matter() {
        return "no part of the day is dark and no rule is chosen: nothing is asked for".into();
    }
    let hours = lights.dark.to_hours();
    let dark = if hours > 0.0 { format!("dark for {} h", plain(hours)) } else { "no part of the day is dark".into() };
    let stances: Vec<&str> = lights.stances.iter().map(|(stance, _)| stance.word()).collect();
    format!("{dark}; the angler {}; deck {:.1} deg off level", stances.join(" and "), lights.off_level_deg)
}

/// What one light is: its arc, heights, range, and on which bearings it is hidden by whom.
pub fn shown_lines(plan: &Plan, lights: &Lights, shown: &Shown, tape: Measure) -> Vec<String> {
    let mut lines = vec![format!("shines {}", list(std::slice::from_ref(&shown.given)))];
    if !shown.missing.is_empty() {
        lines.push(format!("missing of its arc: {}", list(&shown.missing)));
    }
    if let Some(deg) = shown.across_bow_deg {
        lines.push(format!("seen {} deg across the bow", plain(deg)));
    }
    lines.push(heights(lights, shown, tape));
    let range = shown.range_nm.map_or("range unknown".into(), |nm| format!("seen {} miles", plain(nm)));
    lines.push(format!("{range}, {} asked for", plain(shown.role.range_nm())));
    for (stance, parts) in &shown.hidden {
        let who = stance.word();
        if parts.is_empty() {
            lines.push(format!("{who}: nothing hides it"));
        } else {
            let by: Vec<String> = shown.blockers(*stance).into_iter().map(|by| by.named(plan)).collect();
            let total = plain(sum(parts));
            lines.push(format!("{who}: hidden {}, by {}; {total} deg together", list(parts), by.join(", ")));
        }
    }
    lines
}

fn heights(lights: &Lights, shown: &Shown, tape: Measure) -> String {
    let over =
        |mm: f64, what: &str| format!("{} {} {what}", tape.length(mm.abs()), if mm < 0.0 { "under" } else { "over" });
    let gunwale = shown.over_gunwale_mm.map(|mm| over(mm, "the gunwale"));
    let sides = shown.over_sides_mm.map(|mm| over(mm, "the side lights"));
    let heads =
        lights.stances.iter().map(|(stance, head)| over(shown.at.z - head, &format!("the {} head", stance.word())));
    gunwale.into_iter().chain(sides).chain(heads).collect::<Vec<_>>().join(", ")
}

/// `from 172 to 189 deg, dead astern; all round`.
fn list(parts: &[Sector]) -> String {
    parts.iter().map(Sector::words).collect::<Vec<_>>().join("; ")
}

/// `red side light to port, if practicable: bow light`.
pub fn asked_line(plan: &Plan, asked: &Asked) -> String {
    let met = match asked.met {
        Met::By(gear) => label(plan, gear).to_string(),
        Met::Short(gear, nm) => {
            let wanted = plain(asked.ask.role.range_nm());
            format!("{} is seen {} of {wanted} miles", label(plan, gear), plain(nm))
        }
        Met::Not => "missing".into(),
    };
    let practicable = if asked.ask.if_practicable { ", if practicable" } else { "" };
    format!("{}{practicable}: {met}", asked.ask.role.word())
}

/// The lights on a page.
pub(super) fn lines(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let lights = &study.lights;
    let mut lines = vec![night_words(lights), craft_words(lights)];
    lines.extend(lights.asked.iter().map(|asked| asked_line(plan, asked)));
    for shown in &lights.lanterns {
        lines.push(format!("{}, {}", label(plan, shown.gear), shown.role.word()));
        lines.extend(shown_lines(plan, lights, shown, tape).into_iter().map(|line| format!("  {line}")));
    }
    lines
}
