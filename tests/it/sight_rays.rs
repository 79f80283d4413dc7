//! Lines of sight against a general ray caster: `sight_rays/generate.py` casts them at meshes with trimesh; its output
//! is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Outline, Point, Solid, Spot};
use serde::Deserialize;

#[derive(Deserialize)]
struct Expected {
    hits: usize,
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    middle: [f64; 3],
    #[serde(default)]
    size: [f64; 3],
    #[serde(default)]
    turn: f64,
    radius: Option<f64>,
    height: Option<f64>,
    lines: Vec<Line>,
}

#[derive(Deserialize)]
struct Line {
    from: [f64; 3],
    to: [f64; 3],
    pierced: Option<[f64; 2]>,
}

impl Case {
    fn solid(&self) -> Solid {
        let [x, y, z] = self.middle;
        let middle = Spot::new(x, y);
        let (outline, high) = match (self.radius, self.height) {
            (Some(radius), Some(height)) => (Outline::Circle { middle, radius }, height),
            _ => {
                let [length, width, height] = self.size;
                (Outline::Rect { middle, half_length: length / 2.0, half_width: width / 2.0, turn: self.turn }, height)
            }
        };
        Solid { outline, low: z - high / 2.0, high: z + high / 2.0 }
    }
}

/// Boxes to a millionth of the way; cylinders to a thousandth, as their meshes have 4096 flat sides.
#[test]
fn lines_meet_bodies_where_a_ray_caster_says() {
    let expected: Expected = serde_json::from_str(include_str!("sight_rays/expected.json")).unwrap();
    let mut hits = 0;
    for case in &expected.cases {
        let (solid, near) = (case.solid(), if case.radius.is_some() { 1e-3 } else { 1e-6 });
        for line in &case.lines {
            let [from, to] = [line.from, line.to].map(|[x, y, z]| Point::new(x, y, z));
            let found = solid.pierced(from, to);
            match (found, line.pierced) {
                (Some(a), Some(b)) => {
                    hits += 1;
                    assert!((a.0 - b[0]).abs() < near && (a.1 - b[1]).abs() < near, "{solid:?}: {a:?} is not {b:?}");
                }
                (None, None) => {}
                _ => panic!("{solid:?} from {from:?} to {to:?}: {found:?} is not {:?}", line.pierced),
            }
        }
    }
    assert!(hits == expected.hits && hits > 150, "{hits}");
}
