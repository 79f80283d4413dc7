//! `seal-wrong`: a seal that does not hold on polyethylene.

use super::hole_words::{Verdict, Voice, per_owner};
use super::{COMMON_PRACTICE, Case, Check, Finding, Severity};
use crate::study::fastening::seal_fault;

/// The check.
pub const CHECK: Check = Check { id: "seal-wrong", title: "a seal that does not hold on polyethylene", doc: DOC, run };

const DOC: &str = "\
What it checks
What seals each hole in use: silicone, polysulfide, polyurethane, epoxy or nothing at all is told.

Why it matters
Hardly anything bonds to polyethylene. The clamped gasket seals; sealant is only back-up, and one that is
rigid or lets go is worse than none because it hides the leak.

Limit and source
None of these: caution. Surface energy of polyethylene 30 to 31 mN/m, too low for ordinary adhesives to
wet; the list itself is common practice, no source.

What to do
A closed-cell gasket or O-ring first; butyl tape under tracks and flanges; flexible solvent-based
adhesive or clear synthetic rubber as back-up. Clean with alcohol, roughen lightly, clamp.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let voice = Voice { check: CHECK.id, source: COMMON_PRACTICE };
    per_owner(case, findings, voice, |hole| {
        let why = seal_fault(hole.seal).filter(|_| hole.state.in_use())?;
        Some(Verdict::none_of(
            Severity::Caution,
            why.into(),
            "clamp a closed-cell gasket under it, or use butyl tape".into(),
        ))
    });
}

#[cfg(test)]
mod tests {
    use super::super::test_holes::*;
    use super::*;
    use crate::plan::{Fate, Seal};

    #[test]
    fn five_seals_are_wrong_and_five_are_not() {
        let caution = [Severity::Caution];
        for (seal, expected) in [
            (Seal::Gasket, &[][..]),
            (Seal::ButylTape, &[]),
            (Seal::FlexibleAdhesive, &[]),
            (Seal::SyntheticRubber, &[]),
            (Seal::Hybrid, &[]),
            (Seal::Polyurethane, &caution),
            (Seal::Silicone, &caution),
            (Seal::Polysulfide, &caution),
            (Seal::Epoxy, &caution),
            (Seal::None, &caution),
        ] {
            let mut plan = with_gear(plate(1500.0, 0.0));
            plan.gear[0].seal = seal;
            fires(&plan, CHECK, expected);
        }
    }

    #[test]
    fn an_open_hole_has_no_seal_to_be_wrong() {
        let mut plan = with_hole(1500.0, 0.0, 5.0, Fate::Open);
        plan.penetrations[0].seal = Seal::Silicone;
        fires(&plan, CHECK, &[]);
    }
}
