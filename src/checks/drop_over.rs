//! Too much of the voltage lost in a wire.

use super::wire_words::{CircuitOrMain, runs};
use super::words::SHORT_CIRCUIT;
use super::{Case, Check, Finding, Severity};
use crate::study::wire::gauge::area_mm2;
use crate::units::{Current, Quantity, Voltage, amount};

/// Too much of the voltage lost in a wire.
pub const CHECK: Check = Check { id: "drop-over", title: "a wire takes too much of the voltage", doc: DOC, run };

const DOC: &str = "\
What it checks
The voltage each circuit's wire, and each battery's main wire, takes at the greatest current: there and back, in
stranded copper 20 degrees warmer than the air of the outing and never under 30 C. A circuit's wire and the main
wire before it are in series: the main's drop with everything on it at its greatest is added. The length is the
measured one, or 1.1 of the straight way from the battery or the switch unit to the furthest load, and 300 mm.

Why it matters
A display restarts, a lamp fades and a pump runs slowly while the battery is still half full. The loss grows with
the length, and counts twice: out and back.

Limit and source
Caution over 3 % of the battery's nominal voltage for lights, sonar, radio and pumps (the 3 % class of ISO 10133,
sonar and radio added as common practice), over 10 % for the rest (ISO 10133, from memory). Practice, not law.

What to do
Take the thicker wire it names, shorten the way, or split the loads. The fuse protects the wire: one that is fitted
may stay when the wire gets thicker. Disconnect the battery before work.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    findings.extend(runs(case).filter_map(|wire| over(case, &wire)));
}

fn over(case: &Case<'_>, wire: &CircuitOrMain<'_>) -> Option<Finding> {
    let run = wire.run;
    let (lost, total, way, awg) = (run.lost?, run.total()?, run.one_way?, run.gauge_awg?);
    let percent = run.percent(total.peak);
    (percent > run.allowed_percent).then(|| {
        let before = run.before.map_or(0.0, |before| before.peak);
        let cure = match run.smallest_awg {
            Some(thicker) if thicker < awg => {
                let loses = run.percent(before + lost.peak_v * area_mm2(awg) / area_mm2(thicker));
                format!("Take {thicker} AWG, which loses {loses:.1} percent")
            }
            _ if run.percent(before) > run.allowed_percent => {
                "Take a thicker main wire: it alone takes too much".into()
            }
            _ => "No wire here is thick enough: split the loads or shorten the way".into(),
        };
        Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: wire.subject,
            at: wire.at,
            value: percent,
            limit: run.allowed_percent,
            margin: run.allowed_percent - percent,
            unit: "percent",
            says: format!(
                "{} loses {} of {} at {}, {percent:.1} percent, through {:.0} mm of {awg} AWG there and back at {}{}.",
                wire.name(case.plan),
                amount(Voltage::from_base(total.peak), 2),
                amount(Voltage::from_base(run.nominal_v), 1),
                amount(Current::amps(run.amps.peak), 1),
                2.0 * way.mm,
                amount(case.study.wiring.conductor, 0),
                run.before.map_or(String::new(), |before| {
                    format!(", {} of it in the main wire", amount(Voltage::from_base(before.peak), 2))
                }),
            ),
            remedy: format!("{cure}. {SHORT_CIRCUIT}"),
            source: "ISO 10133 classes of 3 and 10 percent, as practice",
        }
    })
}

#[cfg(test)]
mod tests {
    use crate::checks::test_power::{findings, main_fuse, one_load};
    use crate::plan::Kind;
    use crate::units::Length;

    /// One load of this kind and peak, 2.5 m off in 16 AWG.
    fn check(kind: Kind, peak: f64, expected: Option<f64>) {
        let mut plan = one_load(kind, peak);
        plan.wiring.circuits[0].length = Some(Length::mm(2500.0));
        let found = findings(&plan, "drop-over");
        assert_eq!(found.first().map(|f| f.limit), expected, "{kind:?} at {peak} A: {found:?}");
    }

    /// Hand calculation: 5 m of 16 AWG strands at 45 C are 0.01344 ohm/m x 1.09825 x 5 = 0.07378 ohm; 3 percent of
    /// 12.8 V is 0.384 V, so 5.204 A; 10 percent 17.35 A.
    #[test]
    fn speaks_past_the_class_of_the_load() {
        check(Kind::Light, 5.20, None);
        check(Kind::Light, 5.21, Some(3.0));
        check(Kind::Phone, 17.3, None);
        check(Kind::Phone, 17.4, Some(10.0));
    }

    /// Hand calculation: a light of 4 A takes 0.2951 V in its 2.5 m of 16 AWG. A main of 2.5 m of 10 AWG (5.2615 mm2)
    /// adds 0.07378 x 1.3087 / 5.2615 = 0.01835 ohm, 0.0734 V: 0.3685 V, 2.88 percent of 12.8 V. At 4.2 A 3.02 percent.
    #[test]
    fn the_main_before_it_counts() {
        for (amps, expected) in [(4.0, None), (4.2, Some(3.02))] {
            let mut plan = one_load(Kind::Light, amps);
            plan.wiring.circuits[0].length = Some(Length::mm(2500.0));
            let battery = plan.wiring.circuits[0].battery;
            main_fuse(&mut plan, battery).length = Some(Length::mm(2500.0));
            let found = findings(&plan, "drop-over");
            assert_eq!(found.first().map(|f| (f.value * 100.0).round() / 100.0), expected, "{found:?}");
        }
    }

    #[test]
    fn names_the_wire_that_cures_it() {
        let mut plan = one_load(Kind::Display, 2.6);
        plan.wiring.circuits[0].gauge_awg = Some(20);
        plan.wiring.circuits[0].length = Some(Length::mm(2500.0));
        let found = findings(&plan, "drop-over");
        assert!(found.len() == 1 && found[0].remedy.starts_with("Take 16 AWG, which loses 1.5 percent."), "{found:?}");
        plan.wiring.circuits[0].sheathed = true;
        let found = findings(&plan, "drop-over");
        assert!(found.len() == 1 && found[0].remedy.starts_with("Take 18 AWG, which loses 2.4 percent."), "{found:?}");
        plan.wiring.circuits[0].gauge_awg = Some(18);
        assert_eq!(findings(&plan, "drop-over"), []);
    }
}
