//! Orders and longest ways against an independent graph library: `work_networkx/generate.py` invents networks and
//! solves them with networkx; its output is kept beside it.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::study::work::network::Network;
use serde::Deserialize;

#[derive(Deserialize)]
struct Expected {
    cases: Vec<Case>,
}

#[derive(Deserialize)]
struct Case {
    spans: Vec<f64>,
    before: Vec<Vec<usize>>,
    /// The longest way; none where tasks wait for each other.
    hours: Option<f64>,
    critical: Vec<usize>,
    circles: Vec<Vec<usize>>,
}

fn cases() -> Vec<Case> {
    let expected: Expected = serde_json::from_str(include_str!("work_networkx/expected.json")).unwrap();
    assert_eq!(expected.cases.len(), 10);
    expected.cases
}

#[test]
fn the_longest_way_is_the_librarys() {
    for case in cases() {
        let Some(hours) = case.hours else { continue };
        let paths = Network { spans: case.spans.clone(), before: case.before }.paths();
        assert_eq!(paths.critical, case.critical);
        for longest in [&paths.finish, &paths.tail] {
            let longest = longest.iter().copied().fold(0.0, f64::max);
            assert!((longest - hours).abs() < 1e-6, "{longest} h, not {hours} h");
        }
        let sum: f64 = paths.critical.iter().map(|task| case.spans[*task]).sum();
        assert!((sum - hours).abs() < 1e-6);
    }
}

#[test]
fn the_order_undoes_nothing_and_the_circles_are_the_librarys() {
    let mut rings = 0;
    for case in cases() {
        let before = case.before.clone();
        let paths = Network { spans: case.spans, before: case.before }.paths();
        for (place, task) in paths.order.iter().enumerate() {
            assert!(before[*task].iter().all(|other| paths.order[..place].contains(other)), "{task} too early");
        }
        let mut circles = paths.circles;
        circles.sort();
        assert_eq!(circles, case.circles);
        assert!(paths.order.len() == before.len() || !circles.is_empty());
        assert!(circles.iter().flatten().all(|task| !paths.order.contains(task)));
        rings += circles.len();
    }
    assert!(rings > 3, "{rings} circles");
}
