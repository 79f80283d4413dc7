//! The lived day against an independent integration: `day_scipy/generate.py` integrates the charge with scipy's
//! `solve_ivp` and finds what stops as its events; its output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Chemistry, Duty, Electric, GearId, Kind, Plan};
use gunnel::study::Study;
use gunnel::study::day::BatteryDay;
use gunnel::units::{Current, Duration, Figure, Resistance, Temperature, Voltage};
use serde::Deserialize;

use crate::test_power::{add_electric, battery, electric, load, phase, plan};

/// Within a minute, half a percent of charge, a hundredth of a volt.
const MINUTE: f64 = 1.0 / 60.0;
const PERCENT: f64 = 0.5;
const VOLTS: f64 = 0.01;

#[derive(Deserialize)]
struct Expected {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    name: String,
    chemistry: Chemistry,
    volts: f64,
    label_ah: f64,
    milliohms: f64,
    health_percent: f64,
    peukert: f64,
    hour_rate: f64,
    cut_out_v: Option<f64>,
    /// Hours and degrees.
    phases: Vec<(f64, f64)>,
    loads: Vec<Load>,
    expected: Day,
}

/// Name, amperes on and off, share of each phase, voltage below which it stops.
#[derive(Deserialize)]
struct Load(String, f64, f64, Vec<f64>, Option<f64>);

#[derive(Deserialize)]
struct Day {
    empty: Option<f64>,
    used_up: Option<f64>,
    stops: Vec<(String, f64)>,
    lowest_v: f64,
    /// Hours, percent, volts.
    hourly: Vec<(f64, f64, f64)>,
}

/// A boat with the battery and the loads of the case.
fn boat(case: &Case) -> (Plan, GearId) {
    let mut plan = plan();
    let source = battery(case.chemistry, case.volts, case.label_ah, None);
    let source = add_electric(&mut plan, "battery", Kind::Battery, source);
    if let Electric::Battery { resistance, health_percent, peukert, hour_rate, cut_out, .. } =
        electric(&mut plan, source)
    {
        *resistance = Some(Figure::measured(Resistance::milliohms(case.milliohms)));
        *health_percent = Some(case.health_percent);
        *peukert = Some(case.peukert);
        *hour_rate = Some(Duration::hours(case.hour_rate));
        *cut_out = case.cut_out_v.map(Voltage::volts);
    }
    plan.outing.phases.clear();
    for (index, (hours, air)) in case.phases.iter().enumerate() {
        let mut part = phase(&format!("part {index}"), *hours, false);
        part.air = Some(Temperature::celsius(*air));
        plan.outing.phases.push(part);
    }
    for Load(name, on, off, shares, stops) in &case.loads {
        let gear = add_electric(&mut plan, name, Kind::Other, load(case.volts, *on, *on));
        if let Electric::Load { standby, stops_below, .. } = electric(&mut plan, gear) {
            *standby = Figure::measured(Current::amps(*off));
            *stops_below = stops.map(Voltage::volts);
        }
        for (part, share) in plan.outing.phases.iter_mut().zip(shares) {
            part.duties.push(Duty { gear, share: *share });
        }
    }
    assert_eq!(plan.validate(), Ok(()));
    (plan, source)
}

fn at(day: &BatteryDay, hours: f64) -> Option<(f64, f64)> {
    let pair = day.series.windows(2).find(|pair| pair[0].hours <= hours && hours <= pair[1].hours)?;
    let share = (hours - pair[0].hours) / (pair[1].hours - pair[0].hours);
    let between = |a: f64, b: f64| a + share * (b - a);
    Some((between(pair[0].charge_percent, pair[1].charge_percent), between(pair[0].volts, pair[1].volts)))
}

#[test]
fn a_day_is_what_scipy_integrates() {
    let expected: Expected = serde_json::from_str(include_str!("day_scipy/expected.json")).unwrap();
    assert!(expected.cases.len() >= 4);
    for case in &expected.cases {
        let (plan, source) = boat(case);
        let study = Study::of(&plan);
        let day = study.day.battery(source).unwrap();
        let near = |what: &str, found: f64, wanted: f64, within: f64| {
            assert!((found - wanted).abs() <= within, "{}, {what}: {found} is not {wanted}", case.name);
        };
        let moment = |what: &str, found: Option<Duration>, wanted: Option<f64>| match (found, wanted) {
            (Some(found), Some(wanted)) => near(what, found.to_hours(), wanted, MINUTE),
            (found, wanted) => assert!(found.is_none() && wanted.is_none(), "{}, {what}: {found:?}", case.name),
        };
        moment("used up", day.used_up, case.expected.used_up);
        moment("empty", day.empty, case.expected.empty);
        assert_eq!(day.stops.len(), case.expected.stops.len(), "{}", case.name);
        for ((gear, after), (label, wanted)) in day.stops.iter().zip(&case.expected.stops) {
            assert_eq!(plan.gear(*gear).unwrap().label.as_str(), label, "{}", case.name);
            near(label, after.to_hours(), *wanted, MINUTE);
        }
        near("lowest voltage", day.lowest_volts.0.to_volts(), case.expected.lowest_v, VOLTS);
        let changes = changes(case);
        for (hours, percent, volts) in &case.expected.hourly {
            // Where a phase begins or something stops, the plotted line is between two values.
            if changes.iter().any(|change| (change - hours).abs() < 0.1) {
                continue;
            }
            let (charge, terminal) = at(day, *hours).unwrap();
            near(&format!("charge at {hours}"), charge, *percent, PERCENT);
            near(&format!("volts at {hours}"), terminal, *volts, VOLTS);
        }
    }
}

/// When something changes: phases, what stops, the end.
fn changes(case: &Case) -> Vec<f64> {
    let mut hours = 0.0;
    let phases = case.phases.iter().map(|(long, _)| {
        hours += long;
        hours
    });
    let stops = case.expected.stops.iter().map(|(_, after)| *after);
    phases.chain(stops).chain(case.expected.empty).collect()
}
