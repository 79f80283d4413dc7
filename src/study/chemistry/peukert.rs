//! Lead gives less when it is asked for more: Peukert's law in its hour-rate form.
//!
//! `t = H (C / (I H))^k`: `t` hours at the current `I`, `C` the label, taken over `H` hours, `k` the exponent.
//! Source: a printed analysis of the law, there as `T = C (C/R)^(k-1) / I^k`. The bare form `t = C / I^k` holds
//! for the capacity at one ampere only, which is `H = C` here: with a 20-hour label in it, 5 A out of 100 Ah
//! last 14.5 h instead of 20.
//!
//! Valid for a constant current from the rated `C / H` up, at one temperature. Below the rated current the law
//! would give more than the label; there the label is all there is (common practice, from memory).

use crate::plan::Chemistry;
use crate::units::{Charge, Current, Duration, Quantity};

/// Hours over which a label is taken where none are stated. Source: the 20-hour rate of lead batteries, from
/// memory.
pub const HOUR_RATE: Duration = Duration::hours(20.0);

/// The exponent where none is stated.
///
/// Source: flooded 1.25, the default of a battery monitor's manual; glass-mat 1.10, the middle of 1.05 to 1.15
/// (from memory); lithium iron phosphate 1, its 1.02 to 1.05 (from memory) lost in the spread of its label.
pub fn usual_exponent(chemistry: Chemistry) -> f64 {
    match chemistry {
        Chemistry::LithiumIronPhosphate => 1.0,
        Chemistry::GlassMatLead => 1.10,
        Chemistry::FloodedLead => 1.25,
    }
}

/// How long a battery full to its label gives a constant current.
pub fn lasts(label: Charge, rate: Duration, exponent: f64, current: Current) -> Duration {
    let counted = counted(label.base(), rate.base(), exponent, current.base());
    Duration::hours(label.base() / counted)
}

/// The current that counts against the label, A: `I (I H / C)^(k-1)` above the rated current, else `I`.
pub(in crate::study) fn counted(label_ah: f64, rate_hours: f64, exponent: f64, amps: f64) -> f64 {
    let over = amps * rate_hours / label_ah;
    if over > 1.0 && exponent > 1.0 { amps * over.powf(exponent - 1.0) } else { amps }
}

/// The exponent that two discharges of one battery show: `k = (ln t2 - ln t1) / (ln I1 - ln I2)`.
/// Source: a battery monitor's manual.
pub fn exponent(one: (Current, Duration), other: (Current, Duration)) -> f64 {
    let ln = |quantity: f64| quantity.ln();
    (ln(other.1.base()) - ln(one.1.base())) / (ln(one.0.base()) - ln(other.0.base()))
}
