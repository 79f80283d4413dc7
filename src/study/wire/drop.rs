//! What a wire takes of the voltage, there and back.
//!
//! `V = I R_loop`, `R_loop = 2 L r`, I the current, L the length one way, r the resistance of a metre of one
//! conductor. Valid for direct current.

use super::ampacity::permitted_a;
use super::copper::{Lay, ohm_per_m};
use super::gauge::SIZES;
use crate::units::Temperature;

/// The K of the circular-mil formula as practice has it, ohm circular mil per foot: solid copper at 29 deg C.
/// Source: a published wiring guide.
pub const USUAL_K: f64 = 10.75;

/// The resistivity that the ISO formula counts with, ohm mm2/m. It reads 5 to 22 percent under copper between 20 and
/// 75 deg C. Source: ISO 10133 annex as printed by a supplier.
pub const ISO_RESISTIVITY: f64 = 0.0164;

/// Resistance of a wire there and back, ohm.
pub fn loop_ohm(one_way_mm: f64, awg: u8, at: Temperature, lay: Lay) -> f64 {
    2.0 * one_way_mm / 1000.0 * ohm_per_m(awg, at, lay)
}

/// A voltage in percent of the nominal one.
pub fn percent(volts: f64, nominal_v: f64) -> f64 {
    100.0 * volts / nominal_v
}

/// The area a wire needs, circular mils: `CM = K I L / E`, L the feet there and back, E the volts that may be lost.
/// Source: a published wiring guide.
pub fn needed_circular_mils(k: f64, amps: f64, loop_ft: f64, volts: f64) -> f64 {
    k * amps * loop_ft / volts
}

/// Volts lost by the ISO formula: `E = 0.0164 I L / S`, L the metres there and back, S the area in mm2.
pub fn iso_drop_v(amps: f64, loop_m: f64, area_mm2: f64) -> f64 {
    ISO_RESISTIVITY * amps * loop_m / area_mm2
}

/// What a wire has to do.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Task {
    /// Greatest current, A.
    pub amps: f64,
    /// Volts that may be lost at that current; infinite when the length is not known.
    pub allowed_v: f64,
    /// Length one way, mm.
    pub one_way_mm: f64,
    /// Temperature of the copper.
    pub at: Temperature,
    /// What it must be permitted to carry: the current, and the fuse that holds it, A.
    pub carries_a: f64,
    /// What its insulation stands.
    pub insulation: Temperature,
    /// The thinnest size that comes into question.
    pub thinnest: u8,
}

/// The thinnest stranded wire that does it; `None` when no size does.
pub fn thinnest_for(task: &Task) -> Option<u8> {
    let loses = |awg| task.amps * loop_ohm(task.one_way_mm, awg, task.at, Lay::Stranded);
    let carries = |awg| permitted_a(awg, task.insulation).is_some_and(|amps| amps >= task.carries_a);
    let mut sizes = SIZES.iter().copied().filter(|awg| *awg <= task.thinnest);
    sizes.find(|awg| carries(*awg) && loses(*awg) <= task.allowed_v)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn task(amps: f64, allowed_v: f64, carries_a: f64) -> Task {
        Task {
            amps,
            allowed_v,
            one_way_mm: 2000.0,
            at: Temperature::celsius(20.0),
            carries_a,
            insulation: Temperature::celsius(105.0),
            thinnest: 16,
        }
    }

    /// Own calculation, 30 A over 2 m at 12 V: 8 AWG strands lose 0.252 V, 10 AWG 0.401 V; 14 AWG carries 35 A.
    #[test]
    fn drop_and_current_both_have_a_say() {
        assert_eq!(thinnest_for(&task(30.0, 0.36, 30.0)), Some(8));
        assert_eq!(thinnest_for(&task(30.0, 1.2, 30.0)), Some(14));
        assert_eq!(thinnest_for(&task(30.0, 1.2, 37.5)), Some(12));
        assert_eq!(thinnest_for(&task(0.1, 0.36, 0.1)), Some(16), "thinner is not run singly");
        assert_eq!(thinnest_for(&task(30.0, 0.01, 30.0)), None);
    }
}
