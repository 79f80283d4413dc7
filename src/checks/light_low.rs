//! `light-low`: an all-round light that does not stand over the head, or not high enough over the side lights.

use super::light_words::{LAW, lantern};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity, Subject};
use crate::plan::Craft;
use crate::study::lights::Shown;
use crate::study::lights::people::Stance;
use crate::study::lights::rules::Role;

/// The check.
pub const CHECK: Check = Check { id: "light-low", title: "a white light is too low", doc: DOC, run };

const SIDES: &str = "COLREG Annex I 2(d); the law where you are decides";

const DOC: &str = "\
What it checks
The height of an all-round light over the head with a cap, seated or standing as the dark phases say; and under
power the height of the all-round or masthead light over the higher side light. It is silent when no phase is
dark and no craft state is chosen.

Why it matters
A light beside the head is hidden by it and blinds it. White, red and green close together run into one white
point at a distance.

Limit and source
100 mm over the head (`light-low.head`): common practice, no source. 1000 mm over the side lights
(`light-low.sides`): COLREG Annex I 2(d), asked of the all-round light of Rule 23(d)(i); for Rule 23(d)(ii) it is
a good target. The law where you are decides.

What to do
A longer pole, or side lights set lower. The pole stands aft, stepped ashore and switched from the seat.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let lights = &case.study.lights;
    if !lights.matter() {
        return;
    }
    for shown in &lights.lanterns {
        // Of seated and standing the higher head asks for more.
        let highest = lights.stances.iter().copied().reduce(|a, b| if b.1 > a.1 { b } else { a });
        if let Some(head) = highest.filter(|_| shown.role == Role::AllRound) {
            found.extend(under_head(case, shown, head));
        }
        if under_power(lights.craft) && matches!(shown.role, Role::AllRound | Role::Masthead) {
            found.extend(near_sides(case, shown));
        }
    }
}

/// Side lights are shown with it under power; which craft it is may not have been chosen yet.
fn under_power(craft: Option<Craft>) -> bool {
    !matches!(craft, Some(Craft::OarsTorch | Craft::OarsLit | Craft::Anchored))
}

fn under_head(case: &Case<'_>, shown: &Shown, (stance, head): (Stance, f64)) -> Option<Finding> {
    let limit = case.limits.get("light-low.head");
    let over = shown.at.z - head;
    if over >= limit - 1.0e-6 {
        return None;
    }
    let where_to = if over < 0.0 { "under" } else { "over" };
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(shown.gear),
        at: Some(shown.at),
        value: over,
        limit,
        margin: over - limit,
        unit: "mm",
        says: format!(
            "{} is {:.0} mm {where_to} the head of {}, {limit:.0} over it is asked for",
            lantern(case, shown),
            over.abs(),
            stance.angler()
        ),
        remedy: format!("raise it {:.0} mm. {LAW}", (limit - over).ceil()),
        source: COMMON_PRACTICE,
    })
}

fn near_sides(case: &Case<'_>, shown: &Shown) -> Option<Finding> {
    let limit = case.limits.get("light-low.sides");
    let over = shown.over_sides_mm.filter(|over| *over < limit - 1.0e-6)?;
    let asked = match case.study.lights.craft {
        Some(Craft::PowerShort | Craft::PowerFull) => "are asked for",
        _ => "are a good target here, and asked of other boats under 12 m",
    };
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(shown.gear),
        at: Some(shown.at),
        value: over,
        limit,
        margin: over - limit,
        unit: "mm",
        says: if over < 0.0 {
            format!("{} is {:.0} mm under the side lights, {limit:.0} over them {asked}", lantern(case, shown), -over)
        } else {
            format!("{} is {over:.0} mm over the side lights, {limit:.0} {asked}", lantern(case, shown))
        },
        remedy: format!("raise it {0:.0} mm or set the side lights {0:.0} mm lower. {LAW}", (limit - over).ceil()),
        source: SIDES,
    })
}
