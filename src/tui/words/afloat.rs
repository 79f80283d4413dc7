//! How the boat floats, in words: ways instead of signs.

use crate::plan::Plan;
use crate::study::float::flooding::Inlet;
use crate::study::float::{heel_way, trim_way};
use crate::units::Measure;

/// Angles below this are not worth a word, degrees: they show as zero.
pub const TELLING_DEG: f64 = 0.05;

/// A trim in degrees, positive bow down: `0.4 deg by the stern`, `none`.
pub fn trim(deg: f64) -> String {
    turned(deg, trim_way(deg))
}

/// A list or heel in degrees, positive to starboard: `0.3 deg to port`, `none`.
pub fn list(deg: f64) -> String {
    turned(deg, heel_way(deg))
}

fn turned(deg: f64, way: &str) -> String {
    if deg.abs() < TELLING_DEG {
        return "none".into();
    }
    format!("{:.1} deg {way}", deg.abs())
}

/// A height over the water in mm: `58 mm over water`, `12 mm under water`.
pub fn over_water(mm: f64, tape: Measure) -> String {
    format!("{} {} water", tape.length(mm), if mm < 0.0 { "under" } else { "over" })
}

/// A metacentric height in mm: `143 mm`; under zero the boat does not stay upright: `12 mm under zero`.
pub fn stiffness(mm: f64, tape: Measure) -> String {
    tape.length(mm) + if mm < 0.0 { " under zero" } else { "" }
}

/// One value and the one that follows it: `0.6 → 0.2 deg by the stern`. What both end with is said once.
pub fn change(was: &str, now: &str) -> String {
    match (was.split_once(' '), now.split_once(' ')) {
        (Some((before, unit)), Some((_, same))) if unit == same => format!("{before} → {now}"),
        _ => format!("{was} → {now}"),
    }
}

/// Where water comes in.
pub fn inlet(plan: &Plan, inlet: Inlet) -> String {
    match inlet {
        Inlet::Gunwale => "gunwale".into(),
        Inlet::Hatch(id) => plan.feature(id).map_or_else(|| id.to_string(), |hatch| hatch.name.to_string()),
        Inlet::Hole(id) => plan.penetration(id).map_or_else(|| id.to_string(), |hole| hole.name.to_string()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::Tape;

    #[test]
    fn ways_are_words_and_nothing_has_a_sign() {
        assert_eq!(trim(0.42), "0.4 deg bow down");
        assert_eq!(trim(-0.42), "0.4 deg by the stern");
        assert_eq!(list(1.26), "1.3 deg to starboard");
        assert_eq!(list(-0.05), "0.1 deg to port");
        assert_eq!(list(-0.049), "none");
        assert_eq!(over_water(-11.6, Measure::default()), "12 mm under water");
        assert_eq!(over_water(63.5, Measure(Tape::Inches)), "2 1/2 in over water");
        assert_eq!(stiffness(-12.0, Measure::default()), "12 mm under zero");
    }

    #[test]
    fn a_change_says_its_unit_once() {
        assert_eq!(change("96 mm", "102 mm"), "96 → 102 mm");
        assert_eq!(change(&trim(-0.6), &trim(-0.2)), "0.6 → 0.2 deg by the stern");
        assert_eq!(change(&trim(-0.2), &trim(0.1)), "0.2 deg by the stern → 0.1 deg bow down");
        assert_eq!(change(&trim(0.0), &trim(0.1)), "none → 0.1 deg bow down");
    }
}
