//! Readings of a meter: what they replace, what hangs on them, what they cannot say.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use std::collections::BTreeMap;

use gunnel::edit::{Edit, apply};
use gunnel::plan::{Chemistry, Electric, GearId, Kind, Plan, Reading, Taken};
use gunnel::study::Study;
use gunnel::study::meter_next::Hangs;
use gunnel::units::{Current, Figure, Measure, Origin};
use proptest::prelude::*;

use crate::test_power::{add_electric, battery, findings, load, name, plan};

fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "{found} is not {expected}");
}

fn meter(loads: &[u32], amps: f64) -> Reading {
    let loads = loads.iter().map(|id| GearId(*id)).collect();
    Reading { date: None, taken: Taken::Meter { loads, current: Current::amps(amps) }, off: false }
}

/// A load whose currents are of the catalogue.
fn catalogue_load(typical: f64, peak: f64) -> Electric {
    match load(12.0, typical, peak) {
        Electric::Load { volts, standby, stops_below, runs, .. } => Electric::Load {
            volts,
            typical: Figure::catalogue(Current::amps(typical)),
            peak: Figure::catalogue(Current::amps(peak)),
            standby,
            stops_below,
            runs,
        },
        other => other,
    }
}

/// Loads of these currents, `gear 1` and on, then a battery of so many Ah; ten hours.
fn boat(loads: &[f64], amp_hours: f64) -> Plan {
    let mut plan = plan();
    for amps in loads {
        add_electric(&mut plan, "load", Kind::Pump, catalogue_load(*amps, 2.0 * amps));
    }
    let lithium = battery(Chemistry::LithiumIronPhosphate, 12.8, amp_hours, None);
    add_electric(&mut plan, "battery", Kind::Battery, lithium);
    plan
}

/// What each load takes, A.
fn takes(plan: &Plan) -> BTreeMap<u32, f64> {
    Study::of(plan).power.metered.loads.iter().map(|(id, load)| (id.0, load.typical.value.to_amps())).collect()
}

fn check(loads: &[f64], readings: &[Reading], expected: &[(u32, f64)]) {
    let mut plan = boat(loads, 50.0);
    plan.readings = readings.to_vec();
    let found = takes(&plan);
    assert_eq!(found.keys().collect::<Vec<_>>(), expected.iter().map(|(id, _)| id).collect::<Vec<_>>(), "{readings:?}");
    for (id, amps) in expected {
        near(found[id], *amps);
    }
}

/// Common practice, no source: 1.14 A take 1.14 Ah each hour.
#[test]
fn measured_amperes_take_as_many_ampere_hours_each_hour() {
    let mut plan = boat(&[0.9], 50.0);
    plan.readings = vec![meter(&[1], 1.14)];
    let study = Study::of(&plan);
    let entry = study.power.load(GearId(1)).unwrap();
    near(entry.charge.to_amp_hours(), 1.14 * 10.0);
    near(entry.catalogue.to_amps(), 0.9);
    // The same unit at its greatest: 1.8 A times 1.14 / 0.9.
    near(entry.peak.to_amps(), 2.28);
    assert_eq!(entry.origin, Origin::Measured);
    plan.readings = vec![meter(&[1], 0.5)];
    near(Study::of(&plan).power.load(GearId(1)).unwrap().peak.to_amps(), 1.8);
}

#[test]
fn the_latest_single_reading_goes_before_all_and_sets_share_what_remains() {
    let dated = |date: &str, reading: Reading| Reading { date: Some(name(date)), ..reading };
    check(&[1.0, 2.0], &[meter(&[1], 1.1), meter(&[1], 1.2)], &[(1, 1.2)]);
    check(&[1.0], &[dated("2031-05-30", meter(&[1], 1.1)), meter(&[1], 1.2)], &[(1, 1.1)]);
    check(&[1.0, 2.0], &[meter(&[1, 2], 3.6)], &[(1, 1.2), (2, 2.4)]);
    check(&[1.0, 2.0, 1.0], &[meter(&[2], 1.5), meter(&[1, 2, 3], 3.9)], &[(1, 1.2), (2, 1.5), (3, 1.2)]);
    check(&[0.0, 0.0], &[meter(&[1, 2], 3.0)], &[(1, 1.5), (2, 1.5)]);
    // Less than what is known of one: nothing is left to share.
    check(&[1.0, 2.0], &[meter(&[1], 1.1), meter(&[1, 2], 1.0)], &[(1, 1.1)]);
    check(&[1.0, 2.0], &[Reading { off: true, ..meter(&[1], 1.1) }], &[]);
    for nonsense in [meter(&[9], 1.0), meter(&[1, 9], 1.0), meter(&[2], 1.0), meter(&[1], f64::NAN), meter(&[1], -1.0)]
    {
        check(&[1.0], &[nonsense], &[]);
    }
}

