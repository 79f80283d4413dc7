//! A battery that sags with everything on.

use super::finding::COMMON_PRACTICE;
use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Electric, GearId};
use crate::study::day::BatteryDay;
use crate::study::power::{BatteryUse, Draws};

/// A battery that sags with everything on.
pub const CHECK: Check =
    Check { id: "voltage-sag", title: "the voltage falls too low with everything on", doc: DOC, run };

const DOC: &str = "\
What it checks
The voltage at each battery's terminals with everything on it at its peak at once, a motor at its greatest
setting, at the worst moment of the day while charge is left that may be used: the rest voltage by state of
charge less current times the resistance inside, which grows in the cold. Against 11.5 V (23 V on a \"24 V\"
battery) and the voltage below which each device straight on it stops. What the wires lose comes on top.

Why it matters
A display that restarts whenever the motor pulls is no display. 40 A through 20 milliohms is 0.8 V at the
battery alone.

Limit and source
Caution below 11.5 V, common practice, no source. Stop below the device's own limit, its maker's figure.
Resistances that are not stated are usual ones, from memory: measure, or ask the battery's maker.

What to do
Give the motor a battery of its own, take a battery with a larger label (it sags less), use a smaller setting,
keep the battery warm. Battery and device makers' sheets decide.
";

/// What one "12 V" counts, V.
const TWELVE: f64 = 12.0;

fn run(case: &Case<'_>, findings: &mut Vec<Finding>) {
    for battery in &case.study.power.batteries {
        let Some(day) = case.study.day.battery(battery.gear) else { continue };
        findings.extend(sags(case, battery, day));
    }
}

fn sags(case: &Case<'_>, battery: &BatteryUse, day: &BatteryDay) -> Option<Finding> {
    let (volts, after) = day.sag?;
    let volts = volts.to_volts();
    let stops: Vec<(GearId, f64)> = stopping(case, battery.gear, volts);
    let wanted = case.limits.get("voltage-sag.caution") * (battery.volts.to_volts() / TWELVE).round();
    let highest = stops.iter().map(|(_, own)| *own).reduce(f64::max);
    let (limit, severity, source) = match highest {
        Some(own) => (own, Severity::Stop, "the device maker's stated limit"),
        None if volts < wanted => (wanted, Severity::Caution, COMMON_PRACTICE),
        None => return None,
    };
    let names: Vec<String> = stops.iter().map(|(gear, _)| label(case.plan, *gear)).collect();
    let what = if names.is_empty() {
        format!("under {wanted:.1} V")
    } else {
        format!("and {} stops below {limit:.1} V", list(&names))
    };
    let motor =
        case.study.power.loads.iter().find(|load| load.battery == Some(battery.gear) && load.draws == Draws::Motor);
    let remedy = match motor {
        Some(motor) => format!("Give {} a battery of its own", label(case.plan, motor.gear)),
        None => "Take a battery with a larger label or less resistance".into(),
    };
    Some(Finding {
        check: CHECK.id,
        severity,
        subject: Subject::Gear(battery.gear),
        at: case.place(battery.gear),
        value: volts,
        limit,
        margin: volts - limit,
        unit: "V",
        says: format!(
            "With everything on at once ({:.1} A) {} falls to {volts:.1} V {}, {what}.",
            battery.peak.to_amps(),
            label(case.plan, battery.gear),
            case.plan.outing.moment(after)
        ),
        remedy: format!("{remedy}; its maker's sheet goes before these sums. {SHORT_CIRCUIT}"),
        source,
    })
}

/// Devices straight on a battery that stop at this voltage, each with its limit.
fn stopping(case: &Case<'_>, battery: GearId, volts: f64) -> Vec<(GearId, f64)> {
    let on_it = case.study.power.loads.iter().filter(|load| load.battery == Some(battery));
    let direct = on_it.filter(|load| load.converter.is_none() && !load.lacks_converter);
    let limit = |gear: GearId| match case.plan.gear(gear)?.spec.electric {
        Some(Electric::Load { stops_below, .. }) => stops_below.map(|own| own.to_volts()),
        _ => None,
    };
    direct.filter_map(|load| Some((load.gear, limit(load.gear)?))).filter(|(_, own)| volts < *own).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, electric, findings, load, motor, plan};
    use crate::plan::{Chemistry, Kind};
    use crate::units::{Figure, Resistance, Voltage};

    /// 100 Ah of glass-mat lead with 10 milliohms at 25 C and a display of 1 A for ten hours: 90 % is left, where
    /// it rests at 12.6 V. A motor of so many amperes comes on top.
    fn check(amps: f64, stops_at: f64, expected: Option<Severity>) {
        let mut plan = plan();
        let lead = battery(Chemistry::GlassMatLead, 12.0, 100.0, None);
        let source = add_electric(&mut plan, "battery", Kind::Battery, lead);
        if let Electric::Battery { resistance, .. } = electric(&mut plan, source) {
            *resistance = Some(Figure::measured(Resistance::milliohms(10.0)));
        }
        let display = add_electric(&mut plan, "display", Kind::Display, load(12.0, 1.0, 1.0));
        if let Electric::Load { stops_below, .. } = electric(&mut plan, display) {
            *stops_below = Some(Voltage::volts(stops_at));
        }
        add_electric(&mut plan, "motor", Kind::Motor, motor(&[("5", amps)]));
        let found = findings(&plan, "voltage-sag");
        assert_eq!(found.first().map(|f| f.severity), expected, "{amps} A, {stops_at} V: {found:?}");
        if let Some(finding) = found.first() {
            assert!((finding.value - (12.6 - 0.01 * (amps + 1.0))).abs() < 1e-9, "{finding:?}");
            assert!(finding.says.contains("10.0 h in") && finding.remedy.starts_with("Give motor"), "{finding:?}");
        }
    }

    #[test]
    fn speaks_below_what_is_wanted_and_stops_below_a_devices_limit() {
        check(108.9, 10.5, None);
        check(109.1, 10.5, Some(Severity::Caution));
        check(109.1, 11.6, Some(Severity::Stop));
        check(89.0, 11.69, None);
        check(89.0, 11.71, Some(Severity::Stop));
    }
}
