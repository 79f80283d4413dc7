//! The spares to carry for what is aboard.

use super::finding::COMMON_PRACTICE;
use super::{Case, Check, Finding, Severity, Subject};

/// The spares to carry.
pub const CHECK: Check = Check { id: "spares", title: "spare parts to carry for what is aboard", doc: DOC, run };

const DOC: &str = "\
What it checks
Lists the spares for what is placed and wired: a fuse of each rating in use, two where two or more are fitted; a set of
cells for each light, handheld radio and remote that runs on them; a bulb for each navigation light and a shear pin
for each motor, at most two.

Why it matters
The part that ends a day costs little, and no shop is on the water.

Limit and source
A note, always. Two of a sort: common practice, no source.

What to do
Keep them dry in one pouch, with the tools that fit. Replace a fuse by its own size and once: one that blows again
says that the wire or the device is at fault. Bulb and shear pin: the makers' sheets say which, and whether there is
one.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let spares = &case.study.backup.spares;
    if spares.is_empty() {
        return;
    }
    let count: usize = spares.iter().map(|spare| spare.count).sum();
    let words: Vec<String> = spares.iter().map(|spare| spare.words()).collect();
    findings.push(Finding {
        check: CHECK.id,
        severity: Severity::Note,
        subject: Subject::Plan,
        at: None,
        value: count as f64,
        limit: count as f64,
        margin: 0.0,
        unit: "count",
        says: format!("Spares for what is aboard: {}.", words.join(", ")),
        remedy: "Keep them dry in one pouch, with the tools that fit.".into(),
        source: COMMON_PRACTICE,
    });
}

#[cfg(test)]
mod tests {
    use crate::checks::test_power::{findings, main_fuse, one_load};
    use crate::plan::Kind;
    use crate::units::Current;

    #[test]
    fn speaks_of_a_fuse_and_not_of_none() {
        let mut plan = one_load(Kind::Display, 1.0);
        plan.wiring.circuits[0].fuse = None;
        assert_eq!(findings(&plan, "spares"), []);
        plan.wiring.circuits[0].fuse = Some(Current::amps(7.5));
        let battery = plan.wiring.circuits[0].battery;
        main_fuse(&mut plan, battery);
        let found = findings(&plan, "spares");
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].says, "Spares for what is aboard: 1 fuse of 7.5 A, 1 fuse of 30 A.");
        assert_eq!(found[0].value, 2.0);
    }
}
