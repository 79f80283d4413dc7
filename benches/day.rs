//! A day of sixteen hours with twenty loads: lived once, told whole, and with a search for what to shed and which
//! label would do.

use std::hint::black_box;

use divan::Bencher;
use gunnel::catalogue::{Catalogue, hulls, new_plan};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{Clock, Electric, Name, Phase, Placement, Plan, Spec};
use gunnel::study::day::Day;
use gunnel::study::power::Power;
use gunnel::units::{Charge, Duration, Figure};

const LOADS: usize = 20;

/// A battery of this sort and label, twenty of the catalogue's devices, five phases.
fn boat(sort: &str, label_ah: f64) -> Plan {
    let catalogue = Catalogue::shipped();
    let mut plan = new_plan(hulls()[1].key().as_str()).unwrap();
    let mut battery: Spec = catalogue.get(sort).unwrap().clone();
    if let Some(Electric::Battery { capacity, .. }) = &mut battery.electric {
        *capacity = Figure::catalogue(Charge::amp_hours(label_ah));
    }
    // Some entries are lights with cells of their own: they draw nothing.
    let draws = |spec: &&Spec| matches!(spec.electric, Some(Electric::Load { .. })) && spec.light.is_none();
    let devices: Vec<&Spec> = catalogue.entries().iter().filter(draws).cycle().take(LOADS).collect();
    for (index, spec) in [&battery].into_iter().chain(devices).enumerate() {
        let place = Some(Placement::at(300.0 + 100.0 * index as f64, 0.0));
        plan = apply(&plan, &Edit::Add { spec: Box::new(spec.clone()), mount: None, place }).unwrap();
    }
    let first = plan.outing.phases[0].clone();
    let phase = |(index, hours): (usize, f64)| Phase {
        name: Name::new(format!("part {index}")).unwrap(),
        hours: Duration::hours(hours),
        dark: index == 0,
        ..first.clone()
    };
    plan.outing.phases = [2.0, 3.0, 6.0, 4.0, 1.0].into_iter().enumerate().map(phase).collect();
    plan.outing.starts = Clock::new(4, 30);
    assert_eq!(Power::of(&plan).loads.len(), LOADS);
    plan
}

/// Batteries that see the day out, and those that do not.
#[divan::bench(args = [("battery-lfp-100", 480.0), ("battery-lfp-100", 60.0), ("battery-agm-100", 60.0)])]
fn day_of_16_hours(bencher: Bencher, (sort, label_ah): (&str, f64)) {
    let plan = boat(sort, label_ah);
    let power = Power::of(&plan);
    assert_eq!(Day::of(&plan, &power).batteries[0].sees_it_out(), label_ah > 100.0);
    bencher.bench_local(|| Day::of(black_box(&plan), &power));
}
