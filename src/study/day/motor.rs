//! How long and how far the motor goes, by its settings.

use super::cell::Cell;
use super::run::{Part, Run};
use crate::plan::{Electric, Gear, GearId, Plan, Setting};
use crate::study::power::{Power, share};
use crate::units::{Charge, Duration, Quantity};

/// The day of one motor.
#[derive(Clone, Debug, PartialEq)]
pub struct MotorDay {
    /// The motor.
    pub gear: GearId,
    /// The battery that drives it; `None` when nothing aboard does.
    pub battery: Option<GearId>,
    /// Its settings, as the motor lists them.
    pub settings: Vec<SettingDay>,
}

/// One setting of a motor on this day.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingDay {
    /// Its place in the motor's list.
    pub setting: usize,
    /// Hours it runs on this day, until its battery is empty.
    pub hours: Duration,
    /// Charge it takes in them.
    pub charge: Charge,
    /// Speed, km/h: stated or fitted.
    pub speed_kmh: Option<f64>,
    /// Whether the speed is fitted through two that are stated.
    pub fitted: bool,
    /// Way made on this day, km.
    pub distance_km: Option<f64>,
    /// How long the battery's usable charge lasts from full at this setting, everything else running as on
    /// this day's average.
    pub lasts: Option<Duration>,
    /// How far that is, km.
    pub range_km: Option<f64>,
}

/// The day of every placed motor.
pub(super) fn motors(plan: &Plan, power: &Power, parts: &[Part], runs: &[(GearId, Cell, Run)]) -> Vec<MotorDay> {
    let mut motors = Vec::new();
    for gear in plan.gear.iter().filter(|gear| gear.is_placed()) {
        let Some(Electric::Motor { settings, .. }) = &gear.spec.electric else { continue };
        let battery = power.load(gear.id).and_then(|load| load.battery);
        let source = runs.iter().find(|(id, ..)| Some(*id) == battery);
        let served = source.map_or_else(|| vec![0.0; parts.len()], |(_, _, run)| served(parts, run));
        let beside = battery.map_or(0.0, |battery| beside(power, battery, gear.id, parts));
        let setting = |(index, setting): (usize, &Setting)| {
            let hours = hours_at(plan, gear, setting, &served);
            let amps = setting.current.value.to_amps();
            let (speed_kmh, fitted) = match setting.speed_kmh {
                Some(stated) => (Some(stated), false),
                None => (fitted_speed(settings, amps), true),
            };
            let lasts = source.and_then(|(_, cell, _)| lasts(plan, cell, amps, beside));
            SettingDay {
                setting: index,
                hours: Duration::hours(hours),
                charge: Charge::amp_hours(hours * amps),
                speed_kmh,
                fitted: fitted && speed_kmh.is_some(),
                distance_km: speed_kmh.map(|speed| speed * hours),
                lasts: lasts.map(Duration::hours),
                range_km: speed_kmh.zip(lasts).map(|(speed, lasts)| speed * lasts),
            }
        };
        let settings = settings.iter().enumerate().map(setting).collect();
        motors.push(MotorDay { gear: gear.id, battery, settings });
    }
    motors
}

/// Hours of each part in which the battery gives something.
fn served(parts: &[Part], run: &Run) -> Vec<f64> {
    let mut served = vec![0.0; parts.len()];
    for step in &run.steps {
        if let Some(hours) = served.get_mut(step.part) {
            *hours += step.until - step.from;
        }
    }
    served
}

/// Hours the motor runs at a setting.
fn hours_at(plan: &Plan, gear: &Gear, setting: &Setting, served: &[f64]) -> f64 {
    let phases = plan.outing.phases.iter().enumerate();
    let runs = phases.filter(|(_, phase)| phase.motor.as_ref() == Some(&setting.name));
    runs.map(|(at, phase)| share(phase, plan.outing.is_dark(at), gear.id, None) * served.get(at).unwrap_or(&0.0)).sum()
}

