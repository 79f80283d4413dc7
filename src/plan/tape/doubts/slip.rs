//! Readings in the wrong unit: 33 typed as millimetres that were inches.

use super::{Doubts, mm};
use crate::plan::tape::Measurement;

/// What small boats measure, mm, least and greatest. Common practice, no source: wide frames around the classes.
fn usual(what: Measurement, share: f64) -> Option<(f64, f64)> {
    use Measurement::*;
    // Ends are narrow, low-keeled or high: only the middle says what a whole boat measures.
    let middle = (0.15..=0.85).contains(&share);
    Some(match what {
        Length => (1800.0, 6500.0),
        Width(_) if middle => (300.0, 1400.0),
        Gunwale(_) if middle => (120.0, 700.0),
        WidthHeight(_) if middle => (60.0, 700.0),
        Width(_) => (10.0, 1400.0),
        Gunwale(_) | WidthHeight(_) => (30.0, 900.0),
        BottomWidth(_) => (0.0, 1300.0),
        Keel(_) => (0.0, 700.0),
        Well(_) => (0.0, 500.0),
        BottomPart => (20.0, 900.0),
        BottomHeight => (5.0, 300.0),
        FeatureX(_) | FeatureY(_) => return None,
    })
}

/// Other units a number may have been meant in, and what one of them is in mm.
const UNITS: [(&str, f64); 5] = [("mm", 1.0), ("in", 25.4), ("cm", 10.0), ("ft", 304.8), ("m", 1000.0)];

/// Doubts every reading that no boat has and that another unit would make usual.
pub(super) fn look(doubts: &mut Doubts<'_>) {
    let tape = doubts.tape;
    let length = tape.length.mm().unwrap_or_default();
    for what in tape.measurements() {
        let share = what.station().map_or(0.5, |number| tape.stations[number].x.to_mm() / length);
        let Some((least, most)) = usual(what, share) else { continue };
        let readings = tape.gauge(what).map(|gauge| gauge.taken.clone()).unwrap_or_default();
        let Some(odd) = readings.into_iter().find(|reading| !(least..=most).contains(&reading.to_mm())) else {
            continue;
        };
        let limit = if odd.to_mm() < least { least } else { most };
        let meant = UNITS.iter().find(|(_, unit)| (least..=most).contains(&(odd.written() * unit)));
        let typed = format!("{} {}", odd.written(), odd.unit_tag().to_lowercase());
        match meant {
            Some((unit, one)) => {
                let other = format!("{} {unit}", odd.written());
                let would_be = mm(odd.written() * one);
                let says = format!("no such boat has {typed} for the {}; {other} would be {would_be}", what.label());
                doubts.add(what, true, (odd.to_mm(), limit), &says, &format!("If {other} is meant, write it so"));
            }
            None => {
                let side = if odd.to_mm() < least { "less" } else { "more" };
                let says = format!("{typed} for the {} is {side} than such boats have, {}", what.label(), mm(limit));
                doubts.add(what, false, (odd.to_mm(), limit), &says, "Measure it again");
            }
        }
    }
}
