//! `light-missing`: a light that the chosen rule asks for is not aboard, or is not seen far enough.

use super::light_words::LAW;
use super::words::label;
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::lights::rules::{NotOpen, rule};
use crate::study::lights::{Asked, Met};

/// The check.
pub const CHECK: Check =
    Check { id: "light-missing", title: "a light that the rule asks for is missing", doc: DOC, run };

const SOURCE: &str = "COLREG Rules 22, 23, 25, 30; the law where you are decides";

const DOC: &str = "\
What it checks
Whether the lights are aboard and placed that the craft state asks for which you chose, each of them seen as far
as it must be; and whether that choice is open to this boat. Where part of the day is dark and nothing is chosen
it says so. Under oars, with a torch: one with its own cells, placed where a hand finds it.

Why it matters
Others decide by your lights what you are and where you go. Without them you are not there.

Limit and source
COLREG Rule 23(d)(ii): under power, under 7 m (`light-missing.length`) and 7 knots at most
(`light-missing.speed`): an all-round white light, side lights too where practicable. Rule 23(d)(i): under 12 m,
all-round white and side lights. Rule 23(a): masthead, side and stern lights. Rule 25(d)(ii): under oars the
lights of a sailing boat, else a white torch ready, shown in time; pedals are not named in it. Rule 30(b): at
anchor, all-round white. Ranges of Rule 22(c): 2 miles, side lights 1; an intensity is turned into a range by
Annex I 8, a light of unknown range is believed. Speed is the motor's fastest setting, where one is stated. The
law where you are decides, and can ask for more: some waters ask for side lights on any boat under power.

What to do
Choose what you are in the lights view, then take what is missing from the catalogue. Ask the authority of the
water.
";

fn run(case: &Case<'_>, found: &mut Vec<Finding>) {
    let lights = &case.study.lights;
    if lights.craft.is_none() && lights.matter() {
        found.push(not_chosen(case));
    }
    found.extend(lights.not_open.map(|why| not_open(case, why)));
    found.extend(lights.asked.iter().filter_map(|asked| missing(case, asked)));
}

fn not_chosen(case: &Case<'_>) -> Finding {
    let hours = case.study.lights.dark.to_hours();
    Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: Subject::Plan,
        at: None,
        value: hours,
        limit: 0.0,
        margin: -hours,
        unit: "h",
        says: format!("it is dark for {hours:.1} h and it is not chosen what the boat counts as: no rule is held to"),
        remedy: format!("choose it in the lights view. {LAW}"),
        source: SOURCE,
    }
}

fn not_open(case: &Case<'_>, why: NotOpen) -> Finding {
    let (value, limit, unit, says) = match why {
        NotOpen::TooLong(m) => {
            let limit = case.limits.get("light-missing.length");
            (m, limit, "m", format!("Rule 23(d)(ii) is for boats under {limit:.0} m, this one is {m:.2} m long"))
        }
        NotOpen::TooFast(knots) => {
            let limit = case.limits.get("light-missing.speed");
            (
                knots,
                limit,
                "knots",
                format!(
                    "Rule 23(d)(ii) is for boats of {limit:.0} knots at most, the motor drives this one at {knots:.1}"
                ),
            )
        }
    };
    Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: Subject::Plan,
        at: None,
        value,
        limit,
        margin: limit - value,
        unit,
        says,
        remedy: format!("choose \"under power, under 12 m\" and show side lights too. {LAW}"),
        source: SOURCE,
    }
}

fn missing(case: &Case<'_>, asked: &Asked) -> Option<Finding> {
    let role = asked.ask.role;
    let by = case.study.lights.craft.map_or("", rule);
    let practicable = if asked.ask.if_practicable { ", where practicable" } else { "" };
    let (subject, (value, limit, unit), says, remedy) = match asked.met {
        Met::By(_) => return None,
        Met::Not => (
            Subject::Plan,
            (0.0, 1.0, "count"),
            format!("{by} asks for a {}{practicable}, and none is placed", role.word()),
            format!("take a {} from the catalogue and place it", role.word()),
        ),
        Met::Short(gear, nm) => (
            Subject::Gear(gear),
            (nm, role.range_nm(), "nm"),
            format!(
                "{} is seen {nm:.1} miles, a {} must be seen {:.0}",
                label(case.plan, gear),
                role.word(),
                role.range_nm()
            ),
            "take a brighter one".to_string(),
        ),
    };
    Some(Finding {
        check: CHECK.id,
        severity: if asked.ask.if_practicable { Severity::Note } else { Severity::Stop },
        subject,
        at: subject.gear().and_then(|gear| case.place(gear)),
        value,
        limit,
        margin: value - limit,
        unit,
        says,
        remedy: format!("{remedy}. {LAW}"),
        source: SOURCE,
    })
}
