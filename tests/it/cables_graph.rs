//! The shortest ways of cables against an independent graph: `cables_graph/generate.py` finds them with networkx, every
//! leg measured beforehand; its output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::plan::{Kind, Signal, Via};
use gunnel::study::cables::NoWay;
use serde::Deserialize;

use crate::test_cables::{block, cable, hull, inside, on_deck, port, run};

#[derive(Deserialize)]
struct Expected {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    from: End,
    to: End,
    ports: Vec<(f64, f64)>,
    /// Middle, length and width.
    blocks: Vec<(f64, f64, f64, f64)>,
    /// Ports that must be passed, in order.
    via: Vec<usize>,
    length_mm: Option<f64>,
}

/// The room and the spot.
#[derive(Deserialize)]
struct End(String, f64, f64);

#[test]
fn ways_are_as_short_as_an_independent_graph_finds_them() {
    let expected: Expected = serde_json::from_str(include_str!("cables_graph/expected.json")).unwrap();
    assert_eq!(expected.cases.len(), 60);
    for (number, case) in expected.cases.iter().enumerate() {
        match (found(case), case.length_mm) {
            (Ok(found), Some(length)) => assert!((found - length).abs() < 1e-6, "case {number}: {found} {length}"),
            (Err(NoWay::Closed | NoWay::Order), None) => {}
            (found, length) => panic!("case {number}: {found:?} {length:?}"),
        }
    }
}

/// Length of the way that the program finds, mm.
fn found(case: &Case) -> Result<f64, NoWay> {
    let mut plan = hull();
    for (x, y, length, width) in &case.blocks {
        block(&mut plan, (*x, *y), (*length, *width));
    }
    let [from, to] = [&case.from, &case.to].map(|End(room, x, y)| match room.as_str() {
        "deck" => on_deck(&mut plan, "end", Kind::Other, (*x, *y)),
        _ => inside(&mut plan, "end", Kind::Other, (*x, *y)),
    });
    let ports: Vec<Via> = case.ports.iter().map(|at| Via::Feature(port(&mut plan, "port", *at, 22.0))).collect();
    let via: Vec<Via> = case.via.iter().map(|index| ports[*index]).collect();
    let id = cable(&mut plan, (from, to), Signal::Data, &via);
    run(&plan, id).way.map(|way| way.length_mm)
}
