//! The ways of cables: worked out by hand on the box of a hull, and what holds of every way.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::checks::Severity;
use gunnel::geometry::Spot;
use gunnel::plan::{CableId, Kind, Plan, Signal, Via};
use gunnel::study::Study;
use gunnel::study::cables::{CableRef, Passed, Runs};
use proptest::prelude::*;

use crate::boats::demo;
use crate::test_cables::*;
use crate::test_power::findings;

/// A pump inside at (500, 0, 6) and a switch on deck at (2500, 0, 300).
fn boat() -> (Plan, CableId) {
    let mut plan = hull();
    let pump = inside(&mut plan, "pump", Kind::Pump, (500.0, 0.0));
    let switch = on_deck(&mut plan, "switch", Kind::SwitchUnit, (2500.0, 0.0));
    let id = cable(&mut plan, (pump, switch), Signal::Power, &[]);
    (plan, id)
}

fn near(value: f64, expected: f64) {
    assert!((value - expected).abs() < 0.5, "{value} {expected}");
}

/// Inside from (500, 0, 6) to (1500, 200, 300): sqrt(1000^2 + 200^2 + 294^2) = 1061.3; on deck to (2500, 0, 300):
/// sqrt(1000^2 + 200^2) = 1019.8.
#[test]
fn a_way_leads_up_through_a_port() {
    let (mut plan, id) = boat();
    port(&mut plan, "port", (1500.0, 200.0), 22.0);
    let run = run(&plan, id);
    let way = run.way.as_ref().unwrap();
    near(way.length_mm, 1061.3 + 1019.8);
    near(run.needed_mm.unwrap(), 1.1 * 2081.1 + 300.0);
    assert_eq!(way.words(&plan), ["from pump", "up through port", "to switch"]);
}

/// Round the corner of a block at (890, 110): sqrt(390^2 + 110^2) = 405.2 in plan, 220 along it, 405.2 on; 294 up over
/// 1030.4 in all: sqrt(1030.4^2 + 294^2) = 1071.5.
#[test]
fn a_way_goes_round_foam_at_an_even_slope() {
    let (mut plan, id) = boat();
    block(&mut plan, (1000.0, 0.0), (200.0, 200.0));
    port(&mut plan, "port", (1500.0, 0.0), 22.0);
    near(length(&plan, id), 1071.5 + 1000.0);
}

/// Two boxes hung under the deck 2000 mm apart, and a well of 1000 mm between them, its floor 200 mm lower: down
/// sqrt(500^2 + 194^2) = 536.3, along 1000, up again. The ends hang at 294 mm, the floor is at 100.
#[test]
fn a_way_dips_under_a_well() {
    let (mut plan, _) = boat();
    zone(&mut plan, "well", (1000.0, -300.0), (2000.0, 300.0), 100.0);
    let hung = |x: f64| gunnel::plan::Placement {
        level: gunnel::plan::Level::Inside,
        raise: gunnel::units::Length::mm(288.0),
        ..gunnel::plan::Placement::at(x, 0.0)
    };
    let ends = [500.0, 2500.0].map(|x| put(&mut plan, "box", Kind::Other, hung(x)));
    let id = cable(&mut plan, (ends[0], ends[1]), Signal::Data, &[]);
    near(length(&plan, id), 2.0 * 536.3 + 1000.0);
    assert_eq!(run(&plan, id).way.unwrap().words(&plan)[1..3], ["under well", "under well"]);
}

/// On deck from (500, 0) to (2500, 0) past a well of 600 mm width: by (990, 310) and (2010, 310), 1020 apart:
/// 2 sqrt(490^2 + 310^2) + 1020 = 2179.7.
#[test]
fn a_way_on_deck_goes_round_a_well_along_the_edge() {
    let mut plan = hull();
    zone(&mut plan, "well", (1000.0, -300.0), (2000.0, 300.0), 100.0);
    let ends = [500.0, 2500.0].map(|x| on_deck(&mut plan, "box", Kind::Other, (x, 0.0)));
    let id = cable(&mut plan, (ends[0], ends[1]), Signal::Data, &[]);
    near(length(&plan, id), 2179.7);
    assert!(run(&plan, id).way.unwrap().steps.iter().any(|step| step.runs == Runs::DeckEdge));
}

#[test]
fn a_cable_passes_what_it_must_in_order() {
    let (mut plan, id) = boat();
    let ports = [(1500.0, 0.0), (800.0, 300.0), (2000.0, -300.0)].map(|at| port(&mut plan, "port", at, 22.0));
    let via = [ports[1], ports[0], ports[2]].map(Via::Feature);
    plan.wiring.cables[0].via = via.to_vec();
    assert_eq!(run(&plan, id).way.unwrap().openings().collect::<Vec<_>>(), via);
}

#[test]
fn a_head_under_the_hull_comes_up_through_a_tube() {
    let mut plan = hull();
    let head = gunnel::plan::Placement { level: gunnel::plan::Level::Under, ..gunnel::plan::Placement::at(500.0, 0.0) };
    let head = put(&mut plan, "head", Kind::Transducer, head);
    let display = on_deck(&mut plan, "display", Kind::Display, (1500.0, 0.0));
    let id = cable(&mut plan, (head, display), Signal::Sonar, &[]);
    // Up the side: 400 out, 300 up; then sqrt(1000^2 + 400^2) = 1077.0.
    near(length(&plan, id), 1777.0);
    scupper(&mut plan, (800.0, 0.0), 38.0);
    near(length(&plan, id), 300.0 + 300.0 + 700.0);
}

