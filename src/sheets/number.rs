//! Numbers on paper: as many digits as they are worth, never "not a number", never minus zero.

use serde::Serialize;

use crate::geometry::{Point, Spot};
use crate::units::Quantity;

/// A number for JSON: to a thousandth, `null` if it is none.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
#[serde(transparent)]
pub(super) struct Number(Option<f64>);

impl From<f64> for Number {
    fn from(value: f64) -> Self {
        Self::to(1.0e3, value)
    }
}

impl Number {
    /// To a millionth, for units that are large beside a boat: square metres.
    pub(super) fn fine(value: f64) -> Self {
        Self::to(1.0e6, value)
    }

    fn to(parts: f64, value: f64) -> Self {
        let rounded = (value * parts).round() / parts;
        // The sum turns -0 into 0.
        Self(rounded.is_finite().then_some(rounded + 0.0))
    }
}

/// A quantity for JSON, in its base unit; the key names it.
pub(super) fn base<Q: Quantity>(quantity: Q) -> Number {
    quantity.base().into()
}

/// A place for JSON.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(super) struct At {
    x_mm: Number,
    y_mm: Number,
    z_mm: Number,
}

impl From<Point> for At {
    fn from(point: Point) -> Self {
        Self { x_mm: point.x.into(), y_mm: point.y.into(), z_mm: point.z.into() }
    }
}

/// A shift on deck for JSON.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub(super) struct Shift {
    forward_mm: Number,
    to_port_mm: Number,
}

impl From<Spot> for Shift {
    fn from(spot: Spot) -> Self {
        Self { forward_mm: spot.x.into(), to_port_mm: spot.y.into() }
    }
}

/// A number for people: whole from a hundred on, else with one decimal that is not zero.
pub(super) fn plain(value: f64) -> String {
    if !value.is_finite() {
        return "unknown".into();
    }
    let text = if value.abs() >= 100.0 { format!("{value:.0}") } else { format!("{value:.1}") };
    let text = text.strip_suffix(".0").unwrap_or(&text);
    if text == "-0" { "0".into() } else { text.into() }
}

/// The same with its unit; a count has none.
pub(super) fn with_unit(value: f64, unit: &str) -> String {
    match unit {
        "count" => plain(value),
        "mm" => format!("{} mm", plain(value.round())),
        unit => format!("{} {unit}", plain(value)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_as_long_as_they_are_worth() {
        for (value, text) in
            [(310.04, "310"), (4.25, "4.2"), (3.0, "3"), (-0.01, "0"), (-18.0, "-18"), (f64::NAN, "unknown")]
        {
            assert_eq!(plain(value), text);
        }
        assert_eq!(with_unit(3.0, "count"), "3");
        assert_eq!(with_unit(38.06, "Ah"), "38.1 Ah");
    }

    #[test]
    fn json_has_no_number_that_is_none() {
        let json = |value: f64| serde_json::to_string(&Number::from(value)).unwrap_or_default();
        assert_eq!((json(f64::NAN), json(f64::INFINITY), json(-0.0)), ("null".into(), "null".into(), "0.0".into()));
        assert_eq!(json(1.234_56), "1.235");
        assert_eq!(serde_json::to_string(&Number::fine(1.234_567_8)).unwrap_or_default(), "1.234568");
    }
}
