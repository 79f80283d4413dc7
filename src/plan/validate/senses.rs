//! The door for what is seen and what listens: screens, their letters and tilt, the cone of a sonar head.

use super::Door;
use crate::plan::Spec;

impl Door {
    pub(super) fn senses(&mut self, spec: &Spec, field: &str) {
        if let Some(handling) = &spec.handling {
            self.check(handling.control_mm.is_finite(), field, "its control point must be three finite numbers");
            if let Some(screen) = handling.screen {
                self.range(screen.to_inches(), 0.5, 60.0, &format!("{field}, screen"), "in");
            }
            if let Some(text) = &handling.text {
                self.range(text.value.to_mm(), 0.1, 200.0, &format!("{field}, text"), "mm");
            }
            if let Some(tilts) = handling.tilts {
                self.range(tilts.to_deg(), 0.0, 90.0, &format!("{field}, tilts"), "deg");
            }
        }
        if let Some(beam) = &spec.beam {
            self.range(beam.value.to_deg(), 1.0, 170.0, &format!("{field}, beam"), "deg");
        }
    }
}
