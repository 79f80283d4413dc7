//! Rules of thumb for holes and fasteners in polyethylene, each as one small formula.
//!
//! Nothing here knows the plan's places: lengths in, lengths out, so that every formula can be held
//! against its published value. Sizes of drills, threads and glands are in [`drills`].

pub mod drills;

use crate::plan::{Plug, Seal};

/// Linear expansion of linear low-density polyethylene, the usual hull plastic, per kelvin.
///
/// Validity: 0 to 50 degrees Celsius; published values for polyethylenes run from 150e-6 to 200e-6.
/// Source: planning value, from memory; high-density sheet is published as 0.00011 per degree
/// Fahrenheit, which is 198e-6 per kelvin.
pub const LLDPE_PER_KELVIN: f64 = 180e-6;

/// Linear expansion of aluminium, per kelvin. Source: handbook value, from memory.
pub const ALUMINIUM_PER_KELVIN: f64 = 23.6e-6;

/// How much a part grows: `dL = alpha L dT`, in the unit of `length`.
///
/// `alpha` is per degree of the same scale as `degrees` (kelvin or degree Fahrenheit).
/// Source: definition of the coefficient of linear expansion.
pub fn thermal_movement(length: f64, degrees: f64, alpha: f64) -> f64 {
    length * degrees * alpha
}

/// How far the skin moves against an aluminium part fixed to it at both ends, mm over all; half of
/// it at each end.
///
/// `span_mm` is the length between the outermost holes, `kelvin` the change of temperature.
/// Validity: the part is much stiffer than the skin. Source: difference of two [`thermal_movement`]s.
pub fn movement_against_aluminium(span_mm: f64, kelvin: f64) -> f64 {
    thermal_movement(span_mm, kelvin, LLDPE_PER_KELVIN - ALUMINIUM_PER_KELVIN)
}

/// The gap under a flat base of this width on a crowned surface, mm: `w^2 / (8 R)`.
///
/// `width_mm` is the base across the crown, `radius_mm` the crown's radius.
/// Validity: width well under the radius (2 % off at half the radius). Source: sagitta of a chord.
pub fn sagitta_gap(width_mm: f64, radius_mm: f64) -> f64 {
    width_mm * width_mm / (8.0 * radius_mm)
}

/// The three figures of an edge or spacing rule.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Apart {
    /// So many diameters from the middle.
    pub diameters: f64,
    /// Never less than this from the middle, mm.
    pub least_mm: f64,
    /// Never more plastic asked for than this from the rim, mm: a wide opening carries no bolt.
    pub cutout_mm: f64,
}

/// Least distance from a hole's middle to an edge, mm: so many diameters, with a floor for plastic
/// and a ceiling for cut-outs, which need sound plastic around them rather than bearing length.
///
/// Source: AC 43.13-1B, rivet edge distance 2 D (sheet metal); floor and ceiling common practice,
/// no source.
pub fn minimum_edge(bore_mm: f64, rule: Apart) -> f64 {
    (rule.diameters * bore_mm).max(rule.least_mm).min(bore_mm / 2.0 + rule.cutout_mm)
}

/// The distance below which an edge is not just near but gone: less than half of the plastic that
/// should stand between rim and edge is left. From the hole's middle, mm.
///
/// Source: common practice, no source.
pub fn lost_edge(bore_mm: f64, rule: Apart) -> f64 {
    f64::midpoint(minimum_edge(bore_mm, rule), bore_mm / 2.0)
}

/// Least distance between the middles of two holes, mm: so many of the larger diameter, with a
/// floor for plastic; between wide openings a strip of `cutout_mm` or half the larger is enough.
///
/// Source: AC 43.13-1B, rivet pitch 3 D (sheet metal); floor and ceiling common practice, no source.
pub fn minimum_spacing(bore_mm: f64, other_mm: f64, rule: Apart) -> f64 {
    let larger = bore_mm.max(other_mm);
    let strip = rule.cutout_mm.max(larger / 2.0);
    (rule.diameters * larger).max(rule.least_mm).min(f64::midpoint(bore_mm, other_mm) + strip)
}

/// Why a seal does not hold on polyethylene; `None` for those that do.
///
/// Polyethylene's surface energy is about 31 mN/m and good wetting wants it above the liquid's, so
/// nothing bonds to it for long: the clamped gasket seals, the rest is back-up.
/// Source: common practice, no source.
pub fn seal_fault(seal: Seal) -> Option<&'static str> {
    match seal {
        Seal::Gasket | Seal::ButylTape | Seal::FlexibleAdhesive | Seal::SyntheticRubber | Seal::Hybrid => None,
        Seal::Polyurethane => Some("polyurethane peels from polyethylene in time and may attack the part's plastic"),
        Seal::Silicone => Some("silicone does not stick to polyethylene: its edges lift and spoil later work"),
        Seal::Polysulfide => Some("polysulfide is not for plastics"),
        Seal::Epoxy => Some("epoxy is rigid and lets go when the hull flexes"),
        Seal::None => Some("nothing seals it"),
    }
}

/// What closes a hole of this bore for good.
///
/// `wet`: it lies at or below the loaded waterline. Source: common practice, no source.
pub fn plug_for(bore_mm: f64, wet: bool) -> Plug {
    match bore_mm {
        _ if wet => Plug::PlasticWeld,
        bore if bore <= 6.0 => Plug::BoltAndGasket,
        bore if bore <= 13.0 => Plug::RubberPlug,
        _ => Plug::BlankingPlate,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const EDGE: Apart = Apart { diameters: 2.0, least_mm: 20.0, cutout_mm: 40.0 };
    const SPACING: Apart = Apart { diameters: 3.0, least_mm: 25.0, cutout_mm: 50.0 };

    #[test]
    fn a_screw_a_gland_and_a_cutout_each_get_their_own_rule() {
        assert_eq!(minimum_edge(5.0, EDGE), 20.0);
        assert_eq!(minimum_edge(20.0, EDGE), 40.0);
        assert_eq!(minimum_edge(140.0, EDGE), 110.0);
        assert_eq!(minimum_spacing(5.0, 5.0, SPACING), 25.0);
        assert_eq!(minimum_spacing(12.0, 5.0, SPACING), 36.0);
        assert_eq!(minimum_spacing(140.0, 100.0, SPACING), 190.0);
    }

    #[test]
    fn every_seal_that_is_best_first_holds_before_one_that_does_not() {
        let holds: Vec<bool> = Seal::ALL.iter().map(|seal| seal_fault(*seal).is_none()).collect();
        assert!(holds.windows(2).all(|pair| pair[0] || !pair[1]), "{holds:?}");
    }

    proptest! {
        #[test]
        fn a_wider_hole_never_needs_less(bore in 1_f64..300.0, more in 0_f64..50.0, other in 1_f64..300.0) {
            prop_assert!(minimum_edge(bore + more, EDGE) >= minimum_edge(bore, EDGE));
            prop_assert!(minimum_spacing(bore + more, other, SPACING) >= minimum_spacing(bore, other, SPACING) - 1e-9);
            prop_assert!(lost_edge(bore, EDGE) > bore / 2.0 && lost_edge(bore, EDGE) < minimum_edge(bore, EDGE));
        }

        #[test]
        fn spacing_does_not_ask_who_was_first(a in 1_f64..300.0, b in 1_f64..300.0) {
            prop_assert_eq!(minimum_spacing(a, b, SPACING), minimum_spacing(b, a, SPACING));
        }
    }
}
