//! Shadows against an independent library: `lights_shapely/generate.py` cuts rays with footprints by shapely; its output
//! is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Outline, Point, Solid, Spot, WaterPlane};
use gunnel::study::lights::shadow::{Lamp, shadow};
use serde::Deserialize;

/// Posts are polygons of 4096 corners there, and the fan there finds no gap narrower than an eighth of a degree.
const WITHIN_DEG: f64 = 0.01;

#[derive(Deserialize)]
struct Expected {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    lamp: (f64, f64, f64),
    slope: (f64, f64),
    body: Body,
    /// Where each begins and how far it goes on clockwise.
    hidden: Vec<(f64, f64)>,
}

#[derive(Deserialize)]
struct Body {
    shape: String,
    x: f64,
    y: f64,
    a: f64,
    b: f64,
    turn: f64,
    low: f64,
    high: f64,
}

impl Body {
    fn solid(&self) -> Solid {
        let middle = Spot::new(self.x, self.y);
        let outline = match self.shape.as_str() {
            "post" => Outline::Circle { middle, radius: self.a / 2.0 },
            _ => Outline::Rect { middle, half_length: self.a / 2.0, half_width: self.b / 2.0, turn: self.turn },
        };
        Solid { outline, low: self.low, high: self.high }
    }
}

#[test]
fn shadows_are_what_shapely_cuts() {
    let expected: Expected = serde_json::from_str(include_str!("lights_shapely/expected.json")).unwrap();
    assert!(expected.cases.len() >= 100);
    let level = WaterPlane::new(0.0, 0.0, 0.0);
    for (index, case) in expected.cases.iter().enumerate() {
        let (x, y, z) = case.lamp;
        let slope = Spot::new(case.slope.0, case.slope.1);
        let lamp = Lamp { slope, ..Lamp::new(Point::new(x, y, z), &level) };
        let mut found = shadow(&lamp, &case.body.solid());
        found.sort_by(|a, b| a.from_deg.total_cmp(&b.from_deg));
        assert_eq!(found.len(), case.hidden.len(), "case {index}: {found:?} {:?}", case.hidden);
        for (part, (from, sweep)) in found.iter().zip(&case.hidden) {
            let off = (part.from_deg - from + 180.0).rem_euclid(360.0) - 180.0;
            let same = *sweep == 360.0 || off.abs() < WITHIN_DEG;
            assert!(
                same && (part.sweep_deg - sweep).abs() < WITHIN_DEG,
                "case {index}: {part:?} is not {from} + {sweep}"
            );
        }
    }
}
