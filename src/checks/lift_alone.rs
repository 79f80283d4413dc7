//! Too heavy to lift alone onto a roof or up a bank.

use super::finding::COMMON_PRACTICE;
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::Kind;
use crate::units::{Mass, amount};

/// Too heavy to lift alone onto a roof or up a bank.
pub const CHECK: Check = Check { id: "lift-alone", title: "too heavy to lift alone and no cart", doc: DOC, run };

const DOC: &str = "\
What it checks
The mass that has to be lifted: the bare hull with what is bolted, riveted, screwed or set into it. The
angler, batteries, and gear that is strapped, clamped or slid out of a track are carried apart.

Why it matters
Backs are hurt and hulls dropped while loading, when the person is tired and alone.

Limit and source
Caution over 30 kg without a cart in the plan. Common practice, no source (two persons from 25 to 30 kg).

What to do
Put a cart or a helper in the plan, choose mounts that come off, load one end at a time. A cart does not
lift onto a roof: mind the roof's own limit too.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let limit = case.limits.get("lift-alone.caution");
    let Some(transport) = case.study.weights.case("transport") else { return };
    let kg = transport.mass.to_kg();
    // Ashore counts: a cart helps on the bank, it need not be aboard.
    let cart = case.plan.gear.iter().any(|gear| gear.spec.kind == Kind::Cart);
    if kg <= limit || cart {
        return;
    }
    findings.push(Finding {
        check: CHECK.id,
        severity: Severity::Caution,
        subject: Subject::Plan,
        at: Some(transport.centre),
        value: kg,
        limit,
        margin: limit - kg,
        unit: "kg",
        says: format!(
            "Hull and fixed gear weigh {}, over the {} one person should lift, and the plan has no cart.",
            amount(transport.mass, 1),
            amount(Mass::kg(limit), 0)
        ),
        remedy: "Bring a helper or a cart, or choose mounts that come off before loading; mind your back.".into(),
        source: COMMON_PRACTICE,
    });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add, findings, mount, plan};
    use crate::plan::Mount;
    use crate::units::Figure;

    /// A hull of 25 kg with fixed gear of this mass.
    fn check(kg: f64, how: Mount, cart: bool, speaks: bool) {
        let mut plan = plan();
        std::sync::Arc::make_mut(&mut plan.hull).mass = Figure::measured(Mass::kg(25.0));
        let gear = add(&mut plan, "anchor trolley", Kind::Anchor, Figure::measured(Mass::kg(kg)), None);
        mount(&mut plan, gear, how);
        if cart {
            let cart = add(&mut plan, "cart", Kind::Cart, Figure::measured(Mass::kg(4.0)), None);
            plan.gear.iter_mut().filter(|g| g.id == cart).for_each(|g| g.place = None);
        }
        assert_eq!(!findings(&plan, "lift-alone").is_empty(), speaks, "{kg} kg, {how:?}, cart {cart}");
    }

    #[test]
    fn speaks_over_thirty_kilograms_without_a_cart() {
        check(5.0, Mount::Bolts, false, false);
        check(5.1, Mount::Bolts, false, true);
        check(5.1, Mount::Bolts, true, false);
        check(5.1, Mount::Strap, false, false);
        check(5.1, Mount::Track, false, false);
    }
}
