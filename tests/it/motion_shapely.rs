//! Distances, depths and swept spaces against a general library of geometry: `motion_shapely/generate.py` works them
//! out with shapely; its output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::catalogue::Catalogue;
use gunnel::edit::{Edit, apply};
use gunnel::geometry::{Outline, Point, Spot};
use gunnel::plan::{Feature, FeatureId, FeatureKind, Hinge, Note, Opening, Placement, Plan};
use gunnel::study::Study;
use gunnel::study::clearance::Envelope;
use gunnel::units::Length;
use serde::Deserialize;

use crate::test_power::{name, plan};

/// Gaps are told to a thousandth of a millimetre.
const GAP_MM: f64 = 1e-3;

/// What is at most this deep inside a swept shape may fall between two steps of its turn.
const INSIDE_MM: f64 = 2.0;

#[derive(Deserialize)]
struct Expected {
    pairs: Vec<Pair>,
    sweeps: Vec<Sweep>,
}

#[derive(Deserialize)]
struct Pair {
    a: Shape,
    b: Shape,
    gap_mm: f64,
}

#[derive(Deserialize)]
struct Shape {
    at: (f64, f64),
    #[serde(default)]
    radius: f64,
    half: Option<(f64, f64)>,
    #[serde(default)]
    turn: f64,
}

#[derive(Deserialize)]
struct Sweep {
    motion: String,
    plane: String,
    third_mm: Option<f64>,
    slack_mm: f64,
    /// Two coordinates and the signed distance to the exact shape, negative inside.
    probes: Vec<(f64, f64, f64)>,
}

impl Shape {
    fn outline(&self) -> Outline {
        let middle = Spot::new(self.at.0, self.at.1);
        match self.half {
            Some((half_length, half_width)) => Outline::Rect { middle, half_length, half_width, turn: self.turn },
            None => Outline::Circle { middle, radius: self.radius },
        }
    }
}

fn expected() -> Expected {
    serde_json::from_str(include_str!("motion_shapely/expected.json")).unwrap()
}

#[test]
fn gaps_and_depths_are_those_of_shapely() {
    let expected = expected();
    assert!(expected.pairs.iter().filter(|pair| pair.gap_mm < 0.0).count() > 50, "many overlap");
    for Pair { a, b, gap_mm } in &expected.pairs {
        let (a, b) = (a.outline(), b.outline());
        for found in [a.gap(&b), b.gap(&a)] {
            assert!((found - gap_mm).abs() < GAP_MM, "{a:?} to {b:?}: {found} is not {gap_mm}");
        }
    }
}

/// The box boat with a hatch hinged aft and a stern motor whose mount is at (120, 0); how high that is.
fn boat() -> (Plan, f64) {
    let mut plan = plan();
    let opening = Opening::Rect(Length::mm(260.0), Length::mm(200.0));
    let kind = FeatureKind::Hatch { opening, rim: Length::mm(20.0), hinge: Hinge::Aft, reach: Length::mm(400.0) };
    let at_mm = Point::new(3000.0, 0.0, 300.0);
    let hatch = Feature { id: FeatureId(1), name: name("hatch"), at_mm, kind, notes: Note::default() };
    std::sync::Arc::make_mut(&mut plan.hull).features.push(hatch);
    let spec = Box::new(Catalogue::shipped().get("motor-stern-30").unwrap().clone());
    let plan = apply(&plan, &Edit::Add { spec, mount: None, place: Some(Placement::at(120.0, 0.0)) }).unwrap();
    let mount = Study::of(&plan).rig.items[0].at.z;
    (plan, mount)
}

/// Whether a probe is in one of the blocks of a motion; without a third coordinate, over or under one.
fn is_in(envelopes: &[&Envelope], sweep: &Sweep, (first, second): (f64, f64), lift: f64) -> bool {
    let (spot, z) = match (sweep.plane.as_str(), sweep.third_mm) {
        ("xz", y) => (Spot::new(first, y.unwrap()), Some(second + lift)),
        (_, z) => (Spot::new(first, second), z),
    };
    let mut solids = envelopes.iter().flat_map(|envelope| &envelope.solids);
    solids.any(|solid| solid.outline.contains(spot) && z.is_none_or(|z| (solid.low..=solid.high).contains(&z)))
}

#[test]
fn swept_spaces_hold_the_exact_shapes_and_little_more() {
    let (plan, mount) = boat();
    let study = Study::of(&plan);
    for sweep in &expected().sweeps {
        let of_motion = |envelope: &&Envelope| envelope.motion.word() == sweep.motion;
        let envelopes: Vec<&Envelope> = study.clearance.envelopes.iter().filter(of_motion).collect();
        assert!(!envelopes.is_empty(), "no {}", sweep.motion);
        let lift = if sweep.motion == "motor stow" { mount } else { 0.0 };
        let (mut within, mut without) = (0, 0);
        for (first, second, away) in &sweep.probes {
            let found = is_in(&envelopes, sweep, (*first, *second), lift);
            let place = format!("{}: ({first}, {second}) is {away} mm away", sweep.motion);
            if *away < -INSIDE_MM {
                within += 1;
                assert!(found, "{place}");
            } else if *away > sweep.slack_mm {
                without += 1;
                assert!(!found, "{place}");
            }
        }
        assert!(within > 40 && without > 40, "{}: {within} in, {without} out", sweep.motion);
    }
}
