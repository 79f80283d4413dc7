//! What the checks of floating share: the cases to judge, the band a value is in, words for trim and list.

use super::{Case, Severity};
use crate::geometry::Point;
use crate::study::float::{Afloat, heel_way, trim_way};

/// Stands in every remedy where the verdict is about staying afloat and upright.
pub(super) const FLOAT_TEST: &str =
    "Then a float test with the real load in shallow water, life jacket on; the hull's maker has the last word.";

/// The cases whose floating is judged: as planned, and with the livewell full.
pub(super) fn cases<'a>(case: &Case<'a>) -> impl Iterator<Item = &'a Afloat> {
    let float = &case.study.float;
    ["as planned", "livewell full"].into_iter().filter_map(|name| float.case(name))
}

/// How a sentence about a load case begins.
pub(super) fn opening(afloat: &Afloat) -> &'static str {
    if afloat.name == "livewell full" { "With the livewell full" } else { "As planned" }
}

/// The heaviest band whose limit a value is over; bands heaviest first.
pub(super) fn over(case: &Case<'_>, value: f64, bands: &[(&str, Severity)]) -> Option<(f64, Severity)> {
    bands.iter().map(|(name, severity)| (case.limits.get(name), *severity)).find(|(limit, _)| value > *limit)
}

/// The heaviest band whose limit a value is under; bands heaviest first.
pub(super) fn under(case: &Case<'_>, value: f64, bands: &[(&str, Severity)]) -> Option<(f64, Severity)> {
    bands.iter().map(|(name, severity)| (case.limits.get(name), *severity)).find(|(limit, _)| value < *limit)
}

/// `0.4 deg bow down`, `1.2 deg by the stern`.
pub(super) fn trim(deg: f64) -> String {
    format!("{:.1} deg {}", deg.abs(), trim_way(deg))
}

/// `1.2 deg to port`.
pub(super) fn list(deg: f64) -> String {
    format!("{:.1} deg {}", deg.abs(), heel_way(deg))
}

/// The gunwale at a station, on the side that a sign tells: over 0 port, under 0 starboard, 0 the middle between.
pub(super) fn gunwale(case: &Case<'_>, x: f64, side: f64) -> Option<Point> {
    case.plan.hull.form.gunwale(x).map(|(half, z)| Point::new(x, half * side, z))
}

/// Mass whose leaving lets the boat rise by so much, kg, in words: `about 12 kg`.
pub(super) fn to_rise(mm: f64, kg_per_cm: f64) -> String {
    format!("about {:.0} kg", (mm / 10.0 * kg_per_cm).ceil().max(1.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn attitudes_have_words_and_no_signs() {
        assert_eq!([trim(0.44), trim(-1.25)], ["0.4 deg bow down", "1.2 deg by the stern"]);
        assert_eq!([list(0.44), list(-1.25)], ["0.4 deg to starboard", "1.2 deg to port"]);
        // By hand: 24 mm at 20 kg a centimetre.
        assert_eq!(to_rise(24.0, 20.0), "about 48 kg");
    }
}