/// Mean current of everything else on a battery over the day, A.
fn beside(power: &Power, battery: GearId, motor: GearId, parts: &[Part]) -> f64 {
    let hours: f64 = parts.iter().map(|part| part.hours).sum();
    let others = power.loads.iter().filter(|load| load.battery == Some(battery) && load.gear != motor);
    let charge: f64 = others.map(|load| load.charge.base()).sum();
    if hours > 0.0 { charge / hours } else { 0.0 }
}

/// Hours of usable charge from full at the outing's coldest.
fn lasts(plan: &Plan, cell: &Cell, amps: f64, beside: f64) -> Option<f64> {
    let counted = cell.counted(amps + beside);
    let usable = cell.depth * cell.at(plan.outing.air).capacity_ah;
    (amps > 0.0 && counted > 0.0).then(|| usable / counted)
}

/// Speed at a current by a power law through two settings whose speed is stated, km/h.
///
/// `v = a P^b`, and as the voltage is one `P` goes with the current: `v = v1 (I / I1)^b`,
/// `b = ln(v2 / v1) / ln(I2 / I1)`. Between two stated settings through these, outside through the nearest
/// two. Valid below hull speed in flat water without wind. Source: common practice; a pair that was seen
/// (16 A 5.8 km/h, 30 A 7.4 km/h) gives `P` with the power 2.6 of `v`.
pub(super) fn fitted_speed(settings: &[Setting], amps: f64) -> Option<f64> {
    let known = settings.iter().filter_map(|s| Some((s.current.value.to_amps(), s.speed_kmh?)));
    let mut known: Vec<(f64, f64)> = known.filter(|(amps, speed)| *amps > 0.0 && *speed > 0.0).collect();
    known.sort_by(|a, b| a.0.total_cmp(&b.0));
    known.dedup_by(|a, b| a.0 == b.0);
    let above = known.partition_point(|(own, _)| *own < amps).clamp(1, known.len().max(2) - 1);
    let (&(i1, v1), &(i2, v2)) = (known.get(above - 1)?, known.get(above)?);
    let exponent = (v2 / v1).ln() / (i2 / i1).ln();
    (amps > 0.0).then(|| v1 * (amps / i1).powf(exponent))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]
    use super::*;
    use crate::plan::Name;
    use crate::units::{Current, Figure};

    fn check(known: &[(f64, Option<f64>)], amps: f64, expected: Option<f64>) {
        let setting = |(amps, speed_kmh): &(f64, Option<f64>)| Setting {
            name: Name::new("x").unwrap(),
            current: Figure::measured(Current::amps(*amps)),
            speed_kmh: *speed_kmh,
        };
        let settings: Vec<Setting> = known.iter().map(setting).collect();
        let found = fitted_speed(&settings, amps);
        let close = match (found, expected) {
            (Some(found), Some(expected)) => (found - expected).abs() < 1e-3,
            (found, expected) => found == expected,
        };
        assert!(close, "{known:?} at {amps} A: {found:?} is not {expected:?}");
    }

    #[test]
    fn a_power_law_goes_through_two_settings() {
        // By hand: 4 A 2 km/h and 16 A 4 km/h make b = 1/2, so v = sqrt(I).
        let known = [(4.0, Some(2.0)), (9.0, None), (16.0, Some(4.0))];
        for (amps, speed) in [(4.0, 2.0), (9.0, 3.0), (16.0, 4.0), (25.0, 5.0), (1.0, 1.0)] {
            check(&known, amps, Some(speed));
        }
        // A third one bends it: beyond 16 A the law is v = I / 4.
        let bent = [(4.0, Some(2.0)), (16.0, Some(4.0)), (32.0, Some(8.0))];
        check(&bent, 20.0, Some(5.0));
        check(&bent, 64.0, Some(16.0));
        check(&bent, 9.0, Some(3.0));
    }

    #[test]
    fn without_two_there_is_no_law() {
        check(&[(4.0, Some(2.0)), (9.0, None)], 9.0, None);
        check(&[(4.0, Some(2.0)), (4.0, Some(3.0))], 9.0, None);
        check(&[(4.0, Some(2.0)), (16.0, Some(0.0))], 9.0, None);
        check(&[(4.0, Some(2.0)), (16.0, Some(4.0))], 0.0, None);
        check(&[], 9.0, None);
    }
}
