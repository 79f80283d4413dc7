//! What a day comes to, in words.

use crate::plan::Plan;
use crate::study::Study;
use crate::study::power::BatteryUse;
use crate::units::{Quantity, amount};

/// What comes of a day for every battery that something draws on: `battery lasts to 14:22, 21.4 of 15.0 Ah`.
pub fn result(plan: &Plan, study: &Study) -> String {
    let used = study.power.batteries.iter().filter(|battery| battery.drawn.base() > 0.0);
    let lines: Vec<String> = used.map(|battery| lasts(plan, study, battery)).collect();
    if lines.is_empty() {
        return format!("no battery feeds anything; the day takes {}", amount(study.power.total, 1));
    }
    lines.join("; ")
}

fn lasts(plan: &Plan, study: &Study, battery: &BatteryUse) -> String {
    let day = study.day.battery(battery.gear);
    let ends = day.and_then(|day| day.empty.or(day.used_up));
    let until = match ends {
        None => "the day".into(),
        Some(after) => plan
            .outing
            .starts
            .map_or_else(|| format!("{:.1} h", after.to_hours()), |starts| format!("to {}", starts.after(after))),
    };
    let left = match day {
        Some(day) if ends.is_none() => format!(", {:.0} % left", day.reserve_percent.max(0.0)),
        _ => String::new(),
    };
    let label = plan.gear(battery.gear).map_or_else(|| battery.gear.to_string(), |gear| gear.label.to_string());
    let (drawn, usable) = (battery.drawn.base(), amount(battery.usable, 1));
    format!("{label} lasts {until}, {drawn:.1} of {usable}{left}")
}
