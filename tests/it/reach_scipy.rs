//! Reach against a scan of all postures: `reach_scipy/generate.py` tries every twist, lean and direction with scipy's
//! rotations, finer and finer around the best; its output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::catalogue::new_plan;
use gunnel::geometry::Point;
use gunnel::plan::Side;
use gunnel::study::body::{Lengths, Seated};
use gunnel::study::reach::{Band, touch};
use serde::Deserialize;

/// A tenth of a millimetre; two hundredths of what is allowed of lean and twist together. The grid's own error.
const GAP_MM: f64 = 0.1;
const EFFORT: f64 = 0.02;

#[derive(Deserialize)]
struct Expected {
    stature_mm: f64,
    cases: Vec<Case>,
}

/// A point from the hip, x forward, y to port, z up, mm.
#[derive(Deserialize)]
struct Case {
    point: (f64, f64, f64),
    port: Hand,
    starboard: Hand,
}

/// How far a hand stays away with all that is allowed, and the least lean and twist as shares of what is allowed. No gap
/// where no twist faces the point; no effort where it is not touched, or only just.
#[derive(Deserialize)]
struct Hand {
    gap_mm: Option<f64>,
    effort: Option<f64>,
}

fn body(stature_mm: f64) -> Seated {
    let mut body = Seated::of(&new_plan("angler-11").unwrap());
    let lengths = Lengths::of_stature(stature_mm);
    (body.grip, body.fingertip, body.lengths) = (lengths.grip, lengths.fingertip, lengths);
    body
}

#[test]
fn no_posture_does_better() {
    let expected: Expected = serde_json::from_str(include_str!("reach_scipy/expected.json")).unwrap();
    let body = body(expected.stature_mm);
    let (mut touched, mut out, mut efforts) = (0, 0, 0);
    for case in &expected.cases {
        let (x, y, z) = case.point;
        let found = touch(&body, body.hip + Point::new(x, y, z), true);
        let hands = [&case.port, &case.starboard];
        let said = if found.hand == Side::Port { hands[0] } else { hands[1] };
        let gap = hands.iter().filter_map(|hand| hand.gap_mm).fold(f64::INFINITY, f64::min);
        if gap > GAP_MM {
            out += 1;
            assert_eq!(found.band, Band::OutOfReach, "{:?}: {found:?}", case.point);
            if let Some(gap) = said.gap_mm {
                assert!((found.beyond_mm - gap).abs() <= GAP_MM, "{:?}: {gap} and {found:?}", case.point);
            }
        } else if gap < -GAP_MM {
            touched += 1;
            assert!(found.band != Band::OutOfReach, "{:?}: {found:?}", case.point);
            let both: Option<Vec<f64>> =
                hands.iter().filter(|h| h.gap_mm.is_some_and(|gap| gap < 0.0)).map(|hand| hand.effort).collect();
            if let Some(least) = both.and_then(|both| both.into_iter().reduce(f64::min)) {
                efforts += 1;
                let effort = found.effort(&body);
                assert!(effort <= least + 1e-3, "{:?}: less than {effort} is {least}, {found:?}", case.point);
                assert!(effort >= least - EFFORT, "{:?}: {effort} is less than {least}, {found:?}", case.point);
            }
        }
    }
    assert!(touched > 15 && out > 15 && efforts > 12, "{touched} touched, {out} not, {efforts} efforts");
}
