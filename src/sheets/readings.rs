//! Readings in words: what was read, and what came of it.

use crate::plan::{FigureRef, Plan, Reading, Taken};
use crate::study::Study;
use crate::study::seat_test::{ODD_MM, Refit, Said, Tried};
use crate::units::{Current, Measure, Quantity, amount};

/// All readings, one a line: date, what was read, what came of it.
pub(super) fn lines(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let line = |(index, reading): (usize, &Reading)| {
        let date = reading.date.as_ref().map_or("undated", |date| date.as_str());
        let off = study.shape.reading(index).filter(|fitted| !fitted.fits());
        let than = off.map_or("", |_| " than the hull floats");
        format!("{date}: {}; {}{than}", reading.words(plan, tape), outcome(plan, study, index, tape))
    };
    plan.readings.iter().enumerate().map(line).collect()
}

/// What came of a reading, in few words: `1 mm deeper`, `used`, `off`.
pub fn outcome(plan: &Plan, study: &Study, index: usize, tape: Measure) -> String {
    let Some(reading) = plan.readings.get(index) else { return String::new() };
    if reading.off {
        return "off".into();
    }
    if let Some(fitted) = study.shape.reading(index) {
        if fitted.fits() {
            return "fits".into();
        }
        let way = if fitted.residual_mm() > 0.0 { "deeper" } else { "shallower" };
        return format!("{} {way}", tape.length(fitted.residual_mm()));
    }
    if let Some(tried) = study.seat_test.reading(index) {
        return tried_words(tried, tape);
    }
    let weighed = study.weights.scales.all().any(|(_, weighing)| weighing.readings.contains(&index));
    match reading.taken {
        Taken::Scale { .. } if weighed => "used",
        Taken::Scale { .. } => "not used: older or alone",
        Taken::Waterline { .. } => "not used: too heavy",
        Taken::Meter { .. } => return metered(plan, study, index),
        Taken::SeatTest { .. } => "not used: tried again since",
    }
    .into()
}

/// What a meter changed: `takes 1.14 A, catalogue 0.90 A`, `3.60 A shared over 3`.
fn metered(plan: &Plan, study: &Study, index: usize) -> String {
    let metered = &study.power.metered;
    if let Some(conflict) = metered.conflicts.iter().find(|conflict| conflict.reading == index) {
        return format!("not used: {} known otherwise", amount(conflict.known, 2));
    }
    let of_it: Vec<_> = metered.loads.iter().filter(|(_, load)| load.reading == index).collect();
    match of_it[..] {
        [] => "not used: known by others, or gone".into(),
        [(gear, load)] => {
            let takes = amount(load.typical.value, 2);
            match FigureRef::GearTypical(*gear).get(plan) {
                Some(soft) => format!("takes {takes}, {} {:.2} A", soft.origin.word(), soft.value.base()),
                None => format!("takes {takes}"),
            }
        }
        _ => {
            let sum: f64 = of_it.iter().map(|(_, load)| load.typical.value.base()).sum();
            format!("{} shared over {}", amount(Current::from_base(sum), 2), of_it.len())
        }
    }
}

/// What came of a seat test: `fits`, `fits, the body refit by 34 mm`, `misses by 45 mm, against reading 3`.
fn tried_words(tried: &Tried, tape: Measure) -> String {
    let mut words = if tried.said == Said::Nothing {
        "noted".to_string()
    } else if tried.miss_mm > ODD_MM {
        let against = tried.against.map_or(String::new(), |other| format!(", against reading {}", other + 1));
        format!("misses by {}{against}", tape.length(tried.miss_mm))
    } else if tried.before_mm > 0.5 {
        format!("fits, the body refit by {}", tape.length(tried.before_mm - tried.miss_mm))
    } else {
        "fits".into()
    };
    if let Some((_, after)) = tried.eye_mm {
        words.push_str(&format!(", eye {} by the body", tape.length(after)));
    }
    words
}

/// By how much the seat tests changed the body: `arm 34 mm longer, lean 3 deg further`.
pub fn refit_words(refit: &Refit, tape: Measure) -> String {
    let part = |value: f64, shown: String, least: f64, name: &str, more: &str, less: &str| {
        (value.abs() >= least).then(|| format!("{name} {shown} {}", if value > 0.0 { more } else { less }))
    };
    let length =
        |value: f64, name: &str, more: &str, less: &str| part(value, tape.length(value.abs()), 0.5, name, more, less);
    let angle = |value: f64, name: &str| part(value, format!("{:.0} deg", value.abs()), 0.5, name, "further", "less");
    let parts = [
        length(refit.arm_mm, "arm", "longer", "shorter"),
        angle(refit.lean_deg, "lean"),
        angle(refit.twist_deg, "twist"),
        length(refit.eye_up_mm, "eye", "higher", "lower"),
        length(refit.eye_aft_mm, "eye", "further aft", "further forward"),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    if parts.is_empty() { "the body as it was".into() } else { parts.join(", ") }
}