#[test]
fn the_seat_test_stops_a_plug_and_names_the_way_round() {
    let plan = demo("seat-test.ron");
    let study = Study::of(&plan);
    let run = study.cables.run(CableRef::Planned(CableId(3))).unwrap();
    assert_eq!((run.stuck[0].plug_mm, run.stuck[0].bore_mm), (25.0, 22.0));
    let round = run.round.as_ref().expect("a way round");
    assert!(round.openings().all(|via| via != run.stuck[0].opening));
    let found = findings(&plan, "plug-stuck");
    let stop = found.iter().find(|finding| finding.severity == Severity::Stop).unwrap();
    assert!(stop.says.contains("25 mm") && stop.says.contains("22 mm"), "{}", stop.says);
    assert!(stop.remedy.contains("cable entry, bow"), "{}", stop.remedy);
}

/// A 6 mm cable takes (6 / 22)^2 = 7.44 percent of a bore of 22 mm; under a hatch it is squeezed by its lid.
#[test]
fn other_programs_read_what_fills_an_opening_and_what_squeezes() {
    let wiring = |plan: &Plan| {
        let study = Study::of(plan);
        let text = gunnel::sheets::check_json(plan, &study, &[]);
        serde_json::from_str::<serde_json::Value>(&text).unwrap()["study"]["wiring"].clone()
    };
    let (mut plan, id) = boat();
    port(&mut plan, "port", (1500.0, 200.0), 22.0);
    let told = wiring(&plan);
    let bundle = &told["bundles"][0];
    assert_eq!((&bundle["opening"], &bundle["cables"][0]["cable"]), (&"port".into(), &id.0.into()));
    assert!((bundle["fill_percent"].as_f64().unwrap() - 7.44).abs() < 0.01, "{bundle}");
    assert_eq!(told["cables"][0]["pinches"], serde_json::json!([]));

    let (mut plan, _) = boat();
    hatch(&mut plan, (1500.0, 0.0));
    let pinch = wiring(&plan)["cables"][0]["pinches"][0].clone();
    assert_eq!((&pinch["kind"], &pinch["by"]), (&"lid".into(), &"hatch".into()));
    assert_eq!(pinch["at"]["x_mm"].as_f64(), Some(1500.0), "{pinch}");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn another_opening_never_makes_a_way_longer(
        first in (100_f64..3500.0, -390_f64..390.0),
        second in (100_f64..3500.0, -390_f64..390.0),
        foam in (600_f64..2400.0, -200_f64..200.0),
    ) {
        let (mut plan, id) = boat();
        block(&mut plan, foam, (150.0, 300.0));
        port(&mut plan, "port", first, 22.0);
        let before = Study::of(&plan).cables.run(CableRef::Planned(id)).unwrap().way.clone();
        port(&mut plan, "second port", second, 22.0);
        if let Ok(before) = before {
            prop_assert!(length(&plan, id) <= before.length_mm + 1e-6);
        }
    }

    #[test]
    fn a_mirrored_boat_has_mirrored_ways_and_none_crosses_foam(
        at in (100_f64..3500.0, 10_f64..390.0),
        foam in (700_f64..2200.0, -200_f64..200.0),
    ) {
        let made = |side: f64| {
            let (mut plan, id) = boat();
            block(&mut plan, (foam.0, side * foam.1), (150.0, 300.0));
            port(&mut plan, "port", (at.0, side * at.1), 22.0);
            (plan, id)
        };
        let [(port_side, id), (starboard, _)] = [1.0, -1.0].map(made);
        let ways = [&port_side, &starboard].map(|plan| run(plan, id).way);
        if let [Ok(one), Ok(two)] = &ways {
            prop_assert!((one.length_mm - two.length_mm).abs() < 1e-6);
            let holds = |spot: Spot| (spot.x - foam.0).abs() < 74.9 && (spot.y - foam.1).abs() < 149.9;
            // A port may stand over foam: then the block is none for the leg that ends there.
            if !holds(Spot::from(at)) {
                for n in 0..=200 {
                    let point = one.at(one.length_mm * f64::from(n) / 200.0);
                    let on_deck = point.z > DECK_MM - 1e-6;
                    prop_assert!(on_deck || !holds(point.spot()), "{point:?}");
                }
            }
        }
    }
}

#[test]
fn every_step_of_every_demo_way_adds_up() {
    for file in ["seat-test.ron", "ready-for-review.ron"] {
        let plan = demo(file);
        for run in &Study::of(&plan).cables.runs {
            let way = run.way.as_ref().unwrap_or_else(|why| panic!("{file}: {:?} {why:?}", run.id));
            near(way.steps.iter().map(|step| step.leg_mm).sum(), way.length_mm);
            assert!(matches!(way.steps[0].passes, Passed::End(gear) if gear == run.from));
        }
    }
}
