//! Readings in words: what was read, and what came of it.

use crate::plan::{Plan, Taken};
use crate::study::Study;
use crate::units::Measure;

/// All readings, one a line: date, what was read, what came of it.
pub(super) fn lines(plan: &Plan, study: &Study, tape: Measure) -> Vec<String> {
    let line = |(index, reading): (usize, &crate::plan::Reading)| {
        let date = reading.date.as_ref().map_or("undated", |date| date.as_str());
        format!("{date}: {}; {}", reading.words(tape), outcome(plan, study, index, tape))
    };
    plan.readings.iter().enumerate().map(line).collect()
}

/// What came of a reading: `1 mm remains`, `used`, `off`.
pub fn outcome(plan: &Plan, study: &Study, index: usize, tape: Measure) -> String {
    let Some(reading) = plan.readings.get(index) else { return String::new() };
    if reading.off {
        return "off".into();
    }
    if let Some(fitted) = study.shape.reading(index) {
        let way = if fitted.residual_mm() > 0.0 { "deeper" } else { "shallower" };
        return format!("{} {way} than the hull floats now", tape.length(fitted.residual_mm()));
    }
    match reading.taken {
        Taken::Scale { .. } if study.weights.scales.all().any(|(_, weighing)| weighing.readings.contains(&index)) => {
            "used".into()
        }
        Taken::Scale { .. } => "not used: an older one, or without a second scale that day".into(),
        Taken::Waterline { .. } => "not used: the hull as measured does not float with that load".into(),
        Taken::Meter { .. } | Taken::SeatTest { .. } => "kept".into(),
    }
}
