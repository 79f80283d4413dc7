//! Lofted forms: met measurements, volumes worked out by hand, and no finite number that breaks them.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use proptest::prelude::*;

use super::*;
use crate::geometry::{Body, Spot};

/// A prism: the same figures from end to end.
fn prism(station: LineStation, rounding: f64, bottom: LineBottom) -> Lines {
    let stations = [0.0, 1500.0, 3000.0].map(|x| LineStation { x, ..station }).to_vec();
    Lines { length: 3000.0, stations, rounding, bottom }
}

const SQUARE: LineStation =
    LineStation { x: 0.0, width: 800.0, width_height: 300.0, bottom_width: 800.0, gunwale: 300.0, keel: 0.0 };

fn check(lines: &Lines, section_mm2: f64) {
    let volume = Body::of(&lines.form()).unwrap().volume();
    let by_hand = section_mm2 * 3000.0;
    assert!((volume / by_hand - 1.0).abs() < 1e-9, "{} litres, by hand {}", volume / 1e6, by_hand / 1e6);
}

#[test]
fn prisms_enclose_what_they_do_by_hand() {
    // A box 800 x 300: the bottom is as wide as the hull, so there is nothing to round.
    check(&prism(SQUARE, 0.0, LineBottom::Flat), 800.0 * 300.0);
    check(&prism(SQUARE, 1.0, LineBottom::Flat), 800.0 * 300.0);
    // A trapezium 400 and 800 wide, 200 high, under 100 of upright side.
    let flared = LineStation { bottom_width: 400.0, width_height: 200.0, ..SQUARE };
    check(&prism(flared, 0.0, LineBottom::Flat), 600.0 * 200.0 + 800.0 * 100.0);
    // With the squarest chine the flare is filled: a box again.
    check(&prism(flared, 2.0, LineBottom::Flat), 800.0 * 300.0);
    // A tunnel 200 x 50 out of the box, and 300 x 50 between pontoons 250 wide.
    check(&prism(SQUARE, 0.0, LineBottom::Tunnel { width: 200.0, height: 50.0 }), 240_000.0 - 200.0 * 50.0);
    check(&prism(SQUARE, 0.0, LineBottom::Pontoons { width: 250.0, height: 50.0 }), 240_000.0 - 300.0 * 50.0);
}

#[test]
fn a_round_chine_encloses_nearly_the_quarters_of_its_ellipse() {
    // By hand: flat 400 x 200, two quarter ellipses of 200 x 200, upright 800 x 100. Six chords of 15 degrees enclose
    // sin 15 / (15 pi / 180) = 0.98862 of a quarter circle measured from its middle.
    let round = LineStation { bottom_width: 400.0, width_height: 200.0, ..SQUARE };
    let quarter = std::f64::consts::FRAC_PI_4 * 200.0 * 200.0 * 15_f64.to_radians().sin() / 15_f64.to_radians();
    check(&prism(round, 1.0, LineBottom::Flat), 400.0 * 200.0 + 2.0 * quarter + 800.0 * 100.0);
}

#[test]
fn ends_that_were_not_measured_close_as_hulls_do() {
    let station = LineStation { x: 1500.0, bottom_width: 500.0, ..SQUARE };
    let form = Lines { length: 3000.0, stations: vec![station], rounding: 1.0, bottom: LineBottom::Flat }.form();
    assert!((12..=20).contains(&form.sections.len()), "{}", form.sections.len());
    let half = |x: f64| form.gunwale(x).unwrap().0;
    assert_eq!((form.sections[0].x_mm, form.length(), half(1500.0)), (0.0, 3000.0, 400.0));
    // The shipped classes: a quarter of the beam at the stern, a bow that nearly closes, both keels high.
    assert!((0.2..0.3).contains(&(half(0.0) / 400.0)) && half(3000.0) < 20.0, "{} {}", half(0.0), half(3000.0));
    assert!(form.keel(0.0).unwrap() > 80.0 && form.keel(3000.0).unwrap() > 250.0);
    assert!(form.sections.windows(2).filter(|pair| pair[1].gunwale().0 > pair[0].gunwale().0).count() >= 6);
}

#[test]
fn without_length_or_station_there_is_no_hull() {
    assert_eq!(Lines::default().form(), Form::default());
    assert_eq!(Lines { length: 3000.0, ..Lines::default() }.form(), Form::default());
    assert_eq!(Lines { length: 0.0, ..prism(SQUARE, 0.0, LineBottom::Flat) }.form(), Form::default());
    assert_eq!(Lines { length: -1.0, ..prism(SQUARE, 0.0, LineBottom::Flat) }.at(5.0), None);
}

prop_compose! {
    /// Figures such as a person finds.
    fn station()(
        width in 200.0..1000.0_f64, flat in 0.0..1.0_f64, gunwale in 250.0..450.0_f64, height in 0.4..1.0_f64,
        keel in 0.0..80.0_f64,
    ) -> LineStation {
        LineStation { x: 0.0, width, width_height: gunwale * height, bottom_width: width * flat, gunwale, keel }
    }
}

prop_compose! {
    fn lines()(
        length in 2500.0..4500.0_f64,
        stations in prop::collection::vec((0.0..1.0_f64, station()), 1..8),
        rounding in 0.0..=2.0_f64,
        bottom in prop_oneof![
            Just(LineBottom::Flat),
            (0.0..400.0_f64, 0.0..100.0_f64).prop_map(|(width, height)| LineBottom::Tunnel { width, height }),
            (0.0..400.0_f64, 0.0..100.0_f64).prop_map(|(width, height)| LineBottom::Pontoons { width, height }),
        ],
    ) -> Lines {
        let places = stations.len() as f64;
        let stations = (0..).zip(&stations).map(|(n, (within, station))| LineStation {
            x: length * (f64::from(n) + 0.1 + 0.8 * within) / places, ..*station
        });
        Lines { length, stations: stations.collect(), rounding, bottom }
    }
}

