//! Sight and sonar against published figures. Each test names its source.

use gunnel::study::sight::arc_minutes;
use gunnel::study::transducer::footprint;

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not within {tolerance} of {expected}");
}

/// Heights of characters: 20 minutes of arc at 600 mm are 3.4906 mm, 16 and 22 are 2.7924 and 3.8396, 20 at 750 mm
/// 4.3632, 15 at 900 mm 3.9269. Source: NUREG-0700, `h = 6.283 D MA / 21600`.
#[test]
fn characters_in_minutes_of_arc() {
    for (height, distance, minutes) in [
        (3.4906, 600.0, 20.0),
        (2.7924, 600.0, 16.0),
        (3.8396, 600.0, 22.0),
        (4.3632, 750.0, 20.0),
        (3.9269, 900.0, 15.0),
    ] {
        near(arc_minutes(height, distance), minutes, 0.006);
        // The other way round, to the figure's own thousandth of a millimetre.
        near(height * minutes / arc_minutes(height, distance), height, 0.001);
    }
}

/// Circles that a cone covers: 25 degrees at 100 and 30 deep are 44.34 and 13.30 across (a sonar maker's table); 12
/// degrees at 10 are 2.1021, 11 at 20 are 3.8516, 60 at 6 are 6.9282 (worked by hand). The printed table of 45 and 11
/// degrees says, rounded to tens, 80 and 20 at 100, 170 and 40 at 200.
#[test]
fn footprints() {
    near(footprint(100.0, 25.0), 44.339, 0.001);
    near(footprint(30.0, 25.0), 13.302, 0.001);
    for (depth, beam, wide) in [(10.0, 12.0, 2.1021), (20.0, 11.0, 3.8516), (6.0, 60.0, 6.9282)] {
        near(footprint(depth, beam), wide, 1e-4);
    }
    for (depth, beam, printed) in [(100.0, 45.0, 80.0), (100.0, 11.0, 20.0), (200.0, 45.0, 170.0), (200.0, 11.0, 40.0)]
    {
        near(footprint(depth, beam), printed, 5.0);
    }
}
