//! How far a light of some intensity is seen, and how far it must be.
//!
//! `I = 3.43e6 T D^2 K^-D`: `I` intensity in candela, `T` threshold of the eye 2e-7 lux, `D` range in nautical
//! miles, `K` transmissivity of the air 0.8 a mile (visibility of about 13 miles). Source: COLREG Annex I 8.

/// Threshold of the eye, lux.
const THRESHOLD_LUX: f64 = 2.0e-7;

/// What is left of the light after one nautical mile of air.
const CLEAR: f64 = 0.8;

/// The furthest range looked for, nautical miles: more than any light of a small boat.
const FURTHEST_NM: f64 = 40.0;

/// Intensity that a range asks for, cd.
pub fn intensity_cd(range_nm: f64) -> f64 {
    3.43e6 * THRESHOLD_LUX * range_nm * range_nm * CLEAR.powf(-range_nm)
}

/// Range of an intensity, nautical miles: the formula solved by halving, to a millionth.
pub fn range_nm(intensity_cd: f64) -> f64 {
    let (mut low, mut high) = (0.0, FURTHEST_NM);
    for _ in 0..48 {
        let middle = f64::midpoint(low, high);
        if self::intensity_cd(middle) <= intensity_cd { low = middle } else { high = middle }
    }
    low
}
