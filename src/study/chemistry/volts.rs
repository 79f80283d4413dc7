//! The voltage of a battery: at rest by its state of charge, under load by what is lost inside.
//!
//! `V = V_rest(s) - I R(T)`, `s` the state of charge, `R` the resistance inside. Valid for planning: rest tables
//! are of rested batteries, `R` is taken as the same from full to empty, and lead near empty sags more than
//! this. Between 30 and 90 % the curve of lithium is so flat that no meter tells its charge.

use crate::plan::Chemistry;
use crate::study::chemistry::{Table, along};
use crate::units::{Charge, Quantity, Resistance, Temperature, Voltage};

/// Rest voltage by state of charge, percent, of a "12 V" battery.
///
/// Source: a battery-tool seller's state-of-charge chart.
const FLOODED_REST: Table = &[
    (0.0, 11.7),
    (10.0, 11.8),
    (20.0, 11.9),
    (30.0, 12.0),
    (40.0, 12.1),
    (50.0, 12.2),
    (60.0, 12.3),
    (70.0, 12.4),
    (80.0, 12.5),
    (90.0, 12.6),
    (100.0, 12.7),
];

/// Source: a travel page on 12 V batteries; its "under 11.6 V" at empty is 11.5 here.
const GLASS_MAT_REST: Table = &[
    (0.0, 11.5),
    (10.0, 11.6),
    (20.0, 11.7),
    (30.0, 11.8),
    (40.0, 12.0),
    (50.0, 12.1),
    (60.0, 12.2),
    (70.0, 12.3),
    (80.0, 12.5),
    (90.0, 12.6),
    (100.0, 12.7),
];

/// Source: a seller's lithium iron phosphate chart; its 99 % stands for full.
const LITHIUM_REST: Table =
    &[(0.0, 10.0), (10.0, 12.0), (20.0, 12.8), (30.0, 13.0), (40.0, 13.2), (70.0, 13.3), (90.0, 13.4), (100.0, 13.6)];

/// Resistance inside by temperature, as a multiple of that at 25 C. From memory, no published table: lithium
/// iron phosphate doubles at freezing, lead gains about two fifths.
const LITHIUM_COLD: Table = &[(-18.0, 3.5), (0.0, 2.0), (10.0, 1.4), (25.0, 1.0)];
const LEAD_COLD: Table = &[(-18.0, 1.8), (0.0, 1.4), (25.0, 1.0)];

/// The rest table and the nominal voltage it stands for.
fn rest(chemistry: Chemistry) -> (Table, f64) {
    match chemistry {
        Chemistry::LithiumIronPhosphate => (LITHIUM_REST, 12.8),
        Chemistry::GlassMatLead => (GLASS_MAT_REST, 12.0),
        Chemistry::FloodedLead => (FLOODED_REST, 12.0),
    }
}

/// Rest voltage at a state of charge, 0 to 1, of a battery of this nominal voltage.
pub fn rest_volts(chemistry: Chemistry, nominal: Voltage, charge: f64) -> Voltage {
    let (table, of) = rest(chemistry);
    Voltage::volts(along(table, 100.0 * charge) * nominal.to_volts() / of)
}

/// The state of charge, 0 to 1, at which a battery rests at this voltage; above its table 1, below it 0.
pub fn charge_at(chemistry: Chemistry, nominal: Voltage, volts: Voltage) -> f64 {
    let (table, of) = rest(chemistry);
    let wanted = volts.to_volts() * of / nominal.to_volts();
    let next = table.partition_point(|row| row.1 < wanted);
    match (next.checked_sub(1).and_then(|i| table.get(i)), table.get(next)) {
        (Some(&(s0, v0)), Some(&(s1, v1))) => (s0 + (s1 - s0) * (wanted - v0) / (v1 - v0)) / 100.0,
        (None, _) => 0.0,
        (Some(_), None) => 1.0,
    }
}

