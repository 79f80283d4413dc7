//! Readings in words: what was read, and what came of it.

use crate::plan::{FigureRef, Plan, Reading, Taken};
use crate::study::Study;
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
    let weighed = study.weights.scales.all().any(|(_, weighing)| weighing.readings.contains(&index));
    match reading.taken {
        Taken::Scale { .. } if weighed => "used",
        Taken::Scale { .. } => "not used: older or alone",
        Taken::Waterline { .. } => "not used: too heavy",
        Taken::Meter { .. } => return metered(plan, study, index),
        Taken::SeatTest { .. } => "kept",
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
