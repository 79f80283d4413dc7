//! What copper resists.
//!
//! `R(T) = rho20 L / A x (1 + a20 (T - 20))`, L length, A area, T in deg C. Valid for annealed copper of 100 percent
//! conductivity between about -100 and 200 deg C. Source: NBS Handbook 100.

use super::gauge::{CIRCULAR_MIL_MM2, area_mm2};
use crate::units::Temperature;

/// Resistivity by mass at 20 deg C, ohm g/m2. Source: NBS Handbook 100, 100 percent IACS.
pub const MASS_RESISTIVITY: f64 = 0.15328;

/// Density at 20 deg C, g/cm3. Source: NBS Handbook 100.
pub const DENSITY: f64 = 8.89;

/// Resistivity at 20 deg C, ohm mm2/m. Source: NBS Handbook 100; the two above give it.
pub const RESISTIVITY_20: f64 = 0.017_241;

/// Change of resistance for one degree from 20 deg C, at constant mass. Source: NBS Handbook 100, from memory.
pub const PER_DEGREE: f64 = 0.00393;

/// What the lay of the strands adds: they run longer than the wire.
/// Source: NEC chapter 9 table 8, solid 3.07 and stranded 3.14 ohm/kft at 14 AWG.
pub const STRANDED: f64 = 1.02;

/// One wire, or strands. Boats are wired with strands (33 CFR 183.425(a)).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lay {
    /// One wire, as in tables of the law.
    Solid,
    /// Strands.
    Stranded,
}

/// Resistivity at a temperature, ohm mm2/m.
pub fn resistivity(at: Temperature) -> f64 {
    RESISTIVITY_20 * (1.0 + PER_DEGREE * (at.to_celsius() - 20.0))
}

/// Resistance of a metre of one conductor, ohm.
pub fn ohm_per_m(awg: impl Into<i32>, at: Temperature, lay: Lay) -> f64 {
    let lay = match lay {
        Lay::Solid => 1.0,
        Lay::Stranded => STRANDED,
    };
    lay * resistivity(at) / area_mm2(awg)
}

/// Resistance of a foot of one circular mil at a temperature, ohm: the K of the circular-mil formula.
pub fn mil_foot(at: Temperature) -> f64 {
    resistivity(at) * 0.3048 / CIRCULAR_MIL_MM2
}
