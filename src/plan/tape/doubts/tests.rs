//! Each sort of slip is noticed at its place, and a sound tape raises no doubt.

use super::*;
use crate::plan::tape::{FeaturePlace, Gauge, WellDepth};
use crate::plan::{FeatureId, ZoneId};
use crate::units::Length;

fn taken(mm: f64) -> Gauge {
    Gauge::measured(Length::mm(mm))
}

/// Five stations of an invented boat, 3.4 m by 850 mm.
fn sound() -> Tape {
    let station = |(x, width, flat, gunwale, keel): (f64, f64, f64, f64, f64)| Station {
        x: Length::mm(x),
        width: taken(width),
        width_height: taken(gunwale - 10.0),
        bottom_width: taken(flat),
        gunwale: taken(gunwale),
        keel: taken(keel),
    };
    let stations = [
        (300.0, 560.0, 240.0, 375.0, 25.0),
        (1000.0, 800.0, 500.0, 355.0, 3.0),
        (1700.0, 850.0, 560.0, 350.0, 0.0),
        (2400.0, 730.0, 380.0, 368.0, 6.0),
        (3100.0, 300.0, 80.0, 405.0, 60.0),
    ];
    Tape { length: taken(3400.0), stations: stations.map(station).to_vec(), ..Tape::default() }
}

/// What a change to the sound tape raises: about what, whether a contradiction, and a part of what is said.
fn check(change: impl Fn(&mut Tape), expected: &[(Measurement, bool, &str)]) {
    let mut tape = sound();
    change(&mut tape);
    let doubts = tape.doubts();
    let found: Vec<_> = doubts.iter().map(|doubt| (doubt.about, doubt.contradiction)).collect();
    let wanted: Vec<_> = expected.iter().map(|(about, contradiction, _)| (*about, *contradiction)).collect();
    assert_eq!(found, wanted, "{doubts:#?}");
    for (doubt, (.., says)) in doubts.iter().zip(expected) {
        assert!(doubt.says.contains(says), "{}", doubt.says);
        assert!(doubt.says.ends_with('.') && doubt.remedy.ends_with('.') && doubt.value_mm.is_finite());
    }
}

#[test]
fn a_sound_tape_raises_no_doubt() {
    check(|_| (), &[]);
    check(|tape| tape.stations[2].width = Gauge { taken: [843.0, 858.0].map(Length::mm).to_vec(), guess: None }, &[]);
    check(|tape| tape.stations[1].gunwale = Gauge::default(), &[]);
    assert_eq!(Tape::default().doubts(), []);
}

#[test]
fn heights_that_contradict_each_other() {
    use Measurement::*;
    let place = "station 3, 1700 mm from the stern: the height of the greatest width is 340 mm, more than";
    check(|tape| tape.stations[2].gunwale = taken(330.0), &[(WidthHeight(2), true, place)]);
    check(|tape| tape.stations[2].gunwale = taken(340.0), &[]);
    check(
        |tape| tape.stations[4].keel = taken(396.0),
        &[(Keel(4), true, "the rise of the keel is 396 mm, more than the height of the greatest width, 395 mm")],
    );
    check(
        |tape| tape.stations[4].keel = taken(420.0),
        &[(Keel(4), true, "more than the height of the gunwale, 405 mm")],
    );
    check(|tape| tape.stations[1].keel = taken(-5.0), &[(Keel(1), true, "the rise of the keel is minus 5 mm")]);
}

#[test]
fn widths_that_cannot_be() {
    use Measurement::*;
    check(
        |tape| tape.stations[2].bottom_width = taken(851.0),
        &[(BottomWidth(2), true, "the width of the flat bottom is 851 mm, more than the greatest width, 850 mm")],
    );
    // By hand: 800 aft, 850 amidships, so 730 may rise to 740 at the next station and not beyond.
    check(|tape| tape.stations[4].width = taken(740.0), &[]);
    check(
        |tape| tape.stations[4].width = taken(741.0),
        &[(Width(3), false, "730 mm wide here and wider both aft, 850 mm, and forward, 741 mm: it narrows twice")],
    );
}