fn any_number() -> impl Strategy<Value = f64> {
    prop_oneof![
        -100.0..5000.0_f64,
        any::<f64>().prop_filter("finite", |value| value.is_finite()),
        Just(0.0),
        Just(-0.0),
        Just(f64::MAX)
    ]
}

/// A hull known by one station scales with its length to the last digit: what closes its ends goes along.
#[test]
fn a_single_station_scales_with_the_length() {
    let station =
        LineStation { x: 250.0, width: 200.0, width_height: 100.0, bottom_width: 0.0, gunwale: 250.0, keel: 0.0 };
    let lines = |by: f64| Lines {
        length: 2500.0 * by,
        stations: vec![LineStation { x: 250.0 * by, ..station }],
        rounding: 0.0,
        bottom: LineBottom::Flat,
    };
    let volume = |by: f64| Body::of(&lines(by).form()).unwrap().volume();
    let more = 1.491_769_214_045_105_3;
    assert!((volume(more) / volume(1.0) - more).abs() < 1e-6);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn what_was_measured_is_met_exactly(lines in lines()) {
        let form = lines.form();
        for s in &lines.stations {
            let section = form.sections.iter().find(|section| section.x_mm == s.x).unwrap();
            prop_assert_eq!(section.gunwale(), (s.width / 2.0, s.gunwale));
            prop_assert_eq!(section.keel(), s.keel);
            prop_assert!(section.points_mm.contains(&(s.width / 2.0, s.width_height)));
            prop_assert!(section.points_mm.contains(&(s.bottom_width / 2.0, s.keel)));
            prop_assert!(section.points_mm.iter().all(|point| point.0 <= s.width / 2.0 + 1e-9));
            let found = lines.at(s.x).unwrap();
            prop_assert!((found.width - s.width).abs() < 1e-9 && (found.keel - s.keel).abs() < 1e-9);
        }
        prop_assert_eq!(form.length(), lines.length);
    }

    #[test]
    fn every_form_is_a_body_and_stays_within_its_stations(lines in lines()) {
        let form = lines.form();
        let body = Body::of(&form);
        prop_assert!(body.is_ok(), "{:?}", body.err());
        // No overshoot between two stations: the beam lies between theirs.
        for pair in lines.stations.windows(2) {
            let (low, high) = (pair[0].width.min(pair[1].width), pair[0].width.max(pair[1].width));
            for section in form.sections.iter().filter(|s| s.x_mm > pair[0].x && s.x_mm < pair[1].x) {
                let width = 2.0 * section.gunwale().0;
                prop_assert!(width >= low - 1e-9 && width <= high + 1e-9, "{width} outside {low} to {high}");
            }
        }
        let (mut least, mut most) = (Spot::new(f64::MAX, 0.0), Spot::new(0.0, f64::MIN));
        for section in &form.sections {
            least = Spot::new(least.x.min(section.x_mm), least.y);
            most = Spot::new(most.x.max(section.x_mm), most.y.max(section.gunwale().1));
        }
        prop_assert_eq!((least.x, most.x), (0.0, lines.length));
    }

    #[test]
    fn longer_wider_or_rounder_is_larger(lines in lines(), more in 1.02..1.5_f64) {
        let volume = |lines: &Lines| Body::of(&lines.form()).unwrap().volume();
        let stretched = |along: f64, across: f64| {
            let mut other = lines.clone();
            other.length *= along;
            for station in &mut other.stations {
                station.x *= along;
                station.width *= across;
                station.bottom_width *= across;
            }
            other
        };
        let plain = volume(&lines);
        prop_assert!((volume(&stretched(more, 1.0)) / plain - more).abs() < 1e-6);
        prop_assert!(volume(&stretched(1.0, more)) > plain);
        let round = Lines { rounding: (lines.rounding + 0.3).min(2.0), ..lines.clone() };
        prop_assert!(volume(&round) >= plain * (1.0 - 1e-12));
    }

    #[test]
    fn no_finite_number_breaks_a_form(
        length in any_number(), rounding in any_number(),
        stations in prop::collection::vec(prop::array::uniform6(any_number()), 0..6),
        (tunnel, width, height) in (0..3_u8, any_number(), any_number()),
    ) {
        let stations = stations.into_iter().map(|[x, width, width_height, bottom_width, gunwale, keel]| {
            LineStation { x, width, width_height, bottom_width, gunwale, keel }
        });
        let bottom = match tunnel {
            0 => LineBottom::Flat,
            1 => LineBottom::Tunnel { width, height },
            _ => LineBottom::Pontoons { width, height },
        };
        let lines = Lines { length, stations: stations.collect(), rounding, bottom };
        let form = lines.form();
        prop_assert!(form.sections.len() < 60);
        for section in &form.sections {
            prop_assert!(section.x_mm.is_finite());
            prop_assert!(section.points_mm.iter().all(|(y, z)| y.is_finite() && z.is_finite() && *y >= 0.0 && *z >= 0.0));
        }
        prop_assert!(form.sections.windows(2).all(|pair| pair[0].x_mm < pair[1].x_mm));
        let _ = (Body::of(&form), lines.at(length / 2.0));
    }
}
