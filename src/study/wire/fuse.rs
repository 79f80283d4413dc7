//! Fuses: which sizes there are, what a load needs, what a wire bears, how far from the battery one may sit.
//!
//! The fuse protects the wire, not the device: it must open before the wire gets hot, and hold what the load takes
//! all day.

use super::ampacity::table_a;
use crate::units::Temperature;

/// Blade fuses that are sold, A: regular to 40, the large ones to 80. Source: blade fuse tables of a supplier.
pub const SIZES_A: &[f64] = &[1.0, 2.0, 3.0, 4.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 60.0, 70.0, 80.0];

/// A fuse over the steady current by this holds it all day: it is loaded to 80 percent.
/// Source: a maker's guide, "minimum fuse 125 percent of full load".
pub const OVER_STEADY_PERCENT: f64 = 125.0;

/// The most the American rule bears below 50 V, in percent of Table 5. Source: 33 CFR 183.455(c)(1), as practice.
pub const RULE_PERCENT: f64 = 150.0;

/// How far along the wire from its source a fuse may sit, mm: 7 in. Source: 33 CFR 183.455(b), as practice.
pub const OPEN_MM: f64 = 177.8;

/// The same when the wire is wholly in a sheath or enclosure, mm: 40 in. Source: 33 CFR 183.455(b), as practice.
pub const SHEATHED_MM: f64 = 1016.0;

/// The least fuse for a steady current, A.
pub fn least_a(steady_a: f64) -> f64 {
    steady_a * OVER_STEADY_PERCENT / 100.0
}

/// The most the American rule bears on this wire, A; `None` for a gauge that Table 5 does not have.
pub fn rule_a(awg: u8, insulation: Temperature) -> Option<f64> {
    table_a(awg, insulation).map(|amps| amps * RULE_PERCENT / 100.0)
}

/// The next size that is at least this; `None` past the largest.
pub fn next_size(at_least_a: f64) -> Option<f64> {
    SIZES_A.iter().copied().find(|size| *size >= at_least_a - 1.0e-9)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_size_is_never_below() {
        for (least, size) in [(0.0, Some(1.0)), (5.0, Some(5.0)), (5.01, Some(7.5)), (80.0, Some(80.0)), (80.1, None)] {
            assert_eq!(next_size(least), size, "{least}");
        }
        assert_eq!(next_size(f64::NAN), None);
        // 125 percent of 0.8 A is an ampere, whatever binary makes of it.
        assert_eq!(next_size(least_a(0.8)), Some(1.0));
    }
}