#[test]
fn stations_out_of_order_or_off_the_hull() {
    use Measurement::Width;
    check(
        |tape| tape.stations[3].x = Length::mm(1650.0),
        &[(Width(3), true, "it is not forward of station 3, which is at 1700 mm")],
    );
    check(|tape| tape.stations[4].x = Length::mm(3450.0), &[(Width(4), true, "there is no hull: it is 3400 mm long")]);
}

#[test]
fn readings_that_do_not_agree_and_a_keel_off_the_ground() {
    use Measurement::{Keel, Width};
    let apart = |tape: &mut Tape| tape.stations[2].width.taken.push(Length::mm(866.0));
    check(apart, &[(Width(2), false, "the readings of the greatest width lie 16 mm apart")]);
    let mut tape = sound();
    apart(&mut tape);
    assert_eq!(tape.doubts_beyond(&DoubtLimits { repeat_mm: 16.0, ..DOUBT_LIMITS }), []);
    let lifted = |by: f64| {
        move |tape: &mut Tape| {
            for station in &mut tape.stations {
                station.keel = taken(station.keel.mm().unwrap_or_default() + by);
            }
        }
    };
    check(lifted(10.0), &[]);
    check(lifted(11.0), &[(Keel(2), false, "the keel is lowest here and still 11 mm over the baseline")]);
}

#[test]
fn a_number_in_the_wrong_unit() {
    use Measurement::*;
    let inches = "no such boat has 33.5 mm for the greatest width; 33.5 in would be 851 mm";
    let narrow = |tape: &mut Tape| {
        tape.stations[2].width = taken(33.5);
        tape.stations[2].bottom_width = taken(22.0);
    };
    check(narrow, &[(Width(2), true, inches)]);
    let short = "no such boat has 134 mm for the overall length; 134 in would be 3404 mm";
    check(|tape| tape.length = taken(134.0), &[(Length, true, short)]);
    check(|tape| tape.length = taken(9000.0), &[(Length, false, "is more than such boats have, 6500 mm")]);
    let feet = |tape: &mut Tape| tape.stations[1].gunwale = Gauge::measured(crate::units::Length::feet(35.5));
    check(
        feet,
        &[(Gunwale(1), true, "no such boat has 35.5 ft for the height of the gunwale; 35.5 cm would be 355 mm")],
    );
}

#[test]
fn wells_features_and_bottoms_that_are_not_in_the_hull() {
    use Measurement::*;
    let well = |mm: f64| move |tape: &mut Tape| tape.wells = vec![WellDepth { zone: ZoneId(13), depth: taken(mm) }];
    check(well(170.0), &[]);
    let deep = "the well of zone 13: the depth of the well is 360 mm, more than the height of the gunwale, 350 mm";
    check(well(360.0), &[(Well(0), true, deep)]);
    check(well(-60.0), &[(Well(0), true, "the gunwale is 60 mm under the floor")]);
    let feature = |x: f64, y: f64| {
        move |tape: &mut Tape| tape.features = vec![FeaturePlace { feature: FeatureId(4), x: taken(x), y: taken(y) }]
    };
    check(feature(1700.0, -425.0), &[]);
    check(feature(1700.0, -426.0), &[(FeatureY(0), true, "feature 4: the place across the boat is 426 mm")]);
    check(feature(3401.0, 0.0), &[(FeatureX(0), true, "more than the length of the hull, 3400 mm")]);
    check(feature(-1.0, 0.0), &[(FeatureX(0), true, "it lies 1 mm aft of the hull")]);
    let pontoons =
        |mm: f64| move |tape: &mut Tape| tape.bottom = Bottom::Pontoons { width: taken(mm), height: taken(60.0) };
    check(pontoons(280.0), &[]);
    check(pontoons(281.0), &[(BottomPart, true, "more than the half of the greatest width of the bottom, 280 mm")]);
}