/// Resistance inside where none is stated, at 25 C: a figure of the sort over the label.
///
/// Source: common practice, from memory: about 20 milliohms for 30 Ah of lithium iron phosphate with its
/// protection, 15 of glass-mat, 23 of flooded lead; twice the label halves it.
pub fn usual_resistance(chemistry: Chemistry, label: Charge) -> Resistance {
    let milliohm_amp_hours = match chemistry {
        Chemistry::LithiumIronPhosphate => 600.0,
        Chemistry::GlassMatLead => 450.0,
        Chemistry::FloodedLead => 700.0,
    };
    Resistance::milliohms(milliohm_amp_hours / label.base())
}

/// Resistance inside at a temperature, as a multiple of that at 25 C. Outside -18 to 25 C the end row holds.
pub fn resistance_share(chemistry: Chemistry, at: Temperature) -> f64 {
    let table = match chemistry {
        Chemistry::LithiumIronPhosphate => LITHIUM_COLD,
        Chemistry::GlassMatLead | Chemistry::FloodedLead => LEAD_COLD,
    };
    along(table, at.to_celsius())
}

/// Voltage at which the battery's own protection opens where none is stated; lead has none.
///
/// Source: 2.5 V a cell, makers' protection of lithium iron phosphate, from memory.
pub fn usual_cut_out(chemistry: Chemistry, nominal: Voltage) -> Option<Voltage> {
    let lithium = chemistry == Chemistry::LithiumIronPhosphate;
    lithium.then(|| Voltage::volts(10.0 * nominal.to_volts() / 12.8))
}

/// Coldest that lithium iron phosphate may be charged at where nothing is stated, C. Lead may be charged in any
/// cold. Source: a battery maker's note; some makers say 5 C.
pub const CHARGE_ABOVE_C: f64 = 0.0;

#[cfg(test)]
mod tests {
    use super::*;
    use Chemistry::*;

    const SORTS: [(Chemistry, f64); 3] = [(LithiumIronPhosphate, 12.8), (GlassMatLead, 12.0), (FloodedLead, 12.0)];

    fn check(chemistry: Chemistry, nominal: f64, percent: f64, expected: f64) {
        let nominal = Voltage::volts(nominal);
        let volts = rest_volts(chemistry, nominal, percent / 100.0);
        assert!((volts.to_volts() - expected).abs() < 1e-9, "{chemistry:?} at {percent} %: {volts:?}");
        let back = charge_at(chemistry, nominal, volts);
        assert!((back - percent / 100.0).abs() < 1e-9, "{chemistry:?} at {percent} %: back {back}");
    }

    #[test]
    fn rest_voltages_are_the_charts_and_lead_back() {
        check(LithiumIronPhosphate, 12.8, 20.0, 12.8);
        check(LithiumIronPhosphate, 12.8, 15.0, 12.4);
        check(LithiumIronPhosphate, 25.6, 40.0, 26.4);
        check(GlassMatLead, 12.0, 50.0, 12.1);
        check(FloodedLead, 12.0, 45.0, 12.15);
        check(FloodedLead, 24.0, 0.0, 23.4);
    }

    #[test]
    fn outside_the_chart_its_ends_hold() {
        for (chemistry, nominal) in SORTS {
            let nominal = Voltage::volts(nominal);
            assert_eq!(charge_at(chemistry, nominal, Voltage::volts(3.0)), 0.0);
            assert_eq!(charge_at(chemistry, nominal, Voltage::volts(30.0)), 1.0);
            assert_eq!(rest_volts(chemistry, nominal, 1.4), rest_volts(chemistry, nominal, 1.0));
            assert_eq!(rest_volts(chemistry, nominal, -0.4), rest_volts(chemistry, nominal, 0.0));
        }
    }

    #[test]
    fn more_charge_is_more_voltage_and_colder_more_resistance() {
        for (chemistry, nominal) in SORTS {
            let nominal = Voltage::volts(nominal);
            let volts: Vec<f64> =
                (0..=100).map(|s| rest_volts(chemistry, nominal, f64::from(s) / 100.0).to_volts()).collect();
            assert!(volts.windows(2).all(|pair| pair[0] < pair[1]), "{chemistry:?}");
            let shares: Vec<f64> =
                (-30..=40).map(|t| resistance_share(chemistry, Temperature::celsius(f64::from(t)))).collect();
            assert!(shares.windows(2).all(|pair| pair[0] >= pair[1]), "{chemistry:?}");
        }
    }
}
