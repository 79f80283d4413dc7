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

#[cfg(test)]
mod tests {
    use crate::checks::test_body::{handling, plan, put, spec};
    use crate::geometry::Point;
    use crate::plan::{Handling, Kind, Often, Spec};
    use crate::units::{Angle, Figure, Length};

    fn check(passes: bool, change: impl Fn(&mut Spec, Handling)) {
        let mut plan = plan();
        let id = put(&mut plan, Kind::Display, (60.0, 60.0, 60.0), (600.0, 0.0));
        change(spec(&mut plan, id), handling(Often::Never, Point::default()));
        assert_eq!(plan.validate().is_ok(), passes, "{:?}", plan.validate());
    }

    #[test]
    fn what_is_seen_and_what_listens_has_its_ranges() {
        for (inches, passes) in [(9.0, true), (0.0, false), (f64::NAN, false)] {
            let screen = Some(Length::inches(inches));
            check(passes, |spec, handling| spec.handling = Some(Handling { screen, ..handling }));
        }
        for (mm, passes) in [(4.0, true), (0.0, false)] {
            let text = Some(Figure::measured(Length::mm(mm)));
            check(passes, |spec, handling| spec.handling = Some(Handling { text, ..handling }));
        }
        for (deg, passes) in [(0.0, true), (90.0, true), (-1.0, false), (91.0, false)] {
            let tilts = Some(Angle::deg(deg));
            check(passes, |spec, handling| spec.handling = Some(Handling { tilts, ..handling }));
        }
        for (deg, passes) in [(1.0, true), (170.0, true), (0.5, false), (f64::INFINITY, false)] {
            check(passes, |spec, _| spec.beam = Some(Figure::guess(Angle::deg(deg))));
        }
        let control_mm = Point::new(f64::NAN, 0.0, 0.0);
        check(false, |spec, handling| spec.handling = Some(Handling { control_mm, ..handling }));
    }
}
