//! What the readings changed, for other programs.

use serde::Serialize;

use crate::sheets::number::{Number, base};
use crate::study::Study;

#[derive(Serialize)]
pub(super) struct ReadingsSheet {
    /// Of the tape's half-breadths at the keel.
    fullness_percent: Number,
    keel_mm: Number,
    waterlines: Vec<WaterlineSheet>,
    weighings: Vec<WeighingSheet>,
}

#[derive(Serialize)]
struct WaterlineSheet {
    reading: usize,
    measured_mm: Number,
    before_mm: Number,
    after_mm: Number,
    residual_mm: Number,
}

#[derive(Serialize)]
struct WeighingSheet {
    of: &'static str,
    readings: Vec<usize>,
    mass_kg: Number,
    x_mm: Number,
}

impl ReadingsSheet {
    pub(super) fn of(study: &Study) -> Self {
        let waterlines = study.shape.readings.iter().map(|fitted| WaterlineSheet {
            reading: fitted.index + 1,
            measured_mm: fitted.measured_mm.into(),
            before_mm: fitted.before_mm.into(),
            after_mm: fitted.after_mm.into(),
            residual_mm: fitted.residual_mm().into(),
        });
        let weighings = study.weights.scales.all().map(|(of, weighing)| WeighingSheet {
            of: of.word(),
            readings: weighing.readings.iter().map(|index| index + 1).collect(),
            mass_kg: base(weighing.found.mass),
            x_mm: base(weighing.found.x),
        });
        Self {
            fullness_percent: (100.0 * study.shape.fullness).into(),
            keel_mm: study.shape.keel_mm.into(),
            waterlines: waterlines.collect(),
            weighings: weighings.collect(),
        }
    }
}
