//! Readings in words: what was read, and what came of it.

use crate::plan::{Plan, Reading, Taken};
use crate::study::Study;
use crate::units::Measure;

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
    let weighed = study.weights.scales.all().any(|(_, weighing)| weighing.readings.contains(&index));
    match reading.taken {
        Taken::Scale { .. } if weighed => "used",
        Taken::Scale { .. } => "not used: older or alone",
        Taken::Waterline { .. } => "not used: too heavy",
        Taken::Meter { .. } | Taken::SeatTest { .. } => "kept",
    }
    .into()
}
