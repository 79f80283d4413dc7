//! The day of batteries and motors for other programs: moments in hours from the start, and as the clock has them
//! where a start was typed.

use serde::Serialize;

use super::label;
use crate::catalogue::Catalogue;
use crate::plan::{Electric, GearId, Name, Outing, Plan, Spec};
use crate::sheets::number::{Number, base};
use crate::study::Study;
use crate::study::day::{BatteryDay, MotorDay, SettingDay};
use crate::study::power::BatteryUse;
use crate::units::{Duration, Quantity};

#[derive(Serialize)]
pub(super) struct BatteryDaySheet<'a> {
    reserve_percent: Number,
    into_reserve_hours: Option<Number>,
    into_reserve_at: Option<String>,
    used_up_hours: Option<Number>,
    used_up_at: Option<String>,
    empty_hours: Option<Number>,
    empty_at: Option<String>,
    lowest_charge_percent: Number,
    lowest_charge_hours: Number,
    lowest_voltage_v: Number,
    lowest_voltage_hours: Number,
    sag_v: Option<Number>,
    sag_hours: Option<Number>,
    stops: Vec<StopSheet<'a>>,
    phases: Vec<PhaseDaySheet>,
    smallest_ah: Option<Number>,
    enough_ah: Option<Number>,
    would_do: Option<WouldDoSheet>,
    shed: Vec<ShedSheet<'a>>,
    shed_together: Option<usize>,
    /// Hours, charge in percent, volts at the terminals.
    series: Vec<[Number; 3]>,
}

#[derive(Serialize)]
struct StopSheet<'a> {
    gear: GearId,
    label: &'a str,
    hours: Number,
    at: Option<String>,
}

#[derive(Serialize)]
struct PhaseDaySheet {
    charge_ah: Number,
    energy_wh: Number,
}

#[derive(Serialize)]
struct WouldDoSheet {
    key: String,
    name: String,
    mass_kg: Number,
    length_mm: Number,
    width_mm: Number,
    height_mm: Number,
}

#[derive(Serialize)]
struct ShedSheet<'a> {
    gear: GearId,
    label: &'a str,
    charge_ah: Number,
    longer_hours: Number,
    enough_alone: bool,
}

#[derive(Serialize)]
pub(super) struct MotorSheet<'a> {
    gear: GearId,
    label: &'a str,
    battery: Option<GearId>,
    settings: Vec<SettingSheet>,
}

#[derive(Serialize)]
struct SettingSheet {
    name: String,
    hours: Number,
    charge_ah: Number,
    speed_kmh: Option<Number>,
    speed_fitted: bool,
    distance_km: Option<Number>,
    lasts_hours: Option<Number>,
    range_km: Option<Number>,
}

impl<'a> BatteryDaySheet<'a> {
    pub(super) fn of(plan: &'a Plan, battery: &BatteryUse, day: &BatteryDay) -> Self {
        let outing = &plan.outing;
        let clock = |after: Option<Duration>| after.and_then(|after| clock(outing, after));
        let stop = |(gear, after): &(GearId, Duration)| StopSheet {
            gear: *gear,
            label: label(plan, *gear),
            hours: base(*after),
            at: clock(Some(*after)),
        };
        let shed = day.shed.loads.iter().map(|load| ShedSheet {
            gear: load.gear,
            label: label(plan, load.gear),
            charge_ah: base(load.charge),
            longer_hours: base(load.longer),
            enough_alone: load.alone,
        });
        Self {
            reserve_percent: day.reserve_percent.into(),
            into_reserve_hours: day.into_reserve.map(base),
            into_reserve_at: clock(day.into_reserve),
            used_up_hours: day.used_up.map(base),
            used_up_at: clock(day.used_up),
            empty_hours: day.empty.map(base),
            empty_at: clock(day.empty),
            lowest_charge_percent: day.lowest_charge.0.into(),
            lowest_charge_hours: base(day.lowest_charge.1),
            lowest_voltage_v: base(day.lowest_volts.0),
            lowest_voltage_hours: base(day.lowest_volts.1),
            sag_v: day.sag.map(|(volts, _)| base(volts)),
            sag_hours: day.sag.map(|(_, after)| base(after)),
            stops: day.stops.iter().map(stop).collect(),
            phases: (day.phases.iter())
                .map(|(charge, energy)| PhaseDaySheet { charge_ah: base(*charge), energy_wh: base(*energy) })
                .collect(),
            smallest_ah: day.smallest.map(base),
            enough_ah: day.enough.map(base),
            would_do: would_do(battery, day).map(WouldDoSheet::of),
            shed: shed.collect(),
            shed_together: day.shed.together,
            series: day.series.iter().map(|m| [m.hours.into(), m.charge_percent.into(), m.volts.into()]).collect(),
        }
    }
}

impl WouldDoSheet {
    fn of(spec: &Spec) -> Self {
        let (x, y, z) = spec.size();
        Self {
            key: spec.key.as_str().to_string(),
            name: spec.name.as_str().to_string(),
            mass_kg: base(spec.mass.value),
            length_mm: x.into(),
            width_mm: y.into(),
            height_mm: z.into(),
        }
    }
}

