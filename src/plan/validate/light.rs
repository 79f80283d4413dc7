//! The door for what a light shows: its place, its horizon, how far and how high it is seen.

use super::{Door, Spec};
use crate::plan::{Lantern, LightArc};
use crate::units::Quantity;

impl Door {
    /// Frames around what is sold for small boats; common practice, no source.
    pub(super) fn light(&mut self, spec: &Spec, field: &str) {
        let Some(light) = &spec.light else { return };
        let near = light.centre_mm.is_finite() && light.centre_mm.length() < 10_000.0;
        self.check(near, field, "a light's centre must be three finite numbers within 10 m");
        for Lantern { arc, .. } in light.lanterns() {
            if let LightArc::Sector(from, to) = arc {
                for (bearing, end) in [(from, "from"), (to, "to")] {
                    self.range(bearing, -360.0, 360.0, &format!("{field}, light, sector {end}"), "deg");
                }
            }
        }
        let rows = [
            ("range_nm", light.range_nm, (0.0, 20.0), "nm"),
            ("intensity", light.intensity.map(|i| i.value.base()), (0.0, 10_000.0), "cd"),
            ("upright_deg", light.upright_deg, (0.0, 90.0), "deg"),
            ("cut_off_deg", light.cut_off_deg, (0.0, 30.0), "deg"),
        ];
        for (name, value, (least, most), unit) in rows {
            if let Some(value) = value {
                self.range(value, least, most, &format!("{field}, light, {name}"), unit);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::test_body::{plan, put, spec};
    use crate::geometry::Point;
    use crate::plan::{Colour, Kind, Light};

    fn passes(change: impl Fn(&mut Light)) -> bool {
        let mut plan = plan();
        let id = put(&mut plan, Kind::Light, (60.0, 60.0, 60.0), (300.0, 0.0));
        let mut light = Light::plain(Colour::White, LightArc::AllRound, Point::new(0.0, 0.0, 50.0));
        change(&mut light);
        spec(&mut plan, id).light = Some(light);
        plan.validate().is_ok()
    }

    #[test]
    fn a_light_has_a_place_a_horizon_and_figures_that_can_be() {
        assert!(passes(|_| {}));
        assert!(passes(|light| light.arc = LightArc::Sector(247.5, 360.0)));
        assert!(!passes(|light| light.arc = LightArc::Sector(-400.0, 90.0)));
        let second = Lantern { colour: Colour::Red, arc: LightArc::Sector(f64::NAN, 90.0) };
        assert!(!passes(|light| light.second = Some(second)));
        assert!(!passes(|light| light.centre_mm.z = f64::INFINITY));
        assert!(!passes(|light| light.range_nm = Some(-1.0)));
        assert!(!passes(|light| light.upright_deg = Some(91.0)));
        assert!(!passes(|light| light.cut_off_deg = Some(f64::NAN)));
    }
}
