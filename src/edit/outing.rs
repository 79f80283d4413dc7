//! What an edit of the day is called: `first light: 2.5 to 3 h`.

use crate::plan::{Clock, Outing, Phase};
use crate::units::Duration;

/// Names what makes one day another.
pub(super) fn words(before: &Outing, after: &Outing) -> String {
    let phases = phases(&before.phases, &after.phases);
    match (phases, day(before, after).as_slice()) {
        (Some(phases), []) => phases,
        (None, [one]) if after.phases == before.phases => one.clone(),
        _ => format!("plan {}", after.name),
    }
}

/// What changed of the day itself.
fn day(before: &Outing, after: &Outing) -> Vec<String> {
    let clock = |what: &str, clock: Option<Clock>| match clock {
        Some(clock) => format!("{what} at {clock}"),
        None => format!("leave out when {what} is"),
    };
    let changed = [
        (before.name != after.name, format!("call the day {}", after.name)),
        (before.date != after.date, after.date.as_ref().map_or("no date".into(), |date| format!("date {date}"))),
        (before.starts != after.starts, clock("start", after.starts)),
        (before.sunrise != after.sunrise, clock("sunrise", after.sunrise)),
        (before.sunset != after.sunset, clock("sunset", after.sunset)),
        (before.air != after.air, format!("air of {:.0} C", after.air.to_celsius())),
        (
            before.water_temperature != after.water_temperature,
            format!("water of {:.0} C", after.water_temperature.to_celsius()),
        ),
        (before.water != after.water, format!("{:?} water", after.water).to_lowercase()),
        (
            before.bilge != after.bilge,
            after.bilge.map_or("no bilge water".into(), |mass| format!("{} kg of bilge water", mass.to_kg())),
        ),
    ];
    changed.into_iter().filter(|(differs, _)| *differs).map(|(_, words)| words).collect()
}

/// What one act changed of the phases; none where nothing did, or more than one act.
fn phases(before: &[Phase], after: &[Phase]) -> Option<String> {
    let at = before.iter().zip(after).position(|(old, new)| old != new).unwrap_or(before.len().min(after.len()));
    let rest = |phases: &'_ [Phase], skipped: usize| phases.get(at + skipped..).unwrap_or_default().to_vec();
    match (before.get(at), after.get(at)) {
        (old, Some(new)) if rest(before, 0) == rest(after, 1) => {
            Some(format!("add {}{}", new.name, if old.is_some_and(|old| old == new) { " again" } else { "" }))
        }
        (Some(old), _) if rest(before, 1) == rest(after, 0) => Some(format!("strike {}", old.name)),
        (Some(old), Some(new)) if rest(before, 1) == rest(after, 1) => Some(phase(old, new)),
        (Some(old), Some(new)) if before.get(at + 1) == Some(new) && rest(before, 2) == rest(after, 2) => {
            Some(format!("put {} before {}", new.name, old.name))
        }
        _ => None,
    }
}

/// What changed of a phase.
fn phase(old: &Phase, new: &Phase) -> String {
    let name = &new.name;
    let hours = |hours: Duration| hours.to_hours();
    let motor = new.motor.as_ref().map_or("motor off".into(), |setting| format!("motor at {setting}"));
    let air = new.air.map_or("air as the day".into(), |air| format!("air of {:.0} C", air.to_celsius()));
    let changed = [
        (old.name != new.name, format!("call {} {name}", old.name)),
        (old.hours != new.hours, format!("{name}: {:.2} to {:.2} h", hours(old.hours), hours(new.hours))),
        (old.dark != new.dark, format!("{name}: {}", if new.dark { "dark" } else { "not said to be dark" })),
        (old.air != new.air, format!("{name}: {air}")),
        (old.posture != new.posture, format!("{name}: {}", new.posture.word())),
        (old.motor != new.motor, format!("{name}: {motor}")),
        (old.charging != new.charging, format!("{name}: {}charging", if new.charging { "" } else { "not " })),
        (old.duties != new.duties, format!("{name}: how much loads run")),
    ];
    let mut words = changed.into_iter().filter(|(differs, _)| *differs).map(|(_, words)| words);
    match (words.next(), words.next()) {
        (Some(one), None) => one,
        _ => format!("change {name}"),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::plan::Posture;

    fn check(change: impl FnOnce(&mut Outing), expected: &str) {
        let before = Outing { starts: Clock::new(4, 30), ..Outing::default() };
        let mut after = before.clone();
        change(&mut after);
        assert_eq!(words(&before, &after), expected);
    }

    #[test]
    fn a_step_is_named_by_what_it_did() {
        check(|day| day.phases[1].hours = Duration::hours(6.5), "daylight: 8.00 to 6.50 h");
        check(|day| day.phases[1].posture = Posture::Standing, "daylight: standing");
        check(|day| day.phases.swap(0, 1), "put daylight before dark hours");
        check(|day| drop(day.phases.remove(0)), "strike dark hours");
        check(|day| day.phases.insert(1, day.phases[0].clone()), "add dark hours");
        check(|day| day.phases.insert(0, day.phases[1].clone()), "add daylight");
        check(|day| day.starts = None, "leave out when start is");
        check(|day| day.sunset = Clock::new(18, 20), "sunset at 18:20");
    }

    #[test]
    fn several_changes_are_another_day() {
        check(|day| (day.phases[0].dark, day.starts) = (false, None), "plan long day");
        check(|day| day.phases.clear(), "plan long day");
    }
}