impl<'a> MotorSheet<'a> {
    pub(super) fn of(plan: &'a Plan, motor: &MotorDay) -> Self {
        let setting = |setting: &SettingDay| SettingSheet {
            name: setting_name(plan, motor.gear, setting.setting).map(Name::to_string).unwrap_or_default(),
            hours: base(setting.hours),
            charge_ah: base(setting.charge),
            speed_kmh: setting.speed_kmh.map(Number::from),
            speed_fitted: setting.fitted,
            distance_km: setting.distance_km.map(Number::from),
            lasts_hours: setting.lasts.map(base),
            range_km: setting.range_km.map(Number::from),
        };
        Self {
            gear: motor.gear,
            label: label(plan, motor.gear),
            battery: motor.battery,
            settings: motor.settings.iter().map(setting).collect(),
        }
    }
}

/// The smallest battery of the same chemistry in the shipped catalogue that leaves the reserve that is wanted and
/// gives the current; none where the battery aboard does.
pub(in crate::sheets) fn would_do(battery: &BatteryUse, day: &BatteryDay) -> Option<&'static Spec> {
    let wanted = day.enough?;
    let label = |spec: &Spec| match &spec.electric {
        Some(Electric::Battery { chemistry, volts, capacity, limit, .. }) => {
            let same = *chemistry == battery.chemistry && (volts.base() - battery.volts.base()).abs() < 1.0;
            let gives = limit.is_none_or(|limit| limit.base() >= battery.peak.base());
            (same && gives && capacity.value.base() >= wanted.base()).then(|| capacity.value.base())
        }
        _ => None,
    };
    let fits = Catalogue::shipped().entries().iter().filter_map(|spec| Some((label(spec)?, spec)));
    fits.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, spec)| spec)
}

/// The name of a motor's setting by its place in the list.
fn setting_name(plan: &Plan, motor: GearId, setting: usize) -> Option<&Name> {
    match &plan.gear(motor)?.spec.electric {
        Some(Electric::Motor { settings, .. }) => settings.get(setting).map(|setting| &setting.name),
        _ => None,
    }
}

fn clock(outing: &Outing, after: Duration) -> Option<String> {
    outing.starts.map(|starts| starts.after(after).to_string())
}

/// The day of the batteries and motors in lines to read.
pub(in crate::sheets) fn lines(plan: &Plan, study: &Study) -> Vec<String> {
    let mut lines = Vec::new();
    for (battery, day) in study.power.batteries.iter().filter_map(|use_| Some((use_, study.day.battery(use_.gear)?))) {
        if battery.drawn.base() > 0.0 {
            lines.push(over_the_day(plan, battery, day));
            lines.extend(what_would_do(plan, battery, day));
        }
    }
    for motor in &study.day.motors {
        lines.extend(motor.settings.iter().filter_map(|setting| under_way(plan, motor.gear, setting)));
    }
    lines
}

/// `battery: into its reserve at 11:30, used up at 12:50, flat at 14:20; lowest 12.1 V, 11.4 V with everything on`.
pub(in crate::sheets) fn over_the_day(plan: &Plan, battery: &BatteryUse, day: &BatteryDay) -> String {
    let moment = |after| plan.outing.moment(after);
    let mut ends = Vec::new();
    ends.extend(day.into_reserve.map(|after| format!("into its reserve {}", moment(after))));
    ends.extend(day.used_up.map(|after| format!("used up {}", moment(after))));
    ends.extend(day.stops.iter().map(|(gear, after)| format!("{} stops {}", label(plan, *gear), moment(*after))));
    ends.extend(day.empty.map(|after| format!("flat {}", moment(after))));
    if day.sees_it_out() {
        ends.push(format!("lowest charge {:.0} percent {}", day.lowest_charge.0, moment(day.lowest_charge.1)));
    }
    let sag = day.sag.map_or(String::new(), |(volts, _)| format!(", {:.1} V with everything on", volts.base()));
    format!("{}: {}; lowest {:.1} V{sag}", label(plan, battery.gear), ends.join(", "), day.lowest_volts.0.base())
}

/// What to leave off and which battery would do, where the battery falls short.
pub(in crate::sheets) fn what_would_do(plan: &Plan, battery: &BatteryUse, day: &BatteryDay) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for load in &day.shed.loads {
        let out = if load.alone { ", sees the day out" } else { "" };
        lines.push(format!("without {}: {:.1} h longer{out}", label(plan, load.gear), load.longer.base()));
    }
    if let Some(spec) = would_do(battery, day) {
        let (x, y, z) = spec.size();
        lines.push(format!(
            "{} would do: {:.1} kg, {x:.0} x {y:.0} x {z:.0} mm",
            spec.name.as_str(),
            spec.mass.value.base()
        ));
    } else if let Some(label) = day.enough {
        lines.push(format!("a label of {:.0} Ah or more would do", label.base().ceil()));
    }
    lines
}

/// `motor at 3: 1.5 h, 4.8 km today; 6.1 h, 19.5 km on a full battery`.
fn under_way(plan: &Plan, motor: GearId, setting: &SettingDay) -> Option<String> {
    let name = setting_name(plan, motor, setting.setting)?;
    let way = |hours: Duration, km: Option<f64>| match km {
        Some(km) => format!("{:.1} h, {km:.1} km", hours.base()),
        None => format!("{:.1} h", hours.base()),
    };
    let fitted = if setting.fitted { " (speed fitted)" } else { "" };
    let full = setting
        .lasts
        .map_or_else(String::new, |lasts| format!("; {} on a full battery{fitted}", way(lasts, setting.range_km)));
    Some(format!("{} at {name}: {} today{full}", label(plan, motor), way(setting.hours, setting.distance_km)))
}
