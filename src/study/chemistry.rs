//! What a battery gives of its label: how deep it may be emptied, and what the cold takes.

pub mod peukert;
pub mod volts;

use crate::plan::Chemistry;
use crate::units::{Charge, Quantity, Temperature};

/// A table of `(x, y)`, x ascending. Of capacity: `(deg C, share of the label)`.
type Table = &'static [(f64, f64)];

/// Lead-acid, discharged over more than an hour.
///
/// Source: a battery maker's published answer page (0 to 40 deg C); the row at -18 deg C (sealed)
/// from a second maker's note.
const LEAD: Table = &[
    (-18.0, 0.45),
    (0.0, 0.84),
    (5.0, 0.88),
    (10.0, 0.90),
    (15.0, 0.94),
    (20.0, 0.99),
    (25.0, 1.00),
    (30.0, 1.03),
    (35.0, 1.04),
    (40.0, 1.05),
];

/// Lithium iron phosphate.
///
/// Source: a maker's note (70 % at -18 deg C, 100 % at 25); 0 deg C is the middle of the usual 80 to
/// 90 %, from memory.
const LITHIUM: Table = &[(-18.0, 0.70), (0.0, 0.85), (20.0, 1.00), (25.0, 1.00)];

/// The share of the label that may be used before the battery suffers or cuts out, 0 to 1.
///
/// Source: planning figures. Lead 50 % (published state-of-charge charts of two sellers); lithium iron
/// phosphate 80 to 90 %, its middle taken (from memory).
pub fn depth_of_discharge(chemistry: Chemistry) -> f64 {
    match chemistry {
        Chemistry::LithiumIronPhosphate => 0.85,
        Chemistry::GlassMatLead | Chemistry::FloodedLead => 0.50,
    }
}

/// The share of the label that is there at a temperature, straight between the rows of the maker's
/// table. Outside the table (-18 to 40 deg C for lead, to 25 for lithium) its end row holds.
pub fn capacity_share(chemistry: Chemistry, at: Temperature) -> f64 {
    let table = match chemistry {
        Chemistry::LithiumIronPhosphate => LITHIUM,
        Chemistry::GlassMatLead | Chemistry::FloodedLead => LEAD,
    };
    along(table, at.to_celsius())
}

/// What of the label may be planned with: depth of discharge times the cold's share. Warmth above the
/// label is a gift and is not planned with.
pub fn usable_share(chemistry: Chemistry, at: Temperature) -> f64 {
    depth_of_discharge(chemistry) * capacity_share(chemistry, at).min(1.0)
}

/// The label a battery needs so that `drawn` is just what may be used of it.
///
/// Formula: needed = drawn / share, share 0 to 1 from [`usable_share`]. Source: common practice.
pub fn needed_label(drawn: Charge, share: f64) -> Charge {
    Charge::from_base(drawn.base() / share)
}

/// The value at `x`, straight between rows, the end rows held outside.
fn along(table: Table, x: f64) -> f64 {
    let next = table.partition_point(|row| row.0 < x);
    match (next.checked_sub(1).and_then(|i| table.get(i)), table.get(next)) {
        (Some(&(x0, y0)), Some(&(x1, y1))) => y0 + (y1 - y0) * (x - x0) / (x1 - x0),
        (Some(&(_, end)), None) | (None, Some(&(_, end))) => end,
        (None, None) => 1.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use Chemistry::*;

    fn check(chemistry: Chemistry, celsius: f64, expected: f64) {
        let share = capacity_share(chemistry, Temperature::celsius(celsius));
        assert!((share - expected).abs() < 1e-12, "{chemistry:?} at {celsius}: {share}");
    }

    #[test]
    fn rows_are_met_exactly_and_straight_between() {
        check(GlassMatLead, 10.0, 0.90);
        check(FloodedLead, 0.0, 0.84);
        check(GlassMatLead, 2.5, 0.86);
        check(LithiumIronPhosphate, 10.0, 0.925);
    }

    #[test]
    fn outside_the_table_its_end_holds() {
        check(GlassMatLead, -40.0, 0.45);
        check(LithiumIronPhosphate, -40.0, 0.70);
        check(LithiumIronPhosphate, 45.0, 1.0);
        check(FloodedLead, 55.0, 1.05);
    }

    #[test]
    fn warmth_is_not_planned_with() {
        assert_eq!(usable_share(FloodedLead, Temperature::celsius(35.0)), 0.50);
        assert!(usable_share(FloodedLead, Temperature::celsius(15.0)) < 0.50);
    }

    #[test]
    fn colder_is_never_more() {
        for chemistry in [LithiumIronPhosphate, GlassMatLead, FloodedLead] {
            let shares: Vec<f64> =
                (-30..=50).map(|t| capacity_share(chemistry, Temperature::celsius(f64::from(t)))).collect();
            assert!(shares.windows(2).all(|pair| pair[0] <= pair[1]), "{chemistry:?}");
        }
    }
}
