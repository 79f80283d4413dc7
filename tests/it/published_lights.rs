//! Lights against published figures: Rules 21 to 23 and Annex I of the COLREG, and worked examples. The source stands
//! beside each value; "worked out" means from the formula named there with a pocket calculator.
#![allow(clippy::unwrap_used, reason = "a failed setup should fail the test")]

use gunnel::geometry::{Outline, Point, Solid, Spot, WaterPlane};
use gunnel::plan::Craft;
use gunnel::study::lights::HIDDEN_DEG;
use gunnel::study::lights::range::{intensity_cd, range_nm};
use gunnel::study::lights::rules::{NotOpen, Role, SLOW, not_open};
use gunnel::study::lights::sector::{Sector, sum};
use gunnel::study::lights::shadow::{Lamp, UPRIGHT_DEG, shadow};

fn near(found: f64, wanted: f64, within: f64) {
    assert!((found - wanted).abs() <= within, "{found} is not {wanted}");
}

#[test]
fn intensities_are_those_of_annex_one() {
    // COLREG Annex I 8, I = 3.43e6 T D^2 K^-D with T = 2e-7 and K = 0.8; printed there as 0.9, 4.3, 12, 27, 52, 94.
    for (nm, cd, printed) in [
        (1.0, 0.8575, 0.9),
        (2.0, 4.2875, 4.3),
        (3.0, 12.0586, 12.0),
        (4.0, 26.797, 27.0),
        (5.0, 52.338, 52.0),
        (6.0, 94.208, 94.0),
    ] {
        near(intensity_cd(nm), cd, if nm < 4.0 { 1.0e-3 } else { 1.0e-2 });
        near(intensity_cd(nm), printed, 0.5);
    }
}

#[test]
fn ranges_are_the_inverse() {
    // Worked out from the same formula.
    for (cd, nm) in [(0.9, 1.0220), (4.3, 2.0024), (1.0, 1.0713), (5.0, 2.1289), (10.0, 2.7951)] {
        near(range_nm(cd), nm, 1.0e-3);
    }
    assert!(range_nm(0.0) < 1.0e-6);
}

#[test]
fn ranges_asked_for_under_twelve_metres() {
    // Rule 22(c).
    let asked = [Role::Masthead, Role::PortSide, Role::StarboardSide, Role::Stern, Role::AllRound].map(Role::range_nm);
    assert_eq!(asked, [2.0, 1.0, 1.0, 2.0, 2.0]);
}

#[test]
fn who_sees_which_light() {
    // Rule 21: sides and masthead to 22.5 degrees abaft the beam, the stern light over the rest.
    let (masthead, green, red, stern) = (Role::Masthead, Role::StarboardSide, Role::PortSide, Role::Stern);
    for (bearing, wanted) in [
        (0.0, vec![masthead, green, red]),
        (45.0, vec![masthead, green]),
        (112.0, vec![masthead, green]),
        (113.0, vec![stern]),
        (180.0, vec![stern]),
        (250.0, vec![masthead, red]),
        (300.0, vec![masthead, red]),
    ] {
        let seen = [masthead, green, red, stern].into_iter().filter(|role| role.sector().contains(bearing));
        assert_eq!(seen.collect::<Vec<_>>(), wanted, "{bearing}");
    }
}

#[test]
fn arcs_add_up_to_the_horizon() {
    // Rule 21: 225 + 135, and 112.5 + 112.5 + 135.
    let arcs = |roles: &[Role]| roles.iter().map(|role| role.sector()).collect::<Vec<Sector>>();
    for roles in [vec![Role::Masthead, Role::Stern], vec![Role::PortSide, Role::StarboardSide, Role::Stern]] {
        assert_eq!(sum(&arcs(&roles)), 360.0);
        assert_eq!(sum(&Sector::WHOLE.covered_by(&arcs(&roles))), 360.0);
    }
}

/// Degrees that a body hides of a light at its own height, its middle so far ahead of the lamp or its face.
fn hidden(outline: Outline) -> f64 {
    let lamp = Lamp::new(Point::new(0.0, 0.0, 500.0), &WaterPlane::new(0.0, 0.0, 0.0));
    sum(&shadow(&lamp, &Solid { outline, low: 0.0, high: 1000.0 }))
}

/// A board across the line of sight, no thicker than a hair.
fn flat(width: f64, distance: f64) -> f64 {
    let thin = 1.0e-6;
    let middle = Spot::new(distance + thin, 0.0);
    hidden(Outline::Rect { middle, half_length: thin, half_width: width / 2.0, turn: 0.0 })
}

fn round(width: f64, distance: f64) -> f64 {
    hidden(Outline::Circle { middle: Spot::new(distance, 0.0), radius: width / 2.0 })
}

#[test]
fn what_posts_and_people_hide() {
    // 2 atan(w / 2d) and 2 asin(w / 2d), worked out; borne up to 6 degrees by COLREG Annex I 9(b)(i).
    near(flat(50.0, 500.0), 5.725, 0.002);
    near(round(50.0, 500.0), 5.732, 0.002);
    near(flat(32.0, 250.0), 7.324, 0.002);
    near(round(32.0, 250.0), 7.339, 0.002);
    assert!(round(50.0, 500.0) <= HIDDEN_DEG && flat(32.0, 250.0) > HIDDEN_DEG);
    near(flat(510.0, 1000.0), 28.61, 0.01);
    // The nearest that 6 degrees allow, per width: 1 / (2 tan 3) and 1 / (2 sin 3).
    let nearest = |hides: fn(f64, f64) -> f64| {
        let (mut low, mut high) = (1000.0, 20_000.0);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if hides(1000.0, middle) > HIDDEN_DEG { low = middle } else { high = middle }
        }
        high / 1000.0
    };
    near(nearest(flat), 9.5406, 1.0e-3);
    near(nearest(round), 9.5537, 1.0e-3);
}

#[test]
fn how_much_higher_a_lamp_stands_for_five_degrees() {
    // COLREG Annex I 10(a): 0.8 m away, 0.8 tan 5 = 0.0700 m, worked out; the board hides below and not above.
    near(0.8 * UPRIGHT_DEG.to_radians().tan(), 0.0700, 1.0e-4);
    let board = |high: f64| {
        let lamp = Lamp::new(Point::new(0.0, 0.0, 1070.0), &WaterPlane::new(0.0, 0.0, 0.0));
        let outline = Outline::Rect { middle: Spot::new(799.9, 0.0), half_length: 0.1, half_width: 1.0, turn: 0.0 };
        shadow(&lamp, &Solid { outline, low: 0.0, high }).len()
    };
    assert_eq!([board(1000.1), board(999.9)], [1, 0]);
}

#[test]
fn seven_metres_and_seven_knots() {
    // Rule 23(d)(ii): a 4 m boat at 5 and at 8 knots.
    assert_eq!(not_open(Craft::PowerSlow, 4.0, Some(5.0), SLOW), None);
    assert_eq!(not_open(Craft::PowerSlow, 4.0, Some(8.0), SLOW), Some(NotOpen::TooFast(8.0)));
    assert_eq!(not_open(Craft::PowerSlow, 4.0, Some(7.0), SLOW), None);
    assert_eq!(not_open(Craft::PowerSlow, 7.0, None, SLOW), Some(NotOpen::TooLong(7.0)));
    assert_eq!(not_open(Craft::PowerShort, 4.0, Some(8.0), SLOW), None);
}
