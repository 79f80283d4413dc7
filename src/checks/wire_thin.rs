//! More current than a wire may carry, or a wire thinner than practice runs.

use super::finding::COMMON_PRACTICE;
use super::wire_words::{CircuitOrMain, one_note, runs};
use super::words::SHORT_CIRCUIT;
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::Kind;
use crate::study::wire::gauge::thinnest_allowed;
use crate::units::{Current, amount};

/// More current than a wire may carry, or a wire thinner than practice runs.
pub const CHECK: Check = Check { id: "wire-thin", title: "a wire is too thin for its current", doc: DOC, run };

const DOC: &str = "\
What it checks
The greatest current of each circuit and each battery's main against what its wire may carry all day, by the size of
the wire and what its insulation stands (105 C when nothing is said, in air up to 30 C). A note, once for the plan,
where no size is stated; and one where a wire of an ampere or more is thinner than practice runs.

Why it matters
A wire that carries too much melts its insulation inside a hull that melts at a little more than boiling water. A
very thin one breaks at a clamp.

Limit and source
Stop over 33 CFR 183.425 Table 5 (practice here; by law it binds only boats with petrol engines other than
outboards). For 20 and 22 AWG, which it does not have, 3 and 1.5 A: common practice, no source. Thinnest run singly
16 AWG, in a sheath with others 18 AWG: 183.425 (d) and (e); (g) leaves circuits under
1 A and electronic navigation equipment free.

What to do
Take the thicker wire it names, in stranded and tinned copper, and change the fuse with the wire, not before. Where
local rules ask for licensed work or rated parts, follow them.
";

const TABLE: &str = "33 CFR 183.425 Table 5, as practice";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    findings.extend(runs(case).filter_map(|wire| thin(case, &wire)));
    let unknown: Vec<CircuitOrMain<'_>> = runs(case).filter(|wire| wire.run.gauge_awg.is_none()).collect();
    let unstated = |names: &str| {
        let says = format!("No wire size is stated for {names}: drop, current and fuse stand unjudged.");
        (says, "Read the size off the jacket (AWG, or mm2) and write it down.".into())
    };
    findings.extend(one_note(case, CHECK.id, &unknown, unstated, COMMON_PRACTICE));
    let fine: Vec<CircuitOrMain<'_>> = runs(case).filter(|wire| is_under_practice(case, wire)).collect();
    let frail = |names: &str| {
        let says = format!("{names}: thinner than practice runs, 16 AWG singly or 18 AWG in a sheath.");
        (says, "Take the next size, or a jacketed cable; thin wire breaks at its clamps.".into())
    };
    findings.extend(one_note(case, CHECK.id, &fine, frail, "33 CFR 183.425 (d), (e) and (g), as practice"));
}

fn thin(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> Option<Finding> {
    let run = wire.run;
    let (awg, permitted) = (run.gauge_awg?, run.permitted_a?);
    let peak = run.amps.peak;
    (peak > permitted).then(|| Finding {
        check: CHECK.id,
        severity: Severity::Stop,
        subject: wire.subject,
        at: wire.at,
        value: peak,
        limit: permitted,
        margin: permitted - peak,
        unit: "A",
        says: format!(
            "{} carries {} and its {awg} AWG is good for {}.",
            wire.name(case.plan),
            amount(Current::amps(peak), 1),
            amount(Current::amps(permitted), 1)
        ),
        remedy: match run.smallest_awg {
            Some(thicker) => format!("Take {thicker} AWG. {SHORT_CIRCUIT}"),
            None => format!("No wire here is thick enough: split the loads. {SHORT_CIRCUIT}"),
        },
        source: if awg > 18 { COMMON_PRACTICE } else { TABLE },
    })
}

fn is_under_practice(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> bool {
    let thinner = wire.run.gauge_awg.is_some_and(|awg| awg > thinnest_allowed(wire.run.sheathed));
    thinner && wire.run.amps.peak >= case.limits.get("wire-thin.free") && !feeds_electronics_alone(case, wire)
}

fn feeds_electronics_alone(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> bool {
    use Kind::{BlackBox, Display, Radio, Sensor, Transducer};
    let Subject::Circuit(id) = wire.subject else { return false };
    let loads = case.study.power.loads.iter().filter(|load| load.circuit == Some(id));
    let mut kinds = loads.filter_map(|load| Some(case.plan.gear(load.gear)?.spec.kind));
    kinds.all(|kind| matches!(kind, BlackBox | Display | Radio | Sensor | Transducer))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{findings, one_load};
    use crate::units::Temperature;

    /// A load of this peak through this wire.
    fn check(awg: Option<u8>, insulation: f64, sheathed: bool, peak: f64, expected: &[Severity]) {
        let mut plan = one_load(Kind::Phone, peak);
        plan.wiring.circuits[0].gauge_awg = awg;
        plan.wiring.circuits[0].sheathed = sheathed;
        plan.wiring.circuits[0].insulation = Some(Temperature::celsius(insulation));
        let found = findings(&plan, "wire-thin");
        let severities: Vec<Severity> = found.iter().map(|f| f.severity).collect();
        assert_eq!(severities, expected, "{peak} A in {awg:?}: {found:?}");
    }

    /// 33 CFR 183.425 Table 5: 16 AWG carries 25 A at 105 C and 15 A at 60 C.
    #[test]
    fn stops_past_the_table() {
        check(Some(16), 105.0, false, 25.0, &[]);
        check(Some(16), 105.0, false, 25.1, &[Severity::Stop]);
        check(Some(16), 60.0, false, 15.0, &[]);
        check(Some(16), 60.0, false, 15.1, &[Severity::Stop]);
    }

    #[test]
    fn stops_past_practice_where_the_table_ends() {
        check(Some(20), 105.0, true, 0.9, &[]);
        check(Some(20), 105.0, true, 3.0, &[Severity::Note]);
        check(Some(20), 105.0, true, 3.1, &[Severity::Stop, Severity::Note]);
    }

    #[test]
    fn notes_thin_wire_from_an_ampere_on() {
        check(Some(18), 105.0, true, 2.0, &[]);
        check(Some(18), 105.0, false, 0.99, &[]);
        check(Some(18), 105.0, false, 1.0, &[Severity::Note]);
        let mut plan = one_load(Kind::Display, 2.0);
        plan.wiring.circuits[0].gauge_awg = Some(18);
        assert_eq!(findings(&plan, "wire-thin"), [], "electronic equipment is free of it");
    }

    #[test]
    fn a_size_that_is_not_stated_is_one_note() {
        check(None, 105.0, false, 50.0, &[Severity::Note]);
        let mut plan = one_load(Kind::Phone, 1.0);
        for _ in 0..3 {
            let (battery, phone) = (plan.gear[0].id, plan.gear[1].clone());
            let id = plan.next_gear_id();
            plan.gear.push(crate::plan::Gear { id, ..phone });
            crate::checks::test_power::circuit(&mut plan, "more", battery, &[id]).gauge_awg = None;
        }
        let found = findings(&plan, "wire-thin");
        assert_eq!(found.iter().map(|f| f.value).collect::<Vec<_>>(), [3.0], "{found:?}");
    }
}
