//! Motor and electronics on one battery.

use super::finding::COMMON_PRACTICE;
use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{GearId, Kind};
use crate::study::power::Draws;

/// Motor and electronics on one battery.
pub const CHECK: Check =
    Check { id: "motor-shares-battery", title: "motor and electronics share a battery", doc: DOC, run };

const DOC: &str = "\
What it checks
Whether a battery that feeds a motor also feeds what minds a dip in voltage: displays, sonar, sensors,
radios, cameras, lights.

Why it matters
A motor's start pulls the voltage down (40 A through 20 milliohms is 0.8 V at the battery alone): screens
restart, lights fade. And when the motor has emptied the battery, the lights and the radio are gone too.
Motor leads also put noise on the sonar.

Limit and source
Caution for any. Common practice, no source.

What to do
Give the motor a battery and a circuit of its own with its own breaker.
";

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    let loads = &case.study.power.loads;
    for battery in &case.study.power.batteries {
        let on_it = || loads.iter().filter(|load| load.battery == Some(battery.gear) && load.peak.to_amps() > 0.0);
        let Some(motor) = on_it().find(|load| load.draws == Draws::Motor) else { continue };
        let minds: Vec<String> =
            on_it().filter(|load| minds_a_dip(case, load.gear)).map(|load| label(case.plan, load.gear)).collect();
        if minds.is_empty() {
            continue;
        }
        let count = minds.len() as f64;
        findings.push(Finding {
            check: CHECK.id,
            severity: Severity::Caution,
            subject: Subject::Gear(battery.gear),
            at: case.place(battery.gear),
            value: count,
            limit: 0.0,
            margin: -count,
            unit: "count",
            says: format!(
                "{} feeds {} and also {}: screens restart and lights fade when the motor pulls.",
                label(case.plan, battery.gear),
                label(case.plan, motor.gear),
                list(&minds)
            ),
            remedy: format!("Give the motor a battery and a breaker of its own. {SHORT_CIRCUIT}"),
            source: COMMON_PRACTICE,
        });
    }
}

fn minds_a_dip(case: &Case<'_>, gear: GearId) -> bool {
    use Kind::{BlackBox, Camera, Display, Light, Radio, Sensor, Transducer};
    case.plan
        .gear(gear)
        .is_some_and(|gear| matches!(gear.spec.kind, BlackBox | Camera | Display | Light | Radio | Sensor | Transducer))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, circuit, findings, load, motor, plan};
    use crate::plan::Chemistry;

    fn check(kind: Kind, own_battery: bool, speaks: bool) {
        let mut plan = plan();
        let lithium = || battery(Chemistry::LithiumIronPhosphate, 12.8, 50.0, None);
        add_electric(&mut plan, "house battery", Kind::Battery, lithium());
        let second = add_electric(&mut plan, "motor battery", Kind::Battery, lithium());
        let drive = add_electric(&mut plan, "motor", Kind::Motor, motor(&[("3", 20.0)]));
        add_electric(&mut plan, "something", kind, load(12.0, 1.0, 2.0));
        if own_battery {
            circuit(&mut plan, "motor", second, &[drive]);
        }
        assert_eq!(findings(&plan, "motor-shares-battery").len(), usize::from(speaks), "{kind:?} {own_battery}");
    }

    #[test]
    fn speaks_when_electronics_hang_on_the_motors_battery() {
        check(Kind::Display, false, true);
        check(Kind::Display, true, false);
        check(Kind::Pump, false, false);
    }
}
