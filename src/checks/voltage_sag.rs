//! A battery that sags with everything on.

use super::finding::COMMON_PRACTICE;
use super::words::{SHORT_CIRCUIT, label, list};
use super::{Case, Check, Finding, Severity, Subject};
use crate::plan::{Electric, GearId};
use crate::study::day::BatteryDay;
use crate::study::power::{BatteryUse, Draws, LoadUse};

/// A battery that sags with everything on.
pub const CHECK: Check =
    Check { id: "voltage-sag", title: "the voltage falls too low with everything on", doc: DOC, run };

const DOC: &str = "\
What it checks
The voltage at each battery's terminals with everything on it at its peak at once, a motor at its greatest
setting, at the worst moment of the day while charge is left that may be used: the rest voltage by state of
charge less current times the resistance inside, which grows in the cold. At each device straight on it (not a
motor) what its circuit's wire and the main wire before it take at their greatest is less again, where size and
length of the wire are known. The least of these against 11.5 V (23 V on a \"24 V\" battery), each device's
against the voltage below which it stops.

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
    let (terminals, after) = day.sag?;
    let terminals = terminals.to_volts();
    let devices = devices(case, battery.gear, terminals);
    let stops: Vec<&Device> = devices.iter().filter(|device| device.short() > 0.0).collect();
    let worst_stop = stops.iter().copied().max_by(|a, b| a.short().total_cmp(&b.short()));
    let lowest = devices.iter().min_by(|a, b| a.volts.total_cmp(&b.volts));
    let wanted = case.limits.get("voltage-sag.caution") * (battery.volts.to_volts() / TWELVE).round();
    let (volts, limit, severity, source) = match (worst_stop, lowest.map_or(terminals, |device| device.volts)) {
        (Some(Device { volts, stops_below: Some(own), .. }), _) => {
            (*volts, *own, Severity::Stop, "the device maker's stated limit")
        }
        (_, volts) if volts < wanted => (volts, wanted, Severity::Caution, COMMON_PRACTICE),
        _ => return None,
    };
    let names: Vec<String> = stops.iter().map(|device| label(case.plan, device.gear)).collect();
    let what = if names.is_empty() {
        format!("under {wanted:.1} V")
    } else {
        format!("and {} stops below {limit:.1} V", list(&names))
    };
    let at_device = worst_stop.or(lowest).filter(|device| device.volts < terminals);
    let arrives = at_device.map_or(String::new(), |device| {
        format!(", of which {:.1} V arrive at {}", device.volts, label(case.plan, device.gear))
    });
    let motor =
        case.study.power.loads.iter().find(|load| load.battery == Some(battery.gear) && load.draws == Draws::Motor);
    let remedy = match (motor, at_device) {
        (Some(motor), _) => format!("Give {} a battery of its own", label(case.plan, motor.gear)),
        (None, Some(_)) => "Take thicker wire, a battery with a larger label or one of less resistance".into(),
        (None, None) => "Take a battery with a larger label or less resistance".into(),
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
            "With everything on at once ({:.1} A) {} falls to {terminals:.1} V {}{arrives}, {what}.",
            battery.peak.to_amps(),
            label(case.plan, battery.gear),
            case.plan.outing.moment(after)
        ),
        remedy: format!("{remedy}; its maker's sheet goes before these sums. {SHORT_CIRCUIT}"),
        source,
    })
}

/// A device straight on a battery with everything on.
struct Device {
    gear: GearId,
    /// What arrives at it, V.
    volts: f64,
    /// Below this it stops, V.
    stops_below: Option<f64>,
}

impl Device {
    /// Volts missing to its own limit; negative with some to spare or no limit.
    fn short(&self) -> f64 {
        self.stops_below.map_or(f64::NEG_INFINITY, |own| own - self.volts)
    }
}

/// Devices straight on a battery that gives so many volts. Motors are no devices: they pull, and do not mind.
fn devices(case: &Case<'_>, battery: GearId, terminals: f64) -> Vec<Device> {
    let on_it = case.study.power.loads.iter().filter(|load| load.battery == Some(battery) && load.draws == Draws::Load);
    let direct = on_it.filter(|load| load.converter.is_none() && !load.lacks_converter);
    let device = |load: &LoadUse| {
        let wire = load.circuit.and_then(|circuit| case.study.wiring.circuit(circuit));
        let lost = wire.and_then(|wire| wire.run.total()).map_or(0.0, |total| total.peak);
        let stops_below = match case.plan.gear(load.gear)?.spec.electric {
            Some(Electric::Load { stops_below, .. }) => stops_below.map(|own| own.to_volts()),
            _ => None,
        };
        Some(Device { gear: load.gear, volts: terminals - lost, stops_below })
    };
    direct.filter_map(device).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_power::{add_electric, battery, circuit, electric, findings, load, main_fuse, motor, plan};
    use crate::plan::{Chemistry, Kind};
    use crate::units::{Figure, Length, Resistance, Voltage};

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

    /// 100 Ah of glass-mat lead at 12.6 V and 10 milliohms gives a display of 1 A 12.59 V; 2.5 m of 16 AWG there and
    /// back and as much of a main of 16 AWG are 0.07378 ohm each at 45 C: 12.4424 V arrive.
    #[test]
    fn what_the_wires_take_comes_on_top() {
        for (stops_at, expected) in [(12.44, None), (12.445, Some(Severity::Stop))] {
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
            circuit(&mut plan, "sonar", source, &[display]).length = Some(Length::mm(2500.0));
            let main = main_fuse(&mut plan, source);
            (main.gauge_awg, main.length) = (Some(16), Some(Length::mm(2500.0)));
            let found = findings(&plan, "voltage-sag");
            assert_eq!(found.first().map(|f| f.severity), expected, "{stops_at} V: {found:?}");
            assert!(found.iter().all(|f| (f.value - 12.4424).abs() < 1e-3 && f.says.contains("arrive at display")));
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
