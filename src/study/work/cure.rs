//! How long what was bedded, welded or plugged has to be left alone before it is tried with water.

use crate::plan::{Plug, Seal};
use crate::units::Temperature;

/// Hours of cure at [`AT_C`] until a seal may be leak-tested.
///
/// Gaskets and butyl tape seal at once. Flexible adhesive 24 to 72 h, hybrid 24 to 48 h, synthetic rubber one to two
/// weeks for all of it: common practice, no source; the longer is taken, for synthetic rubber the week after which it
/// bears a test. Polyurethane 5 to 7 days, silicone and epoxy a day: from memory. Polysulfide 14 to 21 days: a
/// published guide to sealants. The sheet of the product goes before all of them.
pub fn hours(seal: Seal) -> f64 {
    match seal {
        Seal::Gasket | Seal::ButylTape | Seal::None => 0.0,
        Seal::FlexibleAdhesive => 72.0,
        Seal::SyntheticRubber => 168.0,
        Seal::Hybrid => 48.0,
        Seal::Polyurethane => 168.0,
        Seal::Silicone | Seal::Epoxy => 24.0,
        Seal::Polysulfide => 504.0,
    }
}

/// Where a figure of [`hours`] comes from, in words for the sheet.
pub fn source(seal: Seal) -> &'static str {
    match seal {
        Seal::Polyurethane | Seal::Silicone | Seal::Epoxy => "from memory",
        Seal::Polysulfide => "a published guide",
        _ => "common practice, no source",
    }
}

/// Hours until a closed hole may be leak-tested: a weld has to be cold. Common practice, no source.
pub fn plug_hours(plug: Plug) -> f64 {
    match plug {
        Plug::PlasticWeld => 1.0,
        Plug::BoltAndGasket | Plug::RubberPlug | Plug::BlankingPlate => 0.0,
    }
}

/// Temperature that the hours are for, C.
pub const AT_C: f64 = 20.0;

/// Colder than this nothing is reckoned to cure any slower, C: nobody beds in frost.
const LEAST_C: f64 = 0.0;

/// How many times longer a cure takes at a temperature: twice as long for each 10 K below 20 C, and no shorter above.
///
/// Source: rule of thumb for the speed of reactions, from memory. Validity: 0 to 20 C.
pub fn slower(air: Temperature) -> f64 {
    let air = air.to_celsius();
    if air.is_finite() { 2.0_f64.powf((AT_C - air.clamp(LEAST_C, AT_C)) / 10.0) } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: 2^0, 2^1, 2^2; half of ten kelvin is the square root of two.
    #[test]
    fn cold_doubles_a_cure_every_ten_kelvin() {
        for (air, times) in [(30.0, 1.0), (20.0, 1.0), (15.0, 2.0_f64.sqrt()), (10.0, 2.0), (0.0, 4.0), (-20.0, 4.0)] {
            assert!((slower(Temperature::celsius(air)) - times).abs() < 1e-12, "{air} C");
        }
    }

    #[test]
    fn only_what_cures_is_waited_for() {
        let at_once: Vec<Seal> = Seal::ALL.into_iter().filter(|seal| hours(*seal) == 0.0).collect();
        assert_eq!(at_once, [Seal::Gasket, Seal::ButylTape, Seal::None]);
    }
}