/// 20 Ah of lithium give 17; 1.8 A over ten hours ask for 18, 1.14 A for 11.4.
#[test]
fn a_reading_settles_what_hung_on_the_catalogue() {
    let start = boat(&[1.8], 20.0);
    assert_eq!(findings(&start, "battery-short").len(), 1);
    let metered = apply(&start, &Edit::AddReading { reading: meter(&[1], 1.14) }).unwrap();
    assert!(findings(&metered, "battery-short").is_empty());
    assert_eq!(metered.gear, start.gear);
    let off = apply(&metered, &Edit::SwitchReading { index: 0, off: true }).unwrap();
    assert_eq!(findings(&off, "battery-short"), findings(&start, "battery-short"));
    let text = gunnel::sheets::show_text(&metered, &Study::of(&metered), Measure::default());
    assert!(text.contains("undated: meter 1.14 A, load; takes 1.14 A, catalogue 1.80 A\n"), "{text}");
}

/// 17 Ah to use, 13.2 taken: 2.4 percent of 17 Ah over the reserve of 20 percent, 0.4 Ah. The first load is sure to
/// 1.2 Ah, the second to 0.12.
#[test]
fn the_load_on_which_a_verdict_hangs_is_worth_metering() {
    let mut plan = boat(&[1.2, 0.12], 20.0);
    let next = Study::of(&plan).meter_next;
    assert_eq!((next[0].gear, next[0].hangs.clone()), (GearId(1), vec![Hangs::Reserve(GearId(3))]));
    assert_eq!((next[1].gear, next[1].hangs.len()), (GearId(2), 0));
    near(next[0].charge_spread.to_amp_hours(), 1.2);
    plan.readings = vec![meter(&[1], 1.2)];
    let next: Vec<GearId> = Study::of(&plan).meter_next.iter().map(|worth| worth.gear).collect();
    assert_eq!(next, [GearId(2)]);
}

#[test]
fn another_unit_has_no_reading() {
    let mut plan = boat(&[0.9, 0.5], 50.0);
    plan.readings = vec![meter(&[1], 1.14), meter(&[2], 0.6)];
    let spec = Box::new((*plan.gear(GearId(2)).unwrap().spec).clone());
    let swapped = apply(&plan, &Edit::Swap { gear: GearId(1), spec }).unwrap();
    assert_eq!(swapped.readings.iter().map(|reading| reading.off).collect::<Vec<_>>(), [true, false]);
    let struck = apply(&plan, &Edit::Strike { gear: GearId(2) }).unwrap();
    assert_eq!(struck.readings.iter().map(|reading| reading.off).collect::<Vec<_>>(), [false, true]);
}

proptest! {
    #[test]
    fn shares_add_up_in_any_order(loads in prop::collection::vec(0.0..5.0_f64, 1..8), amps in 0.0..50.0_f64, by in 0_usize..8) {
        let mut ids: Vec<u32> = (1..=loads.len() as u32).collect();
        let mut plan = boat(&loads, 50.0);
        plan.readings = vec![meter(&ids, amps)];
        let found = takes(&plan);
        prop_assert!((found.values().sum::<f64>() - amps).abs() < 1e-9);
        let turn = by % ids.len();
        ids.rotate_left(turn);
        ids.reverse();
        plan.readings = vec![meter(&ids, amps)];
        prop_assert_eq!(takes(&plan), found);
    }

    #[test]
    fn a_reading_equal_to_the_figures_changes_no_number(loads in prop::collection::vec(0.01..5.0_f64, 1..8)) {
        let ids: Vec<u32> = (1..=loads.len() as u32).collect();
        let mut plan = boat(&loads, 50.0);
        let before = Study::of(&plan).power;
        plan.readings = vec![meter(&ids, loads.iter().sum())];
        let after = Study::of(&plan).power;
        for (now, was) in after.loads.iter().zip(&before.loads) {
            prop_assert!((now.typical.to_amps() - was.typical.to_amps()).abs() < 1e-9);
            prop_assert!((now.peak.to_amps() - was.peak.to_amps()).abs() < 1e-9);
            prop_assert!((now.charge.to_amp_hours() - was.charge.to_amp_hours()).abs() < 1e-9);
        }
    }
}
