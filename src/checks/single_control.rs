//! What is needed in the dark or to get home and hangs on one part.

use super::finding::COMMON_PRACTICE;
use super::words::{label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::study::backup::{Need, Part, Served, fuse_words};

/// What is needed and hangs on one part.
pub const CHECK: Check =
    Check { id: "single-control", title: "one part takes what is needed in the dark or to get home", doc: DOC, run };

const DOC: &str = "\
What it checks
Lets one part fail at a time: each battery, main fuse, switch unit, circuit's fuse and converter, the cells of a
remote, the phone that switches. Speaks when the part takes all that is aboard for one of these: navigation lights
when part of the day is dark, the motor when there is no paddle and the boat is not pedalled, the pump, the radio. What
needs no wiring counts: a white light with cells of its own, a paddle, a hand pump, a handheld radio, a phone. For a
battery another one counts that has its voltage and bears its load. A breaker is set again and counts as no part.

Why it matters
A remote's cell costs little and fails in the cold; a fuse blows when a plug gets wet. Both happen in the dark and
far out, where nothing can be bought.

Limit and source
Caution where one part is enough; two should have to fail. Common practice, no source.

What to do
Carry the spare it names and something that needs none of it. Learn ashore how to switch without the remote or the
phone, and what the unit does when power returns.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    findings.extend(case.study.backup.needs.iter().filter_map(|served| hangs_on_one(case, served)));
}

fn hangs_on_one(case: &Case<'_>, served: &Served) -> Option<Finding> {
    let parts: Vec<Part> = case.study.backup.taking(served.need).map(|failure| failure.part).collect();
    let first = *served.by.first().filter(|_| !parts.is_empty())?;
    let names: Vec<String> = parts.iter().map(|part| part.words(case.plan)).collect();
    let when = match names.as_slice() {
        [only] => format!("When {only} fails"),
        _ => format!("When any one of {} parts fails ({})", names.len(), list(&names)),
    };
    let (lost, other) = words(served.need);
    let spares = spares(case, &parts);
    let spares = if spares.is_empty() { String::new() } else { format!("; as spares {}", spares.join(", ")) };
    Some(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Gear(first),
        at: case.place(first),
        // How many parts have to fail, against two.
        value: 1.0,
        limit: 2.0,
        margin: -1.0,
        unit: "count",
        says: format!("{when}, {lost}."),
        remedy: format!("Carry {other}{spares}."),
        source: COMMON_PRACTICE,
    })
}

/// The spares that go into a pocket; nobody carries a switch unit twice.
fn spares(case: &Case<'_>, parts: &[Part]) -> Vec<String> {
    let mut spares: Vec<String> = Vec::new();
    for part in parts {
        let spare = match part {
            Part::MainFuse(_, fuse) | Part::Fuse(_, fuse) => format!("a fuse of {}", fuse_words(*fuse)),
            Part::Remote(gear) => format!("cells for the remote of {}", label(case.plan, *gear)),
            Part::Phone(_) => "a charged power bank for the phone".into(),
            Part::Battery(_) | Part::SwitchUnit(_) | Part::Converter(_) => continue,
        };
        if !spares.contains(&spare) {
            spares.push(spare);
        }
    }
    spares
}

/// What is then the matter, and what meets the need without any wiring.
fn words(need: Need) -> (&'static str, &'static str) {
    match need {
        Need::Lights => (
            "no navigation light is left and no other white light",
            "a white light with cells of its own, placed in reach",
        ),
        Need::Drive => ("nothing moves the boat: there is no paddle", "a paddle"),
        Need::Pump => ("nothing pumps", "a hand pump"),
        Need::Call => ("nothing calls for help", "a handheld radio on the life jacket"),
    }
}

#[cfg(test)]
mod tests {
    use crate::checks::test_power::{add, findings, one_load};
    use crate::plan::Kind;
    use crate::units::{Figure, Mass};

    /// A radio on one fuse and one battery, then with a phone aboard.
    #[test]
    fn speaks_until_something_else_serves() {
        let mut plan = one_load(Kind::Radio, 1.0);
        let found = findings(&plan, "single-control");
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].value, found[0].limit), (1.0, 2.0));
        assert_eq!(
            found[0].says,
            "When any one of 2 parts fails (battery and the fuse of \"load\" (10 A)), nothing calls for help."
        );
        assert_eq!(found[0].remedy, "Carry a handheld radio on the life jacket; as spares a fuse of 10 A.");
        add(&mut plan, "phone", Kind::Phone, Figure::measured(Mass::kg(0.2)), None);
        assert_eq!(findings(&plan, "single-control"), []);
    }

    #[test]
    fn what_nobody_needs_to_get_home_may_hang_on_one_part() {
        assert_eq!(findings(&one_load(Kind::Display, 1.0), "single-control"), []);
    }
}
