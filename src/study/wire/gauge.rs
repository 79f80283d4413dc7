//! The American wire gauge: diameter and area by its law, and the smaller areas that vehicle cable is sold by.
//!
//! `d = 0.127 mm x 92^((36 - n) / 39)`, n the number of the gauge, n = 1 - m for m/0 (4/0 is n = -3). Valid from
//! 4/0 to 40. Source: ASTM B258: No. 36 is 0.0050 in and No. 0000 is 0.4600 in.

use std::f64::consts::FRAC_PI_4;

/// Sizes a small boat is wired with, the thinnest first.
pub const SIZES: &[u8] = &[22, 20, 18, 16, 14, 12, 10, 8, 6, 4];

/// The thinnest conductor that is run singly. Source: 33 CFR 183.425(e), as practice.
pub const THINNEST_SINGLE: u8 = 16;

/// The thinnest conductor in a sheath with others. Source: 33 CFR 183.425(d), as practice.
pub const THINNEST_SHEATHED: u8 = 18;

/// One circular mil, mm2: the area of a circle of a thousandth of an inch.
pub const CIRCULAR_MIL_MM2: f64 = FRAC_PI_4 * 0.0254 * 0.0254;

/// Least areas of vehicle cable of the same numbers, circular mils: up to a ninth less than the gauge's.
///
/// Source: SAE J378 as tabled by a supplier (18 to 10); 8 to 4 from memory of the same table.
const VEHICLE: &[(u8, f64)] = &[
    (18, 1_537.0),
    (16, 2_336.0),
    (14, 3_702.0),
    (12, 5_833.0),
    (10, 9_343.0),
    (8, 14_810.0),
    (6, 25_910.0),
    (4, 37_360.0),
];

/// Which areas stand behind the numbers of the gauge.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Areas {
    /// Those of the law.
    Law,
    /// The smaller ones of vehicle cable.
    Vehicle,
}

/// Diameter of the bare conductor as one wire, mm.
pub fn diameter_mm(awg: impl Into<i32>) -> f64 {
    0.127 * 92_f64.powf(f64::from(36 - awg.into()) / 39.0)
}

/// Area of the conductor, mm2.
pub fn area_mm2(awg: impl Into<i32>) -> f64 {
    FRAC_PI_4 * diameter_mm(awg).powi(2)
}

/// Area of the conductor, circular mils.
pub fn circular_mils(awg: impl Into<i32>) -> f64 {
    area_mm2(awg) / CIRCULAR_MIL_MM2
}

/// Least area of vehicle cable of this number, circular mils; `None` for sizes that its table does not have.
pub fn vehicle_circular_mils(awg: u8) -> Option<f64> {
    VEHICLE.iter().find(|(size, _)| *size == awg).map(|(_, area)| *area)
}

/// The thinnest of [`SIZES`] with at least this area; between two sizes the thicker one. `None` when even the
/// thickest is too thin.
pub fn thinnest_of(circular_mils: f64, areas: Areas) -> Option<u8> {
    SIZES.iter().copied().find(|size| match areas {
        Areas::Law => self::circular_mils(*size) >= circular_mils,
        Areas::Vehicle => vehicle_circular_mils(*size).is_some_and(|area| area >= circular_mils),
    })
}

/// The thinnest size that practice allows, in a sheath with others or run singly.
pub fn thinnest_allowed(sheathed: bool) -> u8 {
    if sheathed { THINNEST_SHEATHED } else { THINNEST_SINGLE }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_higher_number_is_a_thinner_wire() {
        assert!(SIZES.windows(2).all(|pair| pair[0] > pair[1] && area_mm2(pair[0]) < area_mm2(pair[1])));
    }

    #[test]
    fn vehicle_cable_is_never_thicker_than_its_number_says() {
        for (size, area) in VEHICLE {
            assert!(*area < circular_mils(*size) && *area > 0.88 * circular_mils(*size), "{size}");
        }
    }

    #[test]
    fn an_area_past_the_thickest_size_has_no_wire() {
        assert_eq!(thinnest_of(circular_mils(4_u8), Areas::Law), Some(4));
        assert_eq!(thinnest_of(circular_mils(4_u8) + 1.0, Areas::Law), None);
        assert_eq!(thinnest_of(f64::NAN, Areas::Law), None);
    }
}
