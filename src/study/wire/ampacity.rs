//! What a conductor may carry all day: the table of the American rules for small craft, by what its insulation
//! stands.
//!
//! Valid for air up to 30 deg C; in an engine's space, at 50 deg C, less. Source: 33 CFR 183.425 Table 5, as practice.

use super::gauge::SIZES;
use crate::units::Temperature;

/// Insulation assumed when none is stated: what boat cable is sold with. Common practice, no source.
pub const USUAL_INSULATION: Temperature = Temperature::celsius(105.0);

/// What the insulation of the columns of [`TABLE_5`] stands, deg C. The columns for 125 and 200 deg C are left out:
/// better insulation is taken for 105.
const COLUMNS_C: [f64; 5] = [60.0, 75.0, 80.0, 90.0, 105.0];

/// Amperes by gauge. Source: 33 CFR 183.425 Table 5.
const TABLE_5: &[(u8, [f64; 5])] = &[
    (18, [10.0, 10.0, 15.0, 20.0, 20.0]),
    (16, [15.0, 15.0, 20.0, 25.0, 25.0]),
    (14, [20.0, 20.0, 25.0, 30.0, 35.0]),
    (12, [25.0, 25.0, 35.0, 40.0, 45.0]),
    (10, [40.0, 40.0, 50.0, 55.0, 60.0]),
    (8, [55.0, 65.0, 70.0, 70.0, 80.0]),
    (6, [80.0, 95.0, 100.0, 100.0, 120.0]),
    (4, [105.0, 125.0, 130.0, 135.0, 160.0]),
];

/// Shares of the table in an engine's space, by column. Source: note 1 of Table 5; 0.85 for 105 deg C seen in a
/// maker's table, the others from memory.
const ENGINE_SPACE: [f64; 5] = [0.58, 0.75, 0.78, 0.82, 0.85];

/// Amperes of wire thinner than the table has. Common practice, no source: 3 A is a practical most for 20 AWG;
/// 22 AWG has five eighths of its area and is given half.
const THIN: &[(u8, f64)] = &[(22, 1.5), (20, 3.0)];

/// Amperes of Table 5; `None` for a gauge it does not have, or insulation under 60 deg C.
pub fn table_a(awg: u8, insulation: Temperature) -> Option<f64> {
    row(awg)?.get(column(insulation)?).copied()
}

/// The same in an engine's space, to a whole ampere as tables print it.
pub fn engine_space_a(awg: u8, insulation: Temperature) -> Option<f64> {
    Some((row(awg)?.get(column(insulation)?)? * ENGINE_SPACE.get(column(insulation)?)?).round())
}

/// The share of the table for conductors that lie in one bundle and all carry current. It is asked for at 50 V and
/// more, so no wire of a small boat is judged by it. Source: note 2 of Table 5, from memory.
pub fn bundle_share(conductors: usize) -> f64 {
    match conductors {
        0..=2 => 1.0,
        3 => 0.70,
        4..=6 => 0.60,
        7..=24 => 0.50,
        _ => 0.40,
    }
}

/// What a wire may carry: by Table 5, or by practice where it is thinner than the table has.
pub fn permitted_a(awg: u8, insulation: Temperature) -> Option<f64> {
    table_a(awg, insulation).or_else(|| THIN.iter().find(|(size, _)| *size == awg).map(|(_, amps)| *amps))
}

/// The thinnest size that may carry this.
pub fn thinnest_for(amps: f64, insulation: Temperature) -> Option<u8> {
    SIZES.iter().copied().find(|size| permitted_a(*size, insulation).is_some_and(|permitted| permitted >= amps))
}

fn row(awg: u8) -> Option<&'static [f64; 5]> {
    TABLE_5.iter().find(|(size, _)| *size == awg).map(|(_, amps)| amps)
}

/// The column of the best insulation that this one is at least.
fn column(insulation: Temperature) -> Option<usize> {
    COLUMNS_C.iter().rposition(|stands| insulation.to_celsius() >= *stands)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(awg: u8, celsius: f64, expected: Option<f64>) {
        assert_eq!(permitted_a(awg, Temperature::celsius(celsius)), expected, "{awg} AWG at {celsius} C");
    }

    #[test]
    fn insulation_between_two_columns_takes_the_weaker_one() {
        check(16, 59.0, None);
        check(16, 60.0, Some(15.0));
        check(16, 85.0, Some(20.0));
        check(16, 105.0, Some(25.0));
        check(16, 200.0, Some(25.0));
    }

    #[test]
    fn thin_wire_has_figures_and_odd_sizes_none() {
        check(20, 105.0, Some(3.0));
        check(22, 60.0, Some(1.5));
        check(17, 105.0, None);
    }

    #[test]
    fn more_copper_and_better_insulation_never_carry_less() {
        assert!(TABLE_5.windows(2).all(|pair| pair[0].1.iter().zip(pair[1].1).all(|(thin, thick)| *thin < thick)));
        assert!(TABLE_5.iter().all(|(_, row)| row.windows(2).all(|pair| pair[0] <= pair[1])));
    }
}
