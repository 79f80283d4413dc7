//! Twenty-five planned cables on a boat rigged from the catalogue: the ways of all, with what follows from them.

use std::hint::black_box;

use divan::Bencher;
use gunnel::catalogue::{Catalogue, hulls, new_plan};
use gunnel::edit::{Edit, apply};
use gunnel::plan::{Cable, CableId, Fate, Level, Name, Penetration, Placement, Plan, Purpose, Seal, Signal, Spec, Via};
use gunnel::study::cables::Cables;
use gunnel::study::power::Power;
use gunnel::study::rig::Rig;
use gunnel::units::Length;

const CABLES: usize = 25;

/// Holes for cables, beside the openings of the hull class.
const HOLES: usize = 12;

/// The catalogue's devices one after the other from aft, one in three of them inside, each with a cable from one
/// nearer aft.
fn boat() -> Plan {
    let mut plan = new_plan(hulls()[1].key().as_str()).unwrap();
    let wired = |spec: &&Spec| spec.electric.is_some();
    let devices = Catalogue::shipped().entries().iter().filter(wired).cycle();
    for (n, spec) in devices.take(CABLES + 1).enumerate() {
        let level = if n.is_multiple_of(3) { Level::Inside } else { Level::Deck };
        let place = Placement { level, ..Placement::at(300.0 + 95.0 * n as f64, 80.0 * ((n * 3) % 5) as f64 - 160.0) };
        plan = apply(&plan, &Edit::Add { spec: Box::new(spec.clone()), mount: None, place: Some(place) }).unwrap();
    }
    for n in 0..HOLES {
        plan.penetrations.push(hole(&plan, n));
    }
    let gear: Vec<_> = plan.gear.iter().rev().take(CABLES + 1).rev().map(|gear| gear.id).collect();
    for n in 1..=CABLES {
        let signal = [Signal::Power, Signal::Data, Signal::Power, Signal::Sonar, Signal::MotorPower][n % 5];
        // One in five has an opening it must pass.
        let via = if n.is_multiple_of(5) { vec![Via::Hole(plan.penetrations[n % HOLES].id)] } else { Vec::new() };
        let cable = Cable { id: CableId(0), from: gear[n / 2], to: gear[n], signal, via, length: None };
        plan = apply(&plan, &Edit::AddCable { cable }).unwrap();
    }
    assert_eq!(plan.validate(), Ok(()));
    plan
}

fn hole(plan: &Plan, n: usize) -> Penetration {
    Penetration {
        id: plan.next_hole_id(),
        name: Name::new(format!("cable entry {n}")).unwrap(),
        x: Length::mm(350.0 + 200.0 * n as f64),
        y: Length::mm(if n.is_multiple_of(2) { 220.0 } else { -220.0 }),
        bore: Length::mm(if n.is_multiple_of(3) { 16.0 } else { 30.0 }),
        purpose: Purpose::Cable,
        fate: Fate::New,
        seal: Seal::default(),
        left: None,
    }
}

#[divan::bench]
fn ways_of_25_cables(bencher: Bencher) {
    let plan = boat();
    let (rig, power) = (Rig::of(&plan), Power::of(&plan));
    let cables = Cables::of(&plan, &rig, &power);
    let found = cables.runs.iter().filter(|run| run.way.is_ok()).count();
    let round = cables.runs.iter().filter(|run| run.round.is_some()).count();
    println!("{found} ways, {} openings passed, {round} with a way round", cables.bundles.len());
    assert_eq!((cables.runs.len(), found), (CABLES, CABLES));
    bencher.bench_local(|| Cables::of(black_box(&plan), &rig, &power));
}
