//! A fuse too far from the battery.

use super::finding::COMMON_PRACTICE;
use super::wire_words::{CircuitOrMain, one_note, runs};
use super::words::SHORT_CIRCUIT;
use super::{Case, Check, Finding, Severity};

/// A fuse too far from the battery.
pub const CHECK: Check = Check { id: "fuse-far", title: "a fuse is far from the battery", doc: DOC, run };

const DOC: &str = "\
What it checks
The wire between the battery (or what feeds the circuit behind the main fuse) and the fuse of each circuit, and
between each battery and its main. A circuit whose wire bears the battery's main fuse is protected by it wherever its
own fuse sits. A note, once for the plan, where no place is stated.

Why it matters
Up to the fuse nothing protects the wire. Chafed through on the way it shorts the battery: that melts a hull and sets
fire to what lies around it.

Limit and source
At the source; caution over 178 mm (7 in), stop over 1016 mm (40 in). In a sheath or conduit up to the fuse 1016 mm
are borne, and past them it is a caution. 33 CFR 183.455(b), as practice: by law it binds only boats with petrol
engines other than outboards.

What to do
Put the fuse on the battery's terminal or in its first hand's breadth; sheath what cannot be shortened. Disconnect the
battery before work, and cover its terminals.
";

const SOURCE: &str = "33 CFR 183.455(b), as practice";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let fused = || runs(case).filter(|wire| wire.run.fuse_a.is_some() && !wire.main_protects);
    findings.extend(fused().filter_map(|wire| far(case, &wire)));
    let unknown: Vec<CircuitOrMain<'_>> = fused().filter(|wire| wire.run.fuse_at_mm.is_none()).collect();
    let unstated = |names: &str| {
        let says = format!("How far from the battery the fuse sits is not stated for {names}.");
        (says, "Measure the wire up to the fuse and write it down; as close to the battery as it goes.".into())
    };
    findings.extend(one_note(case, CHECK.id, &unknown, unstated, COMMON_PRACTICE));
}

fn far(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> Option<Finding> {
    let at = wire.run.fuse_at_mm?;
    let (near, sheathed) = (case.limits.get("fuse-far.caution"), case.limits.get("fuse-far.stop"));
    let (severity, limit) = match wire.run.sheathed {
        true if at > sheathed => (Severity::Caution, sheathed),
        false if at > sheathed => (Severity::Stop, sheathed),
        false if at > near => (Severity::Caution, near),
        _ => return None,
    };
    Some(Finding {
        check: CHECK.id,
        severity,
        subject: wire.subject,
        at: wire.at,
        value: at,
        limit,
        margin: limit - at,
        unit: "mm",
        says: format!("{} has {at:.0} mm of wire before its fuse, and nothing protects it.", wire.name(case.plan)),
        remedy: format!("Put the fuse within {near:.0} mm of the battery's terminal. {SHORT_CIRCUIT}"),
        source: SOURCE,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{findings, main_fuse, one_load};
    use crate::plan::Kind;
    use crate::units::{Current, Length};

    fn check(fuse_at: Option<f64>, sheathed: bool, expected: Option<Severity>) {
        let mut plan = one_load(Kind::Phone, 1.0);
        plan.wiring.circuits[0].fuse_at = fuse_at.map(Length::inches);
        plan.wiring.circuits[0].sheathed = sheathed;
        let found = findings(&plan, "fuse-far");
        assert_eq!(found.first().map(|f| f.severity), expected, "{fuse_at:?} in, sheathed {sheathed}: {found:?}");
    }

    /// 33 CFR 183.455(b): 7 in, 40 in in a sheath.
    #[test]
    fn speaks_past_a_hands_breadth_and_past_a_metre() {
        check(Some(7.0), false, None);
        check(Some(7.1), false, Some(Severity::Caution));
        check(Some(40.0), false, Some(Severity::Caution));
        check(Some(40.1), false, Some(Severity::Stop));
        check(Some(40.0), true, None);
        check(Some(40.1), true, Some(Severity::Caution));
        check(None, false, Some(Severity::Note));
    }

    /// 16 AWG bears 25 A: a main of that protects the circuit, one of 30 A does not.
    #[test]
    fn a_main_the_wire_bears_protects_it_anywhere() {
        let mut plan = one_load(Kind::Phone, 1.0);
        plan.wiring.circuits[0].fuse_at = Some(Length::mm(1500.0));
        let battery = plan.gear[0].id;
        main_fuse(&mut plan, battery).fuse = Some(Current::amps(25.0));
        assert_eq!(findings(&plan, "fuse-far"), []);
        plan.wiring.mains[0].fuse = Some(Current::amps(30.0));
        assert_eq!(findings(&plan, "fuse-far").len(), 1);
        plan.wiring.circuits[0].fuse_at = Some(Length::mm(100.0));
        plan.wiring.mains[0].fuse_at = Some(Length::mm(200.0));
        let found = findings(&plan, "fuse-far");
        assert!(found.len() == 1 && found[0].says.starts_with("The main of battery"), "{found:?}");
    }
}
